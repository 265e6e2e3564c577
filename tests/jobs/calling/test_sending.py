"""One delivery: what is sent can be verified by others' code, and nothing is done but what was asked for."""

from __future__ import annotations

import base64
import json
import socket
import ssl
import threading
from ipaddress import ip_network

import pytest
from standardwebhooks import Webhook

from service.jobs.calling import sending
from service.jobs.calling.addresses import Allowed, Refused, Target, target_of
from service.jobs.calling.message import body_of, headers_of
from service.jobs.calling.sending import NotDelivered, deliver
from service.jobs.checking import now
from tests.jobs.calling.receiving import receiving
from tests.patience import ended
from tests.running import free_port
from tests.store.rows import NOON, row

HERE = Allowed(networks=(ip_network("127.0.0.0/8"),))
SECRETS = (b"k" * 32, b"older" * 6)
DONE = row("one", state="finished", verdict="conforming", finished_at=NOON, spec_id="business-card-85x55")


def written(secret: bytes) -> str:
    return "whsec_" + base64.b64encode(secret).decode()


def test_what_is_sent_is_verified_by_the_specification_s_own_package() -> None:
    body = body_of(DONE)
    with receiving() as shop:
        headers = headers_of("msg_1", int(now().timestamp()), body, SECRETS)
        deliver(target_of(f"{shop.address}/done?order=7", HERE), HERE, headers, body)
    ((headers, came),) = shop.calls
    assert shop.paths == ["/done?order=7"]
    for secret in SECRETS:
        said = Webhook(written(secret)).verify(came, {name.lower(): value for name, value in headers.items()})
        assert said == json.loads(body)
    assert headers["webhook-id"] == "msg_1"
    assert (said["type"], said["data"]["id"], said["data"]["verdict"]) == ("check.finished", "one", "conforming")
    with pytest.raises(Exception, match="No matching signature"):
        Webhook(written(b"x" * 32)).verify(came, {name.lower(): value for name, value in headers.items()})


def attempt(address: str) -> NotDelivered:
    with pytest.raises(NotDelivered) as failed:
        deliver(target_of(address, HERE), HERE, {}, b"{}")
    return failed.value


def test_a_redirect_is_no_delivery_and_is_not_followed() -> None:
    with receiving() as shop:
        shop.answers = [302, 500, 410]
        assert str(attempt(shop.address)) == "answered 302"
        assert not attempt(shop.address).for_good
        assert attempt(shop.address).for_good, "410: it wants no more"
        assert shop.paths == ["/"] * 3


def test_who_is_not_there_or_says_nothing_is_not_delivered_to() -> None:
    attempt(f"http://127.0.0.1:{free_port()}")
    with receiving() as shop:
        shop.silent.set()
        attempt(shop.address)


def test_who_answers_letter_by_letter_is_hung_up_on(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sending, "MOST_SECONDS", 0.3)
    with socket.create_server(("127.0.0.1", 0)) as server:
        stop = threading.Event()

        def drip() -> None:
            line, _ = server.accept()
            with line:
                try:
                    while not stop.wait(0.05):
                        line.send(b"H")
                except OSError:
                    return

        dripping = threading.Thread(target=drip)
        dripping.start()
        attempt(f"http://127.0.0.1:{server.getsockname()[1]}")
        stop.set()
        ended(dripping)


def test_an_address_that_is_not_public_is_not_even_connected_to() -> None:
    with receiving() as shop:
        port = int(shop.address.rpartition(":")[2])
        with pytest.raises(Refused):
            deliver(Target("https", "localhost", port, "/"), Allowed(), {}, b"{}")
        assert shop.calls == []


def test_without_a_certificate_that_holds_nothing_is_said() -> None:
    with receiving() as shop:
        port = int(shop.address.rpartition(":")[2])
        with pytest.raises(NotDelivered):
            deliver(Target("https", "localhost", port, "/"), Allowed(networks=(*HERE.networks, ip_network("::1/128"))), {}, b"{}")
        assert shop.calls == []
    assert ssl.create_default_context().verify_mode == ssl.CERT_REQUIRED
