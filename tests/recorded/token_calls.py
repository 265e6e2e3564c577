"""Upload tokens: asked for, used and refused; and what becomes of one, and of a check, an hour and a day later."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from service.sheets.catalogue import stored_sheets
from tests.recorded import sheets
from tests.recorded.check_calls import CARD, send
from tests.recorded.files import Made
from tests.recorded.recorder import Recorder
from tests.recorded.served import served

SHOP = "https://shop.example"
PATH = "/v1/upload-tokens"
AN_HOUR_LATER, A_DAY_LATER = "2026-11-27T13:00:01+00:00", "2026-11-28T12:00:01+00:00"
FROM_SHOP = {"Origin": SHOP}
ASKED: dict[str, dict[str, Any]] = {
    "plain": {"spec": CARD},
    "bounded": {"spec": f"{CARD}@{stored_sheets()[CARD].revision}", "maximum_size": 1000, "valid_seconds": 60},
    "sheet": {"spec_sheet": {"trim": {"width": "85 mm", "height": "55 mm"}, "bleed": {"minimum": 3}}},
    "sheet-as-text": {"spec_sheet": sheets.LENIENT, "maximum_size": "20 MB"},
    "order": {"spec": "book-a5-cover", "order": {"inner_pages": 96, "caliper_mm": 0.11}},
}


def play(here: Recorder, made: Made, work: Path) -> None:
    data = work / "tokens"
    with served(data) as service:
        token, check = _at_once(here.inside("upload-tokens", service.address), made)
    for name, now in {"an-hour-later": AN_HOUR_LATER, "a-day-later": A_DAY_LATER}.items():
        with served(data, now) as service:
            later = here.inside(f"upload-tokens/{name}", service.address)
            send(later, "upload", made, query="?lang=de", headers=FROM_SHOP, token=token)
            later.get("check", f"/v1/checks/{check}")
            later.get("page", f"/checks/{check}")
            later.post("again", "/v1/checks", data={"check": check, "spec": CARD})


def _at_once(here: Recorder, made: Made) -> tuple[str, str]:
    """A token and a check, to be used later."""
    given = {name: str(here.post(name, PATH, json={"origin": SHOP, **form}).json()["token"]) for name, form in ASKED.items()}
    to_take_back = here.post("to-take-back", PATH, json={"origin": SHOP, "spec": CARD, "uses": 1}).json()["id"]
    here.call("take-back", "DELETE", f"{PATH}/{to_take_back}")
    here.get("audit", "/v1/audit?page_size=5")
    _refusals(here)
    for name, token in given.items():
        if check := send(here, f"upload-{name}", made, headers=FROM_SHOP, token=token):
            here.get(f"ask-{name}", f"/v1/checks/{check}", headers=FROM_SHOP)
            here.get(f"ask-{name}-elsewhere", f"/v1/checks/{check}", headers={"Origin": "https://other.example"})
    plain = given["plain"]
    for name, headers in {"nowhere": {}, "other": {"Origin": "https://other.example"}, "null": {"Origin": "null"}}.items():
        send(here, f"upload-from-{name}", made, headers=headers, token=plain)
    send(here, "upload-changed", made, headers=FROM_SHOP, token=plain[:-2])
    send(here, "upload-with-spec", made, headers=FROM_SHOP, token=plain, spec=CARD)
    send(here, "upload-report", made, headers=FROM_SHOP, token=plain, answer="report")
    send(here, "upload-unknown-field", made, query="?lang=fr", headers=FROM_SHOP, token=plain, more="1")
    return plain, send(here, "to-be-kept", made, spec=CARD)


def _refusals(here: Recorder) -> None:
    good = {"spec": CARD, "origin": SHOP}
    long = {"keep_clear": [{"name": f"area {number} {'n' * 80}", "box": [1, 1, 50, 50]} for number in range(500)]}
    wrong: dict[str, dict[str, Any]] = {
        "no-spec": {"spec": None},
        "two-sheets": {"spec_sheet": {"bleed": {"minimum": 3}}},
        "no-origin": {"origin": None},
        "origin-number": {"origin": 5},
        "origin-path": {"origin": f"{SHOP}/"},
        "origin-upper": {"origin": "https://Shop.example"},
        "origin-http": {"origin": "http://shop.example"},
        "origin-port": {"origin": f"{SHOP}:443"},
        "seconds-0": {"valid_seconds": 0},
        "seconds-3601": {"valid_seconds": 3601},
        "seconds-text": {"valid_seconds": "60"},
        "size-text": {"maximum_size": "20"},
        "size-0": {"maximum_size": 0},
        "size-much": {"maximum_size": "201 MB"},
        "order-text": {"order": "{}"},
        "order": {"order": {"pages": 8}},
        "sheet-wrong": {"spec": None, "spec_sheet": sheets.WRONG["misspelt"]},
        "sheet-list": {"spec": None, "spec_sheet": [1]},
        "sheet-long": {"spec": None, "spec_sheet": long},
        "spec-unknown": {"spec": "business-card-85x54"},
        "misspelt": {"orign": SHOP},
    }
    for name, form in wrong.items():
        body = {key: value for key, value in {**good, **form}.items() if value is not None}
        here.post(f"refused-{name}", PATH, json=body)
        here.post(f"refused-{name}-german", PATH, json=body, headers={"Accept-Language": "de"})
    bodies = {
        "cut-off": ("{", "application/json"),
        "list": ("[]", "application/json"),
        "text": ("{}", "text/plain"),
        "long": (" " * 1_100_000, "application/json"),
    }
    for name, (text, kind) in bodies.items():
        here.post(f"refused-body-{name}", PATH, data=text, headers={"Content-Type": kind})
