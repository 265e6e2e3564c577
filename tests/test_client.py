"""The Python client against a real service."""

from __future__ import annotations

import io
import json
import subprocess
import sys
import threading
from collections.abc import Iterator
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import pytest

from service.__main__ import main
from service.client import PrintSpec, ProblemError
from service.client.sending import FormWithFile
from tests.build import page
from tests.patience import PATIENCE_SECONDS
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
    assert (result.state, result.verdict, result.answer["file"]["name"]) == ("finished", "conforming", "card.pdf")


def test_a_script_brings_its_own_sheet_and_judges_the_same_file_again(client: PrintSpec, card: Path) -> None:
    first = client.check(io.BytesIO(card.read_bytes()), spec_sheet={"trim": {"width": 85, "height": 55}})
    second = client.check(check=first.id, spec_sheet="trim: {width: 90 mm, height: 50 mm}", order={"inner_pages": 8})
    assert [one.rule for one in second.findings] == ["trim.size"]


def test_the_same_key_gives_the_same_check(client: PrintSpec, card: Path) -> None:
    sent = [client.check(card, spec="business-card-85x55", idempotency_key="order-7").id for _ in range(2)]
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
    client.forget(check.id)
    with pytest.raises(ProblemError, match="404"):
        client.result(check.id)


def test_sheets_are_listed_and_read(client: PrintSpec) -> None:
    listed = client.specs(product="business-card")
    assert "business-card-85x55" in {one["id"] for one in listed}
    assert client.spec(listed[0]["id"])["id"] == listed[0]["id"]


def test_a_sheet_of_ones_own_is_kept_replaced_judged_by_and_deleted(client: PrintSpec, card: Path) -> None:
    """Over real HTTP, as a print buyer's script would."""
    first = client.keep_spec({"id": "client-card", "extends": "business-card-85x55", "bleed": {"minimum": "3 mm"}})
    assert first["revision"] == 1
    old = client.check(card, spec="client-card")
    assert old.verdict == "conforming"
    digest = client.revisions("client-card")[0]["digest"]
    assert digest == old.answer["spec"]["digest"]
    assert client.replace_spec("client-card", {**first, "bleed": {"minimum": "5 mm"}}, digest=digest)["revision"] == 2
    with pytest.raises(ProblemError) as stale:
        client.replace_spec("client-card", first, digest=digest)
    assert (stale.value.status, stale.value.code) == (412, "spec-changed")
    assert client.check(card, spec="client-card").verdict == "nonconforming"
    assert client.spec("client-card", revision=1)["bleed"]["minimum"] == "3 mm"
    assert client.spec("client-card", units="in", resolved=False)["bleed"]["minimum"] == "0.1969 in"
    client.delete_spec("client-card")
    with pytest.raises(ProblemError, match="410"):
        client.spec("client-card")


def test_a_pdf_is_matched_and_a_text_read(client: PrintSpec, card: Path) -> None:
    assert client.matches(card, region="GB")["matches"][0]["spec"]["id"] == "business-card-85x55"
    assert client.reading("3 mm bleed on all sides")["draft"]["bleed"] == {"minimum": "3 mm"}


def test_a_finding_says_where_and_what_to_do(client: PrintSpec, tmp_path: Path) -> None:
    path = tmp_path / "no-bleed.pdf"
    page(85, 55, bleed=0).fill(cyan=1).save(path)
    (finding,) = client.check(path, spec="business-card-85x55").findings
    assert (finding.rule, finding.level, finding.pages) == ("bleed.declared", "must", (1,))
    assert finding.required["minimum_mm"] == 3
    assert finding.places[0].page == 1
    assert "bleed" in finding.remedy


def test_what_people_look_at_comes_into_files(client: PrintSpec, card: Path, tmp_path: Path) -> None:
    check = client.check(card, spec="business-card-85x55").id
    assert client.report(check, tmp_path / "report.html").read_bytes().startswith(b"<!doctype html>")
    assert client.picture(check, 1, tmp_path / "page.png", ppi=50).read_bytes().startswith(b"\x89PNG")
    assert [one["name"] for one in client.plates(check, 1)][:1] == ["Cyan"]
    assert client.plate(check, 1, "Cyan", tmp_path / "cyan.png").stat().st_size > 0
    for made in (client.preview, client.dummy, client.single_pages):
        assert made(check, tmp_path / "made.pdf").read_bytes().startswith(b"%PDF-")
    assert b"<svg" in client.drawing("business-card-85x55", tmp_path / "card.svg").read_bytes()
    assert client.template("business-card-85x55", tmp_path / "empty.pdf", pages=1).read_bytes().startswith(b"%PDF-")
    with pytest.raises(ValueError, match="format"):
        client.report(check, tmp_path / "report.doc")


def test_a_file_that_is_refused_leaves_nothing_behind(client: PrintSpec, card: Path, tmp_path: Path) -> None:
    check = client.check(card, spec="business-card-85x55").id
    with pytest.raises(ProblemError) as refused:
        client.picture(check, 9, tmp_path / "page.png")
    assert refused.value.code == "page-not-found"
    assert not (tmp_path / "page.png").exists()


def test_messages_come_in_the_language_of_the_client(client: PrintSpec, tmp_path: Path) -> None:
    path = tmp_path / "no-bleed.pdf"
    page(85, 55, bleed=0).fill(cyan=1).save(path)
    with PrintSpec(client._connection._address, language="de") as german:
        (finding,) = german.check(path, spec="business-card-85x55").findings
    assert "Beschnitt" in finding.message


def test_an_upload_is_seen_going(client: PrintSpec, card: Path) -> None:
    seen: list[tuple[int, int]] = []
    client.check(card, spec="business-card-85x55", sent=lambda done, total: seen.append((done, total)))
    assert seen[-1] == (card.stat().st_size, card.stat().st_size)


def test_importing_the_client_loads_nothing_of_the_service() -> None:
    loaded = "*sorted(one for one in sys.modules if one.startswith('service')), 'flask' in sys.modules"
    script = f"import sys, service.client; print({loaded})"
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True, timeout=PATIENCE_SECONDS)
    parts = ("", ".connection", ".records", ".sending", ".service")
    assert done.stdout.split() == ["service", *(f"service.client{one}" for one in parts), "False"]


# --- Where the line or the service fails: a server that does as it is told ------------------------------------------------


class Script(BaseHTTPRequestHandler):
    """Answers each call with the next of `answers`; None: closes the line without a word."""

    answers: list[tuple[int, dict[str, str], object] | None]
    calls: list[tuple[str, str | None, bytes]]
    keys: list[str | None]
    port: int

    def do_POST(self) -> None:
        body = self.rfile.read(int(self.headers["Content-Length"]))
        self.calls.append((self.path, self.headers["Idempotency-Key"], body))
        self.keys.append(self.headers["Authorization"])
        answer = self.answers.pop(0)
        if answer is None:
            self.close_connection = True
            return
        status, headers, document = answer
        sent = json.dumps(document).encode()
        self.send_response(status)
        for name, value in {**headers, "Content-Type": "application/json", "Content-Length": str(len(sent))}.items():
            self.send_header(name, value)
        self.end_headers()
        self.wfile.write(sent)

    def log_message(self, *_: object) -> None:
        """Nothing on stderr."""


FINISHED = (201, {}, {"id": "a", "state": "finished", "verdict": "conforming", "findings": []})
BUSY = {"type": "/problems/queue-full", "title": "Busy", "detail": "Later."}


@pytest.fixture
def scripted() -> Iterator[tuple[type[Script], PrintSpec]]:
    handler = type("Told", (Script,), {"answers": [], "calls": [], "keys": []})
    with ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        handler.port = server.server_port
        with PrintSpec(f"http://127.0.0.1:{server.server_port}", timeout_seconds=PATIENCE_SECONDS) as opened:
            yield handler, opened
        server.shutdown()


def test_an_upload_that_breaks_off_is_sent_again_whole_under_one_key(scripted: tuple[type[Script], PrintSpec]) -> None:
    told, opened = scripted
    told.answers[:] = [None, (503, {}, BUSY), FINISHED]
    assert opened.check(io.BytesIO(b"%PDF-1.7 and more"), spec="card").verdict == "conforming"
    assert len({key for _, key, _ in told.calls}) == 1
    assert [b"%PDF-1.7 and more" in body for _, _, body in told.calls] == [True] * 3


def test_a_busy_service_is_asked_again_when_it_says(scripted: tuple[type[Script], PrintSpec]) -> None:
    told, opened = scripted
    told.answers[:] = [(429, {"Retry-After": "1"}, BUSY), FINISHED]
    assert opened.check(io.BytesIO(b"%PDF-"), spec="card").verdict == "conforming"


def test_whoever_cannot_wait_so_long_is_told_at_once(scripted: tuple[type[Script], PrintSpec]) -> None:
    told, opened = scripted
    told.answers[:] = [(429, {"Retry-After": "86400"}, BUSY)]
    with pytest.raises(ProblemError) as busy:
        opened.check(io.BytesIO(b"%PDF-"), spec="card")
    assert (busy.value.code, len(told.calls)) == ("queue-full", 1)


def test_a_sheet_is_not_kept_twice_because_the_line_broke(scripted: tuple[type[Script], PrintSpec]) -> None:
    told, opened = scripted
    told.answers[:] = [(503, {}, BUSY), (201, {}, {})]
    with pytest.raises(ProblemError):
        opened.keep_spec({"id": "card"})
    assert len(told.calls) == 1


def test_a_key_goes_along_whatever_logins_lie_on_the_machine(
    scripted: tuple[type[Script], PrintSpec], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    told, _ = scripted
    (tmp_path / "netrc").write_text("machine 127.0.0.1 login baker password flour\n")
    monkeypatch.setenv("NETRC", str(tmp_path / "netrc"))
    told.answers[:] = [FINISHED, FINISHED]
    with PrintSpec(f"http://127.0.0.1:{told.port}", key="psk_1f2e3d4c_secret") as keyed:
        keyed.check(io.BytesIO(b"%PDF-"), spec="card", readable_by="link")
    assert told.keys == ["Bearer psk_1f2e3d4c_secret"]
    assert b'name="readable_by"\r\n\r\nlink' in told.calls[0][2]
    path = tmp_path / "card.pdf"
    path.write_bytes(b"%PDF-1.7")
    monkeypatch.setenv("PRINT_SPEC_KEY", " psk_5e6f7a8b_secret ")
    assert main(["check", str(path), "--spec", "card", "--service", f"http://127.0.0.1:{told.port}", "--json"]) == 0
    assert told.keys[-1] == "Bearer psk_5e6f7a8b_secret"


def test_what_is_no_answer_of_the_service_is_an_error(scripted: tuple[type[Script], PrintSpec]) -> None:
    told, opened = scripted
    told.answers[:] = [(201, {}, ["a list"])]
    with pytest.raises(ProblemError, match="no answer of the service"):
        opened.check(io.BytesIO(b"%PDF-"), spec="card")


def test_a_form_is_as_long_as_it_says() -> None:
    """RFC 7578: the name of a file may hold anything."""
    form = FormWithFile({"spec": "card", "order": "{}"}, io.BytesIO(b"x" * 200_000), 'a "name".pdf')
    body = b"".join(form)
    assert len(body) == len(form)
    assert b"".join(form) == body, "once more from the start"
    assert b'filename="a %22name%22.pdf"' in body
