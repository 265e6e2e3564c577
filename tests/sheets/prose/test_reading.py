"""What a reading says beside the draft: words and places, contradictions, open questions, and what it refuses."""

from __future__ import annotations

import pytest

from service.sheets.format.validation import read_sheet
from service.sheets.prose.drafts import ProseRefused, Reading, ReadValue
from tests.language.mirror import mirrored, not_said
from tests.patience import processor_seconds
from tests.sheets.prose.grammar import read_prose
from tests.sweeps import WHOLE


def value(reading: Reading, path: str) -> ReadValue:
    return next(one for one in reading.values if one.path == path)


def asked_about(reading: Reading) -> set[str]:
    return {question.about for question in reading.questions}


def test_a_value_carries_the_exact_words_and_their_place() -> None:
    text = "Please note: we need a bleed of 3 mm, and NO spot colours."
    reading = read_prose(text)
    assert value(reading, "bleed.minimum").quote == "bleed of 3 mm"
    assert value(reading, "bleed.minimum").start == text.index("bleed")
    assert "NO spot colours" in value(reading, "color.spots.maximum").quote


def test_places_in_html_are_places_in_the_text_that_a_reader_sees() -> None:
    reading = read_prose("<p>Bleed:&nbsp;<b>3&nbsp;mm</b></p><script>bleed = '9 mm'</script>", "text/html; charset=utf-8")
    read = value(reading, "bleed.minimum")
    assert reading.text[read.start : read.end] == read.quote
    assert "<" not in reading.text
    assert "9" not in reading.text


def test_the_same_text_gives_the_same_reading() -> None:
    text = "A5, 3 mm bleed, 300 dpi, CMYK, PDF/X-4 preferred"
    assert read_prose(text) == read_prose(text)


@pytest.mark.parametrize(
    ("text", "path"),
    [
        ("Bleed: 3 mm.\nAdd 5 mm of bleed.", "bleed.minimum"),
        ("Trim size 85 × 55 mm. Trimmed to 90 × 50 mm.", "trim"),
        ("Total ink: 300 %. The sum of all inks is at most 260 %.", "color.ink_limit"),
        ("We accept RGB and CMYK. No RGB images.", "color.allowed"),
    ],
)
def test_what_contradicts_itself_is_left_out_and_asked_about(text: str, path: str) -> None:
    reading = read_prose(text)
    assert path.split(".")[-1] not in reading.draft.get(path.split(".")[0], {})
    assert path in asked_about(reading)
    assert all(question.quote for question in reading.questions if question.about == path)


def test_what_a_sheet_needs_and_the_text_does_not_say_is_asked() -> None:
    reading = read_prose("Images: 300 dpi.")
    assert {"trim", "bleed", "margin", "color.allowed", "fonts", "images.bilevel_ppi"} <= asked_about(reading)
    assert "images.contone_ppi" not in asked_about(reading)


def test_a_demand_that_no_key_takes_is_said_to_be_not_understood() -> None:
    reading = read_prose("Bleed 3 mm.\nWhite text must never overprint.\nKeep 12 mm from the spine.")
    assert [passage.quote for passage in reading.not_understood] == [
        "White text must never overprint.",
        "Keep 12 mm from the spine.",
    ]


def test_a_text_that_asks_nothing_gives_an_empty_draft() -> None:
    reading = read_prose("We are open from 9 to 5. Our 4 presses have printed since 1952.")
    assert reading.draft == {}
    assert reading.values == ()
    assert reading.not_understood == ()


def test_two_values_that_no_sheet_takes_together_are_both_asked_about() -> None:
    """A quiet zone that leaves nothing of the card was surely read wrong."""
    reading = read_prose("Trim size 85 × 55 mm. Keep text 30 mm from the edge. Bleed 3 mm.")
    assert "margin" not in reading.draft
    assert "margin.minimum" in asked_about(reading)
    assert reading.draft["bleed"] == {"minimum": "3 mm"}
    read_sheet(reading.draft)


@pytest.mark.parametrize("media_type", ["application/pdf", "text/markdown", ""])
def test_another_media_type_is_refused(media_type: str) -> None:
    with pytest.raises(ProseRefused):
        read_prose("Bleed 3 mm", media_type)


def test_a_text_of_more_than_200_kilobytes_is_refused() -> None:
    read_prose("é" * 100_000)
    with pytest.raises(ProseRefused):
        read_prose("é" * 100_001)


def test_no_text_is_read_as_nothing() -> None:
    assert read_prose("").draft == {}
    assert read_prose("\x00\ud800 \ufeff").draft == {}


HOSTILE = {
    "spaces": " " * 199_000 + "3 mm",
    "numbers": "3 mm, " * 33_000,
    "sizes": "85 x 55 mm " * 17_000,
    "standards": "pdf/x-4 " * 24_000,
    "lines": "Bleed: 3 mm\n" * 16_000,
    "contradictions": "\n".join(f"Bleed: {number / 1000} mm" for number in range(10_000)),
    "rows": "a | 3 mm | b\n" * 15_000,
    "brackets": "(" * 199_000,
    "negations": "no " * 66_000,
}
SHARE = 1 if WHOLE else 4
SECONDS = 20 / SHARE
"""200 kB of the shortest sentences take five to seven seconds here, a part its part; quadratic time would take minutes.

`test_length` holds the growth by counting.
"""


@pytest.mark.parametrize("name", HOSTILE)
def test_a_text_made_to_take_long_does_not(name: str) -> None:
    with processor_seconds(at_most=SECONDS):
        reading = read_prose(HOSTILE[name][: len(HOSTILE[name]) // SHARE])
    assert len(reading.values) + len(reading.not_understood) < 200


@pytest.mark.parametrize("markup", ["<", "<!--", "<a ", "</", "<a b='", "<?", "<!", "<td><p>", "&#", "<![CDATA[", "<script></"])
def test_broken_html_does_not_take_long_either(markup: str) -> None:
    with processor_seconds(at_most=SECONDS):
        read_prose(markup * (199_000 // SHARE // len(markup)), "text/html")


def test_an_orientation_without_a_size_is_asked_about() -> None:
    reading = read_prose("Landscape orientation only. Bleed 3 mm.")
    assert "trim" not in reading.draft
    assert {"trim", "trim.orientation"} & asked_about(reading) == {"trim.orientation"}


@pytest.mark.parametrize(
    "text",
    [
        "We love good paper.",
        "Bleed 3 mm. Bleed 5 mm.",
        "DL flyer, bleed 3 mm.",
        "Size 91 x 61 mm including bleed.",
        "Document size: 91 x 61 mm.",
        "Trim size 85 x 55 mm. Trim size 90 x 50 mm.",
        "Landscape orientation only.",
        "Portrait orientation only.",
        "RGB is accepted.\nRGB is not accepted.",
        "Images: 300 dpi.",
    ],
)
def test_questions_are_asked_in_the_language(text: str) -> None:
    """A value of the text stands in them as the sheet writes it."""
    with mirrored():
        questions = read_prose(text).questions
    assert questions
    assert [one.question for one in questions if "⟦" not in one.question or not_said(one.question)] == []


def test_what_does_not_fit_is_told_with_the_sentence_of_the_sheet() -> None:
    with mirrored():
        questions = [one.question for one in read_prose("Trim size 85 × 55 mm. Keep text 30 mm from the edge.").questions]
    assert any("30 mm⟦’⟧⟦ was read, and it does not fit: ⟧" in one for one in questions)


@pytest.mark.parametrize(("text", "media_type"), [("x", "image/png"), ("x", ""), ("x" * 200_001, "text/plain")])
def test_a_refusal_names_what_was_refused_in_the_language(text: str, media_type: str) -> None:
    with mirrored(), pytest.raises(ProseRefused) as refused:
        read_prose(text, media_type)
    assert refused.value.said_of("prices.txt").startswith("prices.txt is ")
    with mirrored():
        assert set(not_said(refused.value.said_of("Prices"))) <= {"Prices", "image/png"}
