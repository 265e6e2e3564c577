"""Pages of somebody else, as a shop would write them (`pages/`), on an origin of their own and under a strict policy."""

from __future__ import annotations

import subprocess
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import requests

from tests.outside_tools import npm_package
from tests.patience import PATIENCE_SECONDS

PAGES = Path(__file__).parent / "pages"
_KINDS = {".html": "text/html", ".js": "text/javascript"}
_BUNDLES = {"react-form": "react-form.jsx", "vue-form": "vue-form.js"}


@dataclass(frozen=True)
class Site:
    address: str
    service: str


@contextmanager
def sample_site(service: str) -> Iterator[Site]:
    server = _Server(("127.0.0.1", 0), _Handler)
    server.site = Site(f"http://127.0.0.1:{server.server_port}", service)
    thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.05}, name="sample pages")
    thread.start()
    try:
        yield server.site
    finally:
        server.shutdown()
        server.server_close()
        thread.join(PATIENCE_SECONDS)


@cache
def bundled(name: str) -> bytes:
    """The form with the library that it stands on, as one script."""
    program = npm_package("esbuild") / "bin" / "esbuild"
    options = ["--bundle", "--format=esm", "--minify", "--jsx=automatic", '--define:process.env.NODE_ENV="production"']
    vue = ["--define:__VUE_OPTIONS_API__=true", "--define:__VUE_PROD_DEVTOOLS__=false"]
    hydration = ["--define:__VUE_PROD_HYDRATION_MISMATCH_DETAILS__=false"]
    command = [str(program), str(PAGES / _BUNDLES[name]), *options, *vue, *hydration]
    return subprocess.run(command, capture_output=True, check=True, timeout=PATIENCE_SECONDS).stdout


class _Server(ThreadingHTTPServer):
    daemon_threads = True
    site: Site


class _Handler(BaseHTTPRequestHandler):
    timeout = PATIENCE_SECONDS

    def do_GET(self) -> None:
        assert isinstance(self.server, _Server)
        name = self.path.strip("/")
        stem = name.partition(".")[0]
        if name.endswith(".js") and stem in _BUNDLES:
            self._answer(bundled(stem), ".js")
        elif stem in _BUNDLES:
            self._answer(self._filled("framework.html").replace(b"BUNDLE", stem.encode()), ".html")
        elif (PAGES / name).suffix in _KINDS and (PAGES / name).is_file():
            self._answer(self._filled(name), (PAGES / name).suffix)
        else:
            self.send_error(404)

    def do_POST(self) -> None:
        sent = self.rfile.read(int(self.headers.get("Content-Length", "0")))
        self._answer(b"<!doctype html><title>Ordered</title><h1>Thank you</h1><p>" + sent, ".html")

    def _filled(self, name: str) -> bytes:
        assert isinstance(self.server, _Server)
        site = self.server.site
        text = (PAGES / name).read_text(encoding="utf-8").replace("SERVICE", site.service)
        if "TOKEN" in text:
            wish = {"spec": "business-card-85x55", "origin": site.address}
            answer = requests.post(f"{site.service}/v1/upload-tokens", json=wish, timeout=PATIENCE_SECONDS)
            text = text.replace("TOKEN", str(answer.json()["token"]))
        return text.encode()

    def _answer(self, content: bytes, ending: str) -> None:
        assert isinstance(self.server, _Server)
        service = self.server.site.service
        self.send_response(200)
        self.send_header("Content-Type", f"{_KINDS[ending]}; charset=utf-8")
        self.send_header("Content-Length", str(len(content)))
        scripts = f"script-src 'self' {service}; connect-src 'self' {service}; require-trusted-types-for 'script'"
        policy = f"default-src 'none'; {scripts}; form-action 'self'; img-src 'self'; base-uri 'none'"
        self.send_header("Content-Security-Policy", policy)
        self.end_headers()
        self.wfile.write(content)

    def log_message(self, format: str, *args: object) -> None:
        """Nothing: the tests say what they asked."""
