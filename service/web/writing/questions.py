"""How each key of a sheet is asked for, and in which order: texts alone.

The form itself is made from the format's own declarations (`service.web.writing.controls`). A key that has no line here
appears by itself at the end of its block, asked by its description.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from service.language.spoken import to_say


@dataclass(frozen=True)
class Question:
    asks: str
    hint: str = ""
    usual: bool = True
    """Of a block: open from the start. Of a key: not among those that few sheets need."""


def _few(asks: str, hint: str = "") -> Question:
    return Question(asks, hint, usual=False)


IDENTITY = "identity"
"""The block of the form that holds what stands beside the blocks of a sheet."""

BLOCKS: Mapping[str, Question] = {
    "trim": Question(to_say("Size")),
    "bleed": Question(to_say("Bleed")),
    "margin": Question(to_say("Safety margin"), to_say("The strip inside the trim that text keeps out of.")),
    "pages": Question(to_say("Pages")),
    "color": Question(to_say("Colour and ink")),
    "images": Question(to_say("Pictures")),
    "text": _few(to_say("Type")),
    "lines": _few(to_say("Lines")),
    "fonts": _few(to_say("Fonts")),
    "marks": _few(to_say("Crop marks")),
    "keep_clear": _few(to_say("Areas that stay clear"), to_say("Such as an address field, a perforation or a hole.")),
    "folds": _few(to_say("Folds")),
    "folding": _few(to_say("Way of folding")),
    "spine": _few(to_say("Cover with a spine")),
    "finishes": _few(to_say("Finishing"), to_say("Foil, varnish, cut lines: inks that stand for something else than colour.")),
    "transparency": _few(to_say("Transparency")),
    "file": _few(to_say("The file")),
    "papers": _few(to_say("Papers"), to_say("Only where papers differ in what they ask; the order says which it is.")),
    "references": _few(to_say("Sources"), to_say("Where your numbers come from.")),
    "levels": _few(to_say("How strictly, check by check")),
    IDENTITY: Question(to_say("Name of the sheet"), to_say("Needed to keep the sheet, not to try it.")),
}

KEYS: Mapping[str, Question] = {
    "title": Question(to_say("Name of the product"), to_say("As customers read it, such as: Business card, 85 × 55 mm.")),
    "product": Question(to_say("Kind of product")),
    "id": _few(to_say("Short name for addresses"), to_say("Lowercase words and dashes; left empty, it is made of the name.")),
    "regions": _few(to_say("Countries"), to_say("As two letters, such as GB, DE. Left empty: everywhere.")),
    "purpose": _few(to_say("What the file is for")),
    "summary": _few(to_say("The product in a sentence")),
    "names": _few(to_say("Other names that people look for"), to_say("One a line.")),
    "aliases": _few(to_say("Other short names"), to_say("One a line.")),
    "note": _few(to_say("A note on the whole sheet")),
    "trim.width": Question(to_say("Width"), to_say("Without bleed. Write mm, in or pt; a number alone is mm.")),
    "trim.height": Question(to_say("Height")),
    "trim.orientation": Question(to_say("Upright or sideways")),
    "trim.tolerance": _few(to_say("How far the size may differ")),
    "trim.alternatives": _few(to_say("Other sizes that you take")),
    "trim.alternatives.width": Question(to_say("Width")),
    "trim.alternatives.height": Question(to_say("Height")),
    "trim.alternatives.folds": _few(to_say("Where it folds, if elsewhere"), to_say("One a line, in the order of the folds.")),
    "trim.parts": _few(to_say("Pages of a size of their own, such as the cover")),
    "trim.parts.name": Question(to_say("What they are"), to_say("Such as: cover.")),
    "trim.parts.first": Question(to_say("How many at the beginning of the file")),
    "trim.parts.last": Question(to_say("How many at its end")),
    "trim.parts.width": Question(to_say("Width")),
    "trim.parts.height": Question(to_say("Height")),
    "trim.scales": _few(to_say("Scales at which it may be drawn"), to_say("10 for 1 : 10; several with commas.")),
    "trim.corner_radius": _few(to_say("Radius of rounded corners")),
    "bleed.minimum": Question(to_say("At least, on each side")),
    "bleed.preferred": Question(to_say("Better"), to_say("Less than this is told as a remark.")),
    "bleed.maximum": _few(to_say("At most")),
    "margin.minimum": Question(to_say("At least, on each side")),
    "margin.preferred": Question(to_say("Better"), to_say("Less than this is told as a remark.")),
    "margin.live_area": _few(to_say("Area for text, in the middle of the page"), to_say("Instead of the depths.")),
    "margin.live_area.width": Question(to_say("Width")),
    "margin.live_area.height": Question(to_say("Height")),
    "margin.frames": _few(to_say("A line drawn around the page")),
    "margin.frame_minimum": _few(to_say("How far inside the trim such a line stands")),
    "margin.frame_width": _few(to_say("How thick such a line is, at least")),
    "margin.by_pages": _few(to_say("Margins of files of many pages")),
    "margin.by_pages.from": Question(to_say("From so many pages on")),
    "margin.by_pages.minimum": Question(to_say("At least, on each side")),
    "*.binding": _few(to_say("Where the pages are bound, if it is another")),
    "*.outer": _few(to_say("At the outer edge, if it is another")),
    "*.head": _few(to_say("At the top, if it is another")),
    "*.foot": _few(to_say("At the foot, if it is another")),
    "pages.allowed": Question(to_say("How many pages"), to_say("The counts that you take, such as: 1, 2. Or give a range.")),
    "pages.minimum": Question(to_say("Fewest pages")),
    "pages.maximum": Question(to_say("Most pages")),
    "pages.multiple_of": Question(to_say("A multiple of"), to_say("4 for a stapled booklet.")),
    "pages.arrangement": Question(to_say("How pages stand in the file")),
    "pages.rotation": _few(to_say("Pages that are turned for display")),
    "pages.boxes": _few(to_say("Boxes that every page must have")),
    "color.allowed": Question(to_say("Colours that you take")),
    "color.ink_limit": Question(to_say("Most ink in one place"), to_say("All inks together, such as: 300 %.")),
    "color.spots": Question(to_say("Spot inks")),
    "color.spots.maximum": Question(to_say("How many at most"), to_say("0: none.")),
    "color.spots.allowed": _few(to_say("Only these"), to_say("One name a line.")),
    "color.ink_preferred": _few(to_say("Ink that prints well"), to_say("More than this is told as a remark.")),
    "color.ink_minimum": _few(to_say("Least ink of a colour"), to_say("All inks together, such as: 10 %.")),
    "color.tint": _few(to_say("Tints of one ink")),
    "color.tint.minimum": Question(to_say("At least")),
    "color.tint.maximum": Question(to_say("At most")),
    "color.rich_black": _few(to_say("Black of several inks"), to_say("The most ink in it, and the mixture that you ask for.")),
    "color.rich_black.ink_limit": Question(to_say("Most ink in one place")),
    "color.rich_black.cyan": Question(to_say("Cyan")),
    "color.rich_black.magenta": Question(to_say("Magenta")),
    "color.rich_black.yellow": Question(to_say("Yellow")),
    "color.rich_black.black": Question(to_say("Black")),
    "color.ink_area": _few(to_say("Area that may be over the limit"), to_say("In mm².")),
    "color.rgb_level": _few(to_say("RGB where it is not taken")),
    "color.icc_profiles": _few(to_say("Colours with an ICC profile of their own")),
    "images.contone_ppi": Question(to_say("Photographs, pixels per inch")),
    "images.bilevel_ppi": Question(to_say("Black and white scans, pixels per inch")),
    "images.*.minimum": Question(to_say("At least")),
    "images.*.preferred": Question(to_say("Better"), to_say("Less than this is told as a remark.")),
    "images.*.maximum": _few(to_say("More is of no use")),
    "images.jpeg": _few(to_say("Pictures stored as JPEG")),
    "text.minimum_size": Question(to_say("Smallest type"), to_say("In points, such as: 5 pt.")),
    "text.reversed_minimum_size": Question(to_say("Smallest type, reversed out or in several inks")),
    "text.rich_black_minimum_size": Question(to_say("Smallest type in black of several inks")),
    "text.black_alone": Question(to_say("Black text in black ink alone")),
    "lines.minimum_width": Question(to_say("Thinnest line"), to_say("In points, such as: 0.25 pt.")),
    "lines.reversed_minimum_width": Question(to_say("Thinnest line, reversed out, tinted or in several inks")),
    "fonts.embedded": Question(to_say("Fonts in the file")),
    "fonts.outlines": Question(to_say("Text turned to outlines")),
    "fonts.formats": _few(to_say("The only kinds of fonts that you take")),
    "marks.crop_marks": Question(to_say("Crop marks")),
    "marks.offset_minimum": Question(to_say("Least distance from the trim")),
    "keep_clear.name": Question(to_say("What it is for")),
    "keep_clear.box": Question(to_say("Where it lies"), to_say("Measured from the top left corner of the trimmed page.")),
    "keep_clear.corner": _few(to_say("Measured from another corner")),
    "keep_clear.free_of": Question(to_say("What stays out of it")),
    "keep_clear.pages": Question(to_say("On which pages"), to_say("Left empty: on all. Several with commas.")),
    "folds.at": Question(to_say("How far from the left edge, or from the top")),
    "folds.axis": Question(to_say("Which way it runs")),
    "folding.type": Question(to_say("How it is folded")),
    "folding.single_pages": _few(to_say("Each panel as a page of its own"), to_say("For an upright half fold.")),
    "spine.page_width": Question(to_say("Width of the front cover")),
    "spine.page_height": Question(to_say("Height of the cover")),
    "spine.caliper": Question(to_say("Thickness of one leaf of the inner paper"), to_say("Left empty, each order says it.")),
    "spine.inner_pages": Question(to_say("Inner pages"), to_say("Left empty, each order says it.")),
    "spine.cover_caliper": _few(to_say("Thickness of the cover's paper")),
    "spine.text_free": _few(to_say("How far text keeps from the folds of the spine")),
    "spine.tolerance": _few(to_say("How far the spine may differ")),
    "finishes.ink": Question(to_say("Name of its spot ink")),
    "finishes.kind": Question(to_say("What it is")),
    "finishes.required": Question(to_say("It must be there")),
    "finishes.must_overprint": Question(to_say("It must overprint")),
    "finishes.overprint_level": _few(to_say("How strictly, if it knocks out")),
    "finishes.artwork": Question(to_say("Pictures on its plate")),
    "finishes.also": _few(to_say("Other names that its ink may have"), to_say("One a line.")),
    "transparency.live": Question(to_say("Transparency that is not flattened")),
    "file.maximum_size": Question(to_say("Largest file"), to_say("Such as: 100 MB.")),
    "file.standards": Question(to_say("PDF/X standards that you take"), to_say("One of them is enough.")),
    "file.standards_level": _few(to_say("How strictly a standard is asked for")),
    "file.pdf_versions": _few(to_say("PDF versions")),
    "file.pdf_versions.minimum": Question(to_say("Oldest")),
    "file.pdf_versions.maximum": Question(to_say("Newest")),
    "file.encryption": Question(to_say("Encrypted files")),
    "file.output_conditions": _few(to_say("Printing conditions that you take"), to_say("One a line.")),
    "file.linearized": _few(to_say("Arranged for fast viewing")),
    "file.layers": _few(to_say("Layers")),
    "file.separations": _few(to_say("Pages parted into inks beforehand")),
    "file.screening": _few(to_say("Halftones and transfer functions of its own")),
    "papers.name": Question(to_say("The paper, as an order names it")),
    "papers.ink_limit": Question(to_say("Most ink in one place")),
    "papers.maximum_pages": Question(to_say("Most pages")),
    "references.name": Question(to_say("The standard, publication or practice")),
    "references.about": Question(to_say("What rests on it")),
    "*.level": _few(to_say("How strictly"), to_say("Left open, each check has its usual strictness.")),
    "*.note": _few(to_say("In your own words"), to_say("It stands with every finding on this.")),
}
"""By the key's place in the sheet, without the numbers of lists; `*` stands for any block."""

COUNTED_BY_US = frozenset({"revision"})
"""Keys that nobody answers."""


def question_of(place: str) -> Question | None:
    """'keep_clear.box' → how it is asked for; None where nobody has written that down."""
    block, _, key = place.rpartition(".")
    outer = place.split(".", 1)[0]
    return KEYS.get(place) or (KEYS.get(f"{outer}.*.{key}") or KEYS.get(f"*.{key}") if block else None)


def order_of(place: str) -> int:
    """Where it stands among the keys of its block; what is not known comes last."""
    question = question_of(place)
    return next((at for at, one in enumerate(KEYS.values()) if one is question), len(KEYS))
