"""How a published text falls into statements, and that places survive it."""

from __future__ import annotations

from service.sheets.prose.words.statements import folded, statements_of


def texts(text: str) -> list[str]:
    return [one.text for one in statements_of(text)]


def test_folding_keeps_every_character_in_its_place() -> None:
    text = "Größe 85 × 55\u00a0mm – “Résolution” ½ İ\u200b\ud800"
    assert len(folded(text)) == len(text)
    assert folded(text).startswith('große 85 x 55 mm - "resolution" ½')


def test_a_statement_stands_where_it_says() -> None:
    text = "# Cards\n\n * Bleed: 3 mm\n * Keep text 5 mm\n   from the edge. No RGB.\n"
    for one in statements_of(text):
        assert folded(text[one.start : one.end]) == one.text


def test_abbreviations_and_decimals_end_no_sentence() -> None:
    assert texts("Bleed min. 3 mm. Trim 3.5 x 2 in. Send e.g. a PDF.") == [
        "bleed min. 3 mm.",
        "trim 3.5 x 2 in.",
        "send e.g. a pdf.",
    ]


def test_list_items_and_labels_stay_apart_and_wrapped_lines_join() -> None:
    assert texts("Bleed: 3 mm\nSafety: 5 mm") == ["bleed: 3 mm", "safety: 5 mm"]
    assert texts("1. Bleed 3 mm\n2. Safety 5 mm") == ["bleed 3 mm", "safety 5 mm"]
    assert texts("Pictures should have a resolution of no less than\n300 ppi when placed.") == [
        "pictures should have a resolution of no less than 300 ppi when placed."
    ]


def test_a_cell_carries_the_headers_of_its_column_and_row() -> None:
    cells = statements_of("Images | Minimum | Ideal\nPhotos | 200 ppi | 300 ppi")
    assert [(one.text, one.label) for one in cells if "ppi" in one.text] == [
        ("200 ppi", "photos / minimum"),
        ("300 ppi", "photos / ideal"),
    ]


def test_a_row_of_two_cells_is_one_statement() -> None:
    assert texts("Bleed | 3 mm\nSafety | 5 mm") == ["bleed | 3 mm", "safety | 5 mm"]
    assert texts("Bleed ........ 3 mm")[0].split() == ["bleed", "3", "mm"]


def test_a_heading_goes_with_what_stands_under_it() -> None:
    last = statements_of("Bleed\n\n- 3 mm on all sides")[-1]
    assert (last.text, last.heading) == ("3 mm on all sides", "bleed")
