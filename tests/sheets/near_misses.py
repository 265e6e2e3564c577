"""Of every key of the format: a file that just keeps to it, and one that just misses it.

The sheets are written as printers write them, so that reading counts too; the measurements are by hand. Keys that say how a block
is written, such as another corner or another name, are broken by the same file where they say something else.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Any

from service.pdf.facts.document import Encryption, Feature, LayerConfiguration, Linearization, OutputIntent
from service.pdf.facts.geometry import Box, Sides
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.painted.colors import PlainColor, SpotUse, Tint, TransparencyUse
from service.pdf.facts.painted.text import TextRun
from service.pdf.facts.painted.vectors import Frame, LineUse
from service.pdf.facts.plates import Outline
from tests.facts import fact
from tests.rules.measured import color, content, crop_marks, document, font, page, picture, plates, run, shape

Sheet = str | tuple[str, str]
File = Measurements | tuple[Measurements, Measurements]


@dataclass(frozen=True)
class NearMiss:
    """`sheet` and `file`: the one that keeps to it and the one that misses it, where they are two."""

    rule: str
    sheet: Sheet
    file: File
    says: tuple[str, str] = ("met", "must")
    """The outcome, or where it is broken the level of what is told."""
    named: str | None = None
    """What stands in the finding of the miss."""
    order: dict[str, Any] = field(default_factory=dict)

    def __getitem__(self, at: int) -> tuple[str, Measurements]:
        sheet = self.sheet if isinstance(self.sheet, str) else self.sheet[at]
        return sheet, self.file if isinstance(self.file, Measurements) else self.file[at]


# --- Files ------------------------------------------------------------------------------------------------------------


def sized(*sizes: tuple[float, float]) -> Measurements:
    return document(*(page(*one) for one in sizes))


def pages(count: int, width: float = 148, height: float = 210) -> Measurements:
    return sized(*[(width, height)] * count)


def words(*box: float, **changes: Any) -> TextRun:
    place = Box(*box)
    return replace(run("Fresh at seven"), box_mm=place, ink_mm=place, **changes)


def saying(*box: float, size: tuple[float, float] = (85, 55), count: int = 1, **changes: Any) -> Measurements:
    """On the first of so many pages."""
    text = page(*size, content=content(text=(words(*box, **changes),)))
    return document(text, *[page(*size)] * (count - 1))


def bled(top: float, right: float, bottom: float, left: float) -> Measurements:
    return document(page(148, 210, bleed=5, bleed_mm=Sides(top, right, bottom, left)))


def holding(**of_the_content: Any) -> Measurements:
    return document(page(content=replace(content(), **of_the_content)))


def pictured(ppi: float, **changes: Any) -> Measurements:
    return document(page(content=content(images=(picture(ppi, **changes),))))


def painted(family: str, kind: str = "fill", **changes: Any) -> Measurements:
    return document(page(content=content(colors=(replace(color(family, kind), **changes),))))


def spots(*inks: str) -> Measurements:
    return document(page(content=content(colors=(color("spot", "fill", inks=inks),))))


def tinted(**inks: float) -> Measurements:
    return holding(plain_colors=(PlainColor("fill", tuple(Tint(*one) for one in inks.items()), 1, (Box(10, 10, 30, 20),)),))


def inked(percent: int, area: float = 100) -> Measurements:
    """So many mm² carry as much ink, and nothing more."""
    heavy = plates(ink_area_mm2=(area,) * (percent + 1), ink_max_box_mm=Box(30, 20, 50, 40))
    return document(page(ink_max_percent=percent, plates=heavy))


def framed(inside: float, width: float = 1) -> Measurements:
    return holding(frames=(Frame(Box(inside, inside, 85 - inside, 55 - inside), width, ("Black",)),))


def ruled(width_pt: float, **changes: Any) -> Measurements:
    line = fact(LineUse, width_pt, "stroke", ("Black",), 1.0, False, False, False, 1, (Box(10, 10, 40, 10.1),))
    return holding(lines=(replace(line, **changes),))


def marked(offset: float) -> Measurements:
    lines = replace(content(), mark_lines=tuple(crop_marks(offset=offset)))
    return document(page(content=lines, crop_marks_mm=Box(0, 0, 85, 55)))


def finished(**changes: Any) -> Measurements:
    use = fact(SpotUse, "Cutting", "stroke", 1.0, 1.0, alone=True, overprints=True, count=1, boxes_mm=(Box(10, 10, 40, 40),))
    return holding(spots=(replace(use, **changes),))


def shaped(inside: float) -> Measurements:
    """Text so far inside a round cutting line."""
    round_ = plates(outline=fact(Outline, 3.0, (), (inside,)))
    return document(page(60, 60, content=content(text=(words(20, 20, 40, 24),)), plates=round_))


def of_file(**facts: Any) -> Measurements:
    return document(page(), **facts)


PLAIN = document(page())
INTENT = fact(OutputIntent, "GTS_PDFX", "FOGRA51")
RGB, CMYK = painted("rgb"), painted("cmyk")
TRANSPARENT = holding(transparency=(fact(TransparencyUse, "alpha", "0.5", 1, (Box(30, 10, 40, 20),)),))
RICH = {"inks": ("Cyan", "Magenta", "Yellow", "Black"), "black_tint": 1.0}
WHITE = {"inks": (), "white": True, "tint": 0.0, "on_ink": True}
A5 = "trim: {width: 148 mm, height: 210 mm}"
DL = "trim: {width: 297 mm, height: 210 mm}\n"
COVER = "trim: {width: 148 mm, height: 210 mm, parts: [{name: cover, %s}]}"
BOOK = "spine: {page_width: 148 mm, page_height: 210 mm, %s}"
RECIPE = "color: {rich_black: {%s: 60 %%}}"
CUT = "finishes: [{ink: Cutting, %s}]"


def edges(block: str, **depths: float) -> str:
    named = ", ".join(f"{name}: {depth} mm" for name, depth in depths.items())
    return f"{A5}\n{block}: {{minimum: 3 mm, {named}}}"


def growing(**depths: float) -> str:
    named = ", ".join(f"{name}: {depth} mm" for name, depth in depths.items())
    return f"margin: {{minimum: 3 mm, by_pages: [{{from: 8, {named}}}]}}"


def at_edge(key: str, depth: float, count: int = 1) -> Measurements:
    """Text that stands so far inside that edge of a first page, A5."""
    box = {
        "binding": (depth, 90, depth + 40, 94), "outer": (108 - depth, 90, 148 - depth, 94),
        "head": (50, depth, 90, depth + 4), "foot": (50, 206 - depth, 90, 210 - depth),
    }[key]
    return saying(*box, size=(148, 210), count=count)


# --- The table --------------------------------------------------------------------------------------------------------

OF_THE_FILE = {
    "purpose": NearMiss(
        "preview.legible", "purpose: client-preview\nfile: {layers: forbidden}", (pictured(72), pictured(70)), ("met", "should")
    ),
    "file.maximum_size": NearMiss(
        "file.size", "file: {maximum_size: 1 MB}", (of_file(size_bytes=1_000_000), of_file(size_bytes=1_000_001))
    ),
    "file.pdf_versions.minimum": NearMiss(
        "file.version", 'file: {pdf_versions: {minimum: "1.4"}}', (of_file(version="1.4"), of_file(version="1.3"))
    ),
    "file.pdf_versions.maximum": NearMiss(
        "file.version", 'file: {pdf_versions: {maximum: "1.4"}}', (of_file(version="1.4"), of_file(version="1.5"))
    ),
    "file.standards": NearMiss(
        "file.standard", ("file: {layers: forbidden}", "file: {standards: [PDF/X-4]}"), PLAIN, ("not_applicable", "must")
    ),
    "file.standards_level": NearMiss(
        "file.standard", ("file: {standards: [PDF/X-4], standards_level: should}", "file: {standards: [PDF/X-4]}"), PLAIN,
        ("should", "must"),
    ),
    "file.encryption": NearMiss(
        "file.locked",
        ("file: {encryption: allowed, layers: forbidden}", "file: {encryption: forbidden}"),
        of_file(encryption=Encryption(True, True)),
    ),
    "file.output_conditions": NearMiss(
        "file.output-intent", "file: {output_conditions: [FOGRA51]}",
        (of_file(output_intents=(INTENT,)), of_file(output_intents=(replace(INTENT, identifier="FOGRA52"),))),
    ),
    "file.linearized": NearMiss(
        "file.linearized", "file: {linearized: required}",
        (of_file(linearization=Linearization(())), of_file(linearization=None)), ("met", "should"),
    ),
    "file.layers": NearMiss(
        "file.layers", "file: {layers: forbidden}", (of_file(layers=None), of_file(layers=(LayerConfiguration(None, False, 0),)))
    ),
    "file.separations": NearMiss(
        "file.separated", "file: {separations: forbidden}",
        (
            of_file(features=(fact(Feature, "halftone", "", (1,)),)),
            of_file(features=(fact(Feature, "separated page", "", (1,)),)),
        ),
    ),
    "file.screening": NearMiss(
        "file.screening", "file: {screening: forbidden}",
        (
            of_file(features=(fact(Feature, "separated page", "", (1,)),)),
            of_file(features=(fact(Feature, "halftone", "", (1,)),)),
        ),
    ),
    "pages.allowed": NearMiss("pages.count", "pages: {allowed: [1, 2]}", (pages(2), pages(3))),
    "pages.minimum": NearMiss("pages.count", "pages: {minimum: 8}", (pages(8), pages(7))),
    "pages.maximum": NearMiss("pages.count", "pages: {maximum: 8}", (pages(8), pages(9))),
    "pages.multiple_of": NearMiss("pages.multiple", "pages: {multiple_of: 4}", (pages(8), pages(9))),
    "pages.arrangement": NearMiss(
        "pages.arrangement", f"{A5}\npages: {{minimum: 4, arrangement: single-pages}}", (pages(4), pages(4, 296))
    ),
    "pages.rotation": NearMiss("pages.rotation", "pages: {rotation: forbidden}", (PLAIN, document(page(rotation=90)))),
    "pages.boxes": NearMiss("pages.boxes", ("pages: {boxes: [trim, bleed]}", "pages: {boxes: [trim, bleed, art]}"), PLAIN),
}

OF_THE_SIZE = {
    "trim.width": NearMiss("trim.size", A5, (sized((148.5, 210)), sized((148.6, 210)))),
    "trim.height": NearMiss("trim.size", A5, (sized((148, 209.5)), sized((148, 209.4)))),
    "trim.tolerance": NearMiss(
        "trim.size", "trim: {width: 148 mm, height: 210 mm, tolerance: 2 mm}", (sized((150, 210)), sized((150.2, 210)))
    ),
    "trim.orientation": NearMiss(
        "pages.orientation",
        ("trim: {width: 148 mm, height: 210 mm}", "trim: {width: 148 mm, height: 210 mm, orientation: portrait}"),
        sized((210, 148)), ("not_applicable", "must"),
    ),
    "trim.alternatives[].width": NearMiss(
        "trim.size", DL.replace("}", ", alternatives: [{width: 300 mm, height: 210 mm}]}"), (sized((300, 210)), sized((301, 210)))
    ),
    "trim.alternatives[].height": NearMiss(
        "trim.size", DL.replace("}", ", alternatives: [{width: 297 mm, height: 200 mm}]}"), (sized((297, 200)), sized((297, 201)))
    ),
    "trim.alternatives[].folds": NearMiss(
        "fold.panels",
        tuple(  # type: ignore[arg-type]
            DL.replace("}", f", alternatives: [{{width: 300 mm, height: 210 mm{folds}}}]}}")
            + "folds: [{at: 99 mm, axis: vertical}, {at: 198 mm, axis: vertical}]\nfolding: {type: zigzag}"
            for folds in (", folds: [100 mm, 200 mm]", "")
        ),
        sized((300, 210)),
    ),
    "trim.scales": NearMiss(
        "trim.size", "trim: {width: 850 mm, height: 2000 mm, scales: [1, 10]}", (sized((85, 200)), sized((170, 400)))
    ),
    "trim.parts[].name": NearMiss(
        "trim.size",
        COVER % "first: 1, width: 296 mm, height: 210 mm",
        (sized((296, 210), (148, 210)), sized((290, 210), (148, 210))),
        named="cover",
    ),
    "trim.parts[].first": NearMiss(
        "trim.size", (COVER % "first: 2, width: 296 mm, height: 210 mm", COVER % "first: 1, width: 296 mm, height: 210 mm"),
        sized((296, 210), (296, 210), (148, 210)),
    ),
    "trim.parts[].last": NearMiss(
        "trim.size", (COVER % "last: 1, width: 300 mm, height: 210 mm", COVER % "last: 2, width: 300 mm, height: 210 mm"),
        sized((148, 210), (148, 210), (300, 210)),
    ),
    "trim.parts[].width": NearMiss(
        "trim.size",
        COVER % "first: 1, width: 154 mm, height: 216 mm",
        (sized((154.5, 216), (148, 210)), sized((154.6, 216), (148, 210))),
    ),
    "trim.parts[].height": NearMiss(
        "trim.size",
        COVER % "first: 1, width: 154 mm, height: 216 mm",
        (sized((154, 216.5), (148, 210)), sized((154, 216.6), (148, 210))),
    ),
    "trim.corner_radius": NearMiss(
        "margin.outline",
        ("trim: {width: 60 mm, height: 60 mm, corner_radius: 3 mm}\nmargin: {minimum: 3 mm}",
         "trim: {width: 60 mm, height: 60 mm, corner_radius: 30 mm}\nmargin: {minimum: 3 mm}"),
        saying(4, 4, 20, 8, size=(60, 60)),
    ),
}

OF_THE_EDGES = {
    "bleed.minimum": NearMiss("bleed.declared", "bleed: {minimum: 3 mm}", (bled(3, 3, 3, 3), bled(3, 3, 3, 2.9))),
    "bleed.preferred": NearMiss(
        "bleed.declared", "bleed: {minimum: 2 mm, preferred: 3 mm}", (bled(3, 3, 3, 3), bled(3, 3, 3, 2.9)), ("met", "should")
    ),
    "bleed.maximum": NearMiss(
        "bleed.excess", "bleed: {minimum: 3 mm, maximum: 5 mm}", (document(page(bleed=5)), document(page(bleed=5.1)))
    ),
    "bleed.binding": NearMiss("bleed.declared", edges("bleed", binding=1), (bled(3, 3, 3, 1), bled(3, 3, 3, 0.9))),
    "bleed.outer": NearMiss("bleed.declared", edges("bleed", outer=4), (bled(3, 4, 3, 3), bled(3, 3.9, 3, 3))),
    "bleed.head": NearMiss("bleed.declared", edges("bleed", head=4), (bled(4, 3, 3, 3), bled(3.9, 3, 3, 3))),
    "bleed.foot": NearMiss("bleed.declared", edges("bleed", foot=4), (bled(3, 3, 4, 3), bled(3, 3, 3.9, 3))),
    "margin.minimum": NearMiss("margin.text", "margin: {minimum: 3 mm}", (saying(3, 20, 40, 24), saying(2.9, 20, 40, 24))),
    "margin.preferred": NearMiss(
        "margin.text",
        "margin: {minimum: 3 mm, preferred: 5 mm}",
        (saying(5, 20, 40, 24), saying(4.9, 20, 40, 24)),
        ("met", "should"),
    ),
    **{
        f"margin.{key}": NearMiss("margin.text", edges("margin", **{key: 12}), (at_edge(key, 12), at_edge(key, 11.9)))
        for key in ("binding", "outer", "head", "foot")
    },
    "margin.by_pages[].from": NearMiss("margin.text", growing(minimum=8), (at_edge("head", 5, 7), at_edge("head", 5, 8))),
    "margin.by_pages[].minimum": NearMiss("margin.text", growing(minimum=8), (at_edge("head", 8, 8), at_edge("head", 7.9, 8))),
    **{
        f"margin.by_pages[].{key}": NearMiss(
            "margin.text", growing(**{key: 12}), (at_edge(key, 12, 8), at_edge(key, 11.9, 8))
        )
        for key in ("binding", "outer", "head", "foot")
    },
    "margin.live_area.width": NearMiss(
        "margin.text",
        f"{A5}\nmargin: {{live_area: {{width: 128 mm, height: 190 mm}}}}",
        (at_edge("binding", 10), at_edge("binding", 9.9)),
    ),
    "margin.live_area.height": NearMiss(
        "margin.text",
        f"{A5}\nmargin: {{live_area: {{width: 128 mm, height: 180 mm}}}}",
        (at_edge("head", 15), at_edge("head", 14.9)),
    ),
    "margin.frames": NearMiss(
        "margin.frame", "margin: {minimum: 3 mm, frames: forbidden}", (PLAIN, framed(9)), ("met", "should")
    ),
    "margin.frame_minimum": NearMiss(
        "margin.frame", "margin: {minimum: 3 mm, frame_minimum: 5 mm}", (framed(5), framed(4.9)), ("met", "should")
    ),
    "margin.frame_width": NearMiss(
        "margin.frame", "margin: {minimum: 3 mm, frame_width: 1 mm}", (framed(9, 1), framed(9, 0.9)), ("met", "should")
    ),
    "marks.crop_marks": NearMiss("marks.crop", "marks: {crop_marks: forbidden}", (PLAIN, marked(3))),
    "marks.offset_minimum": NearMiss("marks.offset", "marks: {offset_minimum: 3 mm}", (marked(3), marked(2.8))),
}

OF_COLORS = {
    "color.allowed": NearMiss("color.space", "color: {allowed: [cmyk, gray]}", (CMYK, RGB)),
    "color.spots.maximum": NearMiss("color.spots", "color: {spots: {maximum: 1}}", (spots("Copper"), spots("Copper", "Flour"))),
    "color.spots.allowed": NearMiss("color.spots", "color: {spots: {allowed: [Copper]}}", (spots("Copper"), spots("Flour"))),
    "color.ink_limit": NearMiss("ink.total", "color: {ink_limit: 300 %}", (inked(301), inked(302))),
    "color.ink_area": NearMiss("ink.total", "color: {ink_limit: 300 %, ink_area: 40 mm²}", (inked(350, 40), inked(350, 40.6))),
    "color.ink_preferred": NearMiss(
        "ink.total", "color: {ink_limit: 340 %, ink_preferred: 300 %}", (inked(301), inked(302)), ("met", "should")
    ),
    "color.ink_minimum": NearMiss(
        "ink.faint",
        "color: {ink_minimum: 10 %}",
        (tinted(Cyan=0.05, Yellow=0.05), tinted(Cyan=0.05, Yellow=0.04)),
        ("met", "should"),
    ),
    "color.tint.minimum": NearMiss(
        "ink.faint", "color: {tint: {minimum: 5 %}}", (tinted(Cyan=0.05), tinted(Cyan=0.04)), ("met", "should")
    ),
    "color.tint.maximum": NearMiss(
        "ink.near-solid", "color: {tint: {maximum: 95 %}}", (tinted(Cyan=0.95), tinted(Cyan=0.96)), ("met", "should")
    ),
    "color.rich_black.ink_limit": NearMiss(
        "ink.rich-black", "color: {rich_black: {ink_limit: 240 %}}",
        (tinted(Cyan=0.9, Yellow=0.5, Black=1.0), tinted(Cyan=0.9, Yellow=0.55, Black=1.0)),
    ),
    **{
        f"color.rich_black.{ink.lower()}": NearMiss(
            "ink.rich-black", RECIPE % ink.lower(), (tinted(**{ink: 0.6, "Black": 1.0}), tinted(**{ink: 0.4, "Black": 1.0})),
            ("met", "should"),
        )
        for ink in ("Cyan", "Magenta", "Yellow")
    },
    "color.rich_black.black": NearMiss(
        "ink.rich-black", "color: {rich_black: {black: 85 %, cyan: 60 %}}",
        (tinted(Cyan=0.6, Black=0.95), tinted(Cyan=0.6, Black=0.96)), ("met", "should"),
    ),
    "color.rgb_level": NearMiss(
        "color.space", ("color: {allowed: [cmyk], rgb_level: should}", "color: {allowed: [cmyk]}"), RGB, ("should", "must")
    ),
    "color.icc_profiles": NearMiss(
        "color.icc", "color: {icc_profiles: forbidden}", (CMYK, painted("cmyk", "image", profile="12 0"))
    ),
    "images.contone_ppi.minimum": NearMiss(
        "image.resolution", "images: {contone_ppi: {minimum: 200}}", (pictured(200), pictured(198))
    ),
    "images.contone_ppi.preferred": NearMiss(
        "image.resolution",
        "images: {contone_ppi: {minimum: 200, preferred: 300}}",
        (pictured(300), pictured(297)),
        ("met", "should"),
    ),
    "images.contone_ppi.maximum": NearMiss(
        "image.excess", "images: {contone_ppi: {maximum: 400}}", (pictured(401), pictured(405)), ("met", "should")
    ),
    "images.bilevel_ppi.minimum": NearMiss(
        "image.resolution-bilevel", "images: {bilevel_ppi: {minimum: 600}}",
        (pictured(600, kind="bilevel"), pictured(590, kind="bilevel")),
    ),
    "images.bilevel_ppi.preferred": NearMiss(
        "image.resolution-bilevel", "images: {bilevel_ppi: {minimum: 600, preferred: 1200}}",
        (pictured(1200, kind="bilevel"), pictured(1180, kind="bilevel")), ("met", "should"),
    ),
    "images.bilevel_ppi.maximum": NearMiss(
        "image.excess", "images: {bilevel_ppi: {maximum: 2400}}",
        (pictured(2400, kind="bilevel"), pictured(2440, kind="bilevel")), ("met", "should"),
    ),
    "images.jpeg": NearMiss("image.jpeg", "images: {jpeg: forbidden}", (pictured(300, filter="FlateDecode"), pictured(300))),
}

OF_TYPE = {
    "text.minimum_size": NearMiss(
        "text.size", "text: {minimum_size: 5 pt}", (saying(20, 20, 40, 24, size_pt=5.0), saying(20, 20, 40, 24, size_pt=4.9))
    ),
    "text.reversed_minimum_size": NearMiss(
        "text.size", "text: {reversed_minimum_size: 6 pt}",
        (saying(20, 20, 40, 24, size_pt=6.0, **WHITE), saying(20, 20, 40, 24, size_pt=5.9, **WHITE)),
    ),
    "text.rich_black_minimum_size": NearMiss(
        "text.size", "text: {rich_black_minimum_size: 14 pt}",
        (saying(20, 20, 40, 24, size_pt=14.0, **RICH), saying(20, 20, 40, 24, size_pt=13.9, **RICH)),
    ),
    "text.black_alone": NearMiss(
        "text.black-alone", "text: {black_alone: true}",
        (
            saying(20, 20, 40, 24, inks=("Cyan", "Black"), black_tint=0.79),
            saying(20, 20, 40, 24, inks=("Cyan", "Black"), black_tint=0.8),
        ),
    ),
    "lines.minimum_width": NearMiss("line.width", "lines: {minimum_width: 0.25 pt}", (ruled(0.25), ruled(0.24))),
    "lines.reversed_minimum_width": NearMiss(
        "line.width", "lines: {reversed_minimum_width: 0.5 pt}", (ruled(0.5, tint=0.5), ruled(0.49, tint=0.5))
    ),
    "fonts.embedded": NearMiss(
        "font.embedded", "fonts: {embedded: required}",
        (document(page(content=content(fonts=(font(),)))), document(page(content=content(fonts=(font(embedded=False),))))),
    ),
    "fonts.outlines": NearMiss(
        "font.outlined", "fonts: {outlines: required}", (PLAIN, document(page(content=content(fonts=(font(),)))))
    ),
    "fonts.formats": NearMiss(
        "font.format",
        ("fonts: {formats: [type-1, truetype]}", "fonts: {formats: [type-1]}"),
        document(page(content=content(fonts=(font(),)))),
    ),
    "transparency.live": NearMiss("transparency.live", "transparency: {live: forbidden}", (PLAIN, TRANSPARENT)),
}

LETTER = "trim: {width: 210 mm, height: 297 mm}\n"
AREA = LETTER + "keep_clear: [{name: stamp, box: [0, 0, 74 mm, 40 mm], %s}]"
FOLDED = DL + "folds: [{at: %s mm, axis: vertical}, {at: 197 mm, axis: vertical}]\nfolding: {type: %s}"
ONCE = DL + "folds: [{at: 148.5 mm, axis: vertical}]\nfolding: {type: half, single_pages: %s}"
ORDERED = {"inner_pages": 96, "caliper_mm": 0.11}
"""With a cover of 0.3 mm a spine of 5.88 mm: 48 leaves of 0.11 mm and twice 0.3 mm."""
AT_THE_SPINE = ("margin.spine", BOOK % "text_free: 3 mm")


def letter(*box: float, **content_: Any) -> Measurements:
    return document(page(210, 297, content=replace(content(text=(words(*box),) if box else ()), **content_)))


def cover(width: float, height: float = 210) -> Measurements:
    return document(page(width, height))


OF_THE_MAKE_UP = {
    "keep_clear[].name": NearMiss(
        "copy.keep-clear", AREA % "pages: [1]", (letter(80, 20, 120, 24), letter(70, 20, 120, 24)), named="stamp"
    ),
    "keep_clear[].box": NearMiss("copy.keep-clear", AREA % "pages: [1]", (letter(74, 20, 120, 24), letter(73.8, 20, 120, 24))),
    "keep_clear[].pages": NearMiss("copy.keep-clear", (AREA % "pages: [2]", AREA % "pages: [1]"), letter(20, 20, 60, 24)),
    "keep_clear[].corner": NearMiss(
        "copy.keep-clear", (AREA % "corner: bottom-left", AREA % "corner: top-right"), letter(140, 20, 160, 24)
    ),
    "keep_clear[].free_of": NearMiss(
        "copy.keep-clear", (AREA % "free_of: text", AREA % "free_of: ink"), letter(artwork=(shape(20, 20, 60, 24),))
    ),
    "folds[].at": NearMiss("fold.panels", (FOLDED % ("97", "roll"), FOLDED % ("99.5", "roll")), sized((297, 210))),
    "folds[].axis": NearMiss(
        "margin.fold",
        (DL + "folds: [{at: 148.5 mm, axis: vertical}]", DL + "folds: [{at: 105 mm, axis: horizontal}]"),
        saying(20, 103, 90, 107, size=(297, 210)),
    ),
    "folding.type": NearMiss("fold.panels", (FOLDED % ("97", "roll"), FOLDED % ("97", "zigzag")), sized((297, 210))),
    "folding.single_pages": NearMiss("trim.size", (ONCE % "allowed", ONCE % "forbidden"), pages(4)),
    "spine.page_width": NearMiss(
        "spine.width",
        (BOOK % "cover_caliper: 0.3 mm", (BOOK % "cover_caliper: 0.3 mm").replace("148", "149")),
        cover(302.8),
        order=ORDERED,
    ),
    "spine.page_height": NearMiss("spine.height", BOOK % "tolerance: 1 mm", (cover(301.9, 210.5), cover(301.9, 210.7))),
    "spine.caliper": NearMiss(
        "spine.width",
        (
            BOOK % "inner_pages: 96, cover_caliper: 0.3 mm, caliper: 0.11 mm",
            BOOK % "inner_pages: 96, cover_caliper: 0.3 mm, caliper: 0.14 mm",
        ),
        cover(301.88),
    ),
    "spine.cover_caliper": NearMiss(
        "spine.width", (BOOK % "cover_caliper: 0.3 mm", BOOK % "cover_caliper: 0.9 mm"), cover(301.88), order=ORDERED
    ),
    "spine.inner_pages": NearMiss(
        "spine.width",
        (
            BOOK % "cover_caliper: 0.3 mm, caliper: 0.11 mm, inner_pages: 96",
            BOOK % "cover_caliper: 0.3 mm, caliper: 0.11 mm, inner_pages: 128",
        ),
        cover(301.88),
    ),
    "spine.text_free": NearMiss(
        *AT_THE_SPINE, (saying(20, 50, 145, 54, size=(306, 210)), saying(20, 50, 145.2, 54, size=(306, 210)))
    ),
    "spine.tolerance": NearMiss(
        "spine.width", BOOK % "cover_caliper: 0.3 mm, tolerance: 2 mm", (cover(303.8), cover(304)), order=ORDERED
    ),
    "finishes[].ink": NearMiss(
        "finish.plate", (CUT.replace("Cutting", "Foil") % "artwork: any", CUT % "artwork: any"), finished(tint_least=0.5)
    ),
    "finishes[].kind": NearMiss("margin.outline", "margin: {minimum: 3 mm}\n" + CUT % "kind: cut", (shaped(2.8), shaped(2.6))),
    "finishes[].also": NearMiss(
        "finish.plate", (CUT % "also: [Stanze]", CUT % "also: [Die line]"), finished(ink="die-line", tint_least=0.5)
    ),
    "finishes[].must_overprint": NearMiss(
        "finish.plate", (CUT % "must_overprint: false", CUT % "must_overprint: true"), finished(overprints=False)
    ),
    "finishes[].overprint_level": NearMiss(
        "finish.plate",
        (CUT % "must_overprint: true, overprint_level: should", CUT % "must_overprint: true"),
        finished(overprints=False),
        ("should", "must"),
    ),
    "finishes[].artwork": NearMiss("finish.plate", CUT % "artwork: vector", (finished(), finished(kind="image"))),
    "finishes[].required": NearMiss("finish.plate", CUT % "required: true", (finished(), PLAIN)),
    "papers[].name": NearMiss(
        "ink.total", ("color: {ink_limit: 340 %}\npapers: [{name: a, ink_limit: 280 %}, {name: b, maximum_pages: 9}]",
         "color: {ink_limit: 340 %}\npapers: [{name: a, maximum_pages: 9}, {name: b, ink_limit: 280 %}]"),
        inked(320), order={"paper": "b"},
    ),
    "papers[].ink_limit": NearMiss(
        "ink.total",
        "color: {ink_limit: 340 %}\npapers: [{name: b, ink_limit: 280 %}]",
        (inked(281), inked(282)),
        order={"paper": "b"},
    ),
    "papers[].maximum_pages": NearMiss(
        "pages.count",
        "pages: {maximum: 80}\npapers: [{name: b, maximum_pages: 48}]",
        (pages(48), pages(49)),
        order={"paper": "b"},
    ),
    "levels": NearMiss(
        "image.distorted",
        (
            "file: {layers: forbidden}\nlevels: {image.distorted: should}",
            "file: {layers: forbidden}\nlevels: {image.distorted: must}",
        ),
        pictured(300, ppi_y=200.0),
        ("should", "must"),
    ),
}

NEAR_MISSES: dict[str, NearMiss] = {**OF_THE_FILE, **OF_THE_SIZE, **OF_THE_EDGES, **OF_COLORS, **OF_TYPE, **OF_THE_MAKE_UP}
