"""Two shops on one service: neither learns anything of the other's, by any route of the description."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import pytest

from service.accounts.callers import SCOPES
from tests.api.accounts.shops import CARD, Service, Shop, keyed_service, statements, told

SAME = "order-7"
OWN = "/v1/specs?origin=own"


@dataclass(frozen=True)
class Town:
    service: Service
    bakery: Shop
    florist: Shop
    theirs: dict[str, str]
    """By parameter of a path: the bakery's."""
    nobodys: dict[str, str]
    """The same, where there is nothing."""

    @property
    def ids(self) -> tuple[str, ...]:
        return (*self.theirs.values(), *self.nobodys.values())

    def words_of_the_bakery(self) -> set[str]:
        assert self.bakery.made
        return {*self.theirs.values(), self.bakery.made.prefix, "bakery"}


@pytest.fixture(scope="module")
def town(tmp_path_factory: pytest.TempPathFactory, card: bytes) -> Iterator[Town]:
    with keyed_service(tmp_path_factory.mktemp("town") / "data") as service:
        bakery, florist = service.key("bakery"), service.key("florist")
        checked = bakery.check(card, {"Idempotency-Key": SAME})
        assert checked.status_code == 201, checked.get_json()
        assert bakery.keep("qxz-7").status_code == 201
        press = {"id": "qxz-9", "title": "qxz-9", "sheets": ["qxz-7"]}
        assert bakery.call("POST", "/v1/catalogues", json=press).status_code == 201
        upload = bakery.call("POST", "/v1/uploads", {"Upload-Length": "9"})
        theirs = {
            "check_id": checked.get_json()["id"], "spec_id": "qxz-7", "token_id": bakery.token()["id"],
            "upload_id": upload.get_json()["id"], "catalogue_id": "qxz-9", "sheet_id": "qxz-7",
        }
        assert florist.get("/v1/audit").status_code == 200  # the day's first use of a key is noted
        nobodys = {
            "check_id": "A" * 24, "spec_id": "qxz-8", "token_id": "A" * 20, "upload_id": "A" * len(theirs["upload_id"]),
            "catalogue_id": "qxz-0", "sheet_id": "qxz-8",
        }
        yield Town(service, bakery, florist, theirs, nobodys)


PLAIN = {"page": "1", "ink": "Cyan", "slug": "not-found"}
"""Parameters that name nothing of anybody."""
NAMES_NOTHING = {
    "CheckForm": {"file", "spec_sheet", "order", "answer", "readable_by", "callback_url"},
    "MatchForm": {"file", "product", "region", "most"},
    "TemplateForm": {"file"},
    "UploadTokenForm": {"spec_sheet", "order", "maximum_size", "origin", "valid_seconds", "uses"},
}
NAMES = {
    "CheckForm": {"check", "spec", "token", "upload"}, "MatchForm": {"catalogue"}, "TemplateForm": set(),
    "UploadTokenForm": {"spec"},
}
"""Fields of bodies that name a thing: each is tried below."""


def operations(town: Town) -> list[tuple[str, str, dict[str, Any], list[str]]]:
    """(method, path, its description, parameters of the path)."""
    found = []
    for path, item in town.service.caller.description["paths"].items():
        for method, operation in item.items():
            if method != "parameters":
                found.append((method, path, operation, re.findall(r"\{(\w+)\}", path)))
    return found


def filled(path: str, values: dict[str, str]) -> str:
    return path.format(**{**PLAIN, **values})


def test_the_walk_knows_every_way_to_name_a_thing(town: Town) -> None:
    parameters = {name for *_, names in operations(town) for name in names}
    assert parameters == {*PLAIN, *town.theirs}, "say here what it names"
    schemas = town.service.caller.description["components"]["schemas"]
    forms = {name: set(schema["properties"]) for name, schema in schemas.items() if name.endswith("Form")}
    assert forms == {name: NAMES[name] | NAMES_NOTHING[name] for name in forms}, "say here whether a field names a thing"


def test_what_is_another_s_is_answered_as_what_does_not_exist_with_the_same_work(town: Town) -> None:
    tried = 0
    for method, path, _, names in operations(town):
        if not set(names) & town.theirs.keys():
            continue
        for caller in (town.florist, town.service.anybody):
            seen = []
            for values in (town.theirs, town.nobodys):
                with statements() as asked:
                    answer = caller.call(method, filled(path, values))
                seen.append((told(answer, town.ids), asked))
            assert seen[0] == seen[1], f"{method} {path}"
            assert seen[0][0][0] in ((404,) if caller is town.florist else (401, 404)), f"{method} {path}"
            tried += 1
        own = town.bakery.call("GET", filled(path, town.theirs)) if method == "get" else None
        assert own is None or own.status_code == 200, f"{path} shows its owner nothing: the walk proves nothing"
    assert tried > 30


def test_lists_and_whatever_else_is_read_hold_nothing_of_another_s(town: Town) -> None:
    listing = [path for method, path, _, names in operations(town) if method == "get" and not set(names) & town.theirs.keys()]
    assert {"/v1/specs", "/v1/audit"} <= set(listing)
    for path in (*listing, OWN, "/", "/specs", "/docs", "/openapi.json"):
        for caller in (town.florist, town.service.anybody):
            text = caller.text(filled(path, {}))
            assert not [word for word in town.words_of_the_bakery() if word in text], path
    assert town.theirs["spec_id"] in town.bakery.text(OWN)
    assert town.theirs["token_id"] in town.bakery.text("/v1/audit")


@pytest.mark.parametrize("path", ["/checks/{check_id}", "/specs/{spec_id}"])
def test_pages_show_nothing_of_another_s_either(town: Town, path: str) -> None:
    seen = [town.service.caller.client.get(filled(path, values)) for values in (town.theirs, town.nobodys)]
    assert told(seen[0], town.ids) == told(seen[1], town.ids)
    assert seen[0].status_code in (401, 404)


@pytest.mark.parametrize(("field", "parameter"), [("check", "check_id"), ("spec", "spec_id"), ("upload", "upload_id")])
def test_a_check_cannot_name_what_is_another_s(town: Town, card: bytes, field: str, parameter: str) -> None:
    seen = []
    for values in (town.theirs, town.nobodys):
        form: dict[str, Any] = {"spec": CARD, field: values[parameter]}
        if field == "spec":
            form["file"] = (io.BytesIO(card), "card.pdf")
        with statements() as asked:
            answer = town.florist.call("POST", "/v1/checks", data=form, content_type="multipart/form-data")
        seen.append((told(answer, town.ids), asked))
    assert seen[0] == seen[1]
    assert seen[0][0][0] == 422


def test_nobody_checks_by_lists_or_matches_another_s_catalogue(town: Town, card: bytes) -> None:
    for path, options in (
        ("/v1/checks?spec={catalogue_id}/{sheet_id}", {"data": card, "content_type": "application/pdf"}),
        ("/v1/specs/matches?catalogue={catalogue_id}", {"data": card, "content_type": "application/pdf"}),
        ("/v1/specs?catalogue={catalogue_id}", None),
    ):
        seen = []
        for values in (town.theirs, town.nobodys):
            with statements() as asked:
                answer = town.florist.call("POST" if options else "GET", filled(path, values), **(options or {}))
            seen.append((told(answer, town.ids), asked))
        assert seen[0] == seen[1], path
        assert seen[0][0][0] in (404, 422), path
    assert town.bakery.get(filled("/v1/specs?catalogue={catalogue_id}", town.theirs)).get_json()["total"] == 1


def test_a_token_cannot_name_a_sheet_of_another_s(town: Town) -> None:
    wish = {"origin": "https://shop.example"}
    seen = [
        told(town.florist.call("POST", "/v1/upload-tokens", json={**wish, "spec": values["spec_id"]}), town.ids)
        for values in (town.theirs, town.nobodys)
    ]
    assert seen[0] == seen[1]
    assert seen[0][0] == 422


def test_the_same_names_and_keys_do_not_meet(town: Town, card: bytes) -> None:
    """A sheet's id, an Idempotency-Key: each shop has its own."""
    again = town.bakery.check(card, {"Idempotency-Key": SAME}).get_json()["id"]
    other = town.florist.check(card, {"Idempotency-Key": SAME})
    assert (again, other.status_code) == (town.theirs["check_id"], 201)
    assert other.get_json()["id"] != again
    assert town.service.key("grocer").keep("qxz-7").status_code == 201
    assert town.bakery.call("DELETE", "/v1/specs/qxz-7", headers={"If-Match": '"of another revision"'}).status_code == 412


def test_every_operation_says_what_it_needs_and_holds_to_it(town: Town) -> None:
    """A key that allows everything but that is not let in; without a key nobody is, but to what is everybody's."""
    everybodys, administered = set(), set()
    for method, path, operation, _ in operations(town):
        security = operation.get("security")
        if security is None:
            everybodys.add(path)
            continue
        (scope,) = security[0]["key"]
        administered |= {(method, path)} if scope == "administer" else set()
        lacking = town.service.key("bakery", *(one for one in SCOPES if one != scope))
        answer = lacking.call(method, filled(path, town.theirs))
        if {} not in security:
            assert (answer.status_code, answer.headers["WWW-Authenticate"].count(f'scope="{scope}"')) == (403, 1), (method, path)
            anybody = town.service.anybody.call(method, filled(path, town.theirs))
            assert (anybody.status_code, anybody.headers["WWW-Authenticate"][:6]) == (401, "Bearer"), (method, path)
        elif method == "get":
            anybody = town.service.anybody.call(method, filled(path, town.theirs))
            if anybody.status_code == 401:  # who sent a key is told what it lacks, and no more
                assert (answer.status_code, answer.headers["WWW-Authenticate"].count(f'scope="{scope}"')) == (403, 1), path
                continue
            told_to_anybody = told(anybody, town.ids)
            assert told(answer, town.ids) == told_to_anybody, (method, path)
    assert everybodys == {"/healthz", "/readyz", "/problems", "/problems/{slug}", "/v1/rules", "/v1/specs/schema"}
    assert administered == {("get", "/v1/audit")}, "keys and limits are for whoever has the machine; /docs/accounts says so"
