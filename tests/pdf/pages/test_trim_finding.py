"""Where a page is trimmed when it says so, and when it does not. Boxes by hand, in points."""

from __future__ import annotations

import pytest

from service.pdf.facts.box_names import BoxName
from service.pdf.facts.geometry import MM_PER_POINT, Box
from service.pdf.facts.page import PageBoxes
from service.pdf.pages.page_boxes import DeclaredPage
from service.pdf.pages.trim_finding import bleed_around, find_trim
from service.pdf.question import Question

PT = 1 / MM_PER_POINT
CARD = Question(trim_sizes_mm=((85, 55),), bleeds_mm=(3, 5))


def mm(width: float, height: float, at: tuple[float, float] = (0, 0)) -> Box:
    return Box(at[0] * PT, at[1] * PT, (at[0] + width) * PT, (at[1] + height) * PT)


def declared(user_unit: float = 1, **boxes: Box) -> DeclaredPage:
    names: dict[BoxName, Box] = dict(boxes)  # type: ignore[arg-type]
    return DeclaredPage({name: Box(*(one / user_unit for one in box)) for name, box in names.items()}, 0, user_unit, ())


SHEET = mm(120, 90)
TRIM, ART, MARKS, CROP = mm(85, 55, (10, 10)), mm(80, 50, (12, 12)), mm(86, 56, (9, 9)), mm(100, 70, (5, 5))


@pytest.mark.parametrize(
    ("boxes", "marks", "source", "trim"),
    [
        ({"trim": TRIM, "art": ART, "crop": CROP}, MARKS, "trim_box", TRIM),
        ({"art": ART, "crop": CROP}, MARKS, "art_box", ART),
        ({"crop": CROP}, MARKS, "crop_marks", MARKS),
        ({"crop": CROP}, None, "crop_box", CROP),
        ({"crop": SHEET}, None, "media_box", SHEET),
        ({}, None, "media_box", SHEET),
    ],
)
def test_the_trim_is_looked_for_in_order(boxes: dict[str, Box], marks: Box | None, source: str, trim: Box) -> None:
    found, where = find_trim(declared(media=SHEET, **boxes), Question(), marks)
    assert where == source
    assert found == pytest.approx(trim)


def test_a_trim_box_off_the_sheet_is_passed_over() -> None:
    found, source = find_trim(declared(media=SHEET, trim=mm(85, 55, (500, 500)), art=ART), Question())
    assert (found, source) == (ART, "art_box")


def test_a_trim_box_beyond_the_sheet_is_cut_to_it() -> None:
    found, source = find_trim(declared(media=SHEET, trim=mm(500, 55, (10, 10))), Question())
    assert source == "trim_box"
    assert found == pytest.approx(mm(110, 55, (10, 10)))


def test_crop_marks_off_the_sheet_are_passed_over() -> None:
    assert find_trim(declared(media=SHEET), Question(), mm(10, 10, (500, 0)))[1] == "media_box"


def test_a_crop_box_that_is_smaller_by_a_rounding_is_the_media() -> None:
    assert find_trim(declared(media=SHEET, crop=SHEET.grown(-0.1)), Question())[1] == "media_box"  # 0.1 pt is 0.035 mm


@pytest.mark.parametrize("user_unit", [1, 2.5])
@pytest.mark.parametrize(
    ("media", "crop", "source"),
    [
        ((85, 55), (78, 48, (3.5, 3.5)), "media_box"),  # a card whose view leaves out the margin
        ((91, 61), (84, 54, (3.5, 3.5)), "media_minus_bleed"),  # and with its bleed
        ((91, 61), (85, 55, (3, 3)), "crop_box"),  # the view is the card itself
        ((95, 65), (91, 61, (2, 2)), "crop_box"),  # or the card and its bleed
        ((90, 60), (83, 53, (3.5, 3.5)), "crop_box"),  # neither is a card
        ((85, 55), (60, 40, (12.5, 7.5)), "crop_box"),  # a cutting of a card, and no view of all of it
        ((85, 55), (70, 45, (5, 5)), "media_box"),
        ((85, 55), (69.9, 45, (5, 5)), "crop_box"),
    ],
)
def test_a_view_that_takes_some_millimetres_off_an_asked_size_is_not_its_trim(
    media: tuple[float, float], crop: tuple[float, float, tuple[float, float]], source: str, user_unit: float
) -> None:
    """The page was exported in the size of the product, and somebody set the CropBox to see less white."""
    found, where = find_trim(declared(user_unit, media=mm(*media), crop=mm(*crop)), CARD)
    assert where == source
    whole = {"crop_box": crop[:2], "media_box": media, "media_minus_bleed": (85, 55)}[source]
    assert (found.width * MM_PER_POINT * user_unit, found.height * MM_PER_POINT * user_unit) == pytest.approx(whole)


@pytest.mark.parametrize("user_unit", [1, 2.5])
@pytest.mark.parametrize(
    ("media", "source", "bleed"),
    [
        ((91, 61), "media_minus_bleed", 3),
        ((61, 91), "media_minus_bleed", 3),
        ((95, 65), "media_minus_bleed", 5),
        ((91.45, 60.6), "media_minus_bleed", 3),
        ((91.6, 61), "media_box", 0),
        ((91, 65), "media_box", 0),
        ((85, 55), "media_box", 0),
        ((85.3, 55), "media_box", 0),
        ((210, 297), "media_box", 0),
    ],
)
def test_a_sheet_of_an_asked_size_and_its_bleed(media: tuple[float, float], source: str, bleed: float, user_unit: float) -> None:
    found, where = find_trim(declared(user_unit, media=mm(*media)), CARD)
    assert where == source
    assert (found.width * MM_PER_POINT * user_unit, found.height * MM_PER_POINT * user_unit) == pytest.approx(
        (media[0] - 2 * bleed, media[1] - 2 * bleed)
    )


def test_the_nearest_of_two_bleeds_is_taken() -> None:
    """3 mm and an eighth of an inch differ by 0.35 mm over both edges: both would fit within half a millimetre."""
    question = Question(((85, 55),), (3.0, 3.175))
    assert find_trim(declared(media=mm(91.35, 61.35)), question)[0].width * MM_PER_POINT == pytest.approx(85)
    assert find_trim(declared(media=mm(91, 61)), question)[0].width * MM_PER_POINT == pytest.approx(85)


def test_a_sheet_that_is_an_asked_size_itself_has_no_bleed() -> None:
    question = Question(((91, 61), (85, 55)), (3,))
    assert find_trim(declared(media=mm(91, 61)), question)[1] == "media_box"


def test_a_bleed_larger_than_the_sheet_is_no_bleed() -> None:
    assert find_trim(declared(media=mm(10, 10)), Question(((0.1, 0.1),), (5,)))[1] == "media_box"


# --- Bleed ---


def around(trim: Box, bleed: Box, media: Box) -> PageBoxes:
    return PageBoxes(media=media, crop=media, bleed=bleed, trim=trim, art=trim)


TRIM_MM, BLEED_MM, MEDIA_MM = Box(0, 0, 85, 55), Box(-3, -2, 88, 59), Box(-10, -11, 97, 68)


def test_bleed_is_the_bleed_box_where_there_is_one() -> None:
    found = bleed_around(around(TRIM_MM, BLEED_MM, MEDIA_MM), bleed_declared=True)
    assert dict(found.items()) == {"top": 2, "right": 3, "bottom": 4, "left": 3}


def test_bleed_is_what_the_sheet_has_beyond_the_trim_where_there_is_none() -> None:
    found = bleed_around(around(TRIM_MM, TRIM_MM, MEDIA_MM), bleed_declared=False)
    assert dict(found.items()) == {"top": 11, "right": 12, "bottom": 13, "left": 10}


def test_bleed_is_never_negative() -> None:
    found = bleed_around(around(TRIM_MM, Box(5, -3, 88, 50), MEDIA_MM), bleed_declared=True)
    assert dict(found.items()) == {"top": 3, "right": 3, "bottom": 0, "left": 0}


@pytest.mark.parametrize("bleed", [1, 2, 3, 3.175, 4, 5, 6.35, 10])
def test_a_sheet_with_any_usual_bleed_is_the_product_and_that_bleed(bleed: float) -> None:
    """A4 with 2 mm is 214 × 301 mm, and no page of 208 × 295 mm with 3."""
    a4 = Question(trim_sizes_mm=((210, 297),))
    trim, source = find_trim(declared(media=mm(210 + 2 * bleed, 297 + 2 * bleed)), a4)
    assert source == "media_minus_bleed"
    assert trim == pytest.approx(mm(210, 297, (bleed, bleed)))
