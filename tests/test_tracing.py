"""OpenTelemetry hears of requests and checks where that is asked for, over its own protocol; else nothing of it is loaded."""

from __future__ import annotations

import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

import pytest
import requests

from service import tracing
from service.settings import SettingsRefused, read_settings
from tests.build import page
from tests.patience import PATIENCE_SECONDS, until
from tests.running import running

CALLER = "4bf92f3577b34da6a3ce929d0e0e4736"
"""A trace of the caller's own (W3C Trace Context's example)."""


@contextmanager
def collecting() -> Iterator[tuple[str, list[bytes]]]:
    """Somebody who takes spans: the address, and what was sent there."""
    bodies: list[bytes] = []

    class Handler(BaseHTTPRequestHandler):
        def do_POST(self) -> None:
            bodies.append(self.rfile.read(int(self.headers["Content-Length"])))
            self.send_response(200)
            self.send_header("Content-Length", "0")
            self.end_headers()

        def log_message(self, *_: object) -> None:
            """Nothing: pytest shows what a test wants."""

    with ThreadingHTTPServer(("127.0.0.1", 0), Handler) as server:
        threading.Thread(target=server.serve_forever, args=(0.05,), daemon=True).start()
        yield f"http://127.0.0.1:{server.server_port}", bodies
        server.shutdown()


def spans_in(bodies: list[bytes]) -> list[Any]:
    from opentelemetry.proto.collector.trace.v1.trace_service_pb2 import ExportTraceServiceRequest

    sent = [ExportTraceServiceRequest.FromString(body) for body in bodies]
    return [span for one in sent for of in one.resource_spans for scope in of.scope_spans for span in scope.spans]


def test_a_request_and_its_check_are_told_without_ids_and_names(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    if not tracing.is_installed():
        pytest.skip("OpenTelemetry is not there (pip install '.[telemetry]')")
    card = page(85, 55, bleed=3).fill(cyan=1).save(tmp_path / "halyard-card.pdf")
    with collecting() as (address, bodies):
        monkeypatch.setenv("OTEL_EXPORTER_OTLP_ENDPOINT", address)
        with running(tmp_path / "data", TELEMETRY="otlp", WAIT_SECONDS="60") as service, card.open("rb") as file:
            answer = requests.post(
                f"{service.address}/v1/checks", files={"file": file}, data={"spec": "business-card-85x55"},
                headers={"traceparent": f"00-{CALLER}-00f067aa0ba902b7-01"}, timeout=PATIENCE_SECONDS,
            )
            assert answer.status_code == 201
            assert service.stop() == 0
        spans = until(lambda: spans_in(bodies), "spans")
    (sent,) = [one for one in spans if one.name == "POST /v1/checks"]
    assert sent.trace_id.hex() == CALLER
    (check,) = [one for one in spans if one.name == "check"]
    facts = {one.key: one.value.string_value or one.value.int_value for one in check.attributes}
    assert facts["print_spec.verdict"] == "conforming"
    assert "pages" in [event.name for event in check.events]
    assert answer.json()["id"].encode() not in b"".join(bodies)
    assert b"halyard-card" not in b"".join(bodies)


def test_where_it_is_not_asked_for_nothing_of_it_is_loaded() -> None:
    line = "import sys, service.working, service.serving; print([one for one in sys.modules if one.startswith('opentelemetry')])"
    done = subprocess.run([sys.executable, "-c", line], capture_output=True, text=True, check=True, timeout=PATIENCE_SECONDS)
    assert done.stdout.strip() == "[]"
    with tracing.check_span("A" * 24, 7) as span:
        span.event("pages")
        span.note("print_spec.verdict", "conforming")
    tracing.tell_request("GET", "/healthz", 200, 0.1, ())
    tracing.end()


def test_asking_for_what_is_not_installed_is_refused_with_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("service.setting_values.is_installed", lambda: False)
    with pytest.raises(SettingsRefused, match=r"\[telemetry\]"):
        read_settings({"PRINT_SPEC_TELEMETRY": "otlp"})
    with pytest.raises(SettingsRefused, match="write 'otlp', or nothing"):
        read_settings({"PRINT_SPEC_TELEMETRY": "everything"})
