"""From an upload with an address to the call: once it is done with, again where it failed, and given up in the end."""

from __future__ import annotations

import base64
import json
import socket
from datetime import timedelta
from ipaddress import ip_network
from typing import Any

import pytest
from standardwebhooks import Webhook

from service.accounts.callers import LOCAL
from service.jobs.calling import callbacks
from service.jobs.calling.addresses import Allowed
from service.jobs.calling.callbacks import AGAIN_AFTER_SECONDS, again_after
from service.jobs.checking import now
from service.wiring import Parts
from tests.api.conftest import Start
from tests.api.contract import Caller
from tests.jobs.calling.receiving import Receiver, receiving
from tests.patience import ended, until

SECRET = b"s" * 32
SETTINGS = {"callback_secrets": (SECRET,), "callback_networks": (ip_network("127.0.0.0/8"),)}


def waiting(caller: Caller) -> int:
    parts: Parts = caller.client.application.extensions["print-spec"]
    assert parts.callbacks is not None
    return parts.callbacks._calls.waiting()


def sent(caller: Caller, card: bytes, shop: Receiver) -> dict[str, Any]:
    answer = caller.check(card, headers={"Prefer": "respond-async"}, callback_url=f"{shop.address}/done")
    assert answer.status_code in (201, 202), answer.get_json()
    found: dict[str, Any] = answer.get_json()
    return found


def test_whoever_sent_a_file_is_told_that_it_is_checked(start: Start, card: bytes) -> None:
    with receiving() as shop:
        caller = start(**SETTINGS)
        check = sent(caller, card, shop)
        until(lambda: shop.calls and not waiting(caller), "called")
    ((headers, body),) = shop.calls
    Webhook("whsec_" + base64.b64encode(SECRET).decode()).verify(body, {name.lower(): one for name, one in headers.items()})
    said = json.loads(body)
    assert (said["type"], said["data"]["id"], said["data"]["verdict"]) == ("check.finished", check["id"], "conforming")
    assert caller.get(said["data"]["links"]["self"]).get_json()["state"] == "finished"


def test_it_is_tried_again_under_the_same_id_and_given_up_where_nobody_wants_it(
    start: Start, card: bytes, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(callbacks, "AGAIN_AFTER_SECONDS", (0.01,) * 5)
    with receiving() as shop:
        shop.answers = [500, 302, 204, 410]
        caller = start(**SETTINGS)
        sent(caller, card, shop)
        until(lambda: len(shop.calls) == 3 and not waiting(caller), "called three times")
        assert len({headers["webhook-id"] for headers, _ in shop.calls}) == 1
        assert len({body for _, body in shop.calls}) == 1
        sent(caller, card, shop)
        until(lambda: len(shop.calls) == 4 and not waiting(caller), "called once more")


def test_a_shop_that_does_not_answer_does_not_hold_up_the_end(start: Start, card: bytes, monkeypatch: pytest.MonkeyPatch) -> None:
    """Another process calls it again, under the same id."""
    monkeypatch.setattr(callbacks, "_LEFT_AFTER_SECONDS", 0.1)
    with socket.create_server(("127.0.0.1", 0)) as mute, receiving() as shop:
        shop.address = f"http://127.0.0.1:{mute.getsockname()[1]}"
        caller = start(**SETTINGS)
        sent(caller, card, shop)
        line, _ = mute.accept()
        parts: Parts = caller.client.application.extensions["print-spec"]
        assert parts.callbacks is not None
        parts.callbacks.close()
        assert any(one.is_alive() for one in parts.callbacks._threads), "it has waited until somebody hung up"
        assert waiting(caller) == 1
        line.close()
        for one in parts.callbacks._threads:
            ended(one)


def test_attempts_go_on_for_a_day() -> None:
    waits = [again_after(number + 1) for number in range(len(AGAIN_AFTER_SECONDS))]
    assert all(one is not None for one in waits)
    assert timedelta(hours=20) < sum((one for one in waits if one), timedelta()) < timedelta(hours=30)
    assert again_after(len(AGAIN_AFTER_SECONDS) + 1) is None


@pytest.mark.parametrize(
    ("settings", "url", "word"),
    [
        ({}, "https://shop.example/done", "no callbacks"),
        (SETTINGS, "http://shop.example/done?x#y", "no web address"),
        (SETTINGS, "https://169.254.169.254/latest", "public"),
        ({**SETTINGS, "callback_networks": ()}, "http://127.0.0.1/", "https"),
        ({**SETTINGS, "callback_hosts": ("press.example",)}, "https://shop.example/", "does not call that host"),
    ],
)
def test_an_address_that_must_not_be_called_is_refused_with_the_reason(
    start: Start, card: bytes, settings: dict[str, Any], url: str, word: str
) -> None:
    answer = start(**settings).check(card, callback_url=url)
    assert answer.status_code == 422
    (error,) = answer.get_json()["errors"]
    assert error["pointer"] == "/callback_url"
    assert word in error["detail"]


def test_callbacks_of_an_account_go_to_its_own_hosts_alone(
    start: Start, card: bytes, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Those that are accepted, and those that had been accepted when its hosts were named."""
    monkeypatch.setattr(callbacks, "AGAIN_AFTER_SECONDS", (0.05,) * 50)
    with receiving() as shop:
        caller = start(**SETTINGS)
        parts: Parts = caller.client.application.extensions["print-spec"]
        parts.accounts.set_callback_hosts(LOCAL, ("hooks.bakery.example",), "a test", now())
        answer = caller.check(card, callback_url=f"{shop.address}/done")
        assert (answer.status_code, answer.get_json()["errors"][0]["pointer"]) == (422, "/callback_url")
        parts.accounts.set_callback_hosts(LOCAL, ("127.0.0.1",), "a test", now())
        shop.answers = [500] * 50
        sent(caller, card, shop)
        until(lambda: shop.calls, "called")
        parts.accounts.set_callback_hosts(LOCAL, ("hooks.bakery.example",), "a test", now())
        until(lambda: not waiting(caller), "given up")
        called = len(shop.calls)
        parts.accounts.set_callback_hosts("florist", ("hooks.florist.example",), "a test", now())
        parts.accounts.set_callback_hosts(LOCAL, (), "a test", now())
        shop.answers = []
        sent(caller, card, shop)
        until(lambda: len(shop.calls) == called + 1 and not waiting(caller), "another account's hosts are not its own")


@pytest.mark.parametrize(
    ("of_all", "of_account", "host", "may"),
    [
        ((), (), "shop.example", True),
        ((), ("shop.example",), "shop.example", True),
        ((), ("shop.example",), "other.example", False),
        (("*.example",), ("shop.example",), "shop.example", True),
        (("press.example",), ("shop.example",), "shop.example", False),
        (("press.example",), ("*.example",), "press.example", True),
    ],
)
def test_an_account_s_hosts_are_among_those_of_all(
    of_all: tuple[str, ...], of_account: tuple[str, ...], host: str, may: bool
) -> None:
    assert Allowed(of_all).of_account(of_account).host(host) is may
