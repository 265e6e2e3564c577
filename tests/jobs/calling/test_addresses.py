"""Where callbacks may go: the world, and nothing behind our own walls, however it is written."""

from __future__ import annotations

import socket
from ipaddress import ip_address, ip_network

import pytest

from service.jobs.calling.addresses import (
    NO_ADDRESS,
    NOT_HTTPS,
    NOT_PUBLIC,
    OTHER_HOST,
    Allowed,
    Refused,
    Target,
    is_public,
    looked_up,
    target_of,
)

WORLD = Allowed()
HOUSE = Allowed(networks=(ip_network("10.1.0.0/16"), ip_network("fd00::/8")))


def why(url: str, allowed: Allowed = WORLD) -> str | None:
    try:
        target_of(url, allowed)
    except Refused as refused:
        return refused.why
    return None


@pytest.mark.parametrize("number", ["93.184.216.34", "1.1.1.1", "2606:4700:4700::1111"])
def test_public_addresses_may_be_called(number: str) -> None:
    assert is_public(ip_address(number))


@pytest.mark.parametrize(
    "number",
    [
        "0.0.0.0", "10.1.2.3", "100.64.0.1", "127.0.0.1", "127.8.8.8", "169.254.169.254", "172.16.0.1", "192.0.0.1", "192.0.2.1",
        "192.168.1.1", "198.18.0.1", "198.51.100.7", "203.0.113.9", "224.0.0.1", "239.1.1.1", "240.0.0.1",
        "255.255.255.255",
        "::", "::1", "::127.0.0.1", "::ffff:127.0.0.1", "::ffff:169.254.169.254", "::ffff:8.8.8.8", "64:ff9b::7f00:1",
        "64:ff9b:1::1", "100::1", "2001::1", "2001:db8::1", "2002:7f00:1::", "fc00::1", "fd12::1", "fe80::1", "fec0::1",
        "ff02::1", "5f00::1",
    ],
)  # fmt: skip
def test_others_may_not(number: str) -> None:
    """RFC 6890 and the registries of IANA that it begins: special-purpose addresses, and IPv4 ones in IPv6 clothes."""
    assert not is_public(ip_address(number))
    host = f"[{number}]" if ":" in number else number
    assert why(f"https://{host}/done") == NOT_PUBLIC


@pytest.mark.parametrize(
    "url",
    [
        "shop.example/done", "ftp://shop.example", "https://", "https:///done", "https://user@shop.example",
        "https://shop.example/#a", "https://:secret@shop.example/", "https://shop.example:99999/", "https://[::1",
        "https://shop.example/a b", "//shop.example", "https://shop.example/\r\nHost: x", "file:///etc/passwd",
        "https://münchen.example", "https://shop.example/" + "a" * 2000,
    ],
)  # fmt: skip
def test_what_is_no_address_is_refused(url: str) -> None:
    assert why(url) == NO_ADDRESS


def test_an_address_is_taken_apart_as_it_is_called() -> None:
    target = target_of("https://Hooks.Shop.example:8443/done?order=7", WORLD)
    assert target == Target("https", "hooks.shop.example", 8443, "/done?order=7")
    assert target.authority == "hooks.shop.example:8443"
    assert target_of("https://[2606:4700::1]", WORLD).authority == "[2606:4700::1]"


def test_plain_http_goes_only_into_networks_of_our_own() -> None:
    assert why("http://shop.example") == NOT_HTTPS
    assert why("http://1.1.1.1", HOUSE) == NOT_HTTPS
    assert why("http://10.1.2.3", HOUSE) is None
    assert why("https://10.1.2.3", HOUSE) is None
    assert why("https://10.2.2.3", HOUSE) == NOT_PUBLIC
    assert why("http://[fd12::1]/", HOUSE) is None


def test_a_list_of_hosts_leaves_out_all_others() -> None:
    some = Allowed(hosts=("hooks.shop.example", "*.press.example"))
    assert why("https://hooks.shop.example", some) is None
    assert why("https://HOOKS.shop.example.", some) is None
    assert why("https://a.b.press.example", some) is None
    for host in ("shop.example", "press.example", "evilpress.example", "hooks.shop.example.evil.example", "1.1.1.1"):
        assert why(f"https://{host}", some) == OTHER_HOST


class Names:
    """A server of names that answers otherwise each time."""

    def __init__(self, *answers: list[str]) -> None:
        self.answers = list(answers)
        self.asked = 0

    def __call__(self, host: str, port: int, **_: object) -> list[object]:  # noqa: ARG002
        self.asked += 1
        return [(socket.AF_INET, socket.SOCK_STREAM, 6, "", (number, port)) for number in self.answers.pop(0)]


def test_a_name_is_looked_up_once_and_the_number_is_what_is_called(monkeypatch: pytest.MonkeyPatch) -> None:
    names = Names(["93.184.216.34"], ["127.0.0.1"])
    monkeypatch.setattr(socket, "getaddrinfo", names)
    assert looked_up(target_of("https://rebinding.example", WORLD), WORLD) == "93.184.216.34"
    assert names.asked == 1


@pytest.mark.parametrize("numbers", [["127.0.0.1"], ["93.184.216.34", "10.0.0.1"], ["fe80::1%eth0"]])
def test_a_name_that_leads_inside_even_sometimes_is_refused(numbers: list[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(socket, "getaddrinfo", Names(numbers))
    with pytest.raises(Refused):
        looked_up(target_of("https://inside.example", WORLD), WORLD)
