"""Which inks an object sets where it overprints: ISO 32000-2:2020, 8.6.7, and the rows of the tables of 11.7.4.5."""

from __future__ import annotations

from collections.abc import Sequence

import pikepdf
import pytest

from service.pdf.content.color_spaces import ColorSpace, color_space
from service.pdf.content.overprint import EVERY_INK, inks_set
from service.pdf.plates.colors.overprint import untouched
from tests.build_objects import separation

PROCESS = {"Cyan", "Magenta", "Yellow", "Black"}
PLATES = ("Cyan", "Magenta", "Yellow", "Black", "Copper", "Foil")
BLACK, RICH, WHITE = (0.0, 0.0, 0.0, 1.0), (0.2, 0.3, 0.0, 1.0), (0.0, 0.0, 0.0, 0.0)

Case = tuple[str, Sequence[str], Sequence[float] | None, int, set[str] | None]
CASES: dict[str, Case] = {
    "8.6.7: DeviceCMYK in mode 0 replaces every process ink": ("DeviceCMYK", PLATES[:4], BLACK, 0, PROCESS),
    "8.6.7: in mode 1 an ink at 0 stays": ("DeviceCMYK", PLATES[:4], BLACK, 1, {"Black"}),
    "8.6.7, its example: as a DeviceN of three": ("DeviceCMYK", PLATES[:4], RICH, 1, {"Cyan", "Magenta", "Black"}),
    "8.6.7: white in mode 1 sets nothing": ("DeviceCMYK", PLATES[:4], WHITE, 1, set()),
    "8.6.7: zero is told before anything is rounded": ("DeviceCMYK", PLATES[:4], (1e-6, 0, 0, 1), 1, {"Cyan", "Black"}),
    "8.6.7: mode 1 is not for pictures and shadings": ("DeviceCMYK", PLATES[:4], None, 1, PROCESS),
    "11.7.4.5: gray is a process space in either mode": ("DeviceGray", ("Black",), (0.0,), 1, PROCESS),
    "11.7.4.5: so is RGB": ("DeviceRGB", (), (0.0, 0.0, 0.0), 1, PROCESS),
    "11.7.4.5: so is an ICC space of four inks": ("ICCBased (4 channels)", PLATES[:4], BLACK, 1, PROCESS),
    "8.6.6.3: a colour of a table is none of DeviceCMYK": ("Indexed (DeviceCMYK)", PLATES[:4], (1.0,), 1, PROCESS),
    "11.7.4.5: Separation sets its own ink": ('Separation "Foil"', ("Foil",), (1.0,), 0, {"Foil"}),
    "11.7.4.5: at tint 0 as well, to nothing": ('Separation "Foil"', ("Foil",), (0.0,), 1, {"Foil"}),
    "11.7.4.5: a picture in a spot, too": ('Separation "Foil"', ("Foil",), None, 0, {"Foil"}),
    "8.6.6.3: a table of spot tints sets the spot": ('Indexed (Separation "Foil")', ("Foil",), (1.0,), 1, {"Foil"}),
    "8.6.6.5: DeviceN sets all that it names": ('DeviceN ("Cyan", "Foil")', ("Cyan", "Foil"), (0.0, 1.0), 1, {"Cyan", "Foil"}),
    "8.6.6.5: None is no ink": ('DeviceN ("Cyan", "None")', ("Cyan", ""), (1.0, 1.0), 0, {"Cyan"}),
    "8.6.6.4: All is every ink": ('Separation "All"', ("All",), (1.0,), 0, EVERY_INK),
}


@pytest.mark.parametrize("case", CASES)
def test_an_object_that_overprints_sets_these_inks(case: str) -> None:
    written, colorants, color, mode, expected = CASES[case]
    found = inks_set(written, colorants, color, mode)
    assert found == expected


def foil(*more: object) -> ColorSpace:
    return color_space(pikepdf.Array([*more, separation("Foil"), 1, pikepdf.String(bytes(2))] if more else separation("Foil")))


def test_the_plates_leave_the_others_as_they_are() -> None:
    cmyk = color_space(pikepdf.Name.DeviceCMYK)
    assert untouched(cmyk, BLACK, True, 0, PLATES) == {"Copper", "Foil"}
    assert untouched(cmyk, BLACK, True, 1, PLATES) == {"Cyan", "Magenta", "Yellow", "Copper", "Foil"}
    assert untouched(foil(), None, True, 0, PLATES) == {*PROCESS, "Copper"}
    assert untouched(foil(pikepdf.Name.Indexed), None, True, 0, PLATES) == {*PROCESS, "Copper"}


def test_without_overprint_nothing_stays() -> None:
    assert untouched(foil(), (1.0,), False, 1, PLATES) == set()
