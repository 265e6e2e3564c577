"""Measurements as the answers carry them: every key always there, null where it was not measured, and a list of why.

mm are rounded to three decimals, ppi and percent to one.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from service.answers.print_facts import print_facts
from service.language.wording import reason
from service.pdf.facts.across_pages import fonts_across, inks_across, on_page
from service.pdf.facts.document import Document
from service.pdf.facts.geometry import Box, Sides
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.page import Annotation, Page
from service.pdf.facts.painted.images import Image
from service.pdf.facts.plates import PlateFacts
from service.pdf.facts.unknown import Unmeasured


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
                answer.unmeasured.append({"path": f"/{key}", "why": reason(on_page(page, page.content))})
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


def _fonts(pages: Sequence[Page]) -> list[dict[str, Any]]:
    return [
        {"name": one.name, "type": one.type, "embedded": one.embedded, "subset": one.subset, "pages": list(one.pages)}
        for one in fonts_across(pages)
    ]


def _inks(pages: Sequence[Page], answer: _Answer) -> list[dict[str, Any]]:
    told = []
    for index, one in enumerate(inks_across(pages)):
        covered = answer.known(one.coverage_percent, f"/inks/{index}/coverage_percent")
        coverage = None if covered is None else round(covered, 1)
        told.append({"name": one.name, "kind": one.kind, "pages": list(one.pages), "coverage_percent": coverage})
    return told


def _plates(plates: PlateFacts) -> dict[str, Any]:
    inks = [{"name": one.ink, "coverage_percent": round(one.percent, 1), "empty": one.empty} for one in plates.inks]
    return {"ppi": plates.ppi, "converted": plates.converted, "blank": plates.blank, "inks": inks}
