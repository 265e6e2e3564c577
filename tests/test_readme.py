"""What the README and the pages under /docs say is done here as it stands: commands, snippets, the cut of the demo.

The two commands that make an environment from nothing are run by `.ci/run`; here it is held that they are the same.
"""

from __future__ import annotations

import hashlib
import html.parser
import io
import os
import re
import subprocess
import sys
from collections.abc import Iterator
from contextlib import redirect_stdout
from pathlib import Path

import pytest
import requests

from service.demo.run import running_service
from service.sheets.catalogue import stored_sheets
from tests.build import document, page
from tests.outside_tools import program
from tests.patience import PATIENCE_SECONDS

ROOT = Path(__file__).parents[1]
GUIDES = ROOT / "service" / "web" / "docs" / "pages"
README = (ROOT / "README.md").read_text(encoding="utf-8")
EXAMPLE_ADDRESS = "http://127.0.0.1:8000"
FROM_NOTHING = "python3 -m venv .venv"


def guide(name: str) -> str:
    return (GUIDES / f"{name}.md").read_text(encoding="utf-8")


WRITTEN = {"README": README, **{file.stem: guide(file.stem) for file in sorted(GUIDES.glob("*.md"))}}


def blocks(language: str, text: str = README) -> list[str]:
    return re.findall(rf"^```{language}\n(.*?)^```$", text, re.MULTILINE | re.DOTALL)


def commands(text: str = README) -> list[str]:
    """A line each; one that writes a file goes as far as the file does."""
    return [found for block in blocks("sh", text) for found in re.findall(r"^.*<<'END'\n(?s:.*?)^END$|^.+$", block, re.MULTILINE)]


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    with running_service() as found:
        yield found


@pytest.fixture
def desk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with a card.pdf and two brochures in it, and `print-spec` on the path."""
    page(85, 55, bleed=0).fill(cyan=0.5).save(tmp_path / "card.pdf")
    document(*(page(148, 210).fill(cyan=0.5) for _ in range(8))).save(tmp_path / "brochure.pdf")
    document(page(148, 210), page(296, 210).fill(cyan=0.5), page(148, 210)).save(tmp_path / "spreads.pdf")
    tools = tmp_path / "bin"
    tools.mkdir()
    command = tools / "print-spec"
    command.write_text(f'#!/bin/sh\nPYTHONPATH={ROOT} exec {sys.executable} -m service "$@"\n')
    command.chmod(0o755)
    monkeypatch.setenv("PATH", f"{tools}{os.pathsep}{os.environ['PATH']}")
    monkeypatch.setenv("NO_PROXY", "127.0.0.1")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_ci_runs_the_two_commands_as_they_stand_in_the_readme() -> None:
    script = (ROOT / ".ci" / "run").read_text().splitlines()
    from_nothing = [line for line in commands() if line.startswith(FROM_NOTHING)]
    assert len(from_nothing) == 2
    assert all(line in script for line in from_nothing)
    assert from_nothing[1] in (ROOT / "DEVELOPERS.md").read_text().splitlines()


def test_the_commands_do_what_they_say(desk: Path) -> None:
    """In order, in one folder; the card has no bleed, so that each check of it ends with 1."""
    for line in dict.fromkeys(line for text in WRITTEN.values() for line in commands(text)):
        if not line.startswith((FROM_NOTHING, "print-spec serve", "curl")):
            shown = run(line, desk, code=1 if line.startswith("print-spec check") else 0)
            assert ("bleed.declared" in shown) or not line.startswith("print-spec check")


def test_what_curl_sends_is_answered(desk: Path, address: str) -> None:
    program("curl")
    for line in dict.fromkeys(line for text in WRITTEN.values() for line in commands(text)):
        if line.startswith(("curl", "printf", "cat")):  # and the files that it sends
            shown = run(line.replace(EXAMPLE_ADDRESS, address), desk)
            assert ("bleed.declared" in shown) or "/v1/checks" not in line


def run(line: str, folder: Path, code: int = 0) -> str:
    done = subprocess.run(line, shell=True, cwd=folder, capture_output=True, text=True, check=False, timeout=PATIENCE_SECONDS)
    assert done.returncode == code, (line, done.stdout, done.stderr)
    return done.stdout


def snippet(text: str, address: str, **names: str) -> str:
    """What it prints, with the names of the text replaced by what they stand for."""
    shown = io.StringIO()
    for name, value in names.items():
        text = text.replace(name, value)
    with redirect_stdout(shown):
        exec(compile(text.replace(EXAMPLE_ADDRESS, address), "a guide", "exec"), {})
    return shown.getvalue()


def test_the_shop_gets_a_token_its_page_the_verdict_and_its_backend_judges_again(desk: Path, address: str) -> None:
    asking, judging = blocks("python", guide("ordering-page"))
    token = snippet(asking, address).strip()
    content = (desk / "card.pdf").read_bytes()
    sent = {"files": {"file": content}, "data": {"token": token}, "headers": {"Origin": "https://shop.example"}}
    answer = requests.post(f"{address}/v1/checks", **sent, timeout=60)
    check = answer.json()
    assert (answer.status_code, check["verdict"], check["spec"]["id"]) == (201, "nonconforming", "book-a5-cover")
    may_print, sha256, again = snippet(judging, address, ID=check["id"]).split()
    assert (may_print, sha256) == ("False", hashlib.sha256(content).hexdigest())
    assert again != check["id"]


def test_what_was_made_for_another_order_is_found_out(desk: Path, address: str) -> None:
    """A cover for 20 pages, sent under the shop's own sheet: the digest is the same, the verdict of 96 pages is not."""
    page(148 * 2 + 1.1, 210, bleed=3).fill(cyan=0.5).save(desk / "cover.pdf")
    thin = {"spec": "book-a5-cover", "order": '{"inner_pages": 20, "caliper_mm": 0.11}'}
    with (desk / "cover.pdf").open("rb") as pdf:
        check = requests.post(f"{address}/v1/checks", files={"file": pdf}, data=thin, timeout=60).json()
    assert "spine.width" not in {one["rule"] for one in check["findings"]}
    _, judging = blocks("python", guide("ordering-page"))
    again = snippet(judging, address, ID=check["id"]).split()[-1]
    judged = requests.get(f"{address}/v1/checks/{again}", timeout=20).json()
    assert judged["spec"]["digest"] == check["spec"]["digest"]
    assert (check["order"]["inner_pages"], judged["order"]["inner_pages"]) == (20, 96)
    assert "spine.width" in {one["rule"] for one in judged["findings"]}


def test_a_script_reads_the_findings_and_keeps_the_report(desk: Path, address: str) -> None:
    for text in blocks("python", guide("script")):
        assert "bleed" in snippet(text, address)
    for name in ("card-report.pdf", "report.pdf"):
        assert (desk / name).read_bytes().startswith(b"%PDF-")


@pytest.mark.parametrize("text", [README, guide("ordering-page")], ids=["README", "ordering-page"])
def test_the_element_is_loaded_from_the_service_and_named_as_it_is_there(address: str, text: str) -> None:
    (page,) = [one for one in blocks("html", text) if "check-upload" in one]
    (script,) = re.findall(r'<script src="([^"]+)" defer></script>', page)
    source = requests.get(script.replace(EXAMPLE_ADDRESS, address), timeout=20).text
    (name, attributes) = re.findall(r"<(check-upload)( [^>]+)>", page)[0]
    assert f'customElements.define("{name}"' in source
    for attribute in re.findall(r' ([\w-]+)="', attributes):
        assert f'getAttribute("{attribute}")' in source
    for told in re.findall(r"`(check-\w+|renewToken)`", text):
        assert told.removeprefix("check-") in source


class Form(html.parser.HTMLParser):
    def __init__(self, text: str) -> None:
        super().__init__()
        self.form: dict[str, str | None] = {}
        self.fields: dict[str, str | None] = {}
        self.options: list[str | None] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        found = dict(attrs)
        if tag == "form":
            self.form = found
        elif tag == "option":
            self.options.append(found["value"])
        elif name := found.get("name"):
            self.fields[name] = found.get("type", tag)


@pytest.mark.parametrize("text", [README, guide("upload-form")], ids=["README", "upload-form"])
def test_the_upload_form_sends_what_the_service_takes(desk: Path, address: str, text: str) -> None:
    form = Form(next(one for one in blocks("html", text) if "/v1/checks" in one))
    assert (form.form["method"], form.form["enctype"]) == ("post", "multipart/form-data")
    assert set(form.fields) == {"answer", "file", "spec"}
    assert set(form.options) <= stored_sheets().keys()
    action = str(form.form["action"]).replace(EXAMPLE_ADDRESS, address)
    with (desk / "card.pdf").open("rb") as pdf:
        sent = {"files": {"file": pdf}, "data": {"spec": "business-card-85x55", "answer": "report"}}
        answer = requests.post(action, **sent, allow_redirects=False, timeout=60)
    assert answer.status_code == 303
    assert requests.get(f"{address}{answer.headers['Location']}", timeout=60).headers["Content-Type"].startswith("text/html")


def test_the_cut_of_the_demo_is_what_it_prints(demo_run: Path) -> None:
    (cut,) = blocks("text")
    shown = {line.rstrip() for line in (demo_run / "shown.txt").read_text(encoding="utf-8").splitlines()}
    assert [line for line in cut.splitlines() if line != "…" and line.rstrip() not in shown] == []
    assert (demo_run / "demo-results" / "summary.md").is_file()


def test_links_lead_somewhere() -> None:
    for target in re.findall(r"\]\((?!https?:)([^)#]+)\)", README):
        assert (ROOT / target).exists(), target


def test_the_readme_stays_short() -> None:
    assert len(README.splitlines()) <= 90
