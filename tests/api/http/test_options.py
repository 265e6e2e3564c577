"""OPTIONS names the methods that are there, of every address."""

from __future__ import annotations

import re

import pytest

from service.api.specs.addresses import RESERVED_IDS
from tests.api.contract import Caller

METHODS = ("GET", "POST", "PUT", "PATCH", "DELETE")


def allowed(caller: Caller, path: str) -> set[str]:
    return set(caller.client.options(path).headers["Allow"].split(", "))


def test_each_address_offers_what_it_is_described_with(caller: Caller) -> None:
    for path, item in caller.description["paths"].items():
        described = {method.upper() for method in item} & set(METHODS)
        address = re.sub(r"{[^}]*}", "1", path)
        assert allowed(caller, address) - {"OPTIONS", "HEAD"} == described, address


@pytest.mark.parametrize("name", RESERVED_IDS)
def test_what_stands_among_the_sheets_is_no_sheet(caller: Caller, name: str) -> None:
    offered = allowed(caller, f"/v1/specs/{name}")
    for method in METHODS:
        status = caller.client.open(f"/v1/specs/{name}", method=method).status_code
        assert (status != 405) == (method in offered), method
