"""The element in pages of all kinds, in two browsers; its size and its types.

`PRINT_SPEC_BROWSERS="chromium firefox webkit"` tells the story in a third one, too.
"""

from __future__ import annotations

import gzip
import os
import re
import subprocess
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager
from pathlib import Path

import pikepdf
import pytest
from playwright.sync_api import Browser

from tests.browser.conftest import PATIENCE_MS
from tests.browser.drivers import Chromium, Driver, eventually, firefox, webkit
from tests.browser.sample_pages import PAGES, Site, sample_site
from tests.outside_tools import npm_package
from tests.patience import PATIENCE_SECONDS
from tests.running import Running

STATIC = Path(__file__).parents[2] / "service" / "web" / "static"
OTHERS: dict[str, Callable[[Path], AbstractContextManager[Driver]]] = {"firefox": firefox, "webkit": webkit}
INPUT = "{}.shadowRoot.querySelector('input')"
FRONT, BACK, TRIED = (f"document.querySelector('[name={name}]')" for name in ("front", "back", "tried"))
INSIDE = "document.querySelector('shop-form').shadowRoot.querySelector('check-upload')"
ORDER = "[...new FormData(document.forms[0])].map(([name, value]) => [name, value].join('='))"


@pytest.fixture(scope="module")
def site(service: Running) -> Iterator[Site]:
    with sample_site(service.address) as site:
        yield site


@pytest.fixture(params=os.environ.get("PRINT_SPEC_BROWSERS", "chromium firefox").split())
def driver(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Driver]:
    if request.param in OTHERS:
        with OTHERS[request.param](tmp_path / "profile") as driver:
            yield driver
        return
    context = request.getfixturevalue("browser").new_context(reduced_motion="reduce")
    context.set_default_timeout(PATIENCE_MS)
    yield Chromium(context.new_page())
    context.close()


@pytest.fixture(scope="module")
def large(bakery_order: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A right card of 9 MB, its layout program's own data in it: it comes piece by piece."""
    file = tmp_path_factory.mktemp("large") / "card-large.pdf"
    with pikepdf.open(bakery_order / "card-right.pdf") as pdf:
        pdf.pages[0].PieceInfo = pikepdf.Dictionary(Layout=pikepdf.Dictionary(Private=pdf.make_stream(bytes(9_000_000))))
        pdf.save(file, compress_streams=False)
    return file


def checked(driver: Driver, element: str, file: Path) -> str:
    """The verdict on the file, chosen in that element."""
    driver.choose(INPUT.format(element), file)
    return str(eventually(driver, f"{element}.check?.verdict"))


def test_a_story_in_a_plain_page(driver: Driver, site: Site, bakery_order: Path, large: Path) -> None:
    driver.open(f"{site.address}/plain.html")
    eventually(driver, "window.heard && document.querySelectorAll('check-upload:defined').length === 3")

    # A field of its form, as others are: missing, wanted or not, disabled with its fieldset, set back.
    assert driver.run(f"[{FRONT}.validity.valueMissing, {FRONT}.checkValidity(), {BACK}.checkValidity(), {FRONT}.type]") == [
        True, False, True, "check-upload",
    ]  # fmt: skip
    assert driver.run(f"{FRONT}.form === document.forms[0]")
    assert driver.run(ORDER) == []
    assert checked(driver, FRONT, bakery_order / "card-no-bleed.pdf") == "nonconforming"
    assert driver.run(f"[{FRONT}.checkValidity(), {FRONT}.validity.customError]") == [False, True]
    assert checked(driver, FRONT, bakery_order / "card-right.pdf") == "conforming"
    front = driver.run(f"{FRONT}.value")
    assert driver.run(ORDER) == [f"front={front}"]

    # A page that takes other verdicts only does not call a file ready; a word that is none is told to whoever wrote it.
    driver.run("(window.warned = [], console.warn = (told) => warned.push(told), null)")
    taken = driver.run(f"{FRONT}.getAttribute('accept-verdicts')")
    driver.run(f"{FRONT}.setAttribute('accept-verdicts', 'inconclusive confirming')")
    said = f"{FRONT}.shadowRoot.querySelector('[role=status]').textContent"
    assert driver.run(said) == "This page does not take a file with this result."
    assert "no verdict: confirming;" in driver.run("warned.join()")
    driver.run(f"{FRONT}.setAttribute('accept-verdicts', '{taken}')")
    assert driver.run(said) == "Ready: everything asked for is met"

    driver.run("document.querySelector('fieldset').disabled = true")
    assert driver.run(f"[{INPUT.format(FRONT)}.disabled, {FRONT}.willValidate, {ORDER}.length]") == [True, False, 0]
    driver.run("document.querySelector('fieldset').disabled = false")
    assert driver.run(ORDER) == [f"front={front}"]

    # Two on a page, each with its own file; a large one comes piece by piece, by the one that hears how far it is.
    assert checked(driver, BACK, large) == "conforming"
    assert driver.run(ORDER) == [f"front={front}", f"back={driver.run(f'{BACK}.value')}"]
    asked = driver.run("performance.getEntriesByType('resource').map(one => one.name)")
    assert any(re.fullmatch(r".*/v1/uploads/[\w-]+", one) for one in asked)
    assert driver.run("streams.every(one => one.endsWith('/events')) && streams.length") == 3
    told = "heard.filter(({ kind, detail }) => kind === 'progress' && detail.stage === 'uploading').map(({ detail }) => detail)"
    assert driver.run(f"({told}).some(({{ done, total }}) => total === {large.stat().st_size} && done <= total)")
    assert driver.run(f"({told}).at(-1)") == {"done": large.stat().st_size, "stage": "uploading", "total": large.stat().st_size}

    # In a dialog, and in a shadow root, which its events leave.
    driver.run("document.querySelector('#open').click()")
    assert checked(driver, TRIED, bakery_order / "card-no-bleed.pdf") == "nonconforming"
    assert driver.run("document.querySelector('dialog form').checkValidity()") is False
    driver.run("document.querySelector('dialog').close()")
    assert checked(driver, INSIDE, bakery_order / "card-right.pdf") == "conforming"
    assert driver.run(f"new FormData({INSIDE}.form).get('inside') === {INSIDE}.value")
    assert driver.run("heard.some(({ kind, from }) => kind === 'finished' && from === 'shop-form')")

    # After navigation without a new page: taken out and put in again, and moved while it works.
    driver.run(f"(window.kept = {FRONT}, window.place = kept.parentNode, kept.remove())")
    driver.run("new Promise(done => setTimeout(done, 50))")
    driver.run("place.append(kept)")
    assert driver.run(ORDER)[0] == f"front={front}"
    driver.run("document.forms[0].reset()")
    assert driver.run(ORDER) == []
    driver.choose(INPUT.format(FRONT), bakery_order / "card-right.pdf")
    driver.run(f"document.querySelector('h1').after({FRONT})")  # out of its form, while it is busy
    eventually(driver, f"{FRONT}.check?.verdict === 'conforming'")
    assert driver.run(f"{FRONT}.form") is None

    # Narrow, enlarged, from right to left: nothing is cut off.
    driver.run("(document.dir = 'rtl', document.querySelector('main').style.width = '320px')")
    driver.run("document.querySelector('main').style.fontSize = '200%'")
    boxes = f"[{FRONT}, {BACK}, {INSIDE}].map(one => one.shadowRoot.querySelector('.box'))"
    assert driver.run(f"{boxes}.map(one => one.scrollWidth - one.clientWidth)") == [0, 0, 0]
    assert driver.run("breaches") == []


@pytest.mark.parametrize("page", ["react-form", "vue-form"])
def test_a_form_of_a_framework(browser: Browser, site: Site, bakery_order: Path, page: str) -> None:
    npm_package("react" if page.startswith("react") else "vue")
    context = browser.new_context()
    context.set_default_timeout(PATIENCE_MS)
    driver = Chromium(context.new_page())
    faults: list[str] = []
    driver.page.on("pageerror", lambda error: faults.append(str(error)))
    driver.page.on("console", lambda message: faults.append(message.text) if message.type == "error" else None)
    driver.open(f"{site.address}/{page}.html")
    upload = "document.querySelector('check-upload')"
    assert checked(driver, upload, bakery_order / "card-no-bleed.pdf") == "nonconforming"
    eventually(driver, "document.querySelector('output').textContent === 'card-no-bleed.pdf: has to be put right'")
    assert checked(driver, upload, bakery_order / "card-right.pdf") == "conforming"
    eventually(driver, "document.querySelector('output').textContent === 'card-right.pdf: may be ordered'")
    if page == "vue-form":  # which keeps what it takes out of the page
        check = driver.run(f"{upload}.value")
        driver.page.get_by_role("button", name="Address").click()
        eventually(driver, f"{upload} === null")
        driver.page.get_by_role("button", name="Back to the file").click()
        assert driver.run(f"{upload}.value") == check
    driver.page.get_by_role("button", name="Order").click()
    driver.page.get_by_role("heading", name="Thank you").wait_for()
    assert faults == []
    context.close()


def test_in_forced_colours_everything_can_still_be_told_apart(browser: Browser, site: Site, bakery_order: Path) -> None:
    context = browser.new_context(forced_colors="active", reduced_motion="reduce")
    context.set_default_timeout(PATIENCE_MS)
    driver = Chromium(context.new_page())
    driver.open(f"{site.address}/plain.html")
    eventually(driver, "window.heard && document.querySelectorAll('check-upload:defined').length === 3")
    assert checked(driver, FRONT, bakery_order / "card-no-bleed.pdf") == "nonconforming"
    border = f"getComputedStyle({FRONT}.shadowRoot.querySelector('.box')).borderTopColor"
    paper = f"getComputedStyle({FRONT}.shadowRoot.querySelector('.box')).backgroundColor"
    assert driver.run(f"{border} !== {paper}")
    marker = f"getComputedStyle({FRONT}.shadowRoot.querySelector('.marker'))"
    assert driver.run(f"{marker}.color !== {marker}.backgroundColor")
    moving = f"{FRONT}.shadowRoot.getAnimations().length + document.getAnimations().length"
    assert driver.run(moving) == 0
    context.close()


def test_it_is_small() -> None:
    """15 kB of what is sent, compressed."""
    assert len(gzip.compress((STATIC / "check-upload.js").read_bytes())) <= 15_000


def test_its_types_say_what_it_has(tmp_path: Path) -> None:
    """By TypeScript itself, on a sample; and the tables by the script."""
    tsc = npm_package("typescript") / "bin" / "tsc"
    (tmp_path / "check-upload.d.mts").write_bytes((STATIC / "check-upload.d.ts").read_bytes())
    (tmp_path / "typed.ts").write_bytes((PAGES / "typed.ts").read_bytes())
    options = ["--strict", "--noEmit", "--target", "es2022", "--module", "nodenext", "--lib", "es2022,dom", "--types", ""]
    command = ["node", str(tsc), *options, "typed.ts"]
    done = subprocess.run(command, cwd=tmp_path, capture_output=True, text=True, check=False, timeout=PATIENCE_SECONDS)
    assert (done.returncode, done.stdout) == (0, "")


def test_its_tables_have_every_attribute_and_event() -> None:
    types, script = ((STATIC / name).read_text("utf-8") for name in ("check-upload.d.ts", "check-upload.js"))
    tabled = set(re.findall(r"^ \* \| `([a-z-]+)`", types, re.MULTILINE))
    attributes = set(re.findall(r'(?:get|has|toggle)Attribute\("([a-z-]+)"', script)) | {"lang"}
    events = {f"check-{kind}" for kind in re.findall(r'#tell\("(\w+)"', script)}
    assert tabled == attributes | events
