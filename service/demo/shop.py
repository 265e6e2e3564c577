"""`print-spec demo --serve`: Copperbeck Press with an ordering page, on another port and so of another origin than the service.

The shop's backend does what a real one has to: it asks for a token for its own page, and at the order it looks the check up
itself, because what a browser sends is only a claim. The shop is in English; the element in it speaks what the page says.
"""

from __future__ import annotations

import json
import re
import signal
import sys
import threading
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

import requests

from service.cli import telling
from service.demo import shop_pages
from service.demo.order import make_files
from service.demo.run import DemoFailed, running_service
from service.demo.shop_pages import PRODUCTS, Product

ACCEPTED = ("conforming", "conforming_with_observations")
_LONGEST_ORDER = 4096
_ID = re.compile(r"[A-Za-z0-9_-]{1,60}")
_SECONDS = 20


@dataclass(frozen=True)
class Page:
    text: str
    status: HTTPStatus = HTTPStatus.OK
    kind: str = "text/html"


@dataclass(frozen=True)
class Shop:
    address: str
    """Its own, as browsers open it; the tokens are for pages of this origin."""
    service: str

    def get(self, path: str) -> Page:
        if path == "/":
            return Page(shop_pages.start(self.service))
        if path == "/studio":
            return Page(shop_pages.studio(self.service))
        if path == "/style.css":
            return Page(_beside("shop.css"), kind="text/css")
        if path == "/shop.js":
            return Page(_beside("shop.js"), kind="text/javascript")
        product = _product(path, "/order/")
        return Page(shop_pages.ordering(product, self.service, self._token(product))) if product else _nothing()

    def post(self, path: str, form: Mapping[str, str]) -> Page:
        if product := _product(path, "/upload-tokens/"):
            return Page(json.dumps({"token": self._token(product)}), HTTPStatus.CREATED, "application/json")
        product = _product(path, "/order/")
        return self._order(product, form) if product else _nothing()

    def _token(self, product: Product) -> str:
        """For one product and this origin. A real shop asks here who is logged in, and how often."""
        answer = requests.post(
            f"{self.service}/v1/upload-tokens",
            json={"spec": product.spec, "origin": self.address},
            timeout=_SECONDS,
        )
        answer.raise_for_status()
        return str(answer.json()["token"])

    def _digest(self, product: Product) -> str:
        """Of the product's sheet as it is now. Its id proves nothing: a check may bring a sheet of its own under any id."""
        answer = requests.get(f"{self.service}/v1/specs/{product.spec}/revisions", timeout=_SECONDS)
        answer.raise_for_status()
        return str(answer.json()["revisions"][0]["digest"])

    def _order(self, product: Product, form: Mapping[str, str]) -> Page:
        quantity, check_id = form.get("quantity", ""), form.get("check", "")
        if quantity not in product.quantities or not _ID.fullmatch(check_id):
            return Page(shop_pages.refused(product, "Choose a quantity and a file first."), HTTPStatus.UNPROCESSABLE_ENTITY)
        answer = requests.get(f"{self.service}/v1/checks/{check_id}", timeout=_SECONDS)
        check = answer.json() if answer.ok else {}
        if check.get("state") != "finished" or check["spec"]["digest"] != self._digest(product):
            why = "There is no finished check of a file for this product. Choose the file again."
            return Page(shop_pages.refused(product, why), HTTPStatus.UNPROCESSABLE_ENTITY)
        if check["verdict"] not in ACCEPTED:
            why = f"{check['file']['name']} cannot be printed as it is. {check['summary']['headline']}"
            return Page(shop_pages.refused(product, why), HTTPStatus.UNPROCESSABLE_ENTITY)
        return Page(shop_pages.ordered(product, quantity, check["file"]["name"], check_id))


def _product(path: str, before: str) -> Product | None:
    return PRODUCTS.get(path.removeprefix(before)) if path.startswith(before) else None


def _beside(name: str) -> str:
    return Path(__file__).with_name(name).read_text(encoding="utf-8")


def _nothing() -> Page:
    return Page(shop_pages.nothing_here(), HTTPStatus.NOT_FOUND)


@contextmanager
def open_shop(service: str, port: int = 0) -> Iterator[Shop]:
    """The shop on a port of this machine (0: a free one), in threads of its own, until the block ends. Raises OSError."""
    server = _Server(("127.0.0.1", port), _Handler)
    server.shop = Shop(f"http://127.0.0.1:{server.server_port}", service)
    thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.1}, daemon=True)
    thread.start()
    try:
        yield server.shop
    finally:
        server.shutdown()
        server.server_close()
        thread.join()


class _Server(ThreadingHTTPServer):
    daemon_threads = True
    shop: Shop


class _Handler(BaseHTTPRequestHandler):
    timeout = _SECONDS

    def do_GET(self) -> None:
        self._answer(lambda shop: shop.get(urlsplit(self.path).path))

    def do_POST(self) -> None:
        length = self.headers.get("Content-Length", "0")
        if not length.isdecimal() or int(length) > _LONGEST_ORDER:
            self.send_error(HTTPStatus.REQUEST_ENTITY_TOO_LARGE)
            return
        sent = parse_qs(self.rfile.read(int(length)).decode("utf-8", "replace"))
        form = {name: values[0] for name, values in sent.items()}
        self._answer(lambda shop: shop.post(urlsplit(self.path).path, form))

    def _answer(self, ask: Callable[[Shop], Page]) -> None:
        assert isinstance(self.server, _Server)
        shop = self.server.shop
        try:
            page = ask(shop)
        except requests.RequestException:
            page = Page(shop_pages.closed(), HTTPStatus.BAD_GATEWAY)
        body = page.text.encode()
        self.send_response(page.status)
        self.send_header("Content-Type", f"{page.kind}; charset=utf-8")
        self.send_header("Content-Length", str(len(body)))
        self.send_header("Cache-Control", "no-store")
        self.send_header("Content-Security-Policy", shop_pages.policy(shop.service))
        self.send_header("X-Content-Type-Options", "nosniff")
        self.end_headers()
        self.wfile.write(body)

    def log_message(self, *_: object) -> None:
        """The demo keeps its terminal quiet."""


def serve_shop(out: Path, port: int) -> int:
    """Draw the bakery's files, start service and shop, and keep both until Ctrl+C. 1 where something does not start."""
    screen = telling.console()
    out.mkdir(parents=True, exist_ok=True)
    for number in (signal.SIGINT, signal.SIGTERM):  # whatever a background job inherits; the service ends with this process
        signal.signal(number, signal.default_int_handler)
    try:
        make_files(out, lambda _: None)
        with running_service() as service, open_shop(service, port) as shop:
            lines = (
                f"Copperbeck Press takes orders at {shop.address}",
                f"The service is at                {service}",
                f"Files to try are in              {out}",
                "Ctrl+C ends both; what was uploaded is thrown away.",
            )
            screen.print("\n".join(lines), markup=False, soft_wrap=True)
            sys.stdout.flush()
            threading.Event().wait()
    except KeyboardInterrupt:
        return 0
    except (DemoFailed, OSError) as failed:
        print(failed, file=sys.stderr)
        return 1
    return 0
