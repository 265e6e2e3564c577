"""Embedded font programs: whole, cut off, damaged (ISO 32000-2:2020, 9.9). CFF is in tests/outside, as typst writes it."""

from __future__ import annotations

import io
from pathlib import Path
from typing import Any

import pikepdf
import pytest
import reportlab
from fontTools.misc import eexec
from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont
from pikepdf import Dictionary, Name, Pdf, Stream

from service.pdf.content.fonts.font_programs import font_damage

FONTS = Path(reportlab.__file__).parent / "fonts"
"""Bitstream Vera (TrueType) and Dark Garden (Type 1), whose licences ship beside them."""


def damage(key: str, program: bytes, **lengths: int) -> Any:
    pdf = Pdf.new()
    stream = Stream(pdf, program)
    for name, value in lengths.items():
        stream[f"/{name}"] = value
    descriptor = Dictionary({"/Type": Name.FontDescriptor, f"/{key}": pdf.make_indirect(stream)})
    return font_damage(pdf.make_indirect(Dictionary(Type=Name.Font, Subtype=Name.Type1, FontDescriptor=descriptor)))


# --- TrueType ---------------------------------------------------------------------------------------------------------


def vera() -> bytes:
    return (FONTS / "Vera.ttf").read_bytes()


def test_a_whole_true_type_font_is_sound() -> None:
    assert damage("FontFile2", vera()) is None


@pytest.mark.parametrize("share", [0.9, 0.5, 0.1, 0.01])
def test_a_true_type_font_that_is_cut_off(share: float) -> None:
    assert isinstance(damage("FontFile2", vera()[: int(len(vera()) * share)]), str)


@pytest.mark.parametrize("key", ["FontFile", "FontFile2", "FontFile3"])
@pytest.mark.parametrize("program", [b"", b"no font at all", bytes(200)])
def test_what_is_no_font(key: str, program: bytes) -> None:
    assert isinstance(damage(key, program), str)


def blanks_only(length_of_outlines: int | None) -> bytes:
    """Vera's blank alone. Its table of outlines has that length; None: the program has no such table."""
    font, out = TTFont(FONTS / "Vera.ttf"), io.BytesIO()
    options = Options(notdef_outline=False, drop_tables=["kern", "hdmx"])
    subsetter = Subsetter(options)
    subsetter.populate(unicodes=[32])
    subsetter.subset(font)
    font.save(out, reorderTables=None)
    data = bytearray(out.getvalue())
    entry = data.index(b"glyf")
    if length_of_outlines is None:
        data[entry : entry + 4] = b"gone"
    else:
        data[entry + 12 : entry + 16] = length_of_outlines.to_bytes(4, "big")
    return bytes(data)


@pytest.mark.parametrize("length", [1, 0, None])
def test_a_font_of_blanks_has_no_outlines_to_lose(length: int | None) -> None:
    assert damage("FontFile2", blanks_only(length)) is None


def test_a_font_of_letters_without_its_outlines_is_damaged() -> None:
    data = bytearray(vera())
    entry = data.index(b"glyf")
    data[entry : entry + 4] = b"gone"
    assert damage("FontFile2", bytes(data)) == "its program has no outlines"
    data[entry : entry + 4] = b"glyf"
    data[entry + 12 : entry + 16] = bytes(4)
    assert damage("FontFile2", bytes(data)) == "its outlines are cut off"


def test_a_font_without_a_program_is_another_rule_s_matter() -> None:
    assert font_damage(Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name.Helvetica)) is None


def test_a_program_that_cannot_be_unpacked() -> None:
    pdf = Pdf.new()
    broken = Stream(pdf, b"not deflated")
    broken.Filter = Name.FlateDecode
    font = Dictionary(FontDescriptor=Dictionary(FontFile2=pdf.make_indirect(broken)))
    assert isinstance(font_damage(font), str)


# --- Type 1 -----------------------------------------------------------------------------------------------------------


def segments() -> list[bytes]:
    """Clear text, encrypted part, zeros: each behind six bytes of header in the file (Type 1 font files of DOS)."""
    data, parts = (FONTS / "DarkGardenMK.pfb").read_bytes(), []
    while data[1] != 3:
        length = int.from_bytes(data[2:6], "little")
        parts.append(data[6 : 6 + length])
        data = data[6 + length :]
    return parts


def lengths() -> dict[str, int]:
    clear, encrypted, *_ = segments()
    return {"Length1": len(clear), "Length2": len(encrypted)}


def test_a_type_1_font_as_a_pdf_holds_it_and_as_a_file_of_its_own() -> None:
    assert damage("FontFile", b"".join(segments()), **lengths()) is None
    assert damage("FontFile", (FONTS / "DarkGardenMK.pfb").read_bytes()) is None


@pytest.mark.parametrize("share", [0.9, 0.5, 0.01])
def test_a_type_1_font_that_is_cut_off(share: float) -> None:
    whole = b"".join(segments()[:2])
    assert isinstance(damage("FontFile", whole[: int(len(whole) * share)], **lengths()), str)


def test_a_type_1_font_whose_encrypted_part_is_something_else() -> None:
    clear, encrypted, *_ = segments()
    assert isinstance(damage("FontFile", clear + bytes(reversed(encrypted))), str)


def test_an_encrypted_part_may_start_like_a_header() -> None:
    """Its first byte is anybody's choice (Adobe Type 1 Font Format, on eexec, from memory).

    0x80 opens a segment only in a file of its own.
    """
    clear, encrypted, *_ = segments()
    plain, _ = eexec.decrypt(encrypted, 55665)
    again, _ = eexec.encrypt(b"Y&Y " + plain[4:], 55665)
    assert again[:1] == b"\x80"
    assert damage("FontFile", clear + again) is None


def test_damage_is_told_for_composite_fonts_too() -> None:
    pdf = Pdf.new()
    descriptor = Dictionary(FontFile2=pdf.make_indirect(Stream(pdf, vera()[:1000])))
    inner = pdf.make_indirect(Dictionary(Type=Name.Font, Subtype=Name.CIDFontType2, FontDescriptor=descriptor))
    font = Dictionary(Type=Name.Font, Subtype=Name.Type0, DescendantFonts=pikepdf.Array([inner]))
    assert isinstance(font_damage(font), str)
