"""YAML and JSON as text: the traps of YAML 1.1, and texts made to hurt."""

from __future__ import annotations

import contextlib
import json

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from service.sheets.format.parsing import parse_sheet_text
from service.sheets.format.refusals import SheetRefused
from tests.patience import processor_seconds


def refusal_of(text: str | bytes) -> tuple[str, str]:
    with pytest.raises(SheetRefused) as refused:
        parse_sheet_text(text)
    (only,) = refused.value.errors
    return only


@pytest.mark.parametrize(
    "word", ["off", "on", "yes", "no", "NO", "Off", "y", "n", "12:30", "1_000", "2024-02-29", "0x1F", "=", "<<"]
)
def test_words_that_yaml_1_1_turns_into_something_else_stay_words(word: str) -> None:
    assert parse_sheet_text(f"key: {word}") == {"key": word}


def test_yaml_1_1_would_have_read_off_as_false() -> None:
    """The trap is real: the general-purpose loader falls into it."""
    assert yaml.safe_load("levels: {image.compression: off}") == {"levels": {"image.compression": False}}
    assert parse_sheet_text("levels: {image.compression: off}") == {"levels": {"image.compression": "off"}}


@pytest.mark.parametrize(
    ("word", "value"),
    [
        ("true", True),
        ("False", False),
        ("null", None),
        ("~", None),
        ("", None),
        ("010", 10),
        ("3", 3),
        ("-2.5", -2.5),
        ("1e3", 1000.0),
    ],
)
def test_words_of_the_core_schema_of_yaml_1_2(word: str, value: object) -> None:
    """YAML 1.2.2, 10.3.2."""
    read = parse_sheet_text(f"key: {word}")
    assert read == {"key": value}
    assert type(read["key"]) is type(value)


def test_quoted_words_are_text() -> None:
    assert parse_sheet_text("a: '1.3'\nb: \"true\"\nc: |\n  two\n  lines\n") == {"a": "1.3", "b": "true", "c": "two\nlines\n"}


def test_json_is_read_as_json() -> None:
    document = {"title": "Card \U0001f35e", "bleed": {"minimum": "3 mm"}, "pages": {"allowed": [1, 2]}}
    assert parse_sheet_text(json.dumps(document)) == document
    assert parse_sheet_text(json.dumps(document, indent="\t").encode()) == document


def test_yaml_in_braces_is_yaml() -> None:
    assert parse_sheet_text("{trim: {width: 85 mm, height: 55 mm}}") == {"trim": {"width": "85 mm", "height": "55 mm"}}


def test_a_byte_order_mark_is_passed_over() -> None:
    assert parse_sheet_text(b"\xef\xbb\xbfbleed: 3") == {"bleed": 3}


def test_a_key_that_stands_twice_is_refused_with_its_line() -> None:
    assert refusal_of("bleed:\n  minimum: 3 mm\n  minimum: 5 mm\n")[0] == "/bleed/minimum"
    assert "line 3" in refusal_of("bleed:\n  minimum: 3 mm\n  minimum: 5 mm\n")[1]
    assert "‘minimum’ twice" in refusal_of('{"bleed": {"minimum": 3, "minimum": 5}}')[1]


def test_a_text_that_unfolds_to_gigabytes_is_refused_at_once() -> None:
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x]"]
    lines += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]" for n in range(1, 12)]
    with processor_seconds(at_most=2):
        assert refusal_of("\n".join(lines))[0] == "/a0"


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("trim: *size", "/trim"),
        ("trim: !!python/object/apply:os.system [ls]", "/trim"),
        ("trim: !!binary aGVsbG8=", "/trim"),
        ("folds:\n- at: 97 mm\n- !fold {at: 3}", "/folds/1"),
        ("? [a, b]\n: 1", ""),
        ("a: 1\n---\nb: 2", ""),
        ("", ""),
        ("# only a comment\n", ""),
        ("a: [1, 2", ""),
        ("a: 1\n b: 2", ""),
        ("a: \x00", ""),
        ('{"a": NaN}', ""),
        ('{"a": 1', ""),
        (b"\xff\xfea\x00", ""),
        ("x" * 300_000, ""),
    ],
)
def test_what_no_sheet_holds_is_refused_with_its_place(text: str | bytes, place: str) -> None:
    pointer, detail = refusal_of(text)
    assert pointer == place
    assert detail


@pytest.mark.parametrize("text", ["[" * 5_000, "{" * 5_000, '{"a":' * 40_000, "a: " + "[" * 30 + "]" * 30, "- " * 5_000 + "x"])
def test_a_text_nested_without_end_is_refused(text: str) -> None:
    assert refusal_of(text)[1]


@given(st.text(max_size=200))
def test_any_text_is_read_or_refused(text: str) -> None:
    with contextlib.suppress(SheetRefused):
        assert isinstance(parse_sheet_text(text), str | int | float | dict | list | None)
