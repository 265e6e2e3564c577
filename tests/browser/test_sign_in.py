"""Somebody whose service asks for keys signs in with one, writes a sheet of his account, and signs out."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import Begin
from tests.browser.test_accessibility import BOTH, MOST, hold
from tests.databases import database_url
from tests.patience import PATIENCE_SECONDS
from tests.running import Running, running


@pytest.fixture
def keyed(tmp_path: Path) -> Iterator[tuple[Running, str]]:
    """A service that asks for keys, and the bakery's key."""
    data = tmp_path / "data"
    with running(data, ACCESS="keys") as service:
        its = {"PRINT_SPEC_DATA": str(data), "PRINT_SPEC_DATABASE_URL": database_url(data)}
        made = subprocess.run(
            [sys.executable, "-m", "service", "keys", "make", "bakery", "--scope", "read", "--scope", "edit-sheets"],
            env=os.environ | its, capture_output=True, text=True, timeout=PATIENCE_SECONDS, check=True,
        )  # fmt: skip
        yield service, made.stdout.strip()


def test_with_a_key_one_signs_in_writes_a_sheet_and_signs_out(keyed: tuple[Running, str], begin: Begin) -> None:
    service, key = keyed
    visit = begin(at=service)
    visit.may_be_refused = {401, 404, 422}
    page = visit.open("/sign-in")
    hold(page, "sign-in", visit, MOST)
    page.get_by_label("API key").fill("halyard")
    page.get_by_role("button", name="Sign in").click()
    expect(page.locator("#key-problem")).not_to_be_empty()
    hold(page, "sign-in-refused", visit, BOTH)
    page.get_by_label("API key").fill(key)
    page.get_by_role("button", name="Sign in").click()
    expect(page.locator("body")).to_contain_text("bakery")
    hold(page, "signed-in", visit, BOTH)

    visit.open("/specs/new?from=business-card-85x55")
    page.get_by_label("Name of the product").fill("Halyard card")
    page.get_by_role("button", name="Keep this sheet").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Halyard card")
    page.get_by_role("button", name="Sign out, bakery").click()
    visit.open("/specs/halyard-card")
    expect(page.locator("body")).not_to_contain_text("85 × 55")
