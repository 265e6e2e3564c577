"""Somebody who is called back: a small HTTP server that notes what comes and answers as it is told."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer


class Receiver:
    def __init__(self) -> None:
        self.calls: list[tuple[dict[str, str], bytes]] = []
        self.paths: list[str] = []
        self.answers: list[int] = []
        """The next ones; after them 204."""
        self.silent = threading.Event()
        self.address = ""


@contextmanager
def receiving() -> Iterator[Receiver]:
    receiver = Receiver()

    class Handler(BaseHTTPRequestHandler):
        def do_POST(self) -> None:
            body = self.rfile.read(int(self.headers["Content-Length"]))
            receiver.calls.append((dict(self.headers), body))
            receiver.paths.append(self.path)
            if receiver.silent.is_set():
                self.close_connection = True
                return
            self.send_response(receiver.answers.pop(0) if receiver.answers else 204)
            self.send_header("Location", "/elsewhere")
            self.send_header("Content-Length", "0")
            self.end_headers()

        def log_message(self, *_: object) -> None:
            """Nothing: pytest shows what a test wants."""

    with ThreadingHTTPServer(("127.0.0.1", 0), Handler) as server:
        receiver.address = f"http://127.0.0.1:{server.server_port}"
        thread = threading.Thread(target=server.serve_forever, args=(0.05,), daemon=True)
        thread.start()
        try:
            yield receiver
        finally:
            server.shutdown()
            thread.join(10)
