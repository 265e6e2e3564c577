"""Which hosts are this machine alone: where an open service may listen, and under which names it may be called."""

from __future__ import annotations

from ipaddress import ip_address


def is_this_machine(host: str) -> bool:
    """Whether nobody else can reach what listens there. Of names only those that mean nothing else (RFC 6761, 6.3)."""
    if host == "localhost" or host.endswith(".localhost"):
        return True
    try:
        return ip_address(host).is_loopback
    except ValueError:
        return False


def named_in(host_header: str) -> str:
    """'[::1]:8000' → '::1' (RFC 9110, 7.2)."""
    if host_header.startswith("["):
        return host_header[1:].partition("]")[0]
    return host_header.partition(":")[0].lower()
