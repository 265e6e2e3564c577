"""Checks, and everything that is made of a checked file."""

from __future__ import annotations

import json
from typing import Any

from tests.recorded import sheets
from tests.recorded.files import Made
from tests.recorded.recorder import Recorder

CARD = "business-card-85x55"


def play(here: Recorder, files: list[Made]) -> None:
    for number, made in enumerate(files):
        check_file(here.inside(f"checks/{made.name}"), made, thorough=number % 4 == 0)
    _forms(here.inside("checks-asked"), files[0])
    _proofs(here.inside("proofs"), {made.name: made for made in files})


def send(
    here: Recorder, name: str, made: Made, query: str = "?lang=en", headers: dict[str, str] | None = None, **fields: Any
) -> str:
    """The id of the check, empty where there is none."""
    file = {"file": (f"{made.name}.pdf", made.pdf, "application/pdf")}
    answer = here.post(name, f"/v1/checks{query}", files=file, data=fields, headers=headers)
    return str(answer.json().get("id", "")) if answer.status_code in (201, 202) else ""


def check_file(here: Recorder, made: Made, thorough: bool) -> None:
    """Against a sheet that asks for everything, then what was measured against others; then what can be made of it."""
    strict = send(here, "strict", made, spec_sheet=sheets.STRICT)
    again = {"check": strict}
    for name, sheet in {"folded": sheets.FOLDED, "cover": sheets.COVER, "lenient": sheets.LENIENT}.items():
        here.post(f"again-{name}", "/v1/checks?lang=en", data={**again, "spec_sheet": sheet})
    for spec in (*made.specs[1:], "client-preview"):
        here.post(f"again-{spec}", "/v1/checks?lang=en", data={**again, "spec": spec})
    order: dict[str, Any] = {"order": made.order} if made.order else {}
    check = here.post(made.specs[0], "/v1/checks?lang=en", data={**again, "spec": made.specs[0], **order}).json()["id"]
    path = f"/v1/checks/{strict}"
    here.get("in-german", f"{path}?lang=de")
    here.get("in-french", path, headers={"Accept-Language": "fr-CH, fr;q=0.9, en;q=0.8"})
    here.get("page", f"/checks/{strict}")
    here.get("picture", f"{path}/pages/1/picture?ppi=40&lang=en")
    here.get("plates", f"{path}/pages/1/plates?ppi=30&lang=en")
    here.get("total", f"{path}/pages/1/plates/total?ppi=30&lang=en")
    for kind in ("preview", "dummy", "single-pages", "measurements"):
        here.get(kind, f"/v1/checks/{check}/{kind}")
    if thorough:  # a report draws a picture for each finding, which takes longer than all the rest
        here.get("report", f"{path}/report")
        lenient = send(here, "lenient", made, spec_sheet=sheets.LENIENT)
        here.post("measured-anew", "/v1/checks?lang=en", data={"check": lenient, "spec_sheet": sheets.STRICT})
        here.get("report-pdf-german", f"{path}/report?format=pdf&lang=de")
        here.get("report-json", f"{path}/report?format=json")
        for language in ("de", "fr"):
            here.get(f"page-{language}", f"/checks/{strict}?lang={language}")


def _forms(here: Recorder, made: Made) -> None:
    """Every way to ask, right and wrong."""
    first = send(here, "idempotent", made, headers={"Idempotency-Key": "one"}, spec=CARD)
    send(here, "idempotent-again", made, headers={"Idempotency-Key": "one"}, spec=CARD)
    send(here, "idempotent-other", made, headers={"Idempotency-Key": "one"}, spec="flyer-a6")
    for name, key in {"two-words": "two words", "long": "x" * 256, "empty": ""}.items():
        send(here, f"idempotent-{name}", made, headers={"Idempotency-Key": key}, spec=CARD)
    bare = {"Content-Type": "application/pdf"}
    here.post("bare", f"/v1/checks?spec={CARD}", data=made.pdf, headers=bare)
    here.post(
        "bare-with-order", "/v1/checks?spec=book-a5-cover&order=%7B%22inner_pages%22%3A%2096%7D", data=made.pdf, headers=bare
    )
    for query in ("", "?spec=business-card-us&sepc=x", f"?spec={CARD}&token=x", f"?spec={CARD}&answer=report"):
        here.post(f"bare-{query}", f"/v1/checks{query}", data=made.pdf, headers=bare)
    send(here, "answer-report", made, spec=CARD, answer="report")
    send(here, "answer-report-french", made, query="?lang=fr", spec=CARD, answer="report")
    send(here, "answer-report-refused", made, spec="nothing", answer="report")
    send(here, "wait", made, headers={"Prefer": "wait=20"}, spec=CARD)
    send(here, "spec-in-address", made, query=f"?spec={CARD}")
    wrong: dict[str, dict[str, Any]] = {
        "no-spec": {},
        "two-sheets": {"spec": CARD, "spec_sheet": sheets.COVER},
        "two-files": {"spec": CARD, "check": first},
        "callback": {"spec": CARD, "callback_url": "https://halyard-lane.example/done"},
        "two-specs": {"spec": [CARD, "flyer-a6"]},
        "long-sheet": {"spec_sheet": "x" * 300_000},
        "unknown-field": {"spec": CARD, "spec_sheat": "…"},
        "pointer": {"spec": CARD, "a~b/c": "1"},
        "answer": {"spec": CARD, "answer": "poem"},
        "unknown-spec": {"spec": "business-card-85x54"},
        "revision": {"spec": f"{CARD}@7"},
        "revision-word": {"spec": f"{CARD}@x"},
        "first-revision": {"spec": f"{CARD}@1"},
        "empty-spec": {"spec": ""},
        "token": {"token": "x"},
        "order-words": {"spec": CARD, "order": "96 pages"},
        "order-twice": {"spec": CARD, "order": '{"inner_pages": 8, "inner_pages": 12}'},
        "order-negative": {"spec": CARD, "order": '{"inner_pages": -4}'},
        "order-unknown": {"spec": CARD, "order": '{"pages": 8}'},
        "order-nothing-for-it": {"spec": CARD, "order": '{"inner_pages": 96, "caliper_mm": 0.11}'},
        "order-many": {"spec": CARD, "order": json.dumps({f"key{number}": 1 for number in range(9)})},
    }
    for name, fields in wrong.items():
        send(here, f"form-{name}", made, **fields)
        send(here, f"form-{name}-german", made, query="?lang=de", **fields)
    for name, sheet in sheets.WRONG.items():
        send(here, f"sheet-{name}", made, spec_sheet=sheet)
    here.post("empty-form", "/v1/checks", files={"nothing": ("", b"")})
    here.post("urlencoded", "/v1/checks", data={"spec": CARD})
    here.post("file-as-text", "/v1/checks", files={"file": (None, "%PDF-1.7"), "spec": (None, CARD)})
    here.post("sheet-as-file", "/v1/checks", files={"file": ("a.pdf", made.pdf), "spec_sheet": ("sheet.yaml", sheets.COVER)})
    here.post("spec-as-file", "/v1/checks", files={"file": ("a.pdf", made.pdf), "spec": ("spec.txt", CARD)})
    starts = {
        "png": b"\x89PNG\r\n\x1a\n" + bytes(64),
        "empty": b"",
        "late": b"x" * 1020 + b"%PDF-1.7",
        "just": b"x" * 1019 + b"%PDF-1.7",
    }
    for name, data in starts.items():
        here.post(f"file-{name}", "/v1/checks", files={"file": ("Ä card.pdf", data, "application/pdf"), "spec": (None, CARD)})
    for kind in ("application/json", "text/plain", "image/png", ""):
        here.post(f"kind-{kind}", "/v1/checks", data=b"{}", headers={"Content-Type": kind})
    here.post(
        "form-cut-off", "/v1/checks", data=b"--cut\r\nContent", headers={"Content-Type": "multipart/form-data; boundary=cut"}
    )
    here.post("again-nothing", "/v1/checks", data={"check": "nothing", "spec": CARD})
    tag = here.get("read", f"/v1/checks/{first}").headers["ETag"]
    _upload(here, made)
    here.get("read-again", f"/v1/checks/{first}", headers={"If-None-Match": tag})
    here.get("events", f"/v1/checks/{first}/events")
    here.call("forget", "DELETE", f"/v1/checks/{first}")
    for name, path in {"": "", "report": "/report", "picture": "/pages/1/picture", "preview": "/preview"}.items():
        here.get(f"forgotten-{name}", f"/v1/checks/{first}{path}")
    here.call("forget-again", "DELETE", f"/v1/checks/{first}")
    here.post("again-forgotten", "/v1/checks", data={"check": first, "spec": CARD})
    here.get("forgotten-page", f"/checks/{first}?lang=fr")


def _upload(here: Recorder, made: Made) -> None:
    """The file in two pieces, then the check of it."""
    length = {"Upload-Length": str(len(made.pdf))}
    upload = here.post("upload", "/v1/uploads", headers=length).headers["Location"]
    pieces = {"first": (0, made.pdf[:100]), "first-again": (0, made.pdf[:100]), "last": (100, made.pdf[100:])}
    for name, (offset, piece) in pieces.items():
        headers = {"Upload-Offset": str(offset), "Content-Type": "application/offset+octet-stream"}
        here.call(f"upload-{name}", "PATCH", upload, data=piece, headers=headers)
    here.get("upload-whole", upload)
    here.post("upload-checked", "/v1/checks", data={"upload": upload.rsplit("/", 1)[1], "spec": CARD})
    here.get("upload-taken", upload)
    here.call("upload-forgotten", "DELETE", upload)


def _proofs(here: Recorder, files: dict[str, Made]) -> None:
    """What is made of a file, with every wish; and not made, twice the same, in three languages."""
    card, booklet = files["card-everything"], files["booklet"]
    asked = {
        "pages/1/picture": (
            "ppi=10",
            "ppi=300",
            "ppi=9",
            "show=none",
            "show=boxes",
            "show=findings",
            "show=all",
            "lang=de",
            "lang=fr",
        ),
        "pages/2/picture": ("ppi=50",),
        "pages/3/picture": ("",),
        "pages/0/picture": ("",),
        "pages/x/picture": ("",),
        "pages/1/plates": ("", "ppi=100", "area=trim", "area=media", "area=page", "lang=de", "pp=1"),
        "pages/9/plates": ("lang=fr",),
        "pages/1/plates/total": ("", "area=trim&ppi=50", "look=colors", "look=color", "look=grey", "look=gray", "lang=fr"),
        "pages/1/plates/Cyan": ("", "look=color", "ppi=301"),
        "pages/1/plates/Black": ("area=media",),
        "pages/1/plates/Copper": ("", "look=color"),
        "pages/1/plates/Gold": ("", "lang=de"),
        "pages/1/plates/cyan": ("",),
        "preview": (
            "ppi=36&quality=20",
            "watermark=For%20approval",
            "maximum_size=20kB",
            "maximum_size=1",
            "pages=2",
            "pages=7",
            "pages=a",
            "ppi=9",
        ),
        "dummy": ("paper=A3", "paper=Letter&flip=long", "paper=A5", "blanks=start", "caliper_mm=2"),
        "single-pages": ("spreads=all", "spreads=none", "spreads=1", "spreads=9", "spread=1"),
        "report": ("", "lang=de", "lang=fr", "format=json", "format=pdf", "format=pdf&lang=fr", "format=doc"),
    }
    check = send(here, "card", card, spec=CARD)
    _each(here, "card", check, asked)
    for accept in ("application/pdf", "application/json", "text/html", "image/png", "application/json;q=0.1, application/pdf"):
        here.get(f"report-accept-{accept}", f"/v1/checks/{check}/report", headers={"Accept": accept})
    for path in (
        "report",
        "report?format=pdf",
        "pages/1/picture",
        "pages/1/plates",
        "pages/1/plates/Cyan",
        "pages/1/plates/total",
        "preview",
        "dummy",
        "single-pages",
    ):
        tag = here.get(f"tag-{path}", f"/v1/checks/{check}/{path}").headers.get("ETag", "")
        here.get(f"not-modified-{path}", f"/v1/checks/{check}/{path}", headers={"If-None-Match": tag})
    bound = {
        "preview": ("", "arrangement=singles&pages=1-4,9-12", "arrangement=spreads&ppi=72&watermark=Zur%20Freigabe"),
        "dummy": ("", "paper=A3&flip=long&caliper_mm=0.11", "paper=Tabloid&blanks=after-first"),
        "pages/12/picture": ("ppi=30",),
    }
    _each(here, "booklet", send(here, "booklet", booklet, spec="booklet-a5-stapled"), bound)
    spreads = send(here, "spreads", files["spreads"], spec="booklet-a5-stapled")
    _each(
        here,
        "spreads",
        spreads,
        {"single-pages": ("", "spreads=2-6", "spreads=all"), "dummy": ("blanks=before-last",), "preview": ("",)},
    )
    for name, path, language in (
        ("locked", "picture", "de"),
        ("cut-off-early", "plates", "fr"),
        ("card-broken-content", "plates/total", "de"),
    ):
        lost = send(here, name, files[name], spec=CARD)
        _each(
            here,
            name,
            lost,
            {f"pages/1/{path}": (f"lang={language}",), "preview": ("lang=fr",), "report": ("lang=de",), "dummy": ("",)},
        )
    for spec in ("leaflet-dl-roll-6", "leaflet-dl-zigzag-6", "leaflet-dl-gate-8"):
        _each(
            here,
            spec,
            send(here, spec, files["leaflet"], spec=spec),
            {"dummy": ("", "flip=long"), "pages/1/picture": ("ppi=40",)},
        )
    cover = send(here, "cover", files["cover"], spec="book-a5-cover", order=files["cover"].order)
    _each(
        here,
        "cover",
        cover,
        {"dummy": ("", "paper=A3"), "pages/1/picture": ("ppi=40",), "report": ("lang=de", "format=pdf&lang=de")},
    )


def _each(here: Recorder, name: str, check: str, asked: dict[str, tuple[str, ...]]) -> None:
    for path, queries in asked.items():
        for query in queries:
            here.get(f"{name}-{path}-{query}", f"/v1/checks/{check}/{path}" + (f"?{query}" if query else ""))
