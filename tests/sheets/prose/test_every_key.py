"""Every key of the format: read from published texts, or not, and then why. A key that is new has to choose."""

from __future__ import annotations

from typing import Any

import pytest

from service.sheets.prose.ours.places import kinds
from tests.sheets.prose.grammar import read_prose

CARD = "Trim size 210 × 297 mm. Bleed 3 mm. Safety margin 5 mm. "
"""What other keys stand beside."""

SAYS = {
    "trim.width": "Trim size 85 × 55 mm",
    "trim.height": "Trim size 85 × 55 mm",
    "trim.orientation": "Trim size A5 landscape",
    "trim.scales": CARD + "Artwork at a scale of 1:10.",
    "trim.corner_radius": CARD + "Rounded corners: radius 3 mm",
    "bleed.minimum": "Bleed 3 mm",
    "bleed.maximum": "Bleed min. 3 mm, max. 5 mm",
    **{
        f"bleed.{edge}": f"Bleed 3 mm, at the {words} 5 mm"
        for edge, words in (("head", "head"), ("foot", "foot"), ("outer", "fore-edge"))
    },
    "bleed.binding": "Bleed 3 mm, no bleed at the binding edge",
    "bleed.preferred": "Bleed at least 3 mm, 5 mm recommended",
    "bleed.level": "A bleed of 3 mm is recommended.",
    "margin.minimum": "Safety margin 5 mm",
    "margin.preferred": "Safety margin at least 3 mm, 5 mm recommended",
    **{
        f"margin.{edge}": f"Safety margin 5 mm, at the {words} 12 mm"
        for edge, words in (("head", "head"), ("foot", "foot"), ("outer", "fore-edge"))
    },
    "margin.binding": "Safety margin 5 mm, gutter 12 mm",
    "margin.by_pages.from": "Margin 5 mm. Gutter margin 10 mm, from 151 pages 13 mm.",
    "margin.by_pages.minimum": "Safety margin 5 mm. Safety margin from 151 pages on: 8 mm.",
    "margin.by_pages.binding": "Margin 5 mm. Gutter margin 10 mm, from 151 pages 13 mm.",
    "margin.by_pages.outer": "Margin 5 mm. Margin at the fore-edge from 151 pages: 8 mm.",
    "margin.by_pages.head": "Margin 5 mm. Margin at the head from 151 pages: 8 mm.",
    "margin.by_pages.foot": "Margin 5 mm. Margin at the foot from 151 pages: 8 mm.",
    "margin.frames": CARD + "No borders around the page.",
    "margin.frame_minimum": CARD + "Borders must stand at least 6 mm inside the trim.",
    "margin.frame_width": CARD + "Borders must be at least 4 mm thick.",
    "margin.level": "We recommend a safety margin of 5 mm.",
    "marks.crop_marks": "No crop marks",
    "marks.offset_minimum": "Crop marks with an offset of 3 mm",
    "color.allowed": "CMYK only",
    "color.rgb_level": "CMYK preferred",
    "color.spots.maximum": "Up to two spot colours",
    "color.ink_limit": "Total ink at most 300 %",
    "color.ink_preferred": "Total ink at most 320 %, recommended total ink 300 %",
    "color.tint.minimum": "Tints between 5 % and 95 %",
    "color.tint.maximum": "Tints between 5 % and 95 %",
    "color.rich_black.ink_limit": "Rich black must not exceed 280 % in total.",
    **{f"color.rich_black.{ink}": "Rich black: C60 M40 Y40 K100" for ink in ("cyan", "magenta", "yellow", "black")},
    "color.icc_profiles": "No embedded ICC profiles",
    **{
        f"images.contone_ppi.{bound}": "Photos: at least 200 ppi, ideally 300 ppi, at most 450 ppi"
        for bound in ("minimum", "preferred", "maximum")
    },
    **{
        f"images.bilevel_ppi.{bound}": "Line art: at least 800 ppi, ideally 1200 ppi, at most 2400 ppi"
        for bound in ("minimum", "preferred", "maximum")
    },
    "images.jpeg": "No JPEG compression",
    "text.minimum_size": "Type at least 6 pt",
    "text.reversed_minimum_size": "Reversed type at least 8 pt",
    "text.rich_black_minimum_size": "Text under 12 pt in 100 % black only",
    "text.black_alone": "Black text in 100 % K only",
    "text.level": "We recommend type of at least 6 pt.",
    "lines.minimum_width": "Lines at least 0.25 pt",
    "lines.reversed_minimum_width": "Reversed lines at least 0.5 pt",
    "lines.level": "We recommend lines of at least 0.25 pt.",
    "fonts.embedded": "All fonts must be embedded.",
    "fonts.outlines": "All fonts must be converted to outlines.",
    "fonts.formats": "No Type 3 fonts",
    "transparency.live": "No transparency",
    "file.maximum_size": "Maximum file size 100 MB",
    "file.pdf_versions.minimum": "PDF 1.4 or higher",
    "file.pdf_versions.maximum": "PDF 1.6 or lower",
    "file.standards": "PDF/X-4",
    "file.standards_level": "PDF/X-4 preferred",
    "file.encryption": "No passwords",
    "file.output_conditions": "Output intent: FOGRA51",
    "file.linearized": "Switch off fast web view.",
    "file.layers": "No layers",
    "file.separations": "No pre-separated files",
    "file.screening": "No halftone screens or transfer curves in the file",
    "pages.allowed": "One or two pages",
    "pages.minimum": "8 to 64 pages",
    "pages.maximum": "8 to 64 pages",
    "pages.multiple_of": "Pages in multiples of 4",
    "pages.arrangement": "Single pages, no spreads",
    "pages.rotation": "No rotated pages",
    "pages.boxes": "The TrimBox must be defined.",
    "finishes.ink": CARD + "Creases: spot colour 'Fold'",
    "finishes.kind": CARD + "Creases: spot colour 'Fold'",
    "finishes.also": CARD + "Name the die-cut spot colour 'Cut' or 'Die'.",
    "finishes.must_overprint": CARD + "Die line: spot colour 'Cut', set to overprint",
    "finishes.artwork": CARD + "Die line: a vector path in a spot colour 'Cut'",
    "finishes.required": CARD + "The die line, a spot colour 'Cut', has to be in every file.",
    "papers.name": CARD + "Total ink: 300 % on coated, 260 % on uncoated paper",
    "papers.ink_limit": CARD + "Total ink: 300 % on coated, 260 % on uncoated paper",
    "papers.maximum_pages": CARD + "At most 64 pages on 135 gsm",
}
"""A sentence that says it."""

_PEOPLE = "who takes the draft over says what the sheet is called and for whom"
_WHOLE = "a wish lowers a whole block only where the block holds one demand; elsewhere it is asked about"
_SENTENCES = "sentences that no key takes come back as `not_understood`, word for word and with their places"
_PLACES = "where it lies, words say too loosely: the printer's empty document says it (`service.sheets.templates`)"
_SPINE = "spines are worked out from the order; a text that gives one names a job"
_OTHERS = "several sizes in a text are mostly several products: they are asked about, and each product has its draft"
NOT_READ = {
    **dict.fromkeys(
        ("title", "product", "regions", "purpose", "summary", "names", "references.name", "references.about"), _PEOPLE
    ),
    "note": _SENTENCES,
    **{f"{block}.note": _SENTENCES for block in ("file", "pages", "trim", "bleed", "margin", "marks", "color", "images", "text")},
    **{
        f"{block}.note": _SENTENCES
        for block in ("lines", "fonts", "transparency", "keep_clear", "folds", "folding", "spine", "finishes")
    },
    **{
        f"{block}.level": _WHOLE
        for block in ("file", "pages", "trim", "marks", "color", "images", "fonts", "transparency", "finishes")
    },
    **{f"{block}.level": _PLACES for block in ("keep_clear", "folds", "folding")},
    "spine.level": _SPINE,
    "trim.tolerance": "what texts call tolerance is that of the cutter, and no leave to the file",
    **dict.fromkeys(("trim.alternatives.width", "trim.alternatives.height", "trim.alternatives.folds"), _OTHERS),
    **dict.fromkeys(("trim.parts.name", "trim.parts.first", "trim.parts.last", "trim.parts.width", "trim.parts.height"), _OTHERS),
    **dict.fromkeys(
        ("margin.live_area.width", "margin.live_area.height"), "an even one gives the margin, an uneven one is asked about"
    ),
    "finishes.overprint_level": "texts that name a finish's ink ask for overprint or do not; a mere wish stays a sentence",
    "color.spots.allowed": "texts name ranges of inks, not the inks of a job",
    "color.ink_area": "no text says how much of a page may be over the limit",
    "color.ink_minimum": "texts speak of tints, not of the sum of a pale colour",
    **dict.fromkeys(
        ("keep_clear.name", "keep_clear.box", "keep_clear.pages", "keep_clear.corner", "keep_clear.free_of"), _PLACES
    ),
    **dict.fromkeys(("folds.at", "folds.axis", "folding.type"), _PLACES),
    "folding.single_pages": "'single pages' of a text are those of booklets as well: `pages.arrangement` reads them",
    **dict.fromkeys(
        ("spine.page_width", "spine.page_height", "spine.caliper", "spine.cover_caliper", "spine.inner_pages"), _SPINE
    ),
    **dict.fromkeys(("spine.text_free", "spine.tolerance"), _SPINE),
}
"""Why."""


def paths_of(document: Any, above: str = "") -> set[str]:
    """Without the numbers of lists."""
    if isinstance(document, dict):
        return {one for key, inner in document.items() for one in paths_of(inner, f"{above}.{key}" if above else key)}
    if isinstance(document, list) and document and isinstance(document[0], dict):
        return {one for inner in document for one in paths_of(inner, above)}
    return {above}


def test_every_key_is_read_or_says_why_it_is_not() -> None:
    known = {".".join(path) for path in kinds()}
    assert known - {*SAYS, *NOT_READ} == set(), "a key that is new: teach the reader a sentence, or say why it reads none"
    assert {*SAYS, *NOT_READ} - known == set(), "no key any more"
    assert not SAYS.keys() & NOT_READ.keys()
    assert all(NOT_READ.values())


@pytest.mark.parametrize("key", SAYS)
def test_a_key_that_is_read_has_a_sentence_that_says_it(key: str) -> None:
    assert key in paths_of(read_prose(SAYS[key]).draft)
