"""Whose request it is, for places in the queue and for repeats: an account, or the address that it came from."""

from __future__ import annotations

import hashlib
from ipaddress import IPv4Address, IPv6Address, ip_address, ip_network

from flask import request

from service.api.http.callers.access import caller

_BLOCK_BITS = {4: 24, 6: 56}
"""What one house has as a rule; common practice, no source."""
_ONE_BITS = {4: 32, 6: 64}
"""What one machine may change at will: an IPv6 host has addresses of its own making below 64 bits (RFC 8981)."""


def sender() -> str:
    """Who shares places in the queue with nobody else: an account, or a block of addresses."""
    found = caller()
    return f"account {found.owner}" if found.limits else _network(_BLOCK_BITS)


def own_key(key: str) -> str:
    """A key that another sender's equal key does not meet. It says nothing of the address.

    Whoever has an account's API key may repeat a request from any machine; visitors of a shop's page share an account only.
    """
    found = caller()
    whence = "" if found.limits and not found.is_visitor else _network(_ONE_BITS)
    return hashlib.sha256(f"{found.owner}\n{whence}\n{key}".encode()).hexdigest()


def _network(bits: dict[int, int]) -> str:
    address = _address(request.remote_addr or "")
    return str(ip_network((address, bits[address.version]), strict=False)) if address else ""


def _address(text: str) -> IPv4Address | IPv6Address | None:
    try:
        address = ip_address(text.partition("%")[0])
    except ValueError:
        return None
    return (address.ipv4_mapped or address) if isinstance(address, IPv6Address) else address
