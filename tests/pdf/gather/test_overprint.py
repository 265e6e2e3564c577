"""Overprint has one truth: what the walk tells of an object is what the plates show at its place (ISO 32000-2:2020, 8.6.7)."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name, String

from service.pdf.content.resources import Shared
from service.pdf.facts.geometry import Box
from service.pdf.facts.painted.content import Content, inks_of
from service.pdf.plates.colors.inks import process_by_formula
from service.pdf.plates.separation import Coverage, PageToSeparate, separate
from tests.build import PageBuilder, page
from tests.build_objects import separation
from tests.pdf.gather.content_of import content_of

INKS = ("Cyan", "Magenta", "Yellow", "Black")
GROUNDS = {"process": {"cyan": 0.6, "yellow": 0.4}, "spot": {"spot": ("Copper", 0.6)}}
AREA = b" 60 60 50 40 re f"
STENCIL = b" q 50 0 0 40 60 60 cm BI /W 1 /H 1 /IM true /BPC 1 ID \x00 EI Q"
AT_IT, BESIDE_IT = (105, 118), (5, 5)
"""Rows and columns of the plates at 100 ppi: in the middle of the object, and far from it."""

PAINTED: dict[tuple[str, int, str], tuple[bytes, str | None]] = {
    # how black or white is written, OPM, what lies below → the operators, and what becomes of it
    ("black in DeviceCMYK", 0, "process"): (b"0 0 0 1 k" + AREA, "black knocks out"),
    ("black in DeviceCMYK", 0, "spot"): (b"0 0 0 1 k" + AREA, "black overprints"),
    ("black in DeviceCMYK", 1, "process"): (b"0 0 0 1 k" + AREA, "black overprints"),
    ("black in DeviceCMYK", 1, "spot"): (b"0 0 0 1 k" + AREA, "black overprints"),
    ("black in DeviceGray", 1, "process"): (b"0 g" + AREA, "black knocks out"),
    ("black in DeviceGray", 1, "spot"): (b"0 g" + AREA, "black overprints"),
    ("black in Separation", 0, "process"): (b"/K cs 1 scn" + AREA, "black overprints"),
    ("black in DeviceN with the others at 0", 0, "process"): (b"/N cs 0 0 0 1 scn" + AREA, "black knocks out"),
    ("white in DeviceCMYK", 0, "process"): (b"0 0 0 0 k" + AREA, None),
    ("white in DeviceCMYK", 0, "spot"): (b"0 0 0 0 k" + AREA, "white vanishes"),
    ("white in DeviceCMYK", 1, "process"): (b"0 0 0 0 k" + AREA, "white vanishes"),
    ("white in DeviceGray", 1, "process"): (b"1 g" + AREA, None),
    ("white in DeviceGray", 1, "spot"): (b"1 g" + AREA, "white vanishes"),
    ("white stencil in DeviceCMYK", 1, "process"): (b"0 0 0 0 k" + STENCIL, "white vanishes"),
    ("white stencil in DeviceCMYK", 0, "process"): (b"0 0 0 0 k" + STENCIL, None),
    ("white in DeviceN of the process inks", 0, "process"): (b"/N cs 0 0 0 0 scn" + AREA, None),
    ("the ground's own spot at tint 0", 0, "spot"): (b"/Copper cs 0 scn" + AREA, None),
    ("a spot at tint 0 on process inks", 0, "process"): (b"/Copper cs 0 scn" + AREA, "white vanishes"),
    ("registration at tint 0", 0, "process"): (b"/All cs 0 scn" + AREA, None),
}


def built(painted: bytes, mode: int, ground: str) -> PageBuilder:
    made = page(85, 55, bleed=0).fill(**GROUNDS[ground])
    made.resource("ExtGState", "Over", Dictionary(OP=True, op=True, OPM=mode))
    for name, ink in (("K", "Black"), ("Copper", "Copper"), ("All", "All")):
        made.resource("ColorSpace", name, separation(ink))
    made.resource("ColorSpace", "N", device_n)
    return made.raw(b"/Over gs " + painted)


def device_n(pdf: pikepdf.Pdf) -> Array:
    function = pikepdf.Stream(pdf, b"{}", FunctionType=4, Domain=Array([0, 1] * 4), Range=Array([0, 1] * 4))
    return Array([Name.DeviceN, Array([Name("/" + ink) for ink in INKS]), Name.DeviceCMYK, pdf.make_indirect(function)])


def told_and_plates(made: PageBuilder, folder: Path) -> tuple[Content, Mapping[str, Coverage]]:
    content = content_of(made, folder)
    with pikepdf.open(folder / "file.pdf") as pdf:
        one = pdf.pages[0].obj
        media_pt, media_mm = Box(*(float(side) for side in one.MediaBox)), Box(0, 0, 85, 55)
        asked = PageToSeparate(one, media_pt, media_mm, 0, 1.0, inks_of(content))
        return content, separate(pdf, asked, Shared(pdf), process_by_formula).coverage


@pytest.mark.parametrize(("how", "mode", "ground"), PAINTED)
def test_the_walk_and_the_plates_say_the_same(how: str, mode: int, ground: str, tmp_path: Path) -> None:
    painted, case = PAINTED[how, mode, ground]
    content, plates = told_and_plates(built(painted, mode, ground), tmp_path)
    assert [use.case for use in content.overprints] == ([case] if case else [])
    stays = all(plate[AT_IT] == plate[BESIDE_IT] for ink, plate in plates.items() if ink != "Black")
    assert stays == (case in ("black overprints", "white vanishes"))


def test_ink_below_a_spot_that_overprints_is_still_known(tmp_path: Path) -> None:
    """Varnish over a process colour: black in mode 0 still knocks the process colour out of there."""
    varnish = b"/Varnish cs 1 scn 0 0 240 150 re f "
    made = built(varnish + b"0 0 0 1 k" + AREA, 0, "process").resource("ColorSpace", "Varnish", separation("Varnish"))
    content, plates = told_and_plates(made, tmp_path)
    assert [use.case for use in content.overprints] == ["black knocks out"]
    assert {ink: int(plate[AT_IT]) for ink, plate in plates.items() if plate.any()} == {
        "Cyan": 0, "Yellow": 0, "Black": 255, "Varnish": 255,
    }


def test_a_palette_of_spot_tints_prints_its_spot_and_leaves_the_process_inks(tmp_path: Path) -> None:
    """8.6.6.3: an Indexed space is as its base, Separation, also where it overprints. Ghostscript's plates say the same."""
    palette = Array([Name.Indexed, separation("Foil"), 1, String(bytes((0, 204)))])
    _, plates = told_and_plates(built(b"/P cs 1 sc" + AREA, 0, "process").resource("ColorSpace", "P", palette), tmp_path)
    assert {ink: int(plate[AT_IT]) for ink, plate in plates.items() if plate.any()} == {"Cyan": 153, "Yellow": 102, "Foil": 204}
