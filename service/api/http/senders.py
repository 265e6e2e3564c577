"""Whose request it is, as far as that can be told without accounts: the address that it came from."""

from __future__ import annotations

import hashlib
from ipaddress import IPv4Address, IPv6Address, ip_address, ip_network

from flask import request

_BLOCK_BITS = {4: 24, 6: 56}
"""What one house has as a rule; common practice, no source."""
_ONE_BITS = {4: 32, 6: 64}
"""What one machine may change at will: an IPv6 host has addresses of its own making below 64 bits (RFC 8981)."""


def sender() -> str:
    """Who shares places in the queue with nobody else: a block of addresses."""
    return _network(_BLOCK_BITS)


def own_key(key: str) -> str:
    """A key that another sender's equal key does not meet. It says nothing of the address."""
    return hashlib.sha256(f"{_network(_ONE_BITS)} {key}".encode()).hexdigest()


def _network(bits: dict[int, int]) -> str:
    address = _address(request.remote_addr or "")
    return str(ip_network((address, bits[address.version]), strict=False)) if address else ""


def _address(text: str) -> IPv4Address | IPv6Address | None:
    try:
        address = ip_address(text.partition("%")[0])
    except ValueError:
        return None
    return (address.ipv4_mapped or address) if isinstance(address, IPv6Address) else address
