"""Facts of font dictionaries: ISO 32000-2:2020, 9.6 to 9.9."""

from __future__ import annotations

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name, Stream

from service.pdf.content.fonts.font_facts import LONGEST_NAME, FontFacts, describe_font

PDF = pikepdf.new()
"""Streams live only as long as their PDF."""


def descriptor(program: str | None = None, **keys: object) -> Dictionary:
    made = Dictionary(Type=Name.FontDescriptor, **keys)
    if program:
        made[f"/{program}"] = Stream(PDF, b"font program")
    return made


@pytest.mark.parametrize(
    ("subtype", "program"), [("Type1", "FontFile"), ("Type1", "FontFile3"), ("TrueType", "FontFile2"), ("MMType1", "FontFile")]
)
def test_a_simple_font_with_its_program_is_embedded(subtype: str, program: str) -> None:
    font = Dictionary(Subtype=Name(f"/{subtype}"), BaseFont=Name("/ABCDEF+Bakery-Bold"), FontDescriptor=descriptor(program))
    assert describe_font(font) == FontFacts("Bakery-Bold", subtype, embedded=True, subset=True)  # type: ignore[arg-type]


def test_a_font_with_a_descriptor_and_no_program_is_not_embedded() -> None:
    font = Dictionary(Subtype=Name.TrueType, BaseFont=Name.Bakery, FontDescriptor=descriptor())
    assert describe_font(font) == FontFacts("Bakery", "TrueType", embedded=False, subset=False)


def test_a_program_that_is_no_stream_is_none() -> None:
    font = Dictionary(Subtype=Name.TrueType, BaseFont=Name.Bakery, FontDescriptor=descriptor(FontFile2=Array([])))
    assert not describe_font(font).embedded


def test_a_standard_font_without_descriptor_is_not_embedded() -> None:
    assert describe_font(Dictionary(Subtype=Name.Type1, BaseFont=Name.Helvetica)) == FontFacts(
        "Helvetica", "Type1", embedded=False, subset=False
    )


@pytest.mark.parametrize(("subtype", "program"), [("CIDFontType0", "FontFile3"), ("CIDFontType2", "FontFile2")])
def test_a_composite_font_is_what_its_descendant_is(subtype: str, program: str) -> None:
    descendant = Dictionary(Subtype=Name(f"/{subtype}"), BaseFont=Name("/ABCDEF+Bakery"), FontDescriptor=descriptor(program))
    font = Dictionary(Subtype=Name.Type0, BaseFont=Name("/ABCDEF+Bakery-Identity-H"), DescendantFonts=Array([descendant]))
    assert describe_font(font) == FontFacts("Bakery", subtype, embedded=True, subset=True)  # type: ignore[arg-type]


@pytest.mark.parametrize("descendants", [None, Array([]), Array([7]), Name.Lost])
def test_a_composite_font_without_descendant_is_unknown(descendants: object) -> None:
    font = Dictionary(Subtype=Name.Type0, BaseFont=Name.Bakery)
    if descendants is not None:
        font.DescendantFonts = descendants
    assert describe_font(font) == FontFacts("Bakery", "unknown", embedded=False, subset=False)


def test_a_type_3_font_is_in_the_file_by_its_nature() -> None:
    assert describe_font(Dictionary(Subtype=Name.Type3)) == FontFacts("unnamed", "Type3", embedded=True, subset=False)
    assert describe_font(Dictionary(Subtype=Name.Type3, Name=Name.Stamps)).name == "Stamps"


@pytest.mark.parametrize(
    ("written", "name", "subset"),
    [
        ("ABCDEF+Bakery", "Bakery", True),
        ("ABCDE+Bakery", "ABCDE+Bakery", False),
        ("abcdef+Bakery", "abcdef+Bakery", False),
        ("ABCDEF+", "unnamed", True),
        ("Bakery Bold", "Bakery Bold", False),
    ],
)
def test_a_subset_is_marked_by_six_capitals(written: str, name: str, subset: bool) -> None:
    facts = describe_font(Dictionary(Subtype=Name.Type1, BaseFont=Name(f"/{written}")))
    assert (facts.name, facts.subset) == (name, subset)


def test_the_name_of_the_program_stands_in_for_a_missing_one() -> None:
    font = Dictionary(Subtype=Name.Type1, FontDescriptor=descriptor("FontFile", FontName=Name("/ABCDEF+Bakery")))
    assert describe_font(font) == FontFacts("Bakery", "Type1", embedded=True, subset=True)


def test_a_name_that_is_not_utf_8_is_read_all_the_same() -> None:
    font = pikepdf.Object.parse(b"<</Subtype/Type1/BaseFont/B#e4ckerei>>")
    assert describe_font(font).name == "Bäckerei"


def test_a_name_without_end_is_cut() -> None:
    assert len(describe_font(Dictionary(BaseFont=Name("/" + "x" * 5000))).name) == LONGEST_NAME


@pytest.mark.parametrize(
    "thing", [Dictionary(), Array([]), Name.Font, 7, None, Dictionary(Subtype=7, BaseFont=7, FontDescriptor=7)]
)
def test_what_is_no_font_is_unknown_and_not_embedded(thing: object) -> None:
    assert describe_font(thing) == FontFacts("unnamed", "unknown", embedded=False, subset=False)  # type: ignore[arg-type]
