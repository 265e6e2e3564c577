"""The reference configuration of a proxy: a real nginx before a real service."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
import requests

from tests.build import page
from tests.outside_tools import program
from tests.patience import PATIENCE_SECONDS, until
from tests.running import Running, child, free_port, running

DEPLOY = Path(__file__).parents[2] / "service" / "deploy"
CARD = {"spec": "business-card-85x55"}


@pytest.fixture(scope="module")
def service(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    with running(tmp_path_factory.mktemp("service") / "data", PROXIES="1", QUEUE_LENGTH="1", WAIT_SECONDS="0") as started:
        yield started


@pytest.fixture(scope="module")
def proxy(service: Running, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """Nginx as it is configured, at a port of its own, before this service and another that is dead."""
    folder, port = tmp_path_factory.mktemp("nginx"), free_port()
    alive, dead = service.address.removeprefix("http://"), f"127.0.0.1:{free_port()}"
    text = (DEPLOY / "nginx.conf").read_text()
    ours = {"api-1:8000": alive, "api-2:8000": dead, "listen 8080": f"listen 127.0.0.1:{port}", "/tmp/": f"{folder}/"}
    for name, here in ours.items():
        assert name in text
        text = text.replace(name, here)
    text = text.replace("worker_processes auto", "user root;\nworker_processes 1" if os.geteuid() == 0 else "worker_processes 1")
    text = text.replace("max_body_size 201m", "max_body_size 1m")
    (folder / "nginx.conf").write_text(text)
    command = [program("nginx"), "-p", str(folder), "-c", str(folder / "nginx.conf"), "-e", "stderr", "-g", "daemon off;"]
    with (folder / "log").open("wb") as log, child(command, stdout=log, stderr=log) as process:
        until(lambda: process.poll() is not None or _answers(port), "an answer of nginx")
        assert process.poll() is None, (folder / "log").read_text()
        yield f"http://127.0.0.1:{port}"


def _answers(port: int) -> bool:
    try:
        return requests.get(f"http://127.0.0.1:{port}/healthz", timeout=PATIENCE_SECONDS).ok
    except requests.ConnectionError:
        return False


def test_a_card_goes_through_and_its_address_comes_back(proxy: str, service: Running, tmp_path: Path) -> None:
    card = page(85, 55, bleed=3).fill(cyan=1).save(tmp_path / "card.pdf").read_bytes()
    answer = requests.post(f"{proxy}/v1/checks", files={"file": ("card.pdf", card)}, data=CARD, timeout=PATIENCE_SECONDS)
    assert answer.status_code in (201, 202), answer.text
    assert requests.get(f"{proxy}{answer.headers['Location']}", timeout=PATIENCE_SECONDS).ok
    assert re.fullmatch(r"[0-9a-f]{32}", answer.headers["X-Request-Id"]), "nginx's, which the service writes as well"
    assert answer.headers["X-Request-Id"] in service.log


def test_one_dead_api_is_noticed_by_no_one_who_asks(proxy: str) -> None:
    assert {requests.get(f"{proxy}/healthz", timeout=PATIENCE_SECONDS).status_code for _ in range(6)} == {200}


def test_strangers_see_no_metrics_and_the_operator_does(proxy: str, service: Running) -> None:
    assert requests.get(f"{proxy}/metrics", timeout=PATIENCE_SECONDS).status_code == 404
    assert "print_spec_places" in requests.get(f"{service.address}/metrics", timeout=PATIENCE_SECONDS).text


def test_what_is_too_large_does_not_reach_the_service(proxy: str, service: Running) -> None:
    before = service.log.count("'POST'")
    large = {"file": ("card.pdf", bytes(2_000_000))}
    answer = requests.post(f"{proxy}/v1/checks", files=large, data=CARD, timeout=PATIENCE_SECONDS)
    assert (answer.status_code, service.log.count("'POST'")) == (413, before)
