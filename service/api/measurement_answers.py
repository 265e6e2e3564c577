"""Measurements as the answers carry them: every key always there, null where it was not measured, and a list of why.

mm are rounded to three decimals, ppi and percent to one.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from service.api.print_facts import print_facts
from service.pdf.document_facts import unmeasured
from service.pdf.geometry import Box
from service.pdf.measurements import Annotation, Document, Image, Measurements, Page, PlateFacts, Sides, Unmeasured
from service.rules.wording import reason

PROCESS_INKS = ("Cyan", "Magenta", "Yellow", "Black")
REGISTRATION = "All"
"""The colorant that prints on every plate (ISO 32000-2:2020, 8.6.6.4)."""


class _Answer:
    """Collects the reasons while the answer is put together."""

    def __init__(self) -> None:
        self.unmeasured: list[dict[str, str]] = []

    def known(self, value: Any, path: str) -> Any:
        """The value, or null and its reason under that JSON pointer."""
        if isinstance(value, Unmeasured):
            self.unmeasured.append({"path": path, "why": reason(value)})
            return None
        return value


def measurement_answer(measurements: Measurements) -> dict[str, Any]:
    answer = _Answer()
    document = _document(measurements.document, answer)
    pages = answer.known(measurements.pages, "/pages")
    if pages is None:
        why = measurements.pages
        lists: dict[str, Any] = {key: answer.known(why, f"/{key}") for key in ("images", "fonts", "inks")}
        return {"document": document, "pages": None, **lists, "unmeasured": answer.unmeasured}
    listed = [_page(page, index, answer) for index, page in enumerate(pages)]
    for page in pages:
        if isinstance(page.content, Unmeasured):
            for key in ("images", "fonts", "inks"):
                answer.unmeasured.append({"path": f"/{key}", "why": reason(_on_page(page, page.content))})
    return {
        "document": document,
        "pages": listed,
        "images": [_image(page.number, image, answer, index) for index, (page, image) in enumerate(_images(pages))],
        "fonts": _fonts(pages),
        "inks": _inks(pages, answer),
        "unmeasured": answer.unmeasured,
    }


def box_mm(box: Box) -> list[float]:
    return [mm(one) for one in box]


def mm(value: float) -> float:
    return round(value, 3) + 0.0  # no -0.0


def _document(document: Document, answer: _Answer) -> dict[str, Any]:
    encryption = answer.known(document.encryption, "/document/encryption")
    return {
        "size_bytes": document.size_bytes,
        "failure": document.failure and {"kind": document.failure.kind, "why": reason(document.failure)},
        "page_count": answer.known(document.page_count, "/document/page_count"),
        "version": answer.known(document.version, "/document/version"),
        "encryption": encryption and {"encrypted": encryption.encrypted, "printing_allowed": encryption.printing_allowed},
        "damage": [reason(one) for one in document.damage],
        "title": document.title,
        "creator": document.creator,
        "producer": document.producer,
        **print_facts(document, answer.known),
    }


def _page(page: Page, index: int, answer: _Answer) -> dict[str, Any]:
    reach = answer.known(page.bleed_reach_mm, f"/pages/{index}/bleed_reach_mm")
    ink = answer.known(page.ink_max_percent, f"/pages/{index}/ink_max_percent")
    annotations = answer.known(page.annotations, f"/pages/{index}/annotations")
    marked = answer.known(page.crop_marks_mm, f"/pages/{index}/crop_marks_mm")
    plates = answer.known(page.plates, f"/pages/{index}/plates")
    boxes = page.boxes_mm
    return {
        "number": page.number,
        "rotation": page.rotation,
        "user_unit": page.user_unit,
        "boxes_mm": {name: box_mm(getattr(boxes, name)) for name in ("media", "crop", "bleed", "trim", "art")},
        "declared_boxes": [one.name for one in page.declared_boxes],
        "trim_width_mm": mm(page.trim_width_mm),
        "trim_height_mm": mm(page.trim_height_mm),
        "trim_source": page.trim_source,
        "bleed_declared": page.bleed_declared,
        "bleed_mm": _sides(page.bleed_mm),
        "bleed_reach_mm": reach and _sides(reach),
        "ink_max_percent": None if ink is None else round(ink, 1),
        "annotations": None if annotations is None else [_annotation(one) for one in annotations],
        "crop_marks_mm": marked and box_mm(marked),
        "plates": None if plates is None else _plates(plates),
    }


def _annotation(one: Annotation) -> dict[str, Any]:
    facts = {"subtype": one.subtype, "label": one.label, "box_mm": box_mm(one.box_mm)}
    return {**facts, "prints": one.prints, "shows": one.shows, "has_appearance": one.has_appearance}


def _sides(sides: Sides[float] | Sides[float | None]) -> dict[str, float | None]:
    return {side: None if value is None else mm(value) for side, value in sides.items()}


def _images(pages: Iterable[Page]) -> list[tuple[Page, Image]]:
    return [(page, image) for page in pages if not isinstance(page.content, Unmeasured) for image in page.content.images]


def _image(page: int, image: Image, answer: _Answer, index: int) -> dict[str, Any]:
    return {
        "page": page,
        "box_mm": box_mm(image.box_mm),
        "visible_box_mm": box_mm(image.visible_box_mm),
        "width_px": image.width_px,
        "height_px": image.height_px,
        "ppi": round(image.ppi, 1),
        "ppi_x": round(image.ppi_x, 1),
        "ppi_y": round(image.ppi_y, 1),
        "kind": image.kind,
        "space": image.space,
        "bits": image.bits,
        "filter": image.filter,
        "jpeg_quality": answer.known(image.jpeg_quality, f"/images/{index}/jpeg_quality"),
        "inline": image.inline,
    }


def _fonts(pages: Iterable[Page]) -> list[dict[str, Any]]:
    """Each font once, with the pages that use it."""
    found: dict[tuple[str, str, bool, bool], list[int]] = {}
    for page in pages:
        if not isinstance(page.content, Unmeasured):
            for key in dict.fromkeys((one.name, one.type, one.embedded, one.subset) for one in page.content.fonts):
                found.setdefault(key, []).append(page.number)
    return [
        {"name": name, "type": kind, "embedded": embedded, "subset": subset, "pages": numbers}
        for (name, kind, embedded, subset), numbers in found.items()
    ]


def _inks(pages: Sequence[Page], answer: _Answer) -> list[dict[str, Any]]:
    """Process inks first, in printing order, then the others as they appear."""
    found: dict[str, list[int]] = {}
    for page in pages:
        if not isinstance(page.content, Unmeasured):
            for name in dict.fromkeys(ink for use in page.content.colors for ink in use.inks):
                found.setdefault(name, []).append(page.number)
    ordered = [*(name for name in PROCESS_INKS if name in found), *(name for name in found if name not in PROCESS_INKS)]
    by_number = {page.number: page for page in pages}
    return [
        {
            "name": name,
            "kind": "process" if name in PROCESS_INKS else "registration" if name == REGISTRATION else "spot",
            "pages": found[name],
            "coverage_percent": answer.known(
                _coverage(name, [by_number[number] for number in found[name]]), f"/inks/{index}/coverage_percent"
            ),
        }
        for index, name in enumerate(ordered)
    ]


def _coverage(ink: str, pages: list[Page]) -> float | Unmeasured:
    """Mean over the trimmed pages that use it, each by its size."""
    if ink == REGISTRATION:
        return Unmeasured("Registration colour prints on every plate and has none of its own.")
    covered = area = 0.0
    for page in pages:
        if isinstance(page.plates, Unmeasured):
            return _on_page(page, page.plates)
        percent = next((one.percent for one in page.plates.inks if one.ink == ink), 0.0)
        covered, area = covered + percent * page.boxes_mm.trim.area, area + page.boxes_mm.trim.area
    return round(covered / area, 1) if area else 0.0


def _on_page(page: Page, why: Unmeasured) -> Unmeasured:
    return unmeasured("Page {page}: {reason}", page=str(page.number), reason=why)


def _plates(plates: PlateFacts) -> dict[str, Any]:
    inks = [{"name": one.ink, "coverage_percent": round(one.percent, 1), "empty": one.empty} for one in plates.inks]
    return {"ppi": plates.ppi, "converted": plates.converted, "blank": plates.blank, "inks": inks}
