"""What a sheet asks, in a few words a line, with the notes that the printer wrote beside it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from service.language.spoken import say, to_say, translated
from service.language.wording import (
    asked_length,
    clauses,
    listed,
    listed_or,
    millimetres,
    number,
    pages_named,
    points,
    ppi,
    quoted,
)
from service.pdf.facts.box_names import BOX_NAMES
from service.proofs.report.comparisons import stored_size
from service.proofs.report.records import Fact, SheetPart
from service.proofs.report.sheet_colors import color_told
from service.proofs.report.sheet_edges import by_edge, margin_told, trim_told
from service.sheets.model import (
    Block,
    FileAsked,
    Fold,
    FontsAsked,
    MarksAsked,
    PagesAsked,
    Resolution,
    SpecSheet,
    TextAsked,
)
from service.sheets.variants import variants

_CROP_MARKS = {
    "required": to_say("crop marks at every corner"),
    "allowed": to_say("with or without crop marks"),
    "forbidden": to_say("no crop marks"),
}
_LIVE_TRANSPARENCY = {
    "required": to_say("live, not flattened"),
    "allowed": to_say("live or flattened"),
    "forbidden": to_say("flattened"),
}
_ARRANGEMENTS = {"single-pages": to_say("each page on its own"), "reader-spreads": to_say("as reader spreads")}
_FOLDINGS = {
    "half": to_say("half fold"),
    "zigzag": to_say("zigzag (concertina) fold"),
    "roll": to_say("roll fold (letter fold)"),
    "gate": to_say("gate fold"),
}
FINISH_KINDS = {
    "cut": to_say("cutting line"),
    "kiss-cut": to_say("cutting line of several pieces"),
    "crease": to_say("crease"),
    "perforation": to_say("perforation"),
    "hole": to_say("holes"),
    "numbering": to_say("numbering"),
    "white": to_say("white printed below"),
    "foil": to_say("foil"),
    "varnish": to_say("varnish"),
    "embossing": to_say("embossing"),
}
_KINDS_OF_SOURCE = (
    to_say("common practice, no source"), to_say("from memory"), to_say("arithmetic"), to_say("printers' published instructions"),
)
"""How sheets begin to say where a number comes from that stands in no standard."""
_MOST_AREAS = 6


def sheet_part(sheet: SpecSheet) -> SheetPart:
    return SheetPart(
        title=say("What the sheet asks"),
        name=sheet_titled(sheet),
        summary=translated(sheet.summary) or None,
        note=translated(sheet.note) or None,
        asks=tuple(_asks(sheet)),
        references_title=say("Where its numbers come from"),
        references=tuple(
            say("{about}: {source}", about=translated(one.about), source=source_told(one.name)) for one in sheet.references
        ),
    )


def source_told(name: str) -> str:
    """In the reader's language; of a source of one's own sheet, what kind it is, and what it says in particular as it stands."""
    whole = translated(name)
    if whole != name:
        return whole
    kind = next((one for one in _KINDS_OF_SOURCE if name.startswith(one)), "")
    return say(kind) + name.removeprefix(kind)


def sheet_titled(sheet: SpecSheet) -> str:
    """'Business card, 85 × 55 mm (business-card-85x55, revision 1)'."""
    title = translated(sheet.title) or say("A sheet that came with the file")
    if sheet.id and sheet.revision:
        return say("{title} ({id}, revision {revision})", title=title, id=sheet.id, revision=sheet.revision)
    return say("{title} ({id})", title=title, id=sheet.id) if sheet.id else title


def _asks(sheet: SpecSheet) -> Iterator[Fact]:
    if sheet.trim:
        yield _asked(say("Trimmed size"), trim_told(sheet.trim), sheet.trim)
    if sheet.bleed:
        depths = [say("at least {amount}", amount=asked_length(sheet.bleed.minimum_mm))]
        if sheet.bleed.preferred_mm is not None:
            depths.append(say("preferably {amount}", amount=asked_length(sheet.bleed.preferred_mm)))
        if sheet.bleed.maximum_mm is not None:
            depths.append(say("at most {amount}", amount=asked_length(sheet.bleed.maximum_mm)))
        yield _asked(say("Bleed"), [*depths, *by_edge(sheet.bleed)], sheet.bleed)
    if sheet.margin:
        yield _asked(say("Safety margin"), margin_told(sheet.margin), sheet.margin)
    if sheet.pages:
        yield _asked(say("Pages"), pages_asked(sheet.pages), sheet.pages)
    if sheet.marks:
        free = [say(_CROP_MARKS["allowed"])] if sheet.marks.crop_marks == "allowed" else []
        yield _asked(say("Printer's marks"), _marks(sheet.marks), sheet.marks, free)
    if sheet.color:
        yield _asked(say("Colour"), color_told(sheet.color), sheet.color)
    if sheet.images:
        fine, line_art = _resolution(sheet.images.contone), _resolution(sheet.images.bilevel)
        bits = say("1-bit line art {resolution}", resolution=line_art) if line_art else ""
        bits = _wished(bits, sheet, "image.resolution-bilevel")
        stored = say("not as JPEG") if sheet.images.jpeg == "forbidden" else ""
        yield _asked(say("Pictures"), [one for one in (fine, bits, stored) if one], sheet.images)
    if sheet.text:
        yield _asked(say("Text"), _text(sheet.text), sheet.text)
    if sheet.lines:
        widths = (
            (sheet.lines.minimum_width_pt, to_say("at least {width}")),
            (sheet.lines.reversed_minimum_width_pt, to_say("reversed out, tinted or in several inks at least {width}")),
        )
        yield _asked(say("Lines"), [say(words, width=points(one)) for one, words in widths if one is not None], sheet.lines)
    if sheet.fonts and _fonts(sheet.fonts):
        yield _asked(say("Fonts"), _fonts(sheet.fonts), sheet.fonts)
    if sheet.transparency:
        yield _asked(say("Transparency"), [say(_LIVE_TRANSPARENCY[sheet.transparency.live])], sheet.transparency)
    if sheet.file:
        yield _asked(say("File"), _file(sheet.file, sheet), sheet.file)
    yield from _places(sheet)


def _asked(name: str, said: list[str], block: Block, free: Sequence[str] = ()) -> Fact:
    """`free`: what is left to the designer, which is no wish either."""
    words = clauses(said)
    if block.level == "should" and said:
        words = say("a wish, no must: {asked}", asked=words)
    return Fact(name, clauses([*free, words] if said else free), translated(block.note) or None)


def _wished(said: str, sheet: SpecSheet, check: str) -> str:
    """What a single check of a block asks, where the sheet makes that check alone a wish."""
    return say("{asked} (a wish, no must)", asked=said) if said and sheet.levels.get(check) == "should" else said


def pages_asked(pages: PagesAsked) -> list[str]:
    said = []
    if pages.allowed:
        said.append(listed_or(str(one) for one in pages.allowed))
    if pages.minimum is not None:
        said.append(say("at least {amount}", amount=pages.minimum))
    if pages.maximum is not None:
        said.append(say("at most {amount}", amount=pages.maximum))
    if pages.multiple_of is not None:
        said.append(say("a multiple of {amount}", amount=pages.multiple_of))
    if pages.arrangement in _ARRANGEMENTS:
        said.append(say(_ARRANGEMENTS[pages.arrangement]))
    if pages.rotation == "forbidden":
        said.append(say("not turned for display"))
    if pages.boxes:
        said.append(say("each with {boxes}", boxes=listed(BOX_NAMES[one] for one in pages.boxes)))
    return said or [say("each on its own or as reader spreads")]


def _marks(marks: MarksAsked) -> list[str]:
    said = [say(_CROP_MARKS[marks.crop_marks])] if marks.crop_marks in ("required", "forbidden") else []
    if marks.offset_minimum_mm is not None:
        said.append(say("at least {amount} from the trim", amount=asked_length(marks.offset_minimum_mm)))
    return said


def _resolution(asked: Resolution | None) -> str:
    if asked is None:
        return ""
    limits = (
        (asked.minimum_ppi, to_say("at least {amount}")),
        (asked.preferred_ppi, to_say("preferably {amount}")),
        (asked.maximum_ppi, to_say("at most {amount}")),
    )
    return ", ".join(say(words, amount=ppi(one)) for one, words in limits if one is not None)


def _text(text: TextAsked) -> list[str]:
    sizes = (
        (text.minimum_size_pt, to_say("at least {size}")),
        (text.reversed_minimum_size_pt, to_say("reversed out or in several inks at least {size}")),
        (text.rich_black_minimum_size_pt, to_say("in rich black at least {size}")),
    )
    alone = [say("black text in black alone")] if text.black_alone else []
    return [*(say(words, size=points(one)) for one, words in sizes if one is not None), *alone]


def _fonts(fonts: FontsAsked) -> list[str]:
    said = [say("all in the file")] if fonts.embedded == "required" and fonts.outlines != "required" else []
    said += [say("all text turned to outlines")] if fonts.outlines == "required" else []
    kinds = {"type-1": say("Type 1"), "truetype": say("TrueType"), "type-3": say("Type 3")}
    return said + ([listed_or(kinds[one] for one in fonts.formats)] if fonts.formats else [])


def _file(file: FileAsked, sheet: SpecSheet) -> list[str]:
    said = []
    if file.maximum_size_bytes is not None:
        said.append(_wished(say("at most {amount}", amount=stored_size(file.maximum_size_bytes)), sheet, "file.size"))
    if file.minimum_version is not None:
        said.append(say("PDF {version} or later", version=file.minimum_version))
    if file.maximum_version is not None:
        said.append(say("PDF {version} or earlier", version=file.maximum_version))
    if file.standards:
        said.append(listed_or(file.standards))
    if file.encryption == "forbidden":
        said.append(say("not encrypted"))
    if file.output_conditions:
        said.append(say("made for {conditions}", conditions=listed_or(quoted(one) for one in file.output_conditions)))
    if file.linearized == "required":
        said.append(say("arranged for fast viewing"))
    forbidden = (
        (file.layers, to_say("no layers")),
        (file.separations, to_say("all inks in one page")),
        (file.screening, to_say("no halftones or transfer functions")),
    )
    said += [say(words) for asked, words in forbidden if asked == "forbidden"]
    return said


def _places(sheet: SpecSheet) -> Iterator[Fact]:
    """Areas, folds, the spine and finishes."""
    for area in variants(sheet)[0].keep_clear[:_MOST_AREAS]:
        left, top, right, bottom = (number(one) for one in area.box_mm)
        where = say(
            "{left} to {right} mm from the left, {top} to {bottom} mm from the top",
            left=left, right=right, top=top, bottom=bottom,
        )
        said = [where, *([say("only on {pages}", pages=pages_named(area.pages))] if area.pages else [])]
        said += [say("pictures and colour may stand there")] if area.free_of == "text" else []
        yield _asked(say("Stays clear: {area}", area=quoted(translated(area.name))), said, area)
    for fold in sheet.folds:
        yield _asked(say("Fold"), [_fold(fold)], fold)
    if sheet.folding:
        said = [say(_FOLDINGS[sheet.folding.type])]
        said += [say("or each panel as a page of its own")] if sheet.folding.single_pages == "allowed" else []
        yield _asked(say("Way of folding"), said, sheet.folding)
    if sheet.spine:
        width = millimetres(sheet.spine.page_width_mm)
        said = [say("back, spine and front in one, each page {width} wide", width=width)]
        if sheet.spine.page_height_mm is not None:
            said.append(say("{height} high", height=asked_length(sheet.spine.page_height_mm)))
        yield _asked(say("Cover"), said, sheet.spine)
    for finish in sheet.finishes:
        must = say("must be there") if finish.required else say("where it is there, as the sheet says")
        kind = [say(FINISH_KINDS[finish.kind])] if finish.kind else []
        names = [say("or under the name {names}", names=listed_or(map(quoted, finish.also)))] if finish.also else []
        yield _asked(say("Finish {ink}", ink=quoted(finish.ink)), [*kind, must, *names], finish)


def _fold(fold: Fold) -> str:
    at = millimetres(fold.at_mm)
    if fold.axis == "vertical":
        return say("from top to bottom, {at} from the left edge", at=at)
    return say("from side to side, {at} from the top edge", at=at)
