"""`print-spec demo --serve`: it starts, says where it is, sells nothing that cannot be printed, and ends when it is told to."""

from __future__ import annotations

import re
import signal
import subprocess
import sys
from pathlib import Path

import pytest
import requests

from service.demo.order import ORDER
from service.demo.port import free_port
from service.demo.shop import open_shop
from service.demo.shop_pages import PRODUCTS
from service.sheets.catalogue import stored_sheets
from tests.build import page
from tests.patience import PATIENCE_SECONDS
from tests.running import child, running
from tests.sweeps import part_of


def test_every_product_has_a_sheet() -> None:
    assert PRODUCTS.keys() <= stored_sheets().keys()


@pytest.mark.parametrize("ended_by", part_of([signal.SIGTERM, signal.SIGINT], one_in=2))
def test_the_shop_opens_and_closes_together_with_the_service(tmp_path: Path, ended_by: signal.Signals) -> None:
    port = free_port()
    command = [sys.executable, "-m", "service", "demo", "--serve", "--port", str(port), "--out", str(tmp_path / "files")]
    with child(command, stdout=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        shown = "".join(process.stdout.readline() for _ in range(4))
        try:
            assert f"http://127.0.0.1:{port}" in shown
            page = requests.get(f"http://127.0.0.1:{port}/order/business-card-85x55", timeout=20)
            element = re.search(r'<check-upload name="check" service="(http://127.0.0.1:\d+)" token="[\w.-]+"', page.text)
            assert element
            assert {one.file for one in ORDER} <= {file.name for file in (tmp_path / "files").iterdir()}
        finally:
            process.send_signal(ended_by)
        assert process.wait(PATIENCE_SECONDS) == 0
    with pytest.raises(requests.ConnectionError):
        requests.get(f"{element[1]}/healthz", timeout=5)


def test_without_the_service_the_shop_says_so() -> None:
    with open_shop(f"http://127.0.0.1:{free_port()}") as shop:
        answer = requests.get(f"{shop.address}/order/letterhead-a4", timeout=20)
        assert (answer.status_code, "does not answer" in answer.text) == (502, True)


@pytest.mark.parametrize(("path", "status"), [("/", 200), ("/studio", 200), ("/style.css", 200), ("/shop.js", 200), ("/no", 404)])
def test_the_pages_that_need_no_service(path: str, status: int) -> None:
    with open_shop(f"http://127.0.0.1:{free_port()}") as shop:
        answer = requests.get(shop.address + path, timeout=20)
        assert answer.status_code == status
        assert "default-src 'none'" in answer.headers["Content-Security-Policy"]


def test_a_check_against_a_sheet_that_only_borrows_the_products_name_orders_nothing(tmp_path: Path) -> None:
    """Whoever reaches the service may bring a sheet that asks for little, under the id of one that asks for much."""
    file = tmp_path / "card.pdf"
    page(85, 55, bleed=3).fill(cyan=1).save(file)
    with running(tmp_path / "data") as service, open_shop(service.address) as shop:

        def ordered(**sheet: str) -> int:
            sent = {"file": ("card.pdf", file.read_bytes())}
            check = requests.post(f"{service.address}/v1/checks", data=sheet, files=sent, timeout=60).json()
            assert (check["spec"]["id"], check["verdict"]) == ("business-card-85x55", "conforming")
            form = {"quantity": "100", "check": check["id"]}
            return requests.post(f"{shop.address}/order/business-card-85x55", data=form, timeout=20).status_code

        assert ordered(spec="business-card-85x55") == 200
        assert ordered(spec_sheet='{"id": "business-card-85x55", "revision": 1, "trim": {"width": 85, "height": 55}}') == 422


def test_an_order_that_is_too_long_is_not_read() -> None:
    with open_shop(f"http://127.0.0.1:{free_port()}") as shop:
        answer = requests.post(f"{shop.address}/order/letterhead-a4", data={"check": "x" * 5000}, timeout=20)
        assert answer.status_code == 413
