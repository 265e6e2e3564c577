"""Where callbacks may go: an address is looked up once, and nothing is connected to but what was looked up and found allowed.

So a name that leads somewhere else a moment later (rebinding) leads nowhere here; nor does a name of which one address is allowed
and another is not.
"""

from __future__ import annotations

import socket
from dataclasses import dataclass, replace
from ipaddress import IPv4Address, IPv4Network, IPv6Address, IPv6Network, ip_address, ip_network
from urllib.parse import urlsplit

from service.language.spoken import to_say

LONGEST_URL = 2000
_PORTS = {"https": 443, "http": 80}
_GLOBAL_IPV6 = ip_network("2000::/3")
"""What is routed at all (IANA, IPv6 address space); so neither mapped or translated IPv4 addresses nor link-local ones."""
_IPV4_IN_IPV6 = (ip_network("2002::/16"), ip_network("2001::/32"))
"""6to4 (RFC 3056) and Teredo (RFC 4380), which carry an IPv4 address inside."""

Network = IPv4Network | IPv6Network
Address = IPv4Address | IPv6Address


NO_ADDRESS = to_say("This is no web address that can be called. Write one such as https://shop.example/checked.")
OTHER_HOST = to_say("This service does not call that host.")
NOT_HTTPS = to_say("This service calls https addresses only.")
NOT_PUBLIC = to_say("This service calls public addresses only, and this is none.")


class Refused(Exception):
    """No callback goes there; `why` is a text to be said."""

    def __init__(self, why: str) -> None:
        super().__init__(why)
        self.why = why


@dataclass(frozen=True)
class Target:
    scheme: str
    host: str
    port: int
    path: str
    """With the query."""

    @property
    def authority(self) -> str:
        host = f"[{self.host}]" if ":" in self.host else self.host
        return host if self.port == _PORTS[self.scheme] else f"{host}:{self.port}"


@dataclass(frozen=True)
class Allowed:
    hosts: tuple[str, ...] = ()
    """The only ones; `*.example.com` is each below it. None: all."""
    networks: tuple[Network, ...] = ()
    """Besides the public ones; only there by plain HTTP."""
    hosts_of_account: tuple[str, ...] = ()
    """The only ones among them that this account's callbacks go to. None: all."""

    def of_account(self, hosts: tuple[str, ...]) -> Allowed:
        return replace(self, hosts_of_account=hosts)

    def host(self, host: str) -> bool:
        return _is_among(host, self.hosts) and _is_among(host, self.hosts_of_account)

    def besides(self, address: Address) -> bool:
        return any(address.version == network.version and address in network for network in self.networks)

    def address(self, address: Address) -> bool:
        return self.besides(address) or is_public(address)


def _is_among(host: str, hosts: tuple[str, ...]) -> bool:
    below = [one[1:] for one in hosts if one.startswith("*.")]
    return not hosts or host in hosts or any(host.endswith(one) for one in below)


def is_public(address: Address) -> bool:
    if not address.is_global or address.is_multicast or address.is_reserved or address.is_unspecified:
        return False
    return address.version == 4 or (address in _GLOBAL_IPV6 and not any(address in network for network in _IPV4_IN_IPV6))


def target_of(url: str, allowed: Allowed) -> Target:
    """Raises `Refused`. An address in numbers is looked at here; a name when it is called."""
    if len(url) > LONGEST_URL or not url.isascii() or not url.isprintable() or " " in url:
        raise Refused(NO_ADDRESS)
    try:
        parts = urlsplit(url)
        host, port = (parts.hostname or "").rstrip("."), parts.port
    except ValueError as error:
        raise Refused(NO_ADDRESS) from error
    if parts.scheme not in _PORTS or not host or parts.username is not None or parts.password is not None or parts.fragment:
        raise Refused(NO_ADDRESS)
    path = (parts.path or "/") + (f"?{parts.query}" if parts.query else "")
    target = Target(parts.scheme, host, port or _PORTS[parts.scheme], path)
    if not allowed.host(host):
        raise Refused(OTHER_HOST)
    if target.scheme == "http" and not allowed.networks:
        raise Refused(NOT_HTTPS)
    try:
        number = ip_address(host)
    except ValueError:
        return target
    _look_at(number, target, allowed)
    return target


def looked_up(target: Target, allowed: Allowed) -> str:
    """The address to connect to. Raises `Refused`; OSError where there is none."""
    found = socket.getaddrinfo(target.host, target.port, type=socket.SOCK_STREAM)
    numbers = [ip_address(str(one[4][0]).partition("%")[0]) for one in found]
    for number in numbers:
        _look_at(number, target, allowed)
    return str(numbers[0])


def _look_at(number: Address, target: Target, allowed: Allowed) -> None:
    if not allowed.address(number):
        raise Refused(NOT_PUBLIC)
    if target.scheme == "http" and not allowed.besides(number):
        raise Refused(NOT_HTTPS)
