"""The stored sheets over HTTP: lists, pages, one sheet in two formats, and not sending what the caller has."""

from __future__ import annotations

import re
from typing import Any

import pytest

from service.sheets.catalogue import stored_sheets
from service.sheets.format.validation import read_sheet, read_sheet_text
from tests.api.contract import Caller


def ids(caller: Caller, query: str = "?") -> list[str]:
    """Of every page of the list."""
    found: list[str] = []
    address = f"/v1/specs{query}&page_size=100"
    while address:
        answer = caller.get(address)
        found += [one["id"] for one in answer.get_json()["specs"]]
        address = links(answer.headers["Link"]).get("next", "")
    return found


def links(header: str) -> dict[str, str]:
    return {name: target for target, name in re.findall(r'<([^>]+)>; rel="(\w+)"', header)}


def test_the_list_has_every_stored_sheet_by_id(caller: Caller) -> None:
    assert ids(caller) == sorted(stored_sheets())


def test_filters_leave_what_fits_them(caller: Caller) -> None:
    assert set(ids(caller, "?product=bookmark&region=us")) == {"bookmark-50x150"}
    assert set(ids(caller, "?product=newspaper&region=us&q=280+x+400")) == {"newspaper-tabloid"}
    previews = ids(caller, "?purpose=client-preview")
    assert "client-preview" in previews
    assert all(stored_sheets()[one].purpose == "client-preview" for one in previews)
    assert "letterhead-a4" in ids(caller, "?q=writing+area")
    assert ids(caller, "?q=nothing-of-this") == []


def test_pages_lead_to_each_other_and_together_are_the_whole(caller: Caller) -> None:
    seen: list[str] = []
    address = "/v1/specs?page_size=3&region=DE"
    while address:
        answer = caller.get(address)
        seen += [one["id"] for one in answer.get_json()["specs"]]
        assert "region=DE" in address
        address = links(answer.headers["Link"]).get("next", "")
    assert seen == ids(caller, "?region=DE")
    assert len(seen) > 3


def test_the_first_page_has_no_page_before_it_and_the_last_none_after(caller: Caller) -> None:
    first = links(caller.get("/v1/specs?page_size=5").headers["Link"])
    assert "prev" not in first
    last = links(caller.get(first["last"]).headers["Link"])
    assert "next" not in last
    assert last["prev"]


def test_a_page_past_the_end_is_empty(caller: Caller) -> None:
    answer: dict[str, Any] = caller.get("/v1/specs?page=99").get_json()
    assert (answer["specs"], answer["total"]) == ([], len(stored_sheets()))


@pytest.mark.parametrize("spec_id", sorted(stored_sheets()))
def test_a_sheet_can_be_read_back_from_both_formats(caller: Caller, spec_id: str) -> None:
    as_json = caller.get(f"/v1/specs/{spec_id}")
    as_yaml = caller.get(f"/v1/specs/{spec_id}", headers={"Accept": "application/yaml"})
    assert as_yaml.mimetype == "application/yaml"
    assert (
        read_sheet(as_json.get_json(), stored=True)
        == read_sheet_text(as_yaml.get_data(), stored=True)
        == stored_sheets()[spec_id]
    )


@pytest.mark.parametrize(
    "accept", ["*/*", "application/json", "text/html, */*;q=0.1", "application/yaml;q=0.5, application/json"]
)
def test_json_is_what_everybody_gets_who_does_not_ask_for_yaml(caller: Caller, accept: str) -> None:
    assert caller.get("/v1/specs/business-card-85x55", headers={"Accept": accept}).mimetype == "application/json"


@pytest.mark.parametrize("path", ["/v1/specs", "/v1/specs/business-card-85x55"])
def test_what_the_caller_has_is_not_sent_again(caller: Caller, path: str) -> None:
    first = caller.get(path)
    again = caller.get(path, headers={"If-None-Match": first.headers["ETag"]})
    assert (again.status_code, again.get_data()) == (304, b"")
    assert caller.get(path, headers={"If-None-Match": '"other"'}).status_code == 200


def test_the_two_formats_are_not_taken_for_each_other(caller: Caller) -> None:
    path = "/v1/specs/business-card-85x55"
    tag = caller.get(path).headers["ETag"]
    as_yaml = caller.get(path, headers={"Accept": "application/yaml", "If-None-Match": tag})
    assert as_yaml.status_code == 200
    assert "Accept" in as_yaml.headers["Vary"]


def test_the_revision_that_there_is_can_be_asked_for(caller: Caller) -> None:
    path = "/v1/specs/business-card-85x55"
    revision = caller.get(path).get_json()["revision"]
    assert caller.get(f"{path}?revision={revision}").status_code == 200
    assert caller.get(f"{path}?revision={revision - 1}").status_code == 404
