"""Pictures on plates are averages: no pixel holds more than the picture does, and they are those that Ghostscript prints.

Each picture is placed at odd scales, turned, and in a form, on one page. Ghostscript's `tiffsep` paints at eight times the
resolution and averages; its ICC conversions are off (`-dUseFastColor`), since plates take an ICC space of four channels as the
press's own. Tolerances beside the test.
"""

from __future__ import annotations

import io
from collections.abc import Callable
from math import cos, radians, sin
from pathlib import Path
from typing import Any

import numpy as np
import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name
from PIL import Image

from service.pdf.content.resources import Resources, Shared
from service.pdf.plates.pictures.codecs import Bytes
from service.pdf.plates.pictures.samples import samples_of
from service.pdf.plates.pictures.source import picture_source
from tests.outside.separations import PPI, ghostscript_plates, our_plates
from tests.outside_tools import program
from tests.pdf.icc_profiles import profile
from tests.pdf.plates.picture_files import EVERY_PIXEL, jpeg, picture

COLUMNS, ROWS = 260, 196
RANDOM = np.random.default_rng(12)
HEAVY = np.array(
    [(255, 255, 255, 0), (0, 255, 255, 255), (255, 0, 255, 255), (191, 191, 191, 192), (200, 210, 155, 200)], np.uint8
)
"""Five colours of 300 %, none of more."""
CODES = RANDOM.integers(0, len(HEAVY), (ROWS, COLUMNS), np.uint8)
SMOOTH = np.asarray(Image.fromarray(HEAVY[CODES][:14, :18]).resize((COLUMNS, ROWS), Image.Resampling.BICUBIC))


def tint_transform(pdf: pikepdf.Pdf, inks: int) -> Any:
    limits = [0, 1] * inks
    program = b"{" + b"pop " * inks + b"0 0 0 0}"
    return pdf.make_indirect(pikepdf.Stream(pdf, program, FunctionType=4, Domain=limits, Range=[0, 1] * 4))


def device_n(pdf: pikepdf.Pdf, *inks: str) -> Any:
    names = Array([Name("/" + one) for one in inks])
    return Array([Name.DeviceN, names, Name.DeviceCMYK, tint_transform(pdf, len(inks))])


def indexed(pdf: pikepdf.Pdf, base: Any) -> pikepdf.Stream:
    table = pikepdf.String(HEAVY.tobytes())
    return picture(pdf, CODES.tobytes(), COLUMNS, ROWS, Array([Name.Indexed, base, len(HEAVY) - 1, table]))


def icc(pdf: pikepdf.Pdf) -> Any:
    return Array([Name.ICCBased, pdf.make_indirect(pikepdf.Stream(pdf, profile(), N=4))])


PICTURES: dict[str, tuple[tuple[str, ...], Callable[[pikepdf.Pdf], pikepdf.Stream]]] = {
    "Indexed over DeviceCMYK": (("Cyan", "Magenta", "Yellow", "Black"), lambda pdf: indexed(pdf, Name.DeviceCMYK)),
    "Indexed over DeviceN": (
        ("Copper", "Cyan", "Linden", "Black"), lambda pdf: indexed(pdf, device_n(pdf, "Copper", "Cyan", "Linden", "Black")),
    ),
    "DeviceN": (
        ("Black", "Copper", "Linden", "Yellow"),
        lambda pdf: picture(pdf, HEAVY[CODES].tobytes(), COLUMNS, ROWS, device_n(pdf, "Black", "Copper", "Linden", "Yellow")),
    ),
    "ICC": (
        ("Cyan", "Magenta", "Yellow", "Black"), lambda pdf: picture(pdf, SMOOTH.tobytes(), COLUMNS, ROWS, icc(pdf)),
    ),
    "CMYK JPEG": (
        ("Cyan", "Magenta", "Yellow", "Black"),
        lambda pdf: picture(pdf, jpeg(SMOOTH, "CMYK"), COLUMNS, ROWS, Name.DeviceCMYK, Filter=Name.DCTDecode),
    ),
}
MEAN_OFF = 1.0
"""Of 255, over a cell of 8 mm: there is no bias. PDFium's own scaling was off by 1.5."""
MOST_OFF, MOST_OFF_TURNED = 4, 12
"""Of 255, the mean over pixels, of pictures that are noise: ours are looked up at 64 places of a pixel, at 16 where they are
turned, Ghostscript's at 64. PDFium's own scaling was off by 9 to 19."""
CELL_MM = 24.0
PLACES = {  # width in mm, height in mm, degrees, whether in a form
    "at 71 ppi": (93.0, 69.8, 0, False),  # all but a part of it is clipped
    "at 301 ppi": (21.93, 16.57, 0, False),
    "at 347 by 460 ppi": (19.03, 10.81, 0, False),
    "at 137 ppi, a part": (48.2, 36.3, 0, False),
    "upright": (18.77, 14.13, 90, False),
    "turned": (17.9, 13.5, 25, False),
    "in a form": (20.31, 15.29, 0, True),
}


def sheet_of(make: Callable[[pikepdf.Pdf], pikepdf.Stream]) -> tuple[bytes, Bytes]:
    """One cell beside the other, and what the picture holds."""
    with pikepdf.new() as pdf:
        image = make(pdf)
        held = samples_of(picture_source(image, Resources(None, Shared(pdf))), EVERY_PIXEL).values
        unit, content = 72 / 25.4, []
        form = pikepdf.Stream(pdf, b"0.5 0 0 0.5 0 0 cm /P Do", Type=Name.XObject, Subtype=Name.Form, BBox=[0, 0, 1, 1])
        form.Resources, form.Matrix = Dictionary(XObject=Dictionary(P=image)), [2, 0, 0, 2, 0, 0]
        for at, (width, height, degrees, in_form) in enumerate(PLACES.values()):
            across, up = cos(radians(degrees)), sin(radians(degrees))
            middle = (at + 0.5) * CELL_MM, CELL_MM / 2
            e = middle[0] - (width * across - height * up) / 2 + 0.083
            f = middle[1] - (width * up + height * across) / 2 + 0.041
            matrix = [one * unit for one in (width * across, width * up, -height * up, height * across, e, f)]
            clip = b"%.4f 0 %.4f %.4f re W n" % (at * CELL_MM * unit, CELL_MM * unit, CELL_MM * unit)
            content.append(b"q %s %s cm /%s Do Q" % (clip, b" ".join(b"%.5f" % one for one in matrix), b"F" if in_form else b"P"))
        page = pdf.add_blank_page(page_size=(len(PLACES) * CELL_MM * unit, CELL_MM * unit))
        page.Resources = Dictionary(XObject=Dictionary(P=image, F=pdf.make_indirect(form)))
        page.Contents = pikepdf.Stream(pdf, b"\n".join(content))
        out = io.BytesIO()
        pdf.save(out)
    return out.getvalue(), held


def cell(plate: Bytes, at: int) -> Bytes:
    """The middle of a cell, which every picture covers."""
    half = 4.0 / 25.4 * PPI
    middle = (at + 0.5) * CELL_MM / 25.4 * PPI, CELL_MM / 2 / 25.4 * PPI
    return plate[round(middle[1] - half) : round(middle[1] + half), round(middle[0] - half) : round(middle[0] + half)]


@pytest.mark.parametrize("kind", PICTURES)
def test_no_pixel_of_a_plate_holds_more_than_the_picture(kind: str, tmp_path: Path) -> None:
    inks, make = PICTURES[kind]
    data, held = sheet_of(make)
    plates = our_plates(data, tmp_path).coverage
    total = np.sum([plates[ink].astype(int) for ink in inks], axis=0)
    assert total.max() <= held.astype(int).sum(axis=2).max()
    for at, ink in enumerate(inks):
        assert plates[ink].max() <= held[:, :, at].max(), ink
    if kind.startswith("Indexed") or kind == "DeviceN":  # every colour of it is one of 300 %: so is every average
        for at, place in enumerate(PLACES):
            assert cell(total, at).min() == 765, place


@pytest.mark.parametrize("kind", PICTURES)
def test_pictures_at_odd_scales_are_what_ghostscript_prints(kind: str, tmp_path: Path) -> None:
    inks, make = PICTURES[kind]
    data, _ = sheet_of(make)
    ours = our_plates(data, tmp_path).coverage
    theirs = ghostscript_plates(program("gs"), data, tmp_path, options=("-dUseFastColor=true",))
    for at, place in enumerate(PLACES):
        for ink in inks:
            off = cell(ours[ink], at).astype(int) - cell(theirs[ink], at)
            assert abs(off.mean()) <= MEAN_OFF, (place, ink)
            assert np.abs(off).mean() <= (MOST_OFF_TURNED if place == "turned" else MOST_OFF), (place, ink)
