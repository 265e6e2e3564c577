"""How measurements are told: all keys, null with a reason, numbers rounded, lists of the document put together from pages."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.answers.measurements import measurement_answer
from service.api.http.words import file_name
from service.pdf.facts.document import ActiveContent, OutputIntent
from service.pdf.facts.geometry import Box, Sides
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.page import Annotation
from service.pdf.facts.painted.colors import ColorUse
from service.pdf.facts.painted.content import Content
from service.pdf.facts.painted.images import Image
from service.pdf.facts.painted.text import FontUse
from service.pdf.facts.plates import InkCoverage, PlateFacts
from service.pdf.facts.unknown import Failure, Unmeasured
from service.pdf.measure import measure
from service.pdf.question import Question
from tests.build import document, page
from tests.facts import fact

BOX = Box(0, 0, 10, 10)


@pytest.fixture(scope="module")
def two_pages(tmp_path_factory: pytest.TempPathFactory) -> Measurements:
    path = tmp_path_factory.mktemp("pdf") / "two.pdf"
    document(page(85, 55, bleed=3).fill(cyan=1), page(85, 55, bleed=3)).save(path)
    return measure(path, Question(), lambda *_: None)


def with_contents(measurements: Measurements, *contents: Content | Unmeasured) -> Measurements:
    assert not isinstance(measurements.pages, Unmeasured)
    pages = tuple(replace(one, content=content) for one, content in zip(measurements.pages, contents, strict=True))
    return replace(measurements, pages=pages)


def use(*inks: str) -> ColorUse:
    return fact(ColorUse, "spot", "Separation", "fill", inks, 1, (BOX,))


def content(*colors: ColorUse, images: tuple[Image, ...] = (), fonts: tuple[FontUse, ...] = ()) -> Content:
    return fact(Content, images, colors, fonts, (), Sides(False, False, False, False))


IMAGE = fact(Image, BOX, BOX, 100, 50, 254.04, 127.02, "contone", "DeviceCMYK", 8, "DCTDecode", Unmeasured("Odd tables."))


PRINT_FACTS = (
    "identification", "output_intents", "profiles", "layers", "features", "active_content", "linearization",
)


def test_what_the_file_is_as_a_print_file_is_told(two_pages: Measurements) -> None:
    button = fact(ActiveContent, "JavaScript", "annotation", 1, BOX, "")
    intent = fact(OutputIntent, "GTS_PDFX", "FOGRA51", None, None, None, "12 0")
    changed = replace(two_pages.document, active_content=(button,), output_intents=(intent,), layers=None)
    told = measurement_answer(replace(two_pages, document=changed))["document"]
    assert told["active_content"][0]["box_mm"] == list(BOX)
    assert (told["output_intents"][0]["identifier"], told["output_intents"][0]["profile"]) == ("FOGRA51", "12 0")
    assert told["layers"] is None


def test_an_unreadable_file_has_every_key_null_and_says_why() -> None:
    answer = measurement_answer(Measurements.unreadable(7, Failure("locked", "It needs a password.")))
    assert {answer[key] for key in ("pages", "images", "fonts", "inks")} == {None}
    assert {one["path"] for one in answer["unmeasured"]} == {
        "/document/page_count", "/document/version", "/document/encryption", "/pages", "/images", "/fonts", "/inks",
        *(f"/document/{part}" for part in PRINT_FACTS),
    }
    assert answer["document"]["failure"] == {"kind": "locked", "why": "It needs a password."}


def test_every_null_of_a_page_has_its_reason(two_pages: Measurements) -> None:
    answer = measurement_answer(two_pages)
    reasons = {one["path"] for one in answer["unmeasured"]}
    for index, told in enumerate(answer["pages"]):
        for key in ("bleed_reach_mm", "ink_max_percent", "plates"):
            assert (told[key] is None) == (f"/pages/{index}/{key}" in reasons)


def test_annotations_of_a_page_are_told_or_null_with_a_reason(two_pages: Measurements) -> None:
    assert not isinstance(two_pages.pages, Unmeasured)
    note = fact(Annotation, "Text", "note", BOX, prints=True, shows=True, has_appearance=False)
    pages = (replace(two_pages.pages[0], annotations=(note,)), replace(two_pages.pages[1], annotations=Unmeasured("Damaged.")))
    answer = measurement_answer(replace(two_pages, pages=pages))
    assert answer["pages"][0]["annotations"] == [
        {"subtype": "Text", "label": "note", "box_mm": list(BOX), "prints": True, "shows": True, "has_appearance": False},
    ]
    assert answer["pages"][1]["annotations"] is None
    assert {"path": "/pages/1/annotations", "why": "Damaged."} in answer["unmeasured"]


def test_images_carry_their_page_and_the_lower_resolution(two_pages: Measurements) -> None:
    answer = measurement_answer(with_contents(two_pages, content(), content(images=(IMAGE, replace(IMAGE, jpeg_quality=80)))))
    first, second = answer["images"]
    assert (first["page"], first["ppi"], first["ppi_x"]) == (2, 127.0, 254.0)
    assert (first["jpeg_quality"], second["jpeg_quality"]) == (None, 80)
    assert {"path": "/images/0/jpeg_quality", "why": "Odd tables."} in answer["unmeasured"]


def test_a_font_on_two_pages_is_one_font(two_pages: Measurements) -> None:
    font = fact(FontUse, "Vera", "TrueType", True, True, (BOX,))
    answer = measurement_answer(
        with_contents(two_pages, content(fonts=(font, font)), content(fonts=(font, replace(font, embedded=False))))
    )
    assert [(one["embedded"], one["pages"]) for one in answer["fonts"]] == [(True, [1, 2]), (False, [2])]


def test_inks_are_process_spot_or_registration_in_printing_order(two_pages: Measurements) -> None:
    answer = measurement_answer(
        with_contents(two_pages, content(use("Copper"), use("Black", "All")), content(use("Cyan", "Black")))
    )
    assert [(one["name"], one["kind"], one["pages"]) for one in answer["inks"]] == [
        ("Cyan", "process", [2]), ("Black", "process", [1, 2]), ("Copper", "spot", [1]), ("All", "registration", [1]),
    ]


def with_plates(measurements: Measurements, *covered: dict[str, float] | Unmeasured) -> Measurements:
    assert not isinstance(measurements.pages, Unmeasured)
    pages = tuple(
        replace(one, plates=inks if isinstance(inks, Unmeasured) else plates(**inks))
        for one, inks in zip(measurements.pages, covered, strict=True)
    )
    return replace(measurements, pages=pages)


def plates(**percent: float) -> PlateFacts:
    inks = tuple(fact(InkCoverage, ink, one, empty=not one) for ink, one in percent.items())
    return fact(PlateFacts, 100, False, False, inks, (), (), None, (), ())


def test_coverage_of_an_ink_is_the_mean_of_the_pages_that_use_it(two_pages: Measurements) -> None:
    used = with_contents(two_pages, content(use("Black", "Cyan")), content(use("Black", "All")))
    answer = measurement_answer(with_plates(used, {"Cyan": 80, "Black": 20}, {"Cyan": 0, "Black": 10}))
    assert [(one["name"], one["coverage_percent"]) for one in answer["inks"]] == [("Cyan", 80), ("Black", 15), ("All", None)]
    assert answer["pages"][1]["plates"]["inks"][0] == {"name": "Cyan", "coverage_percent": 0, "empty": True}


def test_coverage_is_unknown_where_one_page_that_uses_the_ink_has_no_plates(two_pages: Measurements) -> None:
    used = with_contents(two_pages, content(use("Black", "Cyan")), content(use("Black")))
    answer = measurement_answer(with_plates(used, {"Cyan": 80, "Black": 20}, Unmeasured("Too large.")))
    assert [one["coverage_percent"] for one in answer["inks"]] == [80, None]
    assert {"path": "/inks/1/coverage_percent", "why": "Page 2: Too large."} in answer["unmeasured"]


def test_a_page_that_could_not_be_followed_leaves_the_lists_open(two_pages: Measurements) -> None:
    answer = measurement_answer(with_contents(two_pages, content(images=(IMAGE,)), Unmeasured("It loops.")))
    assert len(answer["images"]) == 1
    assert {one["path"] for one in answer["unmeasured"] if one["why"] == "Page 2: It loops."} == {"/images", "/fonts", "/inks"}


def test_millimetres_have_three_decimals_and_no_negative_zero(two_pages: Measurements) -> None:
    assert not isinstance(two_pages.pages, Unmeasured)
    boxes = replace(two_pages.pages[0].boxes_mm, trim=Box(-0.00004, 0, 85.00049, 55.12345))
    answer = measurement_answer(replace(two_pages, pages=(replace(two_pages.pages[0], boxes_mm=boxes),)))
    assert str(answer["pages"][0]["boxes_mm"]["trim"]) == "[0.0, 0.0, 85.0, 55.123]"


@pytest.mark.parametrize(
    ("sent", "shown"),
    [
        ("card.pdf", "card.pdf"), ("../../etc/passwd", "passwd"), (r"C:\Users\x\Karte für Ärzte.pdf", "Karte für Ärzte.pdf"),
        ("a\r\nb\x00.pdf", "ab.pdf"), ("\u202efdp.exe", "fdp.exe"), ("", None), (None, None), ("x/", None),
        ("x" * 300, "x" * 200),
    ],
)
def test_a_file_name_is_text_and_never_a_path(sent: str | None, shown: str | None) -> None:
    assert file_name(sent) == shown
