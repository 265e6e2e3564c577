"""The report of a check: what stands in it and in which order, as a page and as a PDF, whatever a file is called."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pikepdf
import pymupdf
import pytest
from pdfminer.high_level import extract_text

from service.language.spoken import speaking
from service.pdf.facts.unknown import BeyondLimits, Unmeasured
from service.proofs.report.comparisons import _COMPARED, comparisons_of
from service.proofs.report.crops import MOST_CROPS, crops_planned
from service.proofs.report.facts import MOST_ROWS, pages_shown
from service.proofs.report.html import report_html
from service.proofs.report.pdf import REPORT_TEMPLATE, ReportPdfBrief, report_pdf
from service.proofs.report.sheet import source_told
from service.proofs.report.telling import MOST_FINDINGS, report_of
from service.rules.base import Finding
from service.rules.catalogue import RULES
from service.rules.judge import judge
from service.sheets.catalogue import stored_sheets
from tests.build import PageBuilder, document, page
from tests.proofs.made_report import CHECKED_AT, Page, as_pdf, checked, picture, report

CARD = """
title: Card of the bakery
note: Our proof decides.
references: [{name: "the printer's price list", about: trim}]
trim: {width: 85 mm, height: 55 mm}
bleed: {minimum: 3 mm, note: Let the artwork run over.}
color: {allowed: [cmyk, gray]}
images: {contone_ppi: {minimum: 200}}
text: {minimum_size: 6 pt, level: should}
fonts: {embedded: required}
"""


def card(bleed: float = 3) -> PageBuilder:
    return page(85, 55, bleed=bleed).fill(cyan=0.6)


def wrong() -> bytes:
    """Small type first, so that a should is met before a must is."""
    return document(
        card(bleed=0).text("Open daily", size=4, at=(20, 20)).picture((10, 25, 40, 45), ppi=90), card(bleed=0).fill(cyan=1)
    ).bytes()


def test_a_finding_says_its_number_what_is_wrong_what_is_asked_and_what_to_do(tmp_path: Path) -> None:
    made = report(wrong(), CARD, tmp_path, pictures={1: picture()})
    first = made.findings[0].findings[0]
    assert (first.number, first.level, first.note) == (1, "must", "Let the artwork run over.")
    assert [(one.what, one.measured, one.asked) for one in first.comparisons] == [("On every side", "0 mm", "at least 3 mm")]
    said = Page(report_html(made)).words
    for words in (first.message, first.remedy, first.note, first.rule, "Part of page 1", "Also on page 2."):
        assert words is not None
        assert words in said or any(words in str(one.get("alt")) for one in Page(report_html(made)).all("img"))
    assert any(one.get("aria-label") == "To put right, 1" for one in Page(report_html(made)).all("svg"))


def test_what_must_be_put_right_stands_before_remarks(tmp_path: Path) -> None:
    made = report(wrong(), CARD, tmp_path)
    assert [group.level for group in made.findings] == ["must", "should"]
    assert {one.level for group in made.findings[:1] for one in group.findings} == {"must"}
    numbers = [one.number for group in made.findings for one in group.findings]
    assert numbers == list(range(1, len(numbers) + 1))
    titles = [words for level, words in Page(report_html(made)).headings if level <= 2]
    assert titles[0] == made.headline
    assert titles[1:3] == ["To put right", "Remarks"]


def test_every_rule_is_told_once_as_met_unmeasured_or_not_asked_unless_it_is_broken(tmp_path: Path) -> None:
    known = checked(wrong(), CARD, tmp_path)
    made = report_of(known, {})
    told = {group.kind: len(group.rules) for group in made.rules}
    outcomes = [one.outcome for one in known.judgement.rules]
    assert told["met"] == outcomes.count("met") > 5
    assert told["not_asked"] == outcomes.count("not_applicable") > 5
    assert sum(told.values()) + outcomes.count("not_met") == len(RULES)


def test_a_right_card_is_told_that_it_is_and_what_no_check_can_promise(tmp_path: Path) -> None:
    said = Page(report_html(report(card().text("Open daily", size=9, at=(20, 20)).bytes(), CARD, tmp_path))).words
    assert "Conforming" in said
    assert "To put right" not in said
    assert "The printer’s own proof and the printer’s own terms decide." in said
    assert "kept until 10 March 2026, 16:05 UTC" in said


def test_a_locked_file_has_a_report_that_says_so_and_why_the_rest_is_unknown(tmp_path: Path) -> None:
    made = report(document(page(85, 55)).encrypted(user="secret").bytes(), CARD, tmp_path)
    assert made.verdict == "nonconforming"
    assert "password" in made.findings[0].findings[0].message
    unmeasured = next(group for group in made.rules if group.kind == "not_measured")
    assert "password" in unmeasured.introduction  # one reason for all: it is said once
    assert len(unmeasured.rules) > 5
    assert not any(one.reason for one in unmeasured.rules)
    assert made.tables == ()
    assert made.findings[0].findings[0].message[:40] in extract_text(io.BytesIO(as_pdf(made))).replace("\n", " ")


def test_reasons_that_differ_stand_at_their_rules(tmp_path: Path) -> None:
    known = checked(card().bytes(), CARD, tmp_path)
    assert not isinstance(known.measurements.pages, Unmeasured)
    heavy = replace(known.measurements.pages[0], content=BeyondLimits("Too heavy."), plates=Unmeasured("No plates."))
    measurements = replace(known.measurements, pages=(heavy,))
    made = report_of(replace(known, measurements=measurements, judgement=judge(measurements, known.sheet)), {})
    assert (made.verdict, made.headline) == ("inconclusive", "Not decided: page 1: Too heavy")
    unmeasured = next(group for group in made.rules if group.kind == "not_measured")
    assert {one.reason for one in unmeasured.rules} == {"Page 1: Too heavy.", "Page 1: No plates."}


def test_the_facts_of_the_file_are_told(tmp_path: Path) -> None:
    made = report(wrong(), CARD, tmp_path)
    tables = {one.columns[0]: one.rows for one in made.tables}
    assert tables["Pages"] == (("1–2", "85 × 55 mm", "TrimBox", "none", "85 × 55 mm", "no"),)
    assert tables["Page"][0][:4] == ("1", "90 ppi", "106 × 71", "30 × 20 mm")
    assert [row[0] for row in tables["Ink"]] == ["Cyan", "Magenta", "Yellow", "Black"]
    assert tables["Font"][0][2] == "yes"
    assert {one.name: one.value for one in made.facts}["PDF version"] == "1.6"
    with speaking("de"):
        inks = next(one for one in report(wrong(), CARD, tmp_path).tables if one.columns[0] == "Druckfarbe")
    assert [row[0] for row in inks.rows] == ["Cyan", "Magenta", "Gelb", "Schwarz"]


def test_the_sheets_own_words_and_sources_are_told(tmp_path: Path) -> None:
    said = Page(report_html(report(wrong(), CARD, tmp_path))).words
    told = ("Card of the bakery", "Our proof decides.", "a wish, no must: at least 6 pt", "trim: the printer's price list")
    for words in told:
        assert words in said


def test_every_stored_sheet_can_be_told_block_by_block(tmp_path: Path) -> None:
    known = checked(card().bytes(), CARD, tmp_path)
    for sheet in stored_sheets().values():
        part = report_of(replace(known, sheet=sheet), {}).sheet
        blocks = (sheet.trim, sheet.bleed, sheet.margin, sheet.pages, sheet.marks, sheet.color, sheet.images, sheet.text)
        assert len(part.asks) >= sum(one is not None for one in blocks)
        assert [one for one in part.asks if not one.value.strip(" ;,")] == [], sheet.id
        assert {one.note for one in part.asks} >= {block.note for block in blocks if block and block.note}


# --- Words that are not ours --------------------------------------------------------------------------------------------

HOSTILE = (
    "<script>alert(1)</script>", "#eval(\"1\")", "\\ @label `raw` $x$ [#1]", "</style><img src=x>", "*bold* _it_ = Title", "//",
    "{% raw %} {{ 7 * 7 }} {number}",
)


@pytest.mark.parametrize("words", HOSTILE)
def test_words_of_the_file_stay_words(words: str, tmp_path: Path) -> None:
    def named(pdf: pikepdf.Pdf) -> None:
        pdf.pages[0].Resources.Font.Helvetica.BaseFont = pikepdf.Name("/" + words)

    pdf = document(card().text("Open", size=9, at=(20, 20), font="Helvetica")).info(Title=words).also(named).bytes()
    made = report(pdf, CARD, tmp_path, name=f"{words}.pdf")
    parsed = Page(report_html(made))
    assert parsed.words.count(words) >= 3
    assert parsed.all("script") == []
    assert parsed.all("img") == []
    read = "".join(extract_text(io.BytesIO(as_pdf(made))).replace("\u200b", "").split())
    assert read.count("".join(words.split())) >= 3


def test_a_name_of_5000_letters_is_cut_and_set_within_the_page(tmp_path: Path) -> None:
    def named(pdf: pikepdf.Pdf) -> None:
        pdf.pages[0].Resources.Font.Helvetica.BaseFont = pikepdf.Name("/" + "W" * 5000)

    pdf = document(card().text("Open", size=9, at=(20, 20), font="Helvetica")).info(Title="M" * 5000).also(named).bytes()
    made = report(pdf, CARD, tmp_path, name="N" * 200 + ".pdf")
    assert "WWWWWWWW" in report_html(made)
    assert max(map(len, re.findall(r"\w+", Page(report_html(made)).words))) < 130
    with pymupdf.open(stream=as_pdf(made)) as opened:
        for one in opened:
            for x0, _, x1, *_ in one.get_text("words"):
                assert 40 < x0 < x1 < one.rect.width - 40


def test_letters_that_the_typefaces_lack_make_no_report_fail(tmp_path: Path) -> None:
    made = report(wrong(), CARD, tmp_path, name="名刺 визитка بطاقة 🥐.pdf")
    with pikepdf.open(io.BytesIO(as_pdf(made))) as pdf:
        assert str(pdf.docinfo.Title).startswith("名刺")
        assert pdf.Root.MarkInfo.Marked
    assert "名刺 визитка بطاقة 🥐.pdf" in report_html(made)


def test_a_damaged_picture_costs_the_pdf_its_pictures_and_nothing_else(tmp_path: Path) -> None:
    made = report(wrong(), CARD, tmp_path, pictures={1: picture()[:60] + b"damage"})
    assert made.findings[0].findings[0].remedy[:30] in extract_text(io.BytesIO(as_pdf(made))).replace("\n", " ")


def test_a_template_that_cannot_be_set_is_a_reason_and_no_crash(tmp_path: Path) -> None:
    broken = tmp_path / "broken.typ"
    broken.write_text("#panic()")
    made = report(wrong(), CARD, tmp_path)
    assert isinstance(report_pdf(broken, ReportPdfBrief(made, CHECKED_AT)), Unmeasured)
    assert isinstance(report_pdf(REPORT_TEMPLATE, ReportPdfBrief(made, CHECKED_AT)), bytes)


# --- The two forms ------------------------------------------------------------------------------------------------------


def test_the_page_needs_nothing_else_and_can_be_read_by_ear(tmp_path: Path) -> None:
    text = report_html(report(wrong(), CARD, tmp_path, pictures={1: picture()}), pdf_address="?format=pdf")
    parsed = Page(text)
    for _, attributes in parsed.elements:
        for name in ("src", "href", "data", "action", "srcset", "style", "onclick"):
            address = attributes.get(name)
            assert address is None or address.startswith(("data:image/png;base64,", "?format=pdf", "#"))
    assert "url(" not in text
    assert "@import" not in text
    assert all(one.get("alt") for one in parsed.all("img"))
    assert all(one.get("aria-label") or one.get("aria-hidden") for one in parsed.all("svg"))
    assert [one["lang"] for one in parsed.all("html")] == ["en"]
    levels = [level for level, _ in parsed.headings]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))


def test_the_pdf_says_what_the_page_says(tmp_path: Path) -> None:
    made = report(wrong(), CARD, tmp_path, pictures={1: picture()})
    read = "".join(extract_text(io.BytesIO(as_pdf(made))).replace("\u200b", "").split())
    for group in made.findings:
        for one in group.findings:
            for words in (one.message, one.remedy, one.rule, one.note or "", *(line.asked for line in one.comparisons)):
                assert "".join(words.split()) in read
    for words in (made.headline, made.meaning, *made.cautions, *(rule.claim for part in made.rules for rule in part.rules)):
        assert "".join(words.split()) in read


def test_the_pdf_is_tagged_has_a_title_and_a_language_and_repeats_itself(tmp_path: Path) -> None:
    made = report(wrong(), CARD, tmp_path, pictures={1: picture()})
    with pikepdf.open(io.BytesIO(as_pdf(made))) as pdf:
        assert str(pdf.Root.Lang).startswith("en")
        assert pdf.Root.MarkInfo.Marked
        assert pdf.open_metadata()["pdfuaid:part"] == "1"
        assert str(pdf.docinfo.Title) == "card.pdf: report of a check"
        sizes = {(round(float(one.MediaBox[2])), round(float(one.MediaBox[3]))) for one in pdf.pages}
    assert sizes == {(595, 842)}
    assert as_pdf(made) == as_pdf(made)


def test_a_sheet_for_north_america_is_reported_on_letter(tmp_path: Path) -> None:
    with pikepdf.open(io.BytesIO(as_pdf(report(wrong(), f"{CARD}regions: [US]\n", tmp_path)))) as pdf:
        assert [round(float(one)) for one in pdf.pages[0].MediaBox] == [0, 0, 612, 792]


# --- Bounds -------------------------------------------------------------------------------------------------------------


def test_a_file_of_many_different_pages_has_a_report_of_some_lines(tmp_path: Path) -> None:
    pages = [page(60 + number, 55).fill(cyan=1) for number in range(MOST_ROWS + 5)]
    made = report(document(*pages).bytes(), CARD, tmp_path)
    table = made.tables[0]
    assert len(table.rows) == MOST_ROWS
    assert table.remark is not None
    assert "5 more" in table.remark
    planned = crops_planned(*(lambda one: (one.measurements, one.judgement))(checked(document(*pages).bytes(), CARD, tmp_path)))
    assert 0 < len(planned.numbers) <= MOST_CROPS
    assert sum(len(group.findings) for group in made.findings) <= 2 * MOST_FINDINGS


def test_many_scattered_pages_are_named_in_part() -> None:
    assert pages_shown([3, 1, 2, 7]) == "1–3 and 7"
    assert pages_shown(range(1, 400, 2)).endswith("and 188 more")


def test_pictures_are_asked_for_the_page_of_the_first_place_and_come_back_by_number(tmp_path: Path) -> None:
    known = checked(wrong(), CARD, tmp_path)
    planned = crops_planned(known.measurements, known.judgement)
    assert planned.brief.crops[0].page.number == 1
    assert [mark.number for one in planned.brief.crops for mark in one.marks] == list(planned.numbers)
    pictures = planned.of((None, *[b"png"] * (len(planned.numbers) - 1)))
    assert planned.numbers[0] not in pictures
    assert len(pictures) == len(planned.numbers) - 1


@pytest.mark.parametrize("rule", sorted(_COMPARED))
def test_what_is_compared_is_declared_by_its_rule(rule: str) -> None:
    for one in _COMPARED[rule]:
        assert one.measured in RULES[rule].measured
        assert {key for key, _ in one.asked} & set(RULES[rule].required)


@pytest.mark.parametrize(
    ("rule", "measured", "required", "told"),
    [
        ("image.resolution", {"ppi": 71.6}, {"minimum_ppi": 72.0}, ("Resolution", "71 ppi", "at least 72 ppi")),
        ("image.resolution", {"ppi": 250.0}, {"minimum_ppi": 200.0, "preferred_ppi": 300.0},
         ("Resolution", "250 ppi", "at least 200 ppi, preferably 300 ppi")),
        ("color.spots", {"count": 2}, {"maximum": 0}, ("Spot inks", "2", "none")),
        ("pages.count", {"pages": 3}, {"allowed": [1, 2]}, ("Pages", "3", "1 or 2")),
        ("bleed.reach", {"left_mm": 1.2}, {"minimum_mm": 3.0}, ("At the left", "1.2 mm", "at least 3 mm")),
        ("bleed.declared", {"top_mm": 0.0}, {"minimum_mm": 3.175}, ("At the top", "0 mm", "at least 3.2 mm (1/8 in)")),
        ("trim.size", {"width_mm": 80.0, "height_mm": 50.0}, {"width_mm": 85.0, "height_mm": 55.0, "tolerance_mm": 0.5},
         ("Trimmed size", "80 × 50 mm", "85 × 55 mm, give or take 0.5 mm")),
        ("file.size", {"size_bytes": 12_345_678}, {"maximum_bytes": 5_000_000}, ("Size of the file", "12.35 MB", "at most 5 MB")),
        ("ink.total", {"ink_max_percent": 331.2}, {"maximum_percent": 300.0}, ("Total ink", "331 %", "at most 300 %")),
    ],
)
def test_measured_and_asked_stand_side_by_side(
    rule: str, measured: dict[str, object], required: dict[str, object], told: tuple[str, str, str]
) -> None:
    finding = Finding(message="", remedy="", measured=measured, required=required)  # type: ignore[arg-type]
    first = comparisons_of(rule, finding)[0]
    assert (first.what, first.measured, first.asked) == told


def test_what_has_no_number_to_face_is_left_to_the_message() -> None:
    finding = Finding(message="", remedy="", measured={"fonts": ["Vera"], "opens": True}, required={"embedded": True})
    assert comparisons_of("font.embedded", finding) == ()


def test_a_reader_is_told_in_his_language_what_kind_of_source_a_number_has() -> None:
    with speaking("de"):
        panels = source_told("common practice, no source (panels of 99, 100 or 105 mm)")
        assert panels == "übliche Praxis, keine Quelle (Felder von 99, 100 oder 105\u00a0mm)"
        assert source_told("common practice, no source (by ear)") == "übliche Praxis, keine Quelle (by ear)"
        assert source_told("arithmetic: half of the width") == "rechnerisch: die Hälfte der Breite"
        assert source_told("ISO 216:2007 (A4)") == "ISO 216:2007 (A4)"
    assert source_told("from memory (280 mm)") == "from memory (280 mm)"
