"""A free port of this machine."""

from __future__ import annotations

import socket


def free_port() -> int:
    """Free a moment ago: another program could take it before it is used."""
    with socket.socket() as listener:
        listener.bind(("127.0.0.1", 0))
        port: int = listener.getsockname()[1]
        return port
