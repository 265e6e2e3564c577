"""A page as its boxes alone tell of it; whoever measures more fills in the rest."""

from __future__ import annotations

from service.pdf.facts.geometry import Box, Matrix
from service.pdf.facts.page import Page, TrimSource
from service.pdf.facts.unknown import Unmeasured
from service.pdf.pages.page_boxes import DeclaredPage, boxes_declared, boxes_in_force, ruler
from service.pdf.pages.trim_finding import bleed_around


def boxed_page(declared: DeclaredPage, number: int, trim_pt: Box, source: TrimSource, rest: Unmeasured) -> tuple[Page, Matrix]:
    """The page with `rest` for all that its boxes do not say, and its ruler: default user space (pt) to mm."""
    to_mm = ruler(trim_pt, declared.rotation, declared.user_unit)
    boxes = boxes_in_force(declared, trim_pt, to_mm)
    bleed_declared = declared.in_force_pt("bleed") is not None
    page = Page(
        number=number,
        rotation=declared.rotation,
        user_unit=declared.user_unit,
        declared_boxes=boxes_declared(declared, to_mm),
        boxes_mm=boxes,
        trim_source=source,
        bleed_declared=bleed_declared,
        bleed_mm=bleed_around(boxes, bleed_declared=bleed_declared),
        content=rest,
        bleed_reach_mm=rest,
        ink_max_percent=rest,
        annotations=rest,
        crop_marks_mm=rest,
        plates=rest,
    )
    return page, to_mm
