"""The upload inside a shop's page, which is of another origin than the service; and a studio's form without any script."""

from __future__ import annotations

import json
import re
from base64 import b64encode
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
import requests
from playwright.sync_api import Browser, Page, Route, expect

from service.demo.shop import Shop, open_shop
from tests.browser.conftest import PATIENCE_MS, SIZES, Size, Visit
from tests.browser.test_accessibility import hold
from tests.browser.test_refusals import Slow, slow  # noqa: F401  (a fixture)
from tests.running import Running

CARDS = "/order/business-card-85x55"
SCRIPT = Path(__file__).parents[2] / "service" / "web" / "static" / "check-upload.js"
HEAR = """() => {
  window.heard = [];
  for (const kind of ["started", "progress", "finished", "failed"]) {
    document.addEventListener(`check-${kind}`, (event) => heard.push([kind, event.detail]));
  }
}"""


class ShopVisit(Visit):
    """At a page of the shop, from which the service may be asked as well."""

    def __init__(self, page: Page, shop: Shop, pictures: Path | None, address: str | None = None) -> None:
        self.shop = shop
        super().__init__(page, address or shop.address, pictures)

    def _asked(self, url: str) -> None:
        if not url.startswith((self.shop.service, "data:")):
            super()._asked(url)

    def heard(self, kind: str) -> list[dict[str, Any]]:
        found: list[list[Any]] = self.page.evaluate("heard")
        return [detail for one, detail in found if one == kind]

    def choose(self, file: Path) -> None:
        self.page.locator("check-upload input[type=file]").set_input_files(file)


Enter = Callable[..., ShopVisit]


@pytest.fixture
def enter(browser: Browser, service: Running, pictures: Path | None) -> Iterator[Enter]:
    """`enter(CARDS, "phone")` opens a page of the shop, hearing the element's events."""
    visits: list[ShopVisit] = []

    def visit(path: str, size: Size = "desktop", *, at: Running = service, host: str = "", script: bool = True) -> ShopVisit:
        shop = shops(at)
        width, height = SIZES[size]
        context = browser.new_context(
            viewport={"width": width, "height": height}, locale="en-GB", java_script_enabled=script, reduced_motion="reduce"
        )
        context.set_default_timeout(PATIENCE_MS)
        address = shop.address.replace("127.0.0.1", host) if host else shop.address
        visits.append(ShopVisit(context.new_page(), shop, pictures, address))
        visits[-1].open(path)
        if script:
            visits[-1].page.evaluate(HEAR)
        return visits[-1]

    opened: dict[str, tuple[Any, Shop]] = {}

    def shops(at: Running) -> Shop:
        if at.address not in opened:
            doors = open_shop(at.address)
            opened[at.address] = doors, doors.__enter__()
        return opened[at.address][1]

    yield visit
    for one in visits:
        one.page.context.close()
    for doors, _ in opened.values():
        doors.__exit__(None, None, None)
    assert [fault for one in visits for fault in one.faults] == []


def headline(page: Page) -> Any:
    return page.locator("check-upload").get_by_role("status")


@pytest.mark.parametrize("size", ["desktop", "phone"])
def test_a_wrong_card_is_told_and_a_right_one_ordered(enter: Enter, files: Path, size: Size) -> None:
    visit = enter(CARDS, size)
    page = visit.page
    visit.picture(f"shop-empty-{size}")
    visit.choose(files / "card-wrong-size.pdf")
    expect(headline(page)).to_have_text("Not ready: 3 things to put right")
    expect(page.get_by_role("listitem").filter(has_text="the product is 85 × 55 mm")).to_contain_text("What to do:")
    visit.picture(f"shop-wrong-card-{size}")
    (finished,) = visit.heard("finished")
    assert (finished["verdict"], finished["accepted"]) == ("nonconforming", False)
    assert [one["name"] for one in visit.heard("started")] == ["card-wrong-size.pdf"]
    assert visit.heard("progress")

    page.get_by_role("button", name="Order").click()  # the browser keeps the form back, and says why
    assert page.url.endswith(CARDS)
    assert "cannot be ordered" in page.evaluate("document.querySelector('check-upload').validationMessage")

    visit.choose(files / "card-right.pdf")
    expect(headline(page)).to_have_text("Ready: everything asked for is met")
    visit.picture(f"shop-right-card-{size}")
    check_id = visit.heard("finished")[1]["id"]
    assert page.evaluate("new FormData(document.forms[0]).get('check')") == check_id
    page.get_by_label("250").check()
    with page.expect_request(lambda one: one.method == "POST") as posted:
        page.get_by_role("button", name="Order").click()
    assert posted.value.post_data == f"quantity=250&check={check_id}"
    expect(page.get_by_role("heading", level=1)).to_have_text("Thank you, Halyard Lane Bakery")
    visit.picture(f"shop-ordered-{size}")


def test_the_report_opens_in_a_tab_of_its_own(enter: Enter, files: Path) -> None:
    visit = enter(CARDS)
    visit.choose(files / "card-no-bleed.pdf")
    with visit.page.context.expect_page() as opened:
        visit.page.get_by_role("link", name="Open the whole report").click()
    expect(opened.value.locator("h1")).to_contain_text("Not ready: 1 thing to put right")
    assert opened.value.evaluate("window.opener") is None


def test_the_shop_asks_the_service_and_does_not_believe_the_form(enter: Enter, service: Running, files: Path) -> None:
    """Whoever takes the element out of the page and writes an id himself is refused all the same."""
    shop = enter(CARDS).shop
    with (files / "card-no-bleed.pdf").open("rb") as pdf:
        spec = {"spec": "business-card-85x55"}
        wrong = requests.post(f"{service.address}/v1/checks", files={"file": pdf}, data=spec, timeout=60).json()
    with (files / "brochure-12-pages.pdf").open("rb") as pdf:
        spec = {"spec": "booklet-a5-stapled"}
        other = requests.post(f"{service.address}/v1/checks", files={"file": pdf}, data=spec, timeout=60).json()
    assert (wrong["verdict"], other["verdict"]) == ("nonconforming", "conforming")
    for check_id in (wrong["id"], other["id"], "no-such-check", "../../readyz", ""):
        answer = requests.post(f"{shop.address}{CARDS}", data={"quantity": "100", "check": check_id}, timeout=60)
        assert (answer.status_code, "Not ordered" in answer.text) == (422, True), check_id


# --- What goes wrong -------------------------------------------------------------------------------------------------


def test_a_page_of_another_origin_than_the_tokens_is_told_so(enter: Enter, files: Path) -> None:
    """The names localhost and 127.0.0.1 are of the same machine and make two origins."""
    visit = enter(CARDS, host="localhost")
    visit.choose(files / "card-right.pdf")
    expect(headline(visit.page)).to_have_text(re.compile("opened as http://localhost:.* may upload as http://127.0.0.1:"))
    (failed,) = visit.heard("failed")
    assert failed["code"] == "token-origin"
    visit.picture("shop-other-origin")


def test_the_service_too_refuses_another_page_and_lets_it_read_nothing(enter: Enter) -> None:
    visit = enter(CARDS, host="localhost")
    seen = visit.page.evaluate(
        """async (service) => {
          const form = new FormData();
          form.append("token", document.querySelector("check-upload").token);
          form.append("file", new File(["%PDF-1.7"], "card.pdf"));
          try { return (await fetch(`${service}/v1/checks`, { method: "POST", body: form })).status; }
          catch (error) { return error.name; }
        }""",
        visit.shop.service,
    )
    assert seen == "TypeError"
    assert any("blocked by CORS policy" in fault for fault in visit.faults)
    visit.faults.clear()


def test_a_token_that_has_run_out_is_renewed_by_the_page(enter: Enter, files: Path) -> None:
    visit = enter(CARDS)
    visit.may_be_refused = {401}
    old = visit.page.evaluate("document.querySelector('check-upload').token = 'e30.x'")
    visit.choose(files / "card-right.pdf")
    expect(headline(visit.page)).to_have_text("Ready: everything asked for is met")
    assert visit.page.evaluate("document.querySelector('check-upload').token") != old


def test_an_expired_token_without_renewal_is_the_services_own_sentence(enter: Enter, files: Path) -> None:
    visit = enter(CARDS)
    visit.may_be_refused = {401}
    wish = {"spec": "business-card-85x55", "origin": visit.shop.address, "valid_seconds": 1}
    token = requests.post(f"{visit.shop.service}/v1/upload-tokens", json=wish, timeout=20).json()["token"]
    visit.page.evaluate("token => Object.assign(document.querySelector('check-upload'), {token, renewToken: null})", token)
    visit.page.wait_for_timeout(1100)
    visit.choose(files / "card-right.pdf")
    expect(headline(visit.page)).to_contain_text("The upload token has expired.")
    assert visit.heard("failed")[0]["status"] == 401


def test_what_is_no_pdf_is_not_even_sent(enter: Enter, tmp_path: Path) -> None:
    visit = enter(CARDS)
    picture = tmp_path / "card.pdf"
    picture.write_bytes(b"\x89PNG\r\n\x1a\n")
    asked: list[str] = []
    visit.page.on("request", lambda request: asked.append(request.url))
    visit.choose(picture)
    expect(headline(visit.page)).to_have_text(re.compile("card.pdf is not a PDF"))
    assert asked == []
    assert visit.page.evaluate("document.forms[0].checkValidity()") is False


def test_a_lost_connection_is_tried_again_and_makes_one_check(enter: Enter, files: Path) -> None:
    """The first answer is lost on its way; the second upload carries the same key."""
    visit = enter(CARDS)
    keys: list[str | None] = []

    def lose_the_first(route: Route) -> None:
        if route.request.method != "POST":
            route.continue_()
            return
        keys.append(route.request.headers.get("idempotency-key"))
        if len(keys) == 1:
            route.fetch()
            route.abort("connectionreset")
        else:
            route.continue_()

    visit.page.route("**/v1/checks", lose_the_first)
    visit.choose(files / "card-right.pdf")
    again = visit.page.get_by_role("button", name="Try again")
    finished = visit.page.get_by_text("Ready: everything asked for is met")
    expect(again.or_(finished)).to_be_visible()
    if again.is_visible():
        visit.picture("shop-lost")
        again.click()
    expect(finished).to_be_visible()
    assert len(keys) == 2
    assert keys[0] == keys[1]
    visit.faults = [fault for fault in visit.faults if "ERR_CONNECTION_RESET" not in fault]


def test_while_it_runs_one_sees_how_far_it_is_and_can_stop(enter: Enter, slow: Slow, files: Path) -> None:  # noqa: F811
    visit = enter(CARDS, at=slow.service)
    page = visit.page
    visit.choose(files / "card-right.pdf")
    bar = page.get_by_role("progressbar", name="Checking card-right.pdf")
    expect(bar).to_have_attribute("value", "3")
    expect(page.get_by_text("Page 3 of 12")).to_be_visible()
    assert page.evaluate("document.forms[0].checkValidity()") is False
    visit.picture("shop-running")
    hold(page, "shop-running", visit)
    page.get_by_role("button", name="Stop").click()
    expect(page.get_by_label("Choose your print file (PDF), or drop it here")).to_be_focused()
    assert visit.heard("finished") == visit.heard("failed") == []


def test_an_element_that_is_taken_out_of_the_page_stops_asking(enter: Enter, slow: Slow, files: Path) -> None:  # noqa: F811
    visit = enter(CARDS, at=slow.service)
    visit.choose(files / "card-right.pdf")
    expect(visit.page.get_by_text("Page 3 of 12")).to_be_visible()
    visit.page.evaluate("document.querySelector('check-upload').remove()")
    asked: list[str] = []
    visit.page.on("request", lambda request: asked.append(request.url))
    visit.page.wait_for_timeout(2500)  # it asks every two seconds at the most
    assert asked == []


# --- How it reads and looks ------------------------------------------------------------------------------------------


def values_in(text: str) -> list[str]:
    return sorted(re.findall(r"\{\w+\}", text))


def test_every_text_stands_in_every_language_with_the_same_values(enter: Enter) -> None:
    texts: dict[str, dict[str, str]] = enter(CARDS).page.evaluate("customElements.get('check-upload').TEXTS")
    assert set(texts) == {"en", "de", "fr", "es"}
    for language in ("de", "fr", "es"):
        assert texts[language].keys() == texts["en"].keys()
        for key, english in texts["en"].items():
            assert texts[language][key] != english, (language, key)
            assert values_in(texts[language][key]) == values_in(english), (language, key)
    used = set(re.findall(r'#say\("(\w+)"', SCRIPT.read_text(encoding="utf-8")))
    assert used <= texts["en"].keys()


def test_it_speaks_the_language_of_the_page_and_the_shops_own_words(enter: Enter, files: Path) -> None:
    visit = enter(CARDS)
    page = visit.page
    page.evaluate("document.documentElement.lang = 'de-AT'; document.querySelector('check-upload').lang = 'de-AT'")
    expect(page.get_by_label("Wählen Sie Ihre Druckdatei (PDF) aus, oder legen Sie sie hier ab")).to_be_visible()
    words = json.dumps({"choose": "Visitenkarte hier ablegen"})
    page.evaluate("words => document.querySelector('check-upload').setAttribute('texts', words)", words)
    with page.expect_request("**/v1/checks") as sent:
        page.get_by_label("Visitenkarte hier ablegen").set_input_files(files / "card-right.pdf")
    assert sent.value.headers["accept-language"] == "de"
    expect(page.get_by_role("link", name="Ganzen Bericht öffnen")).to_have_attribute("href", re.compile("lang=de$"))


def test_a_dropped_file_is_taken(enter: Enter, files: Path) -> None:
    visit = enter(CARDS)
    dropped = visit.page.evaluate_handle(
        """base64 => { const all = new DataTransfer(), bytes = Uint8Array.from(atob(base64), one => one.charCodeAt(0));
          all.items.add(new File([bytes], "dropped.pdf", { type: "application/pdf" })); return all; }""",
        b64encode((files / "card-no-bleed.pdf").read_bytes()).decode(),
    )
    visit.page.locator("check-upload .box").dispatch_event("drop", {"dataTransfer": dropped})
    expect(headline(visit.page)).to_have_text("Not ready: 1 thing to put right")
    assert visit.heard("started")[0]["name"] == "dropped.pdf"


def test_it_is_used_with_the_keys_alone(enter: Enter, files: Path) -> None:
    visit = enter(CARDS)
    page = visit.page
    page.on("filechooser", lambda _: None)  # the browser learns of it while the keys are pressed, and not too late
    for _ in range(20):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.shadowRoot?.activeElement?.type") == "file":
            break
    with page.expect_file_chooser() as chooser:
        page.keyboard.press("Enter")
    chooser.value.set_files(files / "card-no-bleed.pdf")
    expect(headline(page)).to_be_focused()  # where the verdict is read out
    page.keyboard.press("Tab")
    expect(page.get_by_role("link", name="Open the whole report")).to_be_focused()


def test_who_comes_back_to_the_page_finds_the_result_again(enter: Enter, files: Path) -> None:
    visit = enter(CARDS)
    visit.choose(files / "card-right.pdf")
    expect(headline(visit.page)).to_have_text("Ready: everything asked for is met")
    check_id = visit.heard("finished")[0]["id"]
    visit.page.get_by_role("button", name="Order").click()
    expect(visit.page.get_by_role("heading", level=1)).to_have_text("Thank you, Halyard Lane Bakery")
    visit.page.go_back()
    expect(headline(visit.page)).to_have_text("Ready: everything asked for is met")
    assert visit.page.evaluate("new FormData(document.forms[0]).get('check')") == check_id


def test_a_form_that_is_set_back_forgets_the_file(enter: Enter, files: Path) -> None:
    visit = enter(CARDS)
    visit.choose(files / "card-right.pdf")
    expect(headline(visit.page)).to_have_text("Ready: everything asked for is met")
    visit.page.evaluate("document.forms[0].reset()")
    expect(visit.page.get_by_label("Choose your print file (PDF), or drop it here")).to_be_visible()
    assert visit.page.evaluate("new FormData(document.forms[0]).get('check')") is None


def test_the_shops_pages_in_every_state_are_accessible(enter: Enter, files: Path) -> None:
    visit = enter("/")
    hold(visit.page, "shop-start", visit)
    visit.open("/studio")
    hold(visit.page, "shop-studio", visit)
    visit.open(CARDS)
    hold(visit.page, "shop-order", visit)
    visit.choose(files / "card-wrong-size.pdf")
    expect(headline(visit.page)).to_have_text("Not ready: 3 things to put right")
    hold(visit.page, "shop-result", visit)
    visit.page.evaluate("document.querySelector('check-upload').renewToken = null")
    visit.page.evaluate("document.querySelector('check-upload').token = ''")
    visit.choose(files / "card-right.pdf")
    expect(headline(visit.page)).to_contain_text("no permission to upload")
    hold(visit.page, "shop-trouble", visit)


# --- Without a script ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("script", [True, False])
def test_the_studios_form_leads_to_the_report(enter: Enter, files: Path, script: bool) -> None:
    visit = enter("/studio", script=script)
    page = visit.page
    page.get_by_label("Your print file (PDF)").set_input_files(files / "card-no-bleed.pdf")
    page.get_by_role("button", name="Check").click()
    expect(page.locator("h1")).to_contain_text("Not ready: 1 thing to put right", timeout=PATIENCE_MS)
    assert re.fullmatch(rf"{visit.shop.service}/v1/checks/[\w-]+/report", page.url)


def test_what_is_wrong_with_the_studios_form_is_a_page(enter: Enter, tmp_path: Path) -> None:
    visit = enter("/studio", script=False)
    visit.may_be_refused = {415}
    page = visit.page
    (tmp_path / "card.pdf").write_bytes(b"\x89PNG\r\n\x1a\n")
    page.get_by_label("Your print file (PDF)").set_input_files(tmp_path / "card.pdf")
    page.get_by_role("button", name="Check").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("The file is not a PDF")
    expect(page.get_by_text("PNG picture")).to_be_visible()
    visit.picture("studio-refused")
    page.go_back()
    expect(page.get_by_role("heading", level=1)).to_have_text("Send us your file")
