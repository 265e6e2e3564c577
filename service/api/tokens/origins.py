"""An origin, as browsers write it into the header Origin (RFC 6454, 6.2): scheme, host, and a port where it is not the usual one.

It is compared letter by letter, so what browsers would write otherwise is refused here with what they write. Nothing is guessed:
of a name in other letters than ASCII there is more than one way to its `xn--` form, and the browser's alone counts.
"""

from __future__ import annotations

import ipaddress
import re

from service.language.spoken import say

LONGEST_ORIGIN = 300
"""A host has 253 characters at most (RFC 1035, 2.3.4: 255 octets)."""

_ORIGIN = re.compile(
    r"(?P<scheme>[a-z][a-z0-9+.-]*)://(?P<host>\[[^\]/?#]*\]|[^:/?#@\[\]\s]+)(?::(?P<port>[0-9]{0,5}))?(?:[/?#].*)?",
    re.DOTALL | re.IGNORECASE,
)
_LABEL = re.compile(r"[a-z0-9_](?:[a-z0-9_-]{0,61}[a-z0-9_])?")
_USUAL_PORTS = {"http": "80", "https": "443"}


def origin_mistake(text: str) -> str | None:
    """What is wrong with it, in a sentence; None where a browser could send exactly this."""
    found = _ORIGIN.fullmatch(text[: LONGEST_ORIGIN + 1])
    if text == "null":
        return say(
            "'null' is what pages without an origin send, such as files and sandboxed frames; anybody can make one. "
            "Write the shop's own origin, such as https://shop.example."
        )
    if not found or len(text) > LONGEST_ORIGIN:
        return say("Write an origin: scheme, host, and a port if there is one, such as https://shop.example.")
    scheme, host, port = found["scheme"].lower(), found["host"].lower(), found["port"]
    if scheme not in _USUAL_PORTS:
        return say("An origin begins with https://, or with http:// on this machine.")
    if not host.isascii():
        return say("Write the host as browsers send it, in ASCII letters: a name such as bäckerei.example begins with xn--.")
    if not _is_host(host):
        return say("'{host}' is not the name or address of a host.", host=host[:60])
    if port is not None and (not port or int(port) > 65535 or int(port) == 0 or port.startswith("0")):
        return say("The port is a number from 1 to 65535, without zeros before it.")
    exact = f"{scheme}://{host}" + (f":{port}" if port and port != _USUAL_PORTS[scheme] else "")
    if text != exact:
        return say("Write it exactly as browsers send it: {origin}, with nothing after it.", origin=exact)
    if scheme == "http" and not _is_this_machine(host):
        return say("http:// is taken for this machine only (localhost, 127.0.0.1): others could read and change such a page.")
    return None


def _is_host(host: str) -> bool:
    """As a browser writes it: a name, four numbers, or an IPv6 address in its short form in brackets."""
    try:
        if host.startswith("["):
            has_zone = "%" in host  # which no address of a page has
            return not has_zone and f"[{ipaddress.IPv6Address(host[1:-1])}]" == host
        if host.rsplit(".", 1)[-1].isdecimal() or re.search(r"(?:^|\.)0x[0-9a-f]*$", host):
            return str(ipaddress.IPv4Address(host)) == host
    except ValueError:
        return False
    return len(host) <= 253 and all(_LABEL.fullmatch(label) for label in host.split("."))


def _is_this_machine(host: str) -> bool:
    if host == "localhost" or host.endswith(".localhost"):
        return True
    try:
        return ipaddress.ip_address(host.strip("[]")).is_loopback
    except ValueError:
        return False
