"""One attempt to deliver one callback: a connection to the address that was looked up, one request, and no step further."""

from __future__ import annotations

import http.client
import socket
import ssl
import threading

from service.jobs.calling.addresses import Allowed, Target, looked_up

CONNECT_SECONDS = 10.0
MOST_SECONDS = 20.0
"""For all of it, as the specification recommends (15 to 30 s); who answers more slowly is tried again."""
_USER_AGENT = "print-spec"


class NotDelivered(Exception):
    """And why, in English, for the log."""

    def __init__(self, why: str, *, for_good: bool = False) -> None:
        """`for_good`: whoever is called wants no more of it."""
        super().__init__(why)
        self.for_good = for_good


def deliver(target: Target, allowed: Allowed, headers: dict[str, str], body: bytes) -> None:
    """Raises `NotDelivered`, and `Refused` of `looked_up`. A redirect is not followed."""
    try:
        number = looked_up(target, allowed)
        line = socket.create_connection((number, target.port), timeout=CONNECT_SECONDS)
    except (OSError, UnicodeError) as error:
        raise NotDelivered(f"no connection ({type(error).__name__})") from error
    over = threading.Timer(MOST_SECONDS, _hang_up, (line,))
    over.daemon = True
    over.start()
    try:
        if target.scheme == "https":
            line = ssl.create_default_context().wrap_socket(line, server_hostname=target.host)
        status = _asked(line, target, headers, body)
    except (OSError, http.client.HTTPException) as error:
        raise NotDelivered(f"no answer ({type(error).__name__})") from error
    finally:
        over.cancel()
        line.close()
    if not 200 <= status < 300:
        raise NotDelivered(f"answered {status}", for_good=status == http.HTTPStatus.GONE)


def _asked(line: socket.socket, target: Target, headers: dict[str, str], body: bytes) -> int:
    """The status of the answer. Of its body nothing is read."""
    connection = http.client.HTTPConnection(target.host, target.port)
    connection.sock = line
    try:
        connection.request("POST", target.path, body, {"Host": target.authority, "User-Agent": _USER_AGENT, **headers})
        return connection.getresponse().status
    finally:
        connection.close()


def _hang_up(line: socket.socket) -> None:
    try:
        line.shutdown(socket.SHUT_RDWR)
    except OSError:
        return  # it is over already
