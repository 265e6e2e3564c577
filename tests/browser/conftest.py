"""A browser for the pages, watched: an error of a script, a breach of the policy or a request to another host fails the test.

Without Chromium the tests are skipped; in continuous integration (CI=true) they fail. Pictures of what was seen are taken where
PRINT_SPEC_SCREENSHOTS names a folder for them: they cost a quarter of the time.
"""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Literal

import pytest
from playwright.sync_api import Browser, ConsoleMessage, Locator, Page, expect, sync_playwright

from tests.outside_tools import browser_program
from tests.patience import PATIENCE_SECONDS
from tests.running import Running, running

SIZES = {"desktop": (1280, 900), "phone": (390, 844)}
Size = Literal["desktop", "phone"]
QUIET = (
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
)
PATIENCE_MS = PATIENCE_SECONDS * 1000
expect.set_options(timeout=PATIENCE_MS)


@pytest.fixture(scope="package")
def browser() -> Iterator[Browser]:
    chromium = browser_program()
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium, args=list(QUIET))
        yield browser
        browser.close()


@pytest.fixture(scope="package")
def service(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    with running(tmp_path_factory.mktemp("browser") / "data") as service:
        yield service


@pytest.fixture
def files(bakery_order: Path) -> Path:
    return bakery_order


class Visit:
    """One person at one page of the service."""

    def __init__(self, page: Page, address: str, pictures: Path | None) -> None:
        self.page, self.address = page, address
        self.faults: list[str] = []
        self.may_be_refused: set[int] = set()
        """Answers with these statuses belong to the story: the browser notes them in its console."""
        self._pictures = pictures
        page.on("console", self._console)
        page.on("pageerror", lambda error: self.faults.append(f"an error of a script: {error}"))
        page.on("request", lambda request: self._asked(request.url))

    def open(self, path: str) -> Page:
        self.page.goto(self.address + path)
        return self.page

    def picture(self, name: str, *, whole: bool = True) -> None:
        if self._pictures:
            self.page.screenshot(path=self._pictures / f"{name}.png", full_page=whole)

    def tab_to(self, target: Locator, most: int = 60) -> None:
        """Press Tab until the target has the focus, as somebody without a mouse does."""
        for _ in range(most):
            if target.evaluate("one => one === document.activeElement"):
                return
            self.page.keyboard.press("Tab")
        raise AssertionError(f"{target} cannot be reached with the Tab key")

    def _console(self, message: ConsoleMessage) -> None:
        refused = re.search(r"responded with a status of (\d{3})", message.text)
        if message.type in ("error", "warning") and not (refused and int(refused[1]) in self.may_be_refused):
            self.faults.append(f"{message.type} in the console: {message.text} ({message.location.get('url', '')})")

    def _asked(self, url: str) -> None:
        if not url.startswith((self.address, "blob:", "data:")):
            self.faults.append(f"asked another host: {url}")


Begin = Callable[..., Visit]


@pytest.fixture(scope="package")
def pictures() -> Path | None:
    named = os.environ.get("PRINT_SPEC_SCREENSHOTS")
    if named:
        Path(named).mkdir(parents=True, exist_ok=True)
    return Path(named) if named else None


@pytest.fixture
def begin(browser: Browser, service: Running, pictures: Path | None) -> Iterator[Begin]:
    """`begin("phone", language="de-DE")` opens a browser of one's own; what went wrong in it fails the test at its end."""
    visits: list[Visit] = []

    def visit(size: Size = "desktop", *, at: Running = service, language: str = "en-GB", script: bool = True) -> Visit:
        width, height = SIZES[size]
        context = browser.new_context(
            viewport={"width": width, "height": height},
            locale=language,
            java_script_enabled=script,
            has_touch=size == "phone",
            reduced_motion="reduce",
        )
        context.set_default_timeout(PATIENCE_MS)
        visits.append(Visit(context.new_page(), at.address, pictures))
        return visits[-1]

    yield visit
    for one in visits:
        one.page.context.close()
    assert [fault for one in visits for fault in one.faults] == []
