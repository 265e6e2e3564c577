"""Measurements to JSON and back: exact, strict, fast."""

from __future__ import annotations

import json
import types
import typing
from dataclasses import MISSING, fields, is_dataclass, replace
from functools import cache
from pathlib import Path
from types import NoneType
from typing import Any, get_args, get_origin, get_type_hints

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from service.language.sentences import Sentence, sentence
from service.pdf.codec import (
    document_part_from_text,
    measurements_from_json,
    measurements_to_json,
    page_from_json,
    page_from_text,
    pages_apart,
    part_to_text,
    put_together_in_json,
    question_from_json,
    question_to_json,
)
from service.pdf.exact_records import LONGEST_TEXT, RecordRefused
from service.pdf.facts.geometry import Box, Sides
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.painted.content import Content
from service.pdf.facts.painted.images import Image
from service.pdf.facts.parts import DocumentPart, PagePart, put_together
from service.pdf.facts.unknown import BeyondLimits, Failure, FailureKind, Unmeasured, unmeasured
from service.pdf.measure import measure, parts_of
from service.pdf.question import Question
from tests.build import document, page
from tests.facts import fact
from tests.patience import processor_seconds
from tests.stored_records import records_in

RECORDS = [one for one in records_in(Measurements) if is_dataclass(one) and one not in (Sentence, Unmeasured, Failure)]

PLAIN: dict[Any, st.SearchStrategy[Any]] = {
    int: st.integers(),
    float: st.floats(allow_nan=False, allow_infinity=False),
    str: st.text(st.characters(exclude_categories=["Cs"]), max_size=12),
    bool: st.booleans(),
    NoneType: st.none(),
}


@st.composite
def fitting_sentences(draw: st.DrawFn, deep: int = 2) -> Sentence:
    """Sentences whose values are those that their text names."""
    value = st.one_of(PLAIN[str], st.integers(-(10**17), 10**17), PLAIN[float], *([fitting_sentences(deep - 1)] if deep else []))
    names = draw(st.lists(st.text("abc_", min_size=1, max_size=4), max_size=3, unique=True))
    words = draw(st.text(st.characters(exclude_categories=["Cs"], exclude_characters="{}"), max_size=12))
    return Sentence(words + "".join(f" {{{name}}}" for name in names), tuple((name, draw(value)) for name in names))


@cache
def anything(kind: Any) -> st.SearchStrategy[Any]:
    """Every value that a field of that type may have."""
    arguments = get_args(kind)
    match get_origin(kind):
        case typing.Literal:
            return st.sampled_from(arguments)
        case typing.Union | types.UnionType:
            return st.one_of([anything(one) for one in arguments])
        case origin if origin is tuple:
            return st.lists(anything(arguments[0]), max_size=2).map(tuple)
        case origin if origin is Sides:
            return st.builds(Sides, *[anything(arguments[0])] * 4)
    if kind is Sentence:
        return fitting_sentences()
    if kind is Unmeasured:
        unknown = st.sampled_from((Unmeasured, BeyondLimits))
        return st.builds(lambda kind, one: kind(one.text, one.values), unknown, fitting_sentences())
    if kind is Failure:
        return st.builds(lambda why, one: Failure(why, one.text, one.values), anything(FailureKind), fitting_sentences())
    if kind is Box:
        return st.builds(Box, *[PLAIN[float]] * 4)
    if is_dataclass(kind):
        return st.builds(kind, **{name: anything(hint) for name, hint in get_type_hints(kind).items()})
    return PLAIN[kind]


@settings(max_examples=80, deadline=None, suppress_health_check=list(HealthCheck))
@given(anything(Measurements))
def test_every_record_comes_back_as_it_was(measurements: Measurements) -> None:
    assert measurements_from_json(measurements_to_json(measurements)) == measurements


def test_a_measured_file_comes_back_as_it_was(tmp_path: Path) -> None:
    made = page(85, 55).fill(cyan=1).picture((10, 10, 40, 30), jpeg_quality=80).text("Open", size=8, at=(12, 45))
    found = measure(document(made).info(Title="Bäckerei").save(tmp_path / "card.pdf"))
    assert measurements_from_json(measurements_to_json(found)) == found


def test_parts_come_back_as_they_were_and_the_texts_of_pages_make_the_text_of_the_whole(tmp_path: Path) -> None:
    made = (page(85, 55).fill(cyan=1).text("Open\tat nine", size=8, at=(12, 45)), page(85, 55).picture((10, 10, 40, 30)))
    parts = list(parts_of(document(*made).info(Title="Bäcker\tei").save(tmp_path / "two.pdf")))
    whole = [document_part_from_text(part_to_text(one)) for one in parts if isinstance(one, DocumentPart)]
    pages = [page_from_text(part_to_text(one)) for one in parts if isinstance(one, PagePart)]
    assert [*whole, *(one.part for one in pages)] == parts
    found = put_together(whole[-1].document, [one.part for one in pages])
    assert put_together_in_json(found.document, [one.text for one in pages]) == measurements_to_json(found)


def test_a_page_without_what_stands_beside_it_is_refused(tmp_path: Path) -> None:
    *_, last = parts_of(page(85, 55).save(tmp_path / "one.pdf"))
    assert isinstance(last, PagePart)
    written, _, beside = part_to_text(last).partition("\t")
    for text in (written, beside, f"{beside}\t{written}", f"{written}\t{beside}\t{beside}"):
        with pytest.raises(RecordRefused):
            page_from_text(text)


def test_each_page_can_be_read_by_itself(tmp_path: Path) -> None:
    made = document(page(85, 55).fill(cyan=1), page(85, 55).text("Öffnen", size=8, at=(12, 45)))
    found = measure(made.save(tmp_path / "two.pdf"))
    apart = pages_apart(measurements_to_json(found))
    assert not isinstance(apart, Unmeasured)
    assert tuple(map(page_from_json, apart)) == found.pages


def test_why_there_are_no_pages_is_told_instead_of_them() -> None:
    found = Measurements.unreadable(17, Failure("locked", "The file asks for a password."))
    assert pages_apart(measurements_to_json(found)) == found.pages


def test_pages_of_what_are_no_measurements_are_refused() -> None:
    for text in ("[]", '{"pages": 3}', "{"):
        with pytest.raises(RecordRefused):
            pages_apart(text)


def test_a_file_that_could_not_be_opened_comes_back_as_it_was() -> None:
    found = Measurements.unreadable(17, Failure("locked", "The file asks for a password."))
    assert measurements_from_json(measurements_to_json(found)) == found


def test_half_a_character_pair_cannot_be_sent_on() -> None:
    found = Measurements.unreadable(17, Failure("broken", "cut \ud83e"))
    text = measurements_to_json(found)
    text.encode()
    assert measurements_from_json(text).document.failure == Failure("broken", "cut \ufffd")


def test_a_reason_keeps_its_values_apart_from_its_text() -> None:
    limit = sentence("it has more than {count} drawing instructions", count=12_000)
    why = unmeasured("The page was not followed to its end: {limit}.", limit=limit)
    found = Measurements(Measurements.unreadable(17, Failure("broken", "…")).document, why)
    back = measurements_from_json(measurements_to_json(found))
    assert back == found
    assert isinstance(back.pages, Unmeasured)
    assert back.pages.why == "The page was not followed to its end: it has more than 12,000 drawing instructions."


# --- Strictness ---


@pytest.fixture
def plain(tmp_path: Path) -> dict[str, Any]:
    found = measure(document(page(85, 55).fill(cyan=1)).save(tmp_path / "card.pdf"))
    decoded = json.loads(measurements_to_json(found))
    assert isinstance(decoded, dict)
    return decoded


@pytest.mark.parametrize(
    "text",
    [
        "",
        "null",
        "[]",
        "7",
        '"x"',
        "{}",
        "{",
        '{"document": {}, "pages": []}',
        "[" * 100_000,
        '{"document": NaN, "pages": []}',
        "\x00",
    ],
)
def test_garbage_is_refused(text: str) -> None:
    with pytest.raises(RecordRefused):
        measurements_from_json(text)


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("document", "size_bytes"), "7"),
        (("document", "size_bytes"), True),
        (("document", "size_bytes"), 7.0),
        (("document", "page_count"), None),
        (("document", "page_count"), {"unmeasured": 7}),
        (("document", "page_count"), {"unmeasured": "so", "more": 1}),
        (("document", "page_count"), {"beyond_limits": 7}),
        (("document", "page_count"), {"unmeasured": "so", "beyond_limits": "so"}),
        (("document", "page_count"), {"unknown": "so"}),
        (("document", "damage"), "cut"),
        (("document", "damage"), {}),
        (("document", "damage"), [7]),
        (("document", "damage"), [["It has {count}.", {}, 1]]),
        (("document", "damage"), [["It has {count}.", {"size": 1}]]),
        (("document", "damage"), [["It has {count} and {count}.", {"count": 1}]]),
        (("document", "damage"), [["It has {count:>99999999999}.", {"count": 1}]]),
        (("document", "damage"), [["It has {count}.", {"count": True}]]),
        (("document", "damage"), [["It has {count}.", {"count": 10**40}]]),
        (("document", "damage"), [["It has {count}.", {"count": "x" * 5000}]]),
        (("document", "damage"), [["{a}", {"a": ["{a}", {"a": ["{a}", {"a": ["{a}", {"a": 1}]}]}]}]]),
        (("document", "damage"), ["x" * 5000]),
        (("document", "title"), 7),
        (("document", "title"), "\ud800"),
        (("document", "encryption"), {"encrypted": 1, "printing_allowed": True}),
        (("document", "failure"), {"kind": "angry", "why": ""}),
        (("document", "failure"), {"kind": "broken", "text": ""}),
        (("document", "failure"), {"kind": "broken", "why": {}}),
        (("document", "unheard_of"), 1),
        (("pages",), {}),
        (("pages",), ""),
        (("pages",), [None]),
        (("pages", 0, "rotation"), 45),
        (("pages", 0, "rotation"), False),
        (("pages", 0, "user_unit"), "1"),
        (("pages", 0, "bleed_declared"), 1),
        (("pages", 0, "boxes_mm", "trim"), [0, 0, 1]),
        (("pages", 0, "boxes_mm", "trim"), [0, 0, 1, "1"]),
        (("pages", 0, "boxes_mm", "trim"), [0, 0, 1, None]),
        (("pages", 0, "boxes_mm", "trim"), {"x0": 0}),
        (("pages", 0, "bleed_mm"), [3, 3, 3, 3]),
        (("pages", 0, "bleed_mm", "top"), None),
        (("pages", 0, "declared_boxes", 0, "name"), "sheet"),
        (("pages", 0, "content"), None),
        (("pages", 0, "content", "colors", 0, "family"), "cmy"),
    ],
)
def test_a_value_of_another_kind_is_refused(plain: dict[str, Any], path: tuple[str | int, ...], value: Any) -> None:
    measurements_from_json(json.dumps(plain))
    at: Any = plain
    for step in path[:-1]:
        at = at[step]
    at[path[-1]] = value
    with pytest.raises(RecordRefused):
        measurements_from_json(json.dumps(plain))


@pytest.mark.parametrize("number", ["1e999", "Infinity", "-Infinity", "NaN", "9" * 5000])
def test_a_number_that_is_none_is_refused(plain: dict[str, Any], number: str) -> None:
    plain["pages"][0]["user_unit"] = 1.25
    text = json.dumps(plain)
    measurements_from_json(text)
    with pytest.raises(RecordRefused):
        measurements_from_json(text.replace('"user_unit": 1.25', f'"user_unit": {number}'))


def test_a_missing_field_is_refused(plain: dict[str, Any]) -> None:
    """Nothing is filled in: an earlier version that did not look at it must not pass."""
    for record in (plain["pages"][0], plain["document"], plain["pages"][0]["content"]["colors"][0]):
        for name in list(record):
            without = record.pop(name)
            with pytest.raises(RecordRefused):
                measurements_from_json(json.dumps(plain))
            record[name] = without
    measurements_from_json(json.dumps(plain))


@pytest.mark.parametrize("record", RECORDS, ids=lambda one: one.__name__)
def test_no_fact_has_a_default(record: type) -> None:
    """Whoever measures says each; `tests.facts` has usual values for tests."""
    assert [one.name for one in fields(record) if (one.default, one.default_factory) != (MISSING, MISSING)] == []


def test_a_question_comes_back_as_it_was() -> None:
    question = Question(((85.0, 55.0), (55.0, 85.0)), (3.0, 3.175), (300.0,), ("Foil",))
    assert question_from_json(question_to_json(question)) == question


@pytest.mark.parametrize(
    "text",
    [
        "[[], []]",
        "{}",
        '{"trim_sizes_mm": [], "bleeds_mm": [], "ink_limits_percent": []}',
        '{"trim_sizes_mm": [[85, 55, 1]], "bleeds_mm": [], "ink_limits_percent": [], "finishing_inks": []}',
    ],
)
def test_a_question_of_another_form_is_refused(text: str) -> None:
    with pytest.raises(RecordRefused):
        question_from_json(text)


def test_a_text_without_end_is_refused_unread() -> None:
    class Endless(str):
        def __len__(self) -> int:
            return LONGEST_TEXT + 1

    with pytest.raises(RecordRefused, match="longer"):
        measurements_from_json(Endless("{}"))


def test_twenty_thousand_pictures_are_read_well_within_a_second(tmp_path: Path) -> None:
    found = measure(page(85, 55).save(tmp_path / "card.pdf"))
    assert not isinstance(found.pages, Unmeasured)
    box = Box(1.25, 2, 3, 4)
    image = fact(Image, box, box, 100, 100, 300.1, 300.1, "contone", "DeviceCMYK", 8, "DCTDecode", 80)
    content = fact(Content, (image,) * 20_000, (), (), (), Sides(True, True, True, True))
    many = replace(found, pages=(replace(found.pages[0], content=content),))
    with processor_seconds(at_most=3):  # 0.35 s alone on a slow machine
        assert measurements_from_json(measurements_to_json(many)) == many
