"""Spans for OpenTelemetry, where they are asked for (`PRINT_SPEC_TELEMETRY=otlp`): one a request, one a run of a check.

Else nothing of it is loaded and nothing happens. Where spans go, OpenTelemetry's own settings say (OTEL_EXPORTER_OTLP_ENDPOINT
and others); its packages come with the extra `telemetry`. No span holds an id of a check as it is, a name or an address.
"""

from __future__ import annotations

import hashlib
import importlib.util
import threading
import time
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from typing import Any

OTLP = "otlp"
_PACKAGES = ("opentelemetry", "opentelemetry.sdk", "opentelemetry.exporter.otlp.proto.http")
_SERVICE = "print-spec"
_lock = threading.Lock()
_provider: Any = None


class Span:
    """Of what goes on; without OpenTelemetry it hears everything and keeps nothing."""

    def __init__(self, span: Any = None) -> None:
        self._span = span

    def event(self, name: str) -> None:
        """Something begins, now."""
        if self._span is not None:
            self._span.add_event(name)

    def note(self, name: str, value: str | int | float) -> None:
        if self._span is not None:
            self._span.set_attribute(name, value)


def is_installed() -> bool:
    try:
        return all(importlib.util.find_spec(name) is not None for name in _PACKAGES)
    except ModuleNotFoundError:  # of a package above
        return False


def begin(telemetry: str) -> None:
    """In the process that has something to tell: what sends the spans is a thread, and no fork has it."""
    global _provider
    with _lock:
        if telemetry == OTLP and _provider is None:
            from opentelemetry.exporter.otlp.proto.http.trace_exporter import OTLPSpanExporter
            from opentelemetry.sdk.resources import Resource
            from opentelemetry.sdk.trace import TracerProvider
            from opentelemetry.sdk.trace.export import BatchSpanProcessor

            _provider = TracerProvider(resource=Resource.create({"service.name": _SERVICE}))
            _provider.add_span_processor(BatchSpanProcessor(OTLPSpanExporter()))


def end() -> None:
    """What was told is sent, as far as anybody takes it in a moment."""
    global _provider
    with _lock:
        if _provider is not None:
            _provider.force_flush(3000)
            _provider = None


def tell_request(method: str, route: str, status: int, seconds: float, headers: Iterable[tuple[str, str]]) -> None:
    """One that was just answered; part of what its caller does, where he says so (W3C Trace Context)."""
    if _provider is None:
        return
    from opentelemetry.trace import SpanKind, Status, StatusCode
    from opentelemetry.trace.propagation.tracecontext import TraceContextTextMapPropagator

    ended = time.time_ns()
    sent = {name.lower(): value for name, value in headers}
    facts = {"http.request.method": method, "http.route": route, "http.response.status_code": status}
    span = _provider.get_tracer(_SERVICE).start_span(
        f"{method} {route}", TraceContextTextMapPropagator().extract(sent), SpanKind.SERVER, facts,
        start_time=ended - int(seconds * 1e9),
    )  # fmt: skip
    if status >= 500:
        span.set_status(Status(StatusCode.ERROR))
    span.end(ended)


@contextmanager
def check_span(check_id: str, size_bytes: int) -> Iterator[Span]:
    """One run of a check; the check is named as it is in the log."""
    if _provider is None:
        yield Span()
        return
    named = hashlib.sha256(check_id.encode()).hexdigest()[:8]
    facts = {"print_spec.check": named, "print_spec.size_bytes": size_bytes}
    quiet = {"record_exception": False, "set_status_on_exception": False}  # what one says may hold names
    with _provider.get_tracer(_SERVICE).start_as_current_span("check", attributes=facts, **quiet) as span:
        yield Span(span)
