"""Clients that others' generators make from /openapi.json: one in Python runs a whole check, types for TypeScript hold a sample.

openapi-python-client (MIT) and openapi-typescript (MIT), as somebody would use them who has only the address of the service.
"""

from __future__ import annotations

import importlib
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType

import pytest
import requests

from tests.outside_tools import node_tool
from tests.patience import PATIENCE_SECONDS
from tests.running import Running, running

HERE = Path(__file__).parent
SETTINGS = """\
post_hooks: []
package_name_override: made_client
content_type_overrides:
  application/pdf: application/octet-stream
  image/png: application/octet-stream
  image/svg+xml: application/octet-stream
  application/offset+octet-stream: application/octet-stream
"""
"""The generator takes bytes under one name only."""
NOT_TAKEN = {"application/yaml", "text/plain", "text/html"}
"""Kinds of bodies that it has no form for; the same calls take JSON."""


@pytest.fixture(scope="module")
def service(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    with running(tmp_path_factory.mktemp("generated") / "data") as service:
        yield service


@pytest.fixture(scope="module")
def description(service: Running, tmp_path_factory: pytest.TempPathFactory) -> Path:
    file = tmp_path_factory.mktemp("description") / "openapi.json"
    file.write_bytes(requests.get(f"{service.address}/openapi.json", timeout=PATIENCE_SECONDS).content)
    return file


@pytest.fixture(scope="module")
def made_client(description: Path) -> Iterator[ModuleType]:
    folder = description.parent
    (folder / "settings.yaml").write_text(SETTINGS)
    command = [sys.executable, "-m", "openapi_python_client", "generate", "--path", str(description)]
    done = subprocess.run(
        [*command, "--config", "settings.yaml", "--output-path", "made"],
        cwd=folder, capture_output=True, text=True, check=True, timeout=PATIENCE_SECONDS,
    )  # fmt: skip
    said = " ".join((done.stdout + done.stderr).split())
    assert set(re.findall(r"Unsupported content[_ ]type ([^ ){]+)", said)) <= NOT_TAKEN, said
    assert "Cannot parse" not in said
    sys.path.insert(0, str(folder / "made"))
    yield importlib.import_module("made_client")
    sys.path.remove(str(folder / "made"))


def test_a_client_made_in_python_runs_a_whole_check(made_client: ModuleType, service: Running, bakery_order: Path) -> None:
    def call(name: str) -> ModuleType:
        return importlib.import_module(f"made_client.api.{name}")

    models, types = importlib.import_module("made_client.models"), importlib.import_module("made_client.types")
    with made_client.Client(base_url=service.address) as client, (bakery_order / "card-no-bleed.pdf").open("rb") as pdf:
        file = types.File(payload=pdf, file_name="card-no-bleed.pdf", mime_type="application/pdf")
        form = models.CheckForm(file=file, spec="business-card-85x55")
        sent = call("check_a_file.check_file").sync(client=client, body=form, idempotency_key="order-1")
        assert (sent.state, sent.verdict) == ("finished", "nonconforming")
        read = call("read_the_result.get_check").sync(sent.id, client=client)
        (finding,) = [one for one in read.findings if one.rule == "bleed.declared"]
        assert (finding.level, finding.places[0].page, len(finding.places[0].box_mm)) == ("must", 1, 4)
        assert read.measurements.pages[0].trim_width_mm == pytest.approx(85, abs=0.1)
        picture = call("what_people_look_at.get_page_picture").sync(sent.id, 1, client=client)
        assert picture.payload.read(8) == b"\x89PNG\r\n\x1a\n"
        refused = call("check_a_file.check_file").sync(client=client, body=models.CheckForm(spec="business-card-85x55"))
        assert isinstance(refused, models.ProblemAnswer)
        assert refused.errors[0].pointer == "/file"
        call("read_the_result.forget_check").sync_detailed(sent.id, client=client)
        assert call("read_the_result.get_check").sync(sent.id, client=client).status == 404


def test_types_made_for_typescript_hold_a_sample(description: Path, tmp_path: Path) -> None:
    generate, compile_ = node_tool("openapi-typescript"), node_tool("tsc")
    shutil.copy(HERE / "sample.ts", tmp_path)
    run([generate, str(description), "-o", "made.ts"], tmp_path)
    strict = ["--strict", "--noUncheckedIndexedAccess", "--exactOptionalPropertyTypes", "--noEmit", "--skipLibCheck"]
    browser = ["--target", "es2022", "--lib", "es2022,dom", "--module", "esnext", "--moduleResolution", "bundler"]
    run([compile_, *strict, *browser, "sample.ts"], tmp_path)


def run(command: list[str], folder: Path) -> None:
    done = subprocess.run(command, cwd=folder, capture_output=True, text=True, check=False, timeout=PATIENCE_SECONDS)
    assert done.returncode == 0, done.stdout[-3000:] + done.stderr[-2000:]
