"""A right PDF/X file by hand, of each edition; a test breaks one thing of it."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from service.pdf.facts.document import Feature, Identification, MetadataStream, OutputIntent, Profile
from service.pdf.facts.geometry import Box
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.page import Annotation, DeclaredBox, Page
from service.pdf.facts.painted.colors import ColorUse
from service.sheets.model import FileAsked, SpecSheet
from tests.facts import fact
from tests.rules.measured import content, document, judged, page

INFO_VERSIONS = {
    "PDF/X-1a:2001": "PDF/X-1:2001", "PDF/X-1a:2003": "PDF/X-1a:2003",
    "PDF/X-3:2002": "PDF/X-3:2002", "PDF/X-3:2003": "PDF/X-3:2003",
}
"""The conformance of PDF/X-1a:2001 stands in a key of its own: its version says only PDF/X-1."""

EDITIONS = (*INFO_VERSIONS, "PDF/X-4", "PDF/X-4p")
VERSIONS = {"PDF/X-1a:2001": "1.3", "PDF/X-3:2002": "1.3", "PDF/X-1a:2003": "1.4", "PDF/X-3:2003": "1.4",
            "PDF/X-4": "1.6", "PDF/X-4p": "1.6"}

XMP = fact(
    MetadataStream,
    damage=None, filtered=False, title="Card", create_date="2026-03-01", modify_date="2026-03-01", metadata_date="2026-03-01",
    document_id="uuid:1", version_id="1", rendition_class="default", trapped="False",
)
PRESS = fact(Profile, "12 0", None, "prtr", "CMYK", 4, 4, "2.1", "Copperbeck sheetfed, coated", "ab" * 32)
"""The profile of Copperbeck's press."""
INTENT = fact(OutputIntent, "GTS_PDFX", "FOGRA51", "Sheetfed offset, coated", "http://www.color.org", "Coated paper", "12 0")


def identification(edition: str, **changes: Any) -> Identification:
    in_info = INFO_VERSIONS.get(edition)
    right = fact(
        Identification,
        info_version=in_info,
        info_conformance="PDF/X-1a:2001" if edition == "PDF/X-1a:2001" else None,
        info_title="Card",
        info_creation_date="D:20260301",
        info_modification_date="D:20260301",
        info_trapped="False",
        has_file_id=True,
        metadata=None if in_info else replace(XMP, pdfx_version=edition),
    )
    return replace(right, **changes)


def print_file(edition: str, *pages: Page, **changes: Any) -> Measurements:
    """Keywords change the facts of the document."""
    facts: dict[str, Any] = {
        "version": VERSIONS[edition],
        "identification": identification(edition),
        "output_intents": (INTENT,),
        "profiles": (PRESS,),
    }
    return document(*(pages or (page(),)), **(facts | changes))


def asks_for(*standards: str) -> SpecSheet:
    return SpecSheet(file=FileAsked(standards=standards))


def broken(measurements: Measurements, standard: str) -> list[str]:
    """Ids of the demands that the file breaks, as the result lists them."""
    return [one["demand"] for one in breaches(measurements, standard)]


def breaches(measurements: Measurements, standard: str) -> list[dict[str, Any]]:
    """Demand, what was found and on which pages, as the result lists them."""
    _, findings = judged("file.standard", measurements, asks_for(standard))
    if not findings:
        return []
    assert len(findings) == 1
    listed = findings[0].finding.measured["broken"]
    assert isinstance(listed, list)
    return listed


# --- What a test puts into it -----------------------------------------------------------------------------------------


def feature(kind: str, detail: str, pages: tuple[int, ...]) -> Feature:
    return fact(Feature, kind, detail, pages)


def painted(*uses: ColorUse, **more: Any) -> Page:
    return page(content=replace(content(colors=uses), **more))


def boxes(**mm: Box | None) -> Page:
    right = {one.name: one.box for one in page().declared_boxes}
    declared: dict[str, Box | None] = {**right, **mm}
    return page(declared_boxes=tuple(fact(DeclaredBox, name, box) for name, box in declared.items() if box))  # type: ignore[arg-type]


def note(box: Box, subtype: str = "Text") -> Page:
    return page(annotations=(fact(Annotation, subtype, "note", box, False, True, True),))
