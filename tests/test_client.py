"""The Python client against a real service."""

from __future__ import annotations

import io
from collections.abc import Iterator
from pathlib import Path

import pytest

from service.client import PrintSpec, ProblemError
from tests.build import page
from tests.running import running


@pytest.fixture(scope="module")
def client(tmp_path_factory: pytest.TempPathFactory) -> Iterator[PrintSpec]:
    with (
        running(tmp_path_factory.mktemp("service") / "data", WAIT_SECONDS="0") as service,
        PrintSpec(service.address, timeout_seconds=20) as opened,
    ):
        yield opened


@pytest.fixture(scope="module")
def card(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("pdf") / "card.pdf"
    page(85, 55, bleed=3).fill(cyan=1).save(path)
    return path


def test_a_script_sends_a_card_and_waits_for_the_verdict(client: PrintSpec, card: Path) -> None:
    result = client.check(card, spec="business-card-85x55")
    assert (result["state"], result["verdict"], result["file"]["name"]) == ("finished", "conforming", "card.pdf")


def test_a_script_brings_its_own_sheet_and_judges_the_same_file_again(client: PrintSpec, card: Path) -> None:
    first = client.check(io.BytesIO(card.read_bytes()), spec_sheet={"trim": {"width": 85, "height": 55}})
    second = client.check(check=first["id"], spec_sheet="trim: {width: 90 mm, height: 50 mm}", order={"inner_pages": 8})
    assert [one["rule"] for one in second["findings"]] == ["trim.size"]


def test_the_same_key_gives_the_same_check(client: PrintSpec, card: Path) -> None:
    sent = [client.check(card, spec="business-card-85x55", idempotency_key="order-7")["id"] for _ in range(2)]
    assert sent[0] == sent[1]


def test_a_refusal_is_an_error_with_its_code_and_places(client: PrintSpec, card: Path) -> None:
    with pytest.raises(ProblemError) as refused:
        client.check(card, spec="business-card-85x54")
    assert (refused.value.status, refused.value.code) == (422, "unknown-spec")
    assert refused.value.errors[0]["pointer"] == "/spec"


def test_a_shops_backend_gets_a_token_for_its_page(client: PrintSpec) -> None:
    given = client.upload_token("https://shop.example", spec="business-card-85x55", maximum_size="20 MB", valid_seconds=60)
    assert (given["spec"]["id"], given["maximum_size_bytes"]) == ("business-card-85x55", 20_000_000)
    with pytest.raises(ProblemError, match="exactly as browsers send it"):
        client.upload_token("https://shop.example/", spec="business-card-85x55")


def test_a_forgotten_check_is_gone(client: PrintSpec, card: Path) -> None:
    check = client.check(card, spec="business-card-85x55")
    client.forget(check["id"])
    with pytest.raises(ProblemError, match="404"):
        client.result(check["id"])


def test_sheets_are_listed_and_read(client: PrintSpec) -> None:
    listed = client.specs(product="business-card")
    assert "business-card-85x55" in {one["id"] for one in listed}
    assert client.spec(listed[0]["id"])["id"] == listed[0]["id"]


def test_a_sheet_of_ones_own_is_kept_replaced_judged_by_and_deleted(client: PrintSpec, card: Path) -> None:
    """Over real HTTP, as a print buyer's script would."""
    first = client.keep_spec({"id": "client-card", "extends": "business-card-85x55", "bleed": {"minimum": "3 mm"}})
    assert first["revision"] == 1
    old = client.check(card, spec="client-card")
    assert old["verdict"] == "conforming"
    digest = client.revisions("client-card")[0]["digest"]
    assert digest == old["spec"]["digest"]
    assert client.replace_spec("client-card", {**first, "bleed": {"minimum": "5 mm"}}, digest=digest)["revision"] == 2
    with pytest.raises(ProblemError) as stale:
        client.replace_spec("client-card", first, digest=digest)
    assert (stale.value.status, stale.value.code) == (412, "spec-changed")
    assert client.check(card, spec="client-card")["verdict"] == "nonconforming"
    assert client.spec("client-card", revision=1)["bleed"]["minimum"] == "3 mm"
    assert client.spec("client-card", units="in", resolved=False)["bleed"]["minimum"] == "0.1969 in"
    client.delete_spec("client-card")
    with pytest.raises(ProblemError, match="410"):
        client.spec("client-card")


def test_a_pdf_is_matched_and_a_text_read(client: PrintSpec, card: Path) -> None:
    assert client.matches(card, region="GB")["matches"][0]["spec"]["id"] == "business-card-85x55"
    assert client.reading("3 mm bleed on all sides")["draft"]["bleed"] == {"minimum": "3 mm"}
