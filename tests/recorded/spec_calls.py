"""Sheets: the stored ones, those of one's own, matches and readings."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import yaml

from service.proofs.template.pages import template_pages
from service.proofs.template.pdf import template_pdf
from service.sheets import catalogue
from tests.recorded import sheets
from tests.recorded.files import Made, text_pdf
from tests.recorded.recorder import Recorder

YAML = {"Accept": "application/yaml"}
JSON_BODY, YAML_BODY = "application/json", "application/yaml"
CARD: dict[str, Any] = {
    "id": "halyard-card",
    "title": "Halyard Lane Bakery's card",
    "product": "business-card",
    "trim": {"width": "85 mm", "height": "55 mm"},
    "bleed": {"minimum": "3 mm"},
}
LISTS = (
    "",
    "?page=2",
    "?page=99",
    "?page_size=7&page=3",
    "?page_size=100",
    "?product=business-card",
    "?region=GB",
    "?region=US&page_size=50",
    "?purpose=client-preview",
    "?q=stapled",
    "?q=%C3%A9",
    "?origin=own",
    "?origin=stored&q=a5",
    "?product=none",
    "?page=0",
    "?page=x",
    "?page_size=1000",
    "?purpose=art",
    "?produkt=card",
    "?page=1&page=2",
    "?lang=de",
    "?origin=theirs",
)
TEXTS = Path(__file__).parents[1] / "sheets" / "readings_seen"


def play(here: Recorder, files: list[Made]) -> None:
    _stored(here.inside("specs"))
    own_sheets(here.inside("own-sheets"))
    _wrong(here.inside("own-sheets-refused"))
    _catalogues(here.inside("catalogues"))
    _matches(here.inside("matches"), files)
    _readings(here.inside("readings"))
    _template_readings(here.inside("template-readings"))


def stored_ids(here: Recorder) -> list[str]:
    """Read without being recorded."""
    listed = here.session.get(f"{here.address}/v1/specs?origin=stored&page_size=100", timeout=60).json()
    return [one["id"] for one in listed["specs"]]


def _stored(here: Recorder) -> None:
    for query in LISTS:
        answer = here.get(f"list{query}", f"/v1/specs{query}")
    tag = here.get("list-again", "/v1/specs").headers["ETag"]
    here.get("list-not-modified", "/v1/specs", headers={"If-None-Match": tag})
    for spec in stored_ids(here):
        path = f"/v1/specs/{spec}"
        answer = here.get(f"{spec}", path)
        here.get(f"{spec}-yaml", path, headers=YAML)
        here.get(f"{spec}-prose", path, headers={"Accept": "text/plain"})
        here.get(f"{spec}-inches", f"{path}?units=in")
        here.get(f"{spec}-as-written", f"{path}?resolved=false", headers=YAML)
        here.get(f"{spec}-not-modified", path, headers={"If-None-Match": answer.headers["ETag"]})
        here.get(f"{spec}-revisions", f"{path}/revisions")
    card = "/v1/specs/business-card-85x55"
    for query in (
        "?revision=1",
        "?revision=99",
        "?revision=x",
        "?units=furlong",
        "?resolved=maybe",
        "?unit=in",
        "?units=in&resolved=false",
    ):
        here.get(f"card{query}", f"{card}{query}")
    for accept in ("application/xml", "text/html", "application/json;q=0.1, application/yaml", "*/*"):
        here.get(f"card-accept-{accept}", card, headers={"Accept": accept})
    here.get("family", "/v1/specs/offset-process-print")
    here.get("nothing", "/v1/specs/business-card-85x54")
    here.get("nothing-german", "/v1/specs/business-card-85x54", headers={"Accept-Language": "de"})
    here.get("nothing-revisions", "/v1/specs/nothing/revisions")
    for query in ("", "?stored=true", "?stored=perhaps"):
        tag = here.get(f"schema{query}", f"/v1/specs/schema{query}").headers.get("ETag", "")
        here.get(f"schema-not-modified{query}", f"/v1/specs/schema{query}", headers={"If-None-Match": tag})
    for language in ("en", "de", "fr", "es", "it"):
        here.get(f"rules-{language}", "/v1/rules", headers={"Accept-Language": language})
    here.get("rules-query", "/v1/rules?lang=fr")


def own_sheets(here: Recorder) -> None:
    """From being kept to being deleted and kept again."""
    path = "/v1/specs/halyard-card"

    def put(name: str, sheet: Any, tag: str | None, path: str = path) -> str:
        headers = {"If-Match": tag} if tag else {}
        return here.call(name, "PUT", path, json=sheet, headers=headers).headers.get("ETag", "")

    here.get("before", path)
    tag = here.post("keep", "/v1/specs", json={**CARD, "revision": 7}).headers["ETag"]
    here.post("keep-again", "/v1/specs", json=CARD)
    put("replace-without-if-match", CARD, None)
    put("replace-with-wrong-if-match", CARD, '"x"')
    second = put("replace", {**CARD, "bleed": {"minimum": "4 mm"}}, tag)
    put("replace-with-old-if-match", CARD, tag)
    put("replace-with-another-id", {**CARD, "id": "other"}, second)
    put("replace-with-wrong-sheet", {**CARD, "bleed": 3}, second)
    put("replace-any", {key: value for key, value in CARD.items() if key != "id"}, "*")
    here.call(
        "replace-by-yaml", "PUT", path, data=yaml.safe_dump(CARD), headers={"If-Match": "*", "Content-Type": YAML_BODY, **YAML}
    )
    for query in ("", "?units=in", "?resolved=false", "?revision=1", "?revision=3", "?revision=9"):
        here.get(f"read{query}", path + query)
    here.get("revisions", f"{path}/revisions")
    extending = {
        "id": "thick-card",
        "extends": "halyard-card",
        "bleed": {"minimum": "5 mm", "note": "Ours."},
        "pages": {"maximum": 2},
    }
    here.post("extend-own", "/v1/specs", json=extending)
    here.post("extend", "/v1/specs", json={**extending, "extends": "business-card-85x55", "margin": None})
    here.get("extended", "/v1/specs/thick-card")
    here.get("extended-as-sent", "/v1/specs/thick-card?resolved=false")
    everything = 'id: everything\nproduct: card\nregions: [GB, "NO"]\n' + sheets.STRICT.lstrip()
    here.post("keep-everything-by-yaml", "/v1/specs", data=everything.encode(), headers={"Content-Type": YAML_BODY, **YAML})
    here.get("everything-in-inches", "/v1/specs/everything?units=in", headers=YAML)
    here.get("list-own", "/v1/specs?origin=own")
    here.call("delete-wrong-if-match", "DELETE", path, headers={"If-Match": '"x"'})
    here.call("delete", "DELETE", path)
    for name, method in (("get", "GET"), ("put", "PUT"), ("delete", "DELETE")):
        here.call(f"deleted-{name}", method, path, json=CARD if method == "PUT" else None, headers={"If-Match": "*"})
    here.get("deleted-revisions", f"{path}/revisions")
    here.get("deleted-revision-1", f"{path}?revision=1")
    here.post("keep-after-delete", "/v1/specs", json=CARD)
    put("replace-stored", CARD, "*", "/v1/specs/business-card-85x55")
    put("replace-nothing", CARD, "*", "/v1/specs/nothing")
    here.call("delete-stored", "DELETE", "/v1/specs/business-card-85x55")
    here.call("delete-nothing", "DELETE", "/v1/specs/nothing")


def _catalogues(here: Recorder) -> None:
    path = "/v1/catalogues/halyard-press"
    press: dict[str, Any] = {
        "id": "halyard-press",
        "title": "Halyard Lane",
        "defaults": {"bleed": {"minimum": "5 mm"}},
        "sheets": ["business-card-85x55", "flyer-a6", {**CARD, "id": "our-card"}],
    }
    tag = here.post("keep", "/v1/catalogues", json=press).headers.get("ETag", "")
    here.post("keep-again", "/v1/catalogues", json=press)
    here.post("refused", "/v1/catalogues", json={**press, "id": "two", "sheets": ["no-such-sheet", 5]})
    here.get("list", "/v1/catalogues")
    for query in ("", "?whole=true", "?revision=9"):
        here.get(f"read{query}", path + query, headers=YAML)
    here.get("sheet", f"{path}/sheets/our-card", headers=YAML)
    here.get("sheets-by-size", "/v1/specs?catalogue=halyard-press&trim=55x85")
    here.call("replace", "PUT", path, json={**press, "sheets": ["flyer-a6"]}, headers={"If-Match": tag})
    here.get("revisions", f"{path}/revisions")
    here.call("delete", "DELETE", path)
    here.get("deleted", path)


def _wrong(here: Recorder) -> None:
    for name, text in sheets.WRONG.items():
        identity = "" if name in ("asks-nothing", "no-yaml", "a-list", "an-alias") else "id: wrong\ntitle: Wrong\nproduct: card\n"
        for language in ("en", "de", "fr", "es"):
            headers = {"Content-Type": YAML_BODY, "Accept-Language": language}
            here.post(f"{name}-{language}", "/v1/specs", data=(identity + text).encode(), headers=headers)
    sent: dict[str, Any] = {
        "no-identity": {"bleed": {"minimum": 3}},
        "no-title": {"id": "a", "bleed": {"minimum": 3}},
        "no-id": {**CARD, "id": "No Id"},
        "id-a-number": {**CARD, "id": 5},
        "id-stored": {**CARD, "id": "business-card-85x55"},
        "id-family": {**CARD, "id": "offset-process-print"},
        "id-reserved": {**CARD, "id": "schema"},
        "regions": {**CARD, "regions": ["gb", "England"], "purpose": "art", "references": [{"name": ""}]},
        "list": ["bleed"],
    }
    for name, sheet in sent.items():
        here.post(name, "/v1/specs", json=sheet)
    bodies = {
        "no-sheet": (b"x", "image/png"),
        "empty": (b"", JSON_BODY),
        "deep": (b"[" * 5000, JSON_BODY),
        "no-json": (b"{", JSON_BODY),
        "long": (b"a: b\n" * 60_000, YAML_BODY),
        "not-utf-8": (b"\xff\xfe", YAML_BODY),
        "no-type": (b"{}", ""),
    }
    for name, (body, kind) in bodies.items():
        here.post(f"body-{name}", "/v1/specs", data=body, headers={"Content-Type": kind})


def _matches(here: Recorder, files: list[Made]) -> None:
    for made in files:
        here.post(made.name, "/v1/specs/matches?lang=en", files={"file": (f"{made.name}.pdf", made.pdf, "application/pdf")})
    card = {"file": ("card.pdf", files[0].pdf, "application/pdf")}
    for fields in (
        {"region": "US"},
        {"product": "flyer"},
        {"most": "1"},
        {"most": "0"},
        {"mosst": "1"},
        {"region": "XX", "product": "x"},
    ):
        here.post(f"fields-{fields}", "/v1/specs/matches", files=card, data=fields)
    for language in ("de", "fr"):
        here.post(f"in-{language}", f"/v1/specs/matches?lang={language}", files=card)
    bare = {"Content-Type": "application/pdf"}
    here.post("bare", "/v1/specs/matches?region=GB&most=2", data=files[0].pdf, headers=bare)
    here.post("bare-unknown-key", "/v1/specs/matches?regio=GB", data=files[0].pdf, headers=bare)
    here.post("not-a-pdf", "/v1/specs/matches", data=b"PNG", headers=bare)
    here.post("no-file", "/v1/specs/matches", data={"region": "GB"})
    here.post("another-body", "/v1/specs/matches", json={})


def _template_readings(here: Recorder) -> None:
    path, pdf = "/v1/specs/template-readings", {"Content-Type": "application/pdf"}
    sheet = catalogue.find("leaflet-dl-roll-6")
    assert sheet is not None, "a stored sheet"
    pages = template_pages(sheet)
    assert isinstance(pages, tuple), "it has a size"
    empty = template_pdf(pages, "leaflet")
    for language in ("en", "de", "fr", "es"):
        here.post(f"ours-{language}", f"{path}?lang={language}", data=empty, headers=pdf)
    here.post("form", path, files={"file": ("empty.pdf", empty, "application/pdf")})
    here.post("text", path, data=text_pdf("no guides"), headers=pdf)
    here.post("not-a-pdf", path, data=b"PNG", headers=pdf)
    here.post("broken", path, data=b"%PDF-1.7 broken", headers=pdf)
    here.post("no-file", path, data={})


def _readings(here: Recorder) -> None:
    path = "/v1/specs/readings"
    for file in sorted(TEXTS.glob("*.yaml")):
        read = yaml.safe_load(file.read_text(encoding="utf-8"))
        headers = {"Content-Type": f"{read.get('media_type', 'text/plain')}; charset=utf-8"}
        here.post(file.stem, path, data=read["text"].encode(), headers=headers)
        if file.stem.startswith(("en_c", "de_", "fr_")):
            here.post(
                f"{file.stem}-json",
                f"{path}?lang=de",
                json={"text": read["text"], "media_type": read.get("media_type", "text/plain")},
            )
            here.post(f"{file.stem}-french", path, data=read["text"].encode(), headers={**headers, "Accept-Language": "fr"})
    pdf = {"Content-Type": "application/pdf"}
    text = "Business cards\nTrim size: 85 x 55 mm\nBleed 3 mm on all sides\nPictures at least 300 dpi, CMYK only\n"
    here.post("pdf", path, data=text_pdf(text), headers=pdf)
    here.post("pdf-without-text", path, data=text_pdf(""), headers=pdf)
    here.post("pdf-that-is-none", path, data=b"x", headers=pdf)
    bodies: dict[str, tuple[bytes, str]] = {
        "empty": (b"", "text/plain"),
        "long": (b"bleed 3 mm\n" * 100_000, "text/plain"),
        "charset": (b"x", "text/plain; charset=klingon"),
        "latin-1": ("Beschnitt 3 mm für alle".encode("latin-1"), "text/plain; charset=iso-8859-1"),
        "not-utf-8": (b"\xff 3 mm", "text/plain"),
        "picture": (b"x", "image/png"),
        "no-json": (b"{", JSON_BODY),
        "wrong-json": (b'{"texts": "x", "media_type": 5}', JSON_BODY),
    }
    for name, (body, kind) in bodies.items():
        here.post(f"body-{name}", path, data=body, headers={"Content-Type": kind})
