"""Callers of a cluster that send checks, and what became of each: nothing that was accepted may be lost, and none comes twice."""

from __future__ import annotations

import json
import random
import threading
from collections import Counter, defaultdict
from contextlib import suppress
from dataclasses import dataclass, field

import requests

from tests.chaos.cluster import Cluster
from tests.jobs.calling.receiving import Receiver

ANSWER_WITHIN_SECONDS = 45


@dataclass
class Told:
    """What the callers were told."""

    accepted: dict[str, str] = field(default_factory=dict)
    """Key → id of the check."""
    refused: Counter[str] = field(default_factory=Counter)
    """Reason → how often."""
    given_up: int = 0
    """Never answered, and not sent again because the run was over."""
    twice: list[str] = field(default_factory=list)
    """Keys under which two checks were given out."""


class Callers:
    def __init__(self, cluster: Cluster, shop: Receiver, pdf: bytes, count: int, seed: int) -> None:
        self._cluster, self._shop, self._pdf, self._seed = cluster, shop, pdf, seed
        self._stop, self._telling = threading.Event(), threading.Lock()
        self.told = Told()
        self._threads = [threading.Thread(target=self._call, args=(number,), daemon=True) for number in range(count)]

    def start(self) -> None:
        for one in self._threads:
            one.start()

    def stop(self) -> None:
        self._stop.set()
        for one in self._threads:
            one.join(3 * ANSWER_WITHIN_SECONDS)
            assert not one.is_alive(), "a caller hangs"

    def _call(self, caller: int) -> None:
        chance, number = random.Random(self._seed * 100 + caller), 0
        while not self._stop.is_set():
            number += 1
            self.send(f"order-{caller}-{number}", chance)
            self._stop.wait(chance.uniform(0.1, 0.6))

    def send(self, key: str, chance: random.Random) -> None:
        """Until somebody answers yes or no: the same under the same key, to whichever API."""
        while True:
            answer = self._once(key, self._cluster.address(chance.randrange(len(self._cluster.ports))))
            with self._telling:
                if answer is not None and answer.status_code in (201, 202):
                    check_id = answer.json()["id"]
                    if self.told.accepted.setdefault(key, check_id) != check_id:
                        self.told.twice.append(key)
                    if chance.random() > 0.2:  # now and then a caller has not heard it, and sends it again
                        return
                elif answer is not None and answer.status_code < 500:
                    self.told.refused[answer.json()["type"]] += 1
                    return
                elif self._stop.is_set():
                    self.told.given_up += key not in self.told.accepted
                    return
            self._stop.wait(chance.uniform(0.2, 1.0))

    def _once(self, key: str, address: str) -> requests.Response | None:
        fields = {"spec": "business-card-85x55", "callback_url": f"{self._shop.address}/{key}"}
        headers = {"Idempotency-Key": key, "Prefer": "respond-async"}
        with suppress(requests.RequestException):
            files = {"file": ("card.pdf", self._pdf, "application/pdf")}
            return requests.post(
                f"{address}/v1/checks", files=files, data=fields, headers=headers, timeout=ANSWER_WITHIN_SECONDS
            )
        return None


@dataclass
class Account:
    """What became of everything that was accepted."""

    states: Counter[str]
    """'finished', 'failed: …', 'lost', 'open'."""
    without_callback: list[str]
    """Ids of checks that are done with, of which nobody was told."""
    under_two_ids: list[str]
    """Ids of checks that were told of as if they were two."""
    deliveries: int

    @property
    def open(self) -> int:
        return self.states["open"] + len(self.without_callback)


def account(cluster: Cluster, told: Told, shop: Receiver) -> Account:
    calls: defaultdict[str, set[str]] = defaultdict(set)
    for headers, body in list(shop.calls):
        calls[json.loads(body)["data"]["id"]].add(headers["webhook-id"])
    states: Counter[str] = Counter()
    done = []
    for check_id in told.accepted.values():
        state = _state(cluster, check_id)
        states[state] += 1
        if state not in ("lost", "open"):
            done.append(check_id)
    twice = [check_id for check_id, ids in calls.items() if len(ids) > 1]
    return Account(states, [one for one in done if not calls[one]], twice, len(shop.calls))


def _state(cluster: Cluster, check_id: str) -> str:
    for number in range(len(cluster.ports)):
        with suppress(requests.RequestException):
            answer = requests.get(f"{cluster.address(number)}/v1/checks/{check_id}", timeout=ANSWER_WITHIN_SECONDS)
            if answer.status_code == 404:
                return "lost"
            if answer.ok and answer.json()["state"] in ("finished", "failed"):
                found = answer.json()
                return "finished" if found["state"] == "finished" else f"failed: {found['problem']['type']}"
    return "open"
