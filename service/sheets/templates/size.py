"""Where the product is trimmed: by the page's boxes, by its crop marks, or by a rectangle that is named as the cut."""

from __future__ import annotations

from service.language.spoken import say, to_say
from service.language.wording import labelled, quoted, set_apart
from service.pdf.facts.guides import GuidedPage
from service.pdf.facts.page import TrimSource
from service.sheets.templates.outlines import Named, Outlines, same
from service.sheets.templates.told import SAME_SIZE_MM, Asked, rectangle_said, size_said

DECLARED: dict[TrimSource, str] = {
    "trim_box": to_say("the TrimBox of page {page}"),
    "art_box": to_say("the ArtBox of page {page}"),
    "crop_marks": to_say("the crop marks of page {page}"),
}
"""Where a size is said; the other sources only suggest one."""


def trimmed(page: GuidedPage, outlines: Outlines, questions: list[Asked]) -> Named | None:
    """With the words for where it comes from."""
    says = DECLARED.get(page.trim_source)
    declared = Named(page.trim_mm, say(says, page=page.number)) if says else None
    drawn = [Named(one.box_mm, rectangle_said(one)) for one in outlines.rectangles.get("trim", ())]
    if len(drawn) > 1 and declared is None:
        sizes = set_apart(size_said(one.box_mm) for one in drawn)
        questions.append(Asked("trim", say("Several rectangles are named as the cut: which one is the trimmed size?"), sizes))
        return None
    if declared and drawn and not any(same(declared.box_mm, one.box_mm, SAME_SIZE_MM) for one in drawn):
        seen = set_apart(labelled(one.name, size_said(one.box_mm)) for one in (declared, drawn[0]))
        questions.append(Asked("trim", say("The page and its guides say different sizes: which one is trimmed?"), seen))
        return None
    if declared or drawn:
        return declared or drawn[0]
    for one in outlines.others.get("trim", ()):
        seen = say("a shape {size} named {name}", size=size_said(one.box_mm), name=quoted(one.name))
        questions.append(Asked("trim", say("The cut is no rectangle: what size does the product have?"), seen))
        return None
    seen = say("the page without more: {size}", size=size_said(page.media_mm))
    questions.append(Asked("trim", say("Nothing says where the page is trimmed: what size does the product have?"), seen))
    return None
