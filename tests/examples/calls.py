"""The story that the reference tells: Halyard Lane Bakery's order, from the first file to its own sheet.

The first call of each name is the one that its code shows. A new call of the service gets a line here, and a line in
`service/api/description/operations.py`.
"""

from __future__ import annotations

from tests.examples.recorder import Recorder

CARD, BOOKLET = "business-card-85x55", "booklet-a5-stapled"
SHOP = "https://shop.halyard-lane.example"
CATALOGUE = {
    "id": "copperbeck-press",
    "title": "Copperbeck Press",
    "defaults": {"bleed": {"minimum": "5 mm"}},
    "sheets": [CARD, "flyer-a6", {"id": "halyard-card", "extends": CARD, "title": "Halyard Lane's card"}],
}
OWN_SHEET = {"id": "halyard-card", "extends": CARD, "bleed": {"minimum": "5 mm"}}
PUBLISHED = "Business cards: 85 x 55 mm, 3 mm bleed on all sides, pictures at least 300 dpi."


def play(here: Recorder) -> None:
    card = _checks(here)
    _looks(here, card)
    _sheets(here)
    _catalogues(here)
    _reference(here)
    here.call("forgetCheck", "Before its time", f"DELETE /v1/checks/{card}")


def _checks(here: Recorder) -> str:
    sent = here.call(None, "", "POST /v1/checks", file="card-no-bleed.pdf", form={"spec": CARD})
    card = here.name(sent.json()["id"], "card without bleed")
    # Once more under a key, which gives the same check: its id has to be known before the answer is kept.
    cards = {"card-no-bleed.pdf": "A business card without bleed", "card-right.pdf": "A business card as it should be"}
    for file, says in cards.items():
        key = {"Idempotency-Key": f"order-4711-{file.removesuffix('.pdf')}"}
        first = here.call(None, "", "POST /v1/checks", file=file, form={"spec": CARD}, headers=key)
        here.name(first.json()["id"], file)
        here.call("checkFile", says, "POST /v1/checks", file=file, form={"spec": CARD}, headers=key)
    key = {"Idempotency-Key": "order-4711-again", "Prefer": "wait=20"}
    first = here.call(None, "", "POST /v1/checks", form={"check": card, "spec": "client-preview"}, headers=key)
    here.name(first.json()["id"], "again")
    again = {"check": card, "spec": "client-preview"}
    here.call("checkFile", "The same file by another sheet", "POST /v1/checks", form=again, headers=key)
    asked = {"spec": CARD, "origin": SHOP, "maximum_size": "50 MB"}
    says = "For one sheet and one origin, a quarter of an hour"
    token = here.call("createUploadToken", says, "POST /v1/upload-tokens", body=asked).json()["id"]
    here.call("revokeUploadToken", "An order that was given up", f"DELETE /v1/upload-tokens/{token}")
    here.call("getCheck", "A business card without bleed", f"GET /v1/checks/{card}")
    here.call("getCheck", "The same in German", f"GET /v1/checks/{card}?lang=de")
    here.call("followCheck", "A check that is finished", f"GET /v1/checks/{card}/events")
    here.call("getMeasurements", "The first page", f"GET /v1/checks/{card}/measurements?pages=1")
    _uploads(here)
    return card


def _uploads(here: Recorder) -> None:
    """In pieces, as a client of tus sends them; the second one is missing."""
    announced = {"Tus-Resumable": "1.0.0", "Upload-Length": "5000000", "Upload-Metadata": "filename cG9zdGVyLnBkZg=="}
    upload = here.call("createUpload", "A poster of 5 MB", "POST /v1/uploads", headers=announced, new="upload").json()["id"]
    piece = {"Tus-Resumable": "1.0.0", "Upload-Offset": "0"}
    kind = "application/offset+octet-stream"
    here.call("addToUpload", "The first bytes", f"PATCH /v1/uploads/{upload}", headers=piece, body="%PDF-1.7\n", type=kind)
    here.call("getUpload", "Some of it has come", f"GET /v1/uploads/{upload}")
    here.call("forgetUpload", "Nobody needs it", f"DELETE /v1/uploads/{upload}")


def _looks(here: Recorder, card: str) -> None:
    check = f"/v1/checks/{card}"
    here.call("getReport", "As a PDF", f"GET {check}/report?format=pdf")
    here.call("getReport", "As JSON", f"GET {check}/report?format=json")
    here.call("getPagePicture", "The first page with its findings", f"GET {check}/pages/1/picture?ppi=150")
    here.call("listPlates", "The inks of the first page", f"GET {check}/pages/1/plates")
    here.call("getTotalInk", "All inks of the first page, added", f"GET {check}/pages/1/plates/total")
    here.call("getPlate", "The cyan plate of the first page", f"GET {check}/pages/1/plates/Cyan")
    booklet = here.call(None, "", "POST /v1/checks", file="brochure-12-pages.pdf", form={"spec": BOOKLET}).json()["id"]
    here.name(booklet, "brochure")
    here.call("getPreview", "A light PDF of a brochure", f"GET /v1/checks/{booklet}/preview?maximum_size=600kB")
    here.call("getDummy", "A brochure to fold from A4", f"GET /v1/checks/{booklet}/dummy?paper=A4")
    spreads = here.call(None, "", "POST /v1/checks", file="brochure-as-spreads.pdf", form={"spec": BOOKLET}).json()["id"]
    here.name(spreads, "spreads")
    here.call("getSinglePages", "Spreads, cut in two", f"GET /v1/checks/{spreads}/single-pages")


def _sheets(here: Recorder) -> None:
    here.call("listSpecs", "Business cards", "GET /v1/specs?product=business-card")
    here.call("getSpec", "As JSON", f"GET /v1/specs/{CARD}")
    here.call("getSpec", "As YAML, in inches", f"GET /v1/specs/{CARD}?units=in", headers={"Accept": "application/yaml"})
    here.call("getSpec", "As prose, in French", f"GET /v1/specs/{CARD}?lang=fr", headers={"Accept": "text/plain"})
    here.call("matchSpecs", "A business card", "POST /v1/specs/matches", file="card-right.pdf")
    here.call("readSpec", "A sentence", "POST /v1/specs/readings", body=PUBLISHED, type="text/plain")
    empty = here.call(None, "", f"GET /v1/specs/{CARD}/template?format=pdf").content
    (here.files / "empty-card.pdf").write_bytes(empty)
    here.call("readTemplate", "A printer's empty card", "POST /v1/specs/template-readings", file="empty-card.pdf")
    kept = here.call("createSpec", "A stored sheet with more bleed", "POST /v1/specs", body=OWN_SHEET)
    changed = {**OWN_SHEET, "bleed": {"minimum": "4 mm"}}
    own = f"/v1/specs/{OWN_SHEET['id']}"
    here.call("replaceSpec", "The next revision", f"PUT {own}", body=changed, headers={"If-Match": kept.headers["ETag"]})
    here.call("listSpecRevisions", "Two of them", f"GET {own}/revisions")
    here.call("deleteSpec", "A sheet of one's own", f"DELETE {own}")
    here.call("getSpecDrawing", "As SVG", f"GET /v1/specs/{CARD}/drawing?format=svg")
    here.call("getSpecTemplate", "As PDF", f"GET /v1/specs/{CARD}/template?format=pdf")
    here.call("getSpecSchema", "Of a stored sheet", "GET /v1/specs/schema?stored=true")


def _catalogues(here: Recorder) -> None:
    kept = here.call("createCatalogue", "Three sheets with more bleed", "POST /v1/catalogues", body=CATALOGUE)
    here.call("listCatalogues", "One of them", "GET /v1/catalogues")
    path = f"/v1/catalogues/{CATALOGUE['id']}"
    here.call("getCatalogue", "As one file, in YAML", f"GET {path}?whole=true", headers={"Accept": "application/yaml"})
    here.call("getCatalogueSheet", "With more bleed", f"GET {path}/sheets/halyard-card")
    here.call("listSpecs", "Of a catalogue, by size", f"GET /v1/specs?catalogue={CATALOGUE['id']}&trim=55x85")
    changed = {**CATALOGUE, "sheets": [CARD]}
    here.call("replaceCatalogue", "With one sheet left", f"PUT {path}", body=changed, headers={"If-Match": kept.headers["ETag"]})
    here.call("listCatalogueRevisions", "Two of them", f"GET {path}/revisions")
    here.call("deleteCatalogue", "Nobody needs it", f"DELETE {path}")


def _reference(here: Recorder) -> None:
    here.call("listRules", "Every rule", "GET /v1/rules")
    here.call("listProblems", "Every problem", "GET /problems")
    here.call("getProblem", "One of them", "GET /problems/not-a-pdf")
    here.call("listAudit", "The latest two", "GET /v1/audit?page_size=2")
    here.call("getHealth", "It answers", "GET /healthz")
    here.call("getReadiness", "It takes checks", "GET /readyz")
