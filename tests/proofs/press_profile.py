"""An ICC profile of an invented press that can be used, its tables set here corner by corner (ISO 15076-1:2010, 10.9, lut8Type).

Sixteen overprints of full tints in CIE L*a*b*, between which a colour engine interpolates; and a way back that is good enough.
"""

from __future__ import annotations

import struct
from itertools import product

from pikepdf import Array, Dictionary, Name, Pdf, Stream

from tests.pdf.icc_profiles import profile

CYAN_LAB = (50.0, -30.0, -45.0)
_SOLIDS = {"c": CYAN_LAB, "m": (46.0, 70.0, -4.0), "y": (87.0, -5.0, 88.0), "k": (15.0, 0.0, 0.0)}
_PAPER = (100.0, 0.0, 0.0)


def press_profile() -> bytes:
    to_lab = _lut(4, 3, b"".join(_as_lab8(_overprint(corner)) for corner in product((0, 1), repeat=4)))
    back = b"".join(bytes(255 * (1 - light) for light in corner) + b"\0" for corner in product((0, 1), repeat=3))
    to_inks = _lut(3, 4, back)
    return profile(tags={b"A2B0": to_lab, b"A2B1": to_lab, b"B2A0": to_inks, b"B2A1": to_inks, b"wtpt": _white()})


def with_press_profile(pdf: Pdf) -> None:
    """The file says that it is for that press."""
    stream = pdf.make_indirect(Stream(pdf, press_profile(), N=4))
    intent = Dictionary(
        Type=Name.OutputIntent, S=Name("/GTS_PDFX"), OutputConditionIdentifier="Copperbeck sheetfed", DestOutputProfile=stream
    )
    pdf.Root.OutputIntents = pdf.make_indirect(Array([intent]))


def _overprint(corner: tuple[int, ...]) -> tuple[float, float, float]:
    lightness, a, b = _PAPER
    for on, solid in zip(corner, _SOLIDS.values(), strict=True):
        if on:
            lightness, a, b = lightness * solid[0] / 100, a * 0.5 + solid[1], b * 0.5 + solid[2]
    return lightness, a, b


def _as_lab8(lab: tuple[float, float, float]) -> bytes:
    return bytes((round(lab[0] * 2.55), *(min(max(round(part + 128), 0), 255) for part in lab[1:])))


def _lut(inputs: int, outputs: int, table: bytes) -> bytes:
    """Two points along each input, straight curves."""
    matrix = struct.pack(">9i", *(65536 if place % 4 == 0 else 0 for place in range(9)))
    curve = bytes(range(256))
    return b"mft1" + bytes(4) + bytes((inputs, outputs, 2, 0)) + matrix + curve * inputs + table + curve * outputs


def _white() -> bytes:
    return b"XYZ " + bytes(4) + struct.pack(">3i", *(round(part * 65536) for part in (0.9642, 1.0, 0.8249)))
