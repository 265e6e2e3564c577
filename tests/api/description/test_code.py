"""The code of the reference does what it shows: run against a service, as it stands there."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
import requests

from service.accounts.callers import SCOPES
from service.accounts.keys import new_key
from service.api.description.code import code_samples
from service.api.description.exchanges import ADDRESS, exchanges_of
from service.api.description.operations import BY_CALL
from service.store.accounts.accounts import Accounts
from tests.databases import engine_of
from tests.outside_tools import program
from tests.patience import PATIENCE_SECONDS
from tests.running import Running, running

CALLS = [operation.id for _, operation in BY_CALL.values()]
DRAWN = {"getPreview", "getDummy", "getSinglePages", "getReport", "getTotalInk", "getPlate", "getSpecTemplate", "readTemplate"}
"""Dear to make, and called as others are; the recording has made them once."""
CHANGING = (
    "createSpec", "replaceSpec", "listSpecRevisions", "deleteSpec", "revokeUploadToken", "forgetCheck", "addToUpload",
    "forgetUpload", "createCatalogue", "getCatalogue", "getCatalogueSheet", "replaceCatalogue", "listCatalogueRevisions",
    "deleteCatalogue",
)
"""Need what others made before, or take it away: in this order, and in one language."""


@pytest.fixture(scope="module")
def service(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    with running(tmp_path_factory.mktemp("code") / "data") as service:
        yield service


@pytest.fixture(scope="module")
def said(service: Running, bakery_order: Path) -> dict[str, str]:
    """What stands in the examples → what it is here: the address, the check."""
    named = {ADDRESS: service.address}
    with (bakery_order / "card-no-bleed.pdf").open("rb") as pdf:
        form: dict[str, Any] = {"files": {"file": pdf}, "data": {"spec": "business-card-85x55"}}
        sent = requests.post(f"{service.address}/v1/checks", **form, timeout=PATIENCE_SECONDS)
    named[exchanges_of("getCheck")[0].request.path.split("/")[3]] = sent.json()["id"]
    wish = {"spec": "business-card-85x55", "origin": "https://shop.example"}
    token = requests.post(f"{service.address}/v1/upload-tokens", json=wish, timeout=PATIENCE_SECONDS).json()["id"]
    named[exchanges_of("revokeUploadToken")[0].request.path.split("/")[3]] = token
    begun = requests.post(f"{service.address}/v1/uploads", headers={"Upload-Length": "5000000"}, timeout=PATIENCE_SECONDS)
    named[exchanges_of("getUpload")[0].request.path.split("/")[3]] = begun.json()["id"]
    return named


def source(call: str, label: str, said: dict[str, str], *, with_key: bool = False) -> str:
    samples = code_samples(exchanges_of(call)[0], with_key=with_key)
    text = next(one["source"] for one in samples if one["label"] == label)
    for name, value in said.items():
        text = text.replace(name, value)
    return text


def test_the_code_does_what_it_shows(
    said: dict[str, str], bakery_order: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(with_files(tmp_path, bakery_order))
    for call in CALLS:
        if call not in (*CHANGING, *DRAWN):
            in_python(call, said)
    in_a_shell([source(one, "curl", said) for one in CALLS if one not in (*CHANGING, *DRAWN)], tmp_path)
    for call in CHANGING:
        in_python(call, said)


def test_javascript_says_what_curl_says(said: dict[str, str], bakery_order: Path, tmp_path: Path) -> None:
    """One of each kind: a form with a file, JSON, text, headers."""
    node = program("node")
    head = 'import { openAsBlob } from "node:fs"; // Node; in a page: input.files[0]\n'
    calls = ("checkFile", "createUploadToken", "readSpec", "listSpecs")
    bodies = "\n".join("{" + source(call, "JavaScript", said).replace(head, "") + "}" for call in calls)
    (with_files(tmp_path, bakery_order) / "calls.mjs").write_text(head + bodies)
    run([node, "--no-warnings", "calls.mjs"], "", tmp_path)


def test_where_keys_are_asked_for_the_code_sends_one(bakery_order: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """And where none is needed it sends none: what the description says of a call is what its code does."""
    with_files(tmp_path, bakery_order)
    data = tmp_path / "data"
    with running(data, ACCESS="keys") as service:
        said = {ADDRESS: service.address}
        paths = requests.get(f"{service.address}/openapi.json", timeout=PATIENCE_SECONDS).json()["paths"]
        shown = [operation for item in paths.values() for operation in item.values() if "x-codeSamples" in operation]
        for operation in shown:
            sends = {"PRINT_SPEC_KEY" in one["source"] for one in operation["x-codeSamples"]}
            assert sends == {bool(operation.get("security"))}, operation["operationId"]
        monkeypatch.setenv("PRINT_SPEC_KEY", key_of(data))
        calls = ("checkFile", "createUploadToken", "listSpecs")
        for call in calls:
            run([sys.executable, "-"], source(call, "Python", said, with_key=True), tmp_path)
        in_a_shell([source(call, "curl", said, with_key=True) for call in calls], tmp_path)
        script = source("checkFile", "JavaScript", said, with_key=True)
        run([program("node"), "--no-warnings", "--input-type=module", "-"], script, tmp_path)


def key_of(data: Path) -> str:
    made = new_key()
    Accounts(engine_of(data)).make_key("bakery", made.digest, made.prefix, SCOPES, "", "a test", datetime.now(UTC))
    return made.key


def in_python(call: str, said: dict[str, str]) -> None:
    text, known = source(call, "Python", said), dict[str, Any]()
    sent = exchanges_of(call)[0].request
    if "If-Match" in sent.headers:  # of what was recorded; here it is another
        etag = requests.get(f"{said[ADDRESS]}{sent.path}", timeout=PATIENCE_SECONDS).headers["ETag"]
        text = text.replace(json.dumps(sent.headers["If-Match"]), json.dumps(etag))
    exec(compile(text, call, "exec"), known)
    assert known["answer"].status_code == exchanges_of(call)[0].answer.status, call


def in_a_shell(sources: list[str], folder: Path) -> None:
    program("curl")
    lines = (one.replace("curl -sS", "curl -sS --fail-with-body -o answer") for one in sources)
    run(["sh", "-e"], "\n".join(lines), folder)


def with_files(folder: Path, order: Path) -> Path:
    for file in order.glob("*.pdf"):
        (folder / file.name).symlink_to(file)
    return folder


def run(command: list[str], text: str, folder: Path) -> None:
    environment = {**os.environ, "NO_PROXY": "127.0.0.1"}
    done = subprocess.run(
        command, input=text, cwd=folder, capture_output=True, text=True, check=False, timeout=PATIENCE_SECONDS, env=environment
    )
    assert done.returncode == 0, done.stdout[-2000:] + done.stderr[-2000:]
