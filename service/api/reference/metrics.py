"""`/metrics` for Prometheus: what this process answers, and how the queue that all processes share is doing."""

from __future__ import annotations

import logging
from collections.abc import Iterable, Iterator

from flask import Blueprint, Flask, Response, g, request
from prometheus_client import CollectorRegistry, Counter, Histogram, generate_latest
from prometheus_client.core import GaugeMetricFamily, Metric
from prometheus_client.registry import Collector

from service.api.http.blueprint import parts
from service.jobs.queue import SILENT_AFTER
from service.store.database import DatabaseError
from service.tracing import tell_request

log = logging.getLogger(__name__)

blueprint = Blueprint("metrics", __name__)
"""Not described: it is for whoever runs the service, and the proxy in front keeps others from it."""

_BUCKETS = (0.01, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 5, 10, 30, 60)
_MINE = CollectorRegistry()
_SECONDS = Histogram(
    "print_spec_http_seconds", "From a whole request to its whole answer, in the process that is asked.", ("method", "route"),
    buckets=_BUCKETS, registry=_MINE,
)  # fmt: skip
_ANSWERS = Counter(
    "print_spec_http_answers", "Answers of the process that is asked.", ("method", "route", "status"), registry=_MINE
)
_METHODS = ("GET", "POST", "PUT", "DELETE", "HEAD", "OPTIONS")


def register(app: Flask) -> None:
    app.after_request(_count)


def _count(answer: Response) -> Response:
    route = request.url_rule.rule if request.url_rule else "none"
    method = request.method if request.method in _METHODS else "other"
    _ANSWERS.labels(method, route, str(answer.status_code)).inc()
    if (seconds := g.get("seconds")) is not None:
        _SECONDS.labels(method, route).observe(seconds)
        tell_request(method, route, answer.status_code, seconds, request.headers)
    return answer


class _Shared(Collector):
    """Asked of the database when somebody looks."""

    def collect(self) -> Iterable[Metric]:
        here = parts()
        try:
            yield from self._of_database()
            alive = 1
        except DatabaseError:
            log.exception("the database does not answer")
            alive = 0
        yield GaugeMetricFamily("print_spec_database_up", "Whether the database answers.", alive)
        yield GaugeMetricFamily("print_spec_room", "Whether files are taken as far as the disk goes.", int(here.blobs.has_room()))

    def _of_database(self) -> Iterator[Metric]:
        here = parts()
        checks = GaugeMetricFamily("print_spec_checks", "Checks that are kept, by state.", labels=["state"])
        counted = here.line.counted()
        for state in ("queued", "running", "finished", "failed"):
            checks.add_metric([state], counted.get(state, 0))
        pace = here.line.pace(SILENT_AFTER)
        oldest, places = here.line.oldest_waits_seconds(), pace.places if pace else 0
        yield checks
        yield GaugeMetricFamily("print_spec_oldest_waits_seconds", "How long the check that came first has waited.", oldest)
        yield GaugeMetricFamily("print_spec_places", "Checks that all living workers may run at once.", places)
        yield GaugeMetricFamily("print_spec_callbacks_waiting", "Callbacks not yet delivered.", here.line.callbacks_waiting())


    def describe(self) -> Iterable[Metric]:
        """Nothing beforehand: there is no database to ask when this is loaded."""
        return ()


_SHARED = CollectorRegistry()
_SHARED.register(_Shared())


@blueprint.route("/metrics")
def metrics() -> Response:
    text = generate_latest(_MINE) + generate_latest(_SHARED)
    answer = Response(text, content_type="text/plain; version=0.0.4; charset=utf-8")
    answer.headers["Cache-Control"] = "no-store"
    return answer
