"""What the grammar makes of a sentence, the gate left open: a demand is extracted with its scope, its neighbours are none.

The gate (`doubting`) asks about much of this all the same; what it never sees, it cannot ask about.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from service.sheets.prose import gathering
from tests.sheets.prose.grammar import read_prose
from tests.sheets.readings_score import _normal, leaves, same

WORDINGS, NO_DEMANDS = (
    yaml.safe_load(Path(__file__).with_name(name).read_text(encoding="utf-8"))
    for name in ("extraction_en.yaml", "no_demands_en.yaml")
)


@pytest.fixture(autouse=True)
def open_gate(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(gathering, "doubted", lambda claims, *_: list(claims))
    monkeypatch.setattr(gathering, "sign_of_doubt", lambda *_, **__: None)


def drafted(text: str) -> dict[str, Any]:
    return dict(leaves(read_prose(text).draft))


@pytest.mark.parametrize("wording", WORDINGS, ids=lambda wording: wording["text"][:60])
def test_a_demand_is_extracted(wording: dict[str, Any]) -> None:
    given = drafted(wording["text"])
    for path, value in wording["asks"].items():
        assert path in given, f"nothing is extracted of {path}: {given}"
        assert same(path, given[path], _normal(path, value)), f"{path}: {given[path]}"


FRAMES = (
    "It is important that {things} {be}.",
    "It is your responsibility to ensure that {things} {are}.",
    "We kindly ask that {things} {be}.",
    "We need {things} to {be}.",
    "We would like {things} to {be}.",
    "We insist that {things} {are}.",
    "See to it that {things} {are}.",
    "Please verify that {things} {are}.",
    "Most importantly, {things} must {be}.",
    "All {things} must, without exception, {be}.",
    "Before you upload, please check: {things} must {be}.",
)
ASKED = (
    ("images", "at least 300 dpi", "images.contone_ppi.minimum", 300),
    ("texts", "at least 5 mm from the edge", "margin.minimum", 5),
    ("fonts", "embedded", "fonts.embedded", "required"),
    ("fonts", "converted to outlines", "fonts.outlines", "required"),
    ("files", "in CMYK", "color.allowed", frozenset({"cmyk", "gray"})),
    ("spot colours", "converted to CMYK", "color.spots.maximum", 0),
    ("pages", "supplied as single pages, not spreads", "pages.arrangement", "single-pages"),
    ("black texts", "100% K only", "text.black_alone", "True"),
)


@pytest.mark.parametrize("frame", FRAMES)
@pytest.mark.parametrize(("things", "how", "path", "value"), ASKED, ids=[path for _, _, path, _ in ASKED])
def test_it_is_extracted_however_politely_it_is_asked(frame: str, things: str, how: str, path: str, value: object) -> None:
    text = frame.format(things=things, be=f"be {how}", are=f"are {how}")
    assert drafted(f"Bleed: 3 mm.\n{text}").get(path) == value


@pytest.mark.parametrize(
    ("text", "path"),
    [
        ("Text on 100 % K must be white or yellow.", "text.black_alone"),
        ("Text smaller than 8 pt in 100K only.", "text.black_alone"),
        ("Black text under 10 pt should be set to overprint.", "text.minimum_size"),
        ("Do not use small text (below 8pt) that is made of more than one process colour.", "text.minimum_size"),
        ("Do not use small text (below 8pt) that is made of more than one process colour.", "text.rich_black_minimum_size"),
        ("Foiling: the least recommended size for most fonts is 9 pt.", "text.minimum_size"),
        ("Create black in the CMYK system: C 60%, M 60%, Y 50%, K 100%. Bleed: 3 mm.", "text.black_alone"),
        ("Screens are seen at 72 dpi, and 5 % of them are too dark.", "color.tint.minimum"),
        ("Bleeds are not available on our postcards.", "bleed.maximum"),
        ("Can I add bleed?\nNo problem, just let us know. Margins: 5 mm.", "bleed.maximum"),
        ("We cannot print bleeds on envelopes.", "bleed.maximum"),
        ("We will add 12 pt margins around your advertisement.", "margin.minimum"),
        ("Advertisements of 1/2 page: safety of the type 5 mm.", "bleed.minimum"),
        ("Banners may be drawn at 1/8 scale beyond 3 m.", "bleed.minimum"),
        ("Holes must be 1/4 inch from the fold; do not mark them.", "marks.crop_marks"),
        ("Elements not intended to trim, such as corner marks, stand outside the bleed.", "marks.crop_marks"),
        ("RGB, Pantone and spot colours will be converted to CMYK.", "color.spots.maximum"),
        ("TIFF and EPS are taken as long as fonts are converted to outlines.", "fonts.outlines"),
        ("Fonts: converted to outlines, flattened, or embedded", "fonts.outlines"),
        ("It is preferred that type is converted to outlines.", "fonts.outlines"),
        ("Pictures with fine lines should be 600 ppi.", "images.contone_ppi.minimum"),
        ("Be sure even numbered pages are left pages. Bleed 3 mm.", "pages.multiple_of"),
        ("File name: job, finished size and number, as '600x900mm – 10 off'.", "trim.width"),
        ("Maximum dimensions:\nSingle page: 11\" x 17\"", "trim.width"),
        ("Text is separated from the trimbox by 4 mm.", "pages.boxes"),
        ("CMYK is preferred. However, RGB can be supplied if you rely on bright colours.", "color.allowed"),
        ("All crop marks should be 1/4 inch off the trim.", "marks.crop_marks"),
        ("Marks must not be closer than 3 mm to the page edge.", "marks.crop_marks"),
        ("Place crop marks 3 mm outside the trim.", "marks.crop_marks"),
        ("Do not include crop marks on advertisements other than full pages.", "marks.crop_marks"),
        ("All printing marks on inner pages should be removed.", "marks.crop_marks"),
        ("The black that Photoshop gives you (C75 M68 Y67 K90) is not acceptable as a rich black.", "color.rich_black.black"),
        ("Add a 0.5 pt stroke of black to keep the edges sharp.", "lines.minimum_width"),
        ("The work cannot be printed within your time frame.", "margin.frames"),
        ("Files in RGB may look dull. Convert all to CMYK.", "color.rgb_level"),
        ("Images from websites are 72 dpi; ours are 150 dpi on banners.", "images.contone_ppi.minimum"),
        ("Full Page (FP)\nTrim size: 8 x 10 in\n\nHalf page\nTrim size: 8 x 5 in", "trim.width"),
        ("For posters, images must be 150 dpi. All others: see below.", "images.contone_ppi.minimum"),
        ("If your order is over A2, images may be 150 dpi.", "images.contone_ppi.minimum"),
        ("If you print on fabric, images must be 150 dpi.", "images.contone_ppi.minimum"),
        ("For large banners, 100 dpi is enough.", "images.contone_ppi.minimum"),
        ("For uncoated paper, margin 8 mm.", "margin.minimum"),
        ("PDF, please. If you send a JPEG, it must be 400 dpi.", "images.contone_ppi.minimum"),
        ("For perfect bound books, keep text 15 mm from the edge.", "margin.minimum"),
        ("If folded, keep text 8 mm from the edge.", "margin.minimum"),
        ("If you want a matt finish, keep text 8 mm from the edge.", "margin.minimum"),
        ("If your job uses spot colours, name them. Bleed: 3 mm.", "color.spots.maximum"),
        ("If you add crop marks, place them outside the bleed.", "marks.crop_marks"),
        ("Bleed: 3 mm. If possible, leave crop marks off.", "marks.crop_marks"),
        ("RGB files will be converted to CMYK by us.", "color.allowed"),
        ("COVER\nBleed 1/8 inch.\n\nINTERIOR\nMargins of 1/2 inch.", "bleed.minimum"),
        ("COVER\nBleed 1/8 inch.\n\nINTERIOR\nMargins of 1/2 inch.", "margin.minimum"),
        ("Place text no closer than 5 mm to the crop marks.", "marks.crop_marks"),
        ("Text must not be within 5 mm of the crop marks.", "marks.crop_marks"),
        ("Backgrounds must extend 3 mm beyond the crop marks.", "marks.offset_minimum"),
        ("Flyers: 3 mm bleed. For posters: images of 150 dpi, 5 mm bleed, CMYK only, no crop marks.", "marks.crop_marks"),
        ("Flyers: 3 mm bleed. For posters: images of 150 dpi, 5 mm bleed, CMYK only.", "images.contone_ppi.minimum"),
        ("Do not send: pages with bleed only; images of 72 dpi; text not outlined.", "fonts.outlines"),
        ("If you print on fabric: 20 mm bleed, images of 100 dpi, text in CMYK, no crop marks.", "bleed.minimum"),
        ("Under no circumstances may a spread ad bleed by less than 3 mm.", "pages.arrangement"),
    ],
)
def test_its_neighbour_is_no_demand(text: str, path: str) -> None:
    assert path not in drafted(text)


@pytest.mark.parametrize("sentence", NO_DEMANDS, ids=lambda one: f"{one['gives_no']}: {one['text'][:50]}")
def test_what_only_speaks_of_a_thing_demands_nothing_of_it(sentence: dict[str, str]) -> None:
    assert sentence["gives_no"] not in drafted(sentence["text"])


@pytest.mark.parametrize(
    "text",
    [
        "Pictures in colour need 300 ppi, pictures in greyscale 600 ppi.",
        "All colour images must be 300 ppi. Greyscale images should be at least 600 ppi.",
    ],
)
def test_pictures_in_grey_that_need_more_leave_those_in_colour_as_they_are(text: str) -> None:
    assert drafted(text).get("images.contone_ppi.minimum") in (None, 300)


@pytest.mark.parametrize(
    ("text", "path", "value"),
    [
        ("Files for print\nFonts used in the book must be embedded. The cover is apart.", "fonts.embedded", "required"),
        ("Web offset printing (newspaper)\nAll pictures should have a resolution of 200 dpi.", "images.contone_ppi.minimum", 200),
        ("Allow at least 4 mm bleed for left or right page placement.", "bleed.minimum", 4),
    ],
)
def test_what_all_of_a_text_is_about_narrows_nothing(text: str, path: str, value: float | str) -> None:
    assert drafted(text)[path] == value
