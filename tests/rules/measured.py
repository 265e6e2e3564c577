"""Measurements by hand: a right card and a right booklet; a test breaks one thing of them.

The sizes are worked out here, apart from the service: a page W × H with a bleed of B has its trim at (0, 0, W, H).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from service.language.sentences import Sentence
from service.pdf.facts.document import Document
from service.pdf.facts.geometry import Box, Sides
from service.pdf.facts.ink_map import InkMap
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.page import DeclaredBox, Page, PageBoxes
from service.pdf.facts.painted.colors import ColorUse
from service.pdf.facts.painted.content import Content
from service.pdf.facts.painted.images import Image
from service.pdf.facts.painted.text import FontUse, TextRun
from service.pdf.facts.painted.vectors import Artwork, MarkLine
from service.pdf.facts.plates import InkCoverage, PlateFacts
from service.pdf.facts.unknown import Unmeasured
from service.rules.base import Finding
from service.rules.catalogue import RULES
from service.rules.judge import judge
from service.rules.judgement import JudgedFinding, JudgedRule, Judgement, differ_in_words_alone
from service.sheets.model import SpecSheet
from tests.facts import fact
from tests.language.mirror import assert_all_is_said

PT_MM = 25.4 / 72


# --- A right file -----------------------------------------------------------------------------------------------------


def content(
    *,
    images: Iterable[Image] = (),
    colors: Iterable[ColorUse] = (),
    fonts: Iterable[FontUse] = (),
    text: Iterable[TextRun] = (),
    meets: bool = True,
) -> Content:
    return fact(Content, tuple(images), tuple(colors), tuple(fonts), tuple(text), Sides(meets, meets, meets, meets))


def page(width: float = 85, height: float = 55, *, bleed: float = 3, number: int = 1, **changes: Any) -> Page:
    trim, sheet = Box(0, 0, width, height), Box(-bleed, -bleed, width + bleed, height + bleed)
    right = fact(
        Page,
        number=number,
        rotation=0,
        user_unit=1.0,
        declared_boxes=(fact(DeclaredBox, "media", sheet), fact(DeclaredBox, "bleed", sheet), fact(DeclaredBox, "trim", trim)),
        boxes_mm=PageBoxes(media=sheet, crop=sheet, bleed=sheet, trim=trim, art=sheet),
        trim_source="trim_box",
        bleed_declared=True,
        bleed_mm=Sides(bleed, bleed, bleed, bleed),
        content=content(colors=(color("cmyk", "fill"),)),
        bleed_reach_mm=Sides[float | None](bleed, bleed, bleed, bleed),
        ink_max_percent=100.0,
        plates=plates(),
    )
    return replace(right, **changes)


def document(*pages: Page, **changes: Any) -> Measurements:
    """A sound file of these pages, numbered anew; keywords change the facts of the document."""
    facts = fact(Document, page_count=len(pages))
    if "damage" in changes:
        changes["damage"] = tuple(Sentence(one) for one in changes["damage"])
    numbered = tuple(replace(one, number=number) for number, one in enumerate(pages, 1))
    return Measurements(replace(facts, **changes), numbered)


def booklet(count: int = 8, *, width: float = 148, height: float = 210) -> Measurements:
    return document(*(page(width, height) for _ in range(count)))


def booklet_as_spreads() -> Measurements:
    """Twelve A5 pages as a layout program exports them with 'spreads' on: 1, 2|3, 4|5, … 10|11, 12."""
    return document(page(148, 210), *(page(296, 210) for _ in range(5)), page(148, 210))


# --- What stands on a page --------------------------------------------------------------------------------------------


def color(family: str, kind: str, *, count: int = 1, inks: tuple[str, ...] = (), box: Box = Box(0, 0, 10, 10)) -> ColorUse:  # noqa: B008
    return fact(ColorUse, family, f"Device{family}", kind, inks, count, (box,))


def picture(ppi: float = 300, *, pixels: tuple[int, int] = (600, 400), at: tuple[float, float] = (5, 5), **changes: Any) -> Image:
    width, height = pixels
    box = Box(at[0], at[1], at[0] + width / ppi * 25.4, at[1] + height / ppi * 25.4)
    return replace(fact(Image, box, box, width, height, ppi, ppi, "contone", "DeviceCMYK", 8, "DCTDecode"), **changes)


def plates(**changes: Any) -> PlateFacts:
    """Of a page with a full background of cyan; `ink_area_mm2` is left to those who ask for it."""
    inks = (fact(InkCoverage, "Cyan", 100.0, empty=False),)
    return replace(fact(PlateFacts, 100.0, False, False, inks, (), (), None, (), ()), **changes)


def ink_map(sheet: Box, *inked: tuple[float, float, float, float]) -> InkMap:
    """Squares of 1 mm from the sheet's corner; ink in all that a box overlaps."""
    columns, rows = round(sheet.width), round(sheet.height)
    texts = []
    for row in range(rows):
        bits = 0
        for x0, y0, x1, y1 in inked:
            if y0 - sheet.y0 < row + 1 and y1 - sheet.y0 > row:
                bits |= sum(1 << at for at in range(columns) if x0 - sheet.x0 < at + 1 and x1 - sheet.x0 > at)
        texts.append(bits.to_bytes(-(-columns // 8), "little").hex())
    return fact(InkMap, sheet.x0, sheet.y0, 1.0, columns, tuple(texts))


def shape(x0: float, y0: float, x1: float, y1: float, kind: str = "fill", inks: tuple[str, ...] = ("Black",)) -> Artwork:
    return fact(Artwork, kind, Box(x0, y0, x1, y1), inks)


def crop_marks(width: float = 85, height: float = 55, *, offset: float = 3, length: float = 5, at: float = 0) -> list[MarkLine]:
    """The eight marks of a page that size, `at` further out than its corners (as bleed marks are)."""
    lines = []
    for x, out_x in ((-at, -1), (width + at, 1)):
        for y, out_y in ((-at, -1), (height + at, 1)):
            lines.append(Box.of_corners(x + out_x * offset, y, x + out_x * (offset + length), y))
            lines.append(Box.of_corners(x, y + out_y * offset, x, y + out_y * (offset + length)))
    return [fact(MarkLine, line, 0.25, ("Cyan", "Magenta", "Yellow", "Black"), True) for line in lines]


def font(name: str = "Bakery Sans", *, embedded: bool = True) -> FontUse:
    return fact(FontUse, name, "TrueType", embedded, embedded, (Box(10, 10, 40, 14),))


def run(words: str, *, x: float = 10, y: float = 10, size_pt: float = 10, visible: bool = True) -> TextRun:
    """Text as one operator shows it, half an em a letter."""
    em = size_pt * PT_MM
    box = Box(x, y, x + len(words) * em / 2, y + em)
    return fact(TextRun, words, box, box, visible, "Bakery Sans", size_pt, "DeviceGray", ("Black",))


def without_content(one: Page, why: str = "its content stops in the middle of a picture") -> Page:
    return replace(one, content=Unmeasured(why))


# --- Judging ----------------------------------------------------------------------------------------------------------


CRASHED = "This rule failed in the service; its log says why."


def judged(rule_id: str, measurements: Measurements, sheet: SpecSheet) -> tuple[JudgedRule, tuple[JudgedFinding, ...]]:
    """One rule's outcome and findings, judged as the service does it; every finding keeps to the declared keys.

    Whatever is judged here is judged once more in a language that shows what is not said through the catalogues.
    """
    judgement = judge(measurements, sheet, {rule_id: RULES[rule_id]})
    mirrored = assert_all_is_said(measurements, sheet, {rule_id: RULES[rule_id]})
    assert differ_in_words_alone(mirrored, judgement), "a language changes more than words"
    assert judgement.rules[0].reason != CRASHED, rule_id
    for one in judgement.findings:
        assert_declared_keys(rule_id, one.finding)
    return judgement.rules[0], judgement.findings


def outcome(rule_id: str, measurements: Measurements, sheet: SpecSheet) -> str:
    return judged(rule_id, measurements, sheet)[0].outcome


def only_finding(rule_id: str, measurements: Measurements, sheet: SpecSheet) -> JudgedFinding:
    _, findings = judged(rule_id, measurements, sheet)
    assert len(findings) == 1, [one.finding.message for one in findings]
    return findings[0]


def assert_declared_keys(rule_id: str, finding: Finding) -> None:
    rule = RULES[rule_id]
    assert set(finding.measured) <= set(rule.measured), rule_id
    assert set(finding.required) <= set(rule.required), rule_id
    assert finding.message.strip()
    assert finding.remedy.strip()
    assert {place.page for place in finding.places} <= set(finding.pages), rule_id


def broken_rules(judgement: Judgement) -> set[str]:
    return {one.rule for one in judgement.findings}
