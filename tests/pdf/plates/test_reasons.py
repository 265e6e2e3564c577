"""Why a page's plates are not made: what on the page it is, in words of its own."""

from __future__ import annotations

import io
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name, Stream
from PIL import Image

from service.language.spoken import speaking
from service.pdf.facts.unknown import BeyondLimits, Unmeasured
from service.pdf.measure import measure
from tests.build import PageBuilder, page

Maker = Callable[[pikepdf.Pdf], Any]


def reason(made: PageBuilder, folder: Path) -> Unmeasured:
    pages = measure(made.save(folder / "page.pdf")).pages
    assert not isinstance(pages, Unmeasured)
    plates = pages[0].plates
    assert isinstance(plates, Unmeasured)
    return plates


def gradient(program: bytes, **changes: Any) -> PageBuilder:
    def make(pdf: pikepdf.Pdf) -> Dictionary:
        function = Stream(pdf, program, FunctionType=4, Domain=[0, 1], Range=[0, 1] * 4)
        shading = Dictionary(ShadingType=2, ColorSpace=Name.DeviceCMYK, Coords=[0, 0, 100, 0])
        shading.Function = pdf.make_indirect(function)
        for key, value in changes.items():
            shading[f"/{key}"] = value
        return shading

    return page(85, 55).resource("Shading", "S", make).raw(b"/S sh")


def picture(data: bytes, coding: str = "", **keys: Any) -> PageBuilder:
    def make(pdf: pikepdf.Pdf) -> Stream:
        stream = Stream(pdf, data, Type=Name.XObject, Subtype=Name.Image, Width=8, Height=8, BitsPerComponent=8)
        if coding:
            stream.Filter = Name("/" + coding)
        for key, value in ({"ColorSpace": Name.DeviceCMYK} | keys).items():
            stream[f"/{key}"] = value
        return pdf.make_indirect(stream)

    return page(85, 55).resource("XObject", "P", make).raw(b"q 100 0 0 100 20 20 cm /P Do Q")


def rgb_jpeg() -> bytes:
    file = io.BytesIO()
    Image.new("RGB", (8, 8), (10, 20, 30)).save(file, "JPEG")
    return file.getvalue()


REASONS: dict[str, tuple[PageBuilder, str]] = {
    "a function below its stack": (gradient(b"{5 index}"), "a calculator function reaches below its stack"),
    "a function of an unknown word": (gradient(b"{dup sing 0 0}"), "a calculator function has the unknown word sing"),
    "a gradient without a function": (gradient(b"{}", Function=0), "a function is missing"),
    "a gradient of another kind": (gradient(b"{0 0 0}", ShadingType=9), "a gradient is of no kind that the standard knows"),
    "coordinates that are none": (
        gradient(b"{0 0 0}", Coords=Array([0, Name.X, 1, 0])), "a gradient is damaged or of an unknown kind",
    ),
    "a JPEG of three inks in four": (picture(rgb_jpeg(), "DCTDecode"), "a JPEG picture has 3 components, its colour space 4"),
    "half a picture": (picture(bytes(100)), "the data of a picture end before the picture does"),
    "an unknown filter": (
        picture(bytes(256), "LemonDecode"), "a picture is packed by a filter that is not known here: LemonDecode",
    ),
    "a picture of three bits": (
        picture(bytes(256), BitsPerComponent=3), "a picture has 3 bits a component, which no reader knows",
    ),
}


@pytest.mark.parametrize("kind", REASONS)
def test_what_is_damaged_is_named(kind: str, tmp_path: Path) -> None:
    made, expected = REASONS[kind]
    found = reason(made, tmp_path)
    assert found.why == f"The page's separations cannot be made: {expected}."
    assert not isinstance(found, BeyondLimits)


def test_a_limit_of_ours_says_nothing_against_the_file(tmp_path: Path) -> None:
    found = reason(picture(b"", Width=1 << 20, Height=1 << 20), tmp_path)
    assert isinstance(found, BeyondLimits)
    assert found.why == "The page's separations were not made: a picture has 1,099,512 million pixels; a check takes 500 million."


@pytest.mark.parametrize(
    ("language", "said"),
    [
        ("de", "Ein JPEG-Bild hat 3 Komponenten, sein Farbraum 4"),
        ("fr", "une image JPEG a 3 composantes, son espace colorimétrique 4"),
    ],
)
def test_it_is_said_in_other_languages(language: str, said: str, tmp_path: Path) -> None:
    found = reason(REASONS["a JPEG of three inks in four"][0], tmp_path)
    with speaking(language):  # type: ignore[arg-type]
        assert said in found.said()
