"""The page's boxes, rotation and unit: as declared, as in force, and the ruler that measures from the trim.

* Corners come in any order (ISO 32000-2:2020, 7.9.5); the origin may lie anywhere.
* MediaBox, CropBox and Rotate are inherited, the other boxes are not (7.7.3.4).
* CropBox defaults to the MediaBox; BleedBox, TrimBox and ArtBox to the CropBox; each is cut to the MediaBox (14.11.2.1).
* Rotate turns the page clockwise in steps of 90 degrees; boxes are stated before it (7.7.3.3, Table 31).
* UserUnit is the size of a user-space unit in 1/72 inch (8.3.2.3).

A value that cannot be a box, a rotation or a unit is left out and named in `slips`. The dictionary is read directly:
a library's convenience would fall back without a word. A page without a MediaBox is taken as US Letter, as the common
readers do (seen with poppler, PDFium and qpdf), and that is named too.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from math import isfinite
from types import MappingProxyType
from typing import Literal

import pikepdf

from service.language.sentences import Sentence, sentence
from service.pdf.facts.box_names import BoxName
from service.pdf.facts.geometry import MM_PER_POINT, Box, Matrix
from service.pdf.facts.page import DeclaredBox, PageBoxes
from service.pdf.reading.page_tree import is_rectangle, with_ancestors

Rotation = Literal[0, 90, 180, 270]

LETTER_PT = Box(0, 0, 612, 792)
"""What the common readers assume for a page without a MediaBox."""

FARTHEST_PT = 1e7
"""A coordinate farther out (3.5 km) is no place on a page. Ours, no source."""

LARGEST_USER_UNIT = 75_000
"""The limit of PDF 1.6 implementations, from memory."""

BOX_KEYS: Mapping[BoxName, str] = MappingProxyType(
    {"media": "/MediaBox", "crop": "/CropBox", "bleed": "/BleedBox", "trim": "/TrimBox", "art": "/ArtBox"}
)
_NO_MEDIA_BOX = sentence(
    "no usable MediaBox, the size of the sheet; {width} × {height} mm (US Letter) is assumed, as readers do.",
    width=215.9,
    height=279.4,
)
_INHERITED = ("/MediaBox", "/CropBox")


@dataclass(frozen=True)
class DeclaredPage:
    """What the page dictionary says of its size, in user-space units, corners in order, nothing cut."""

    boxes_pt: Mapping[BoxName, Box]
    """The usable ones only. Units are user space: points where `user_unit` is 1."""
    rotation: Rotation
    user_unit: float
    slips: tuple[Sentence, ...]
    """What had to be left out or assumed, each to follow the words 'Page 3:'."""

    @property
    def media_pt(self) -> Box:
        return self.boxes_pt.get("media", LETTER_PT)

    def in_force_pt(self, name: BoxName) -> Box | None:
        """A declared box cut to the MediaBox; None where it is not declared or nothing of it is left."""
        declared = self.boxes_pt.get(name)
        cut = declared.intersection(self.media_pt) if declared else None
        return cut if cut and cut.area > 0 else None

    @property
    def crop_pt(self) -> Box:
        return self.in_force_pt("crop") or self.media_pt


def read_page(page: pikepdf.Object, *, has_size: bool = True) -> DeclaredPage:
    """Read the page dictionary. `has_size` False: a MediaBox there is not the file's but was filled in on opening."""
    boxes: dict[BoxName, Box] = {}
    slips: list[Sentence] = []
    for name, key in BOX_KEYS.items():
        if name == "media" and not has_size:
            continue
        box, slip = _declared_box(page, key)
        if box:
            boxes[name] = box
        if slip:
            slips.append(slip)
    if "media" not in boxes:
        slips.append(_NO_MEDIA_BOX)
    rotation, rotation_slip = _rotation(page)
    user_unit, unit_slip = _user_unit(page)
    slips += [one for one in (rotation_slip, unit_slip) if one]
    return DeclaredPage(MappingProxyType(boxes), rotation, user_unit, tuple(slips))


def _declared_box(page: pikepdf.Object, key: str) -> tuple[Box | None, Sentence | None]:
    """The nearest usable box of that key, and what is wrong with one that had to be passed over."""
    slip = None
    for node in with_ancestors(page) if key in _INHERITED else (page,):
        value = node.get(key)
        if value is None:
            continue
        box = _box(value)
        if box:
            return box, slip
        slip = sentence("the {box} is no rectangle with a width and a height; it is passed over.", box=key[1:])
    return None, slip


def _box(value: object) -> Box | None:
    if not isinstance(value, pikepdf.Array) or not is_rectangle(value):
        return None
    corners = [float(one) for one in value]
    if not all(isfinite(one) and abs(one) <= FARTHEST_PT for one in corners):
        return None
    box = Box.of_corners(*corners)
    return box if box.area > 0 else None


def _rotation(page: pikepdf.Object) -> tuple[Rotation, Sentence | None]:
    value = next((node["/Rotate"] for node in with_ancestors(page) if "/Rotate" in node), 0)
    degrees = _number(value)
    if degrees is None or degrees % 90:
        return 0, sentence("the Rotate is no multiple of 90; the page is taken as not rotated.")
    turned: tuple[Rotation, ...] = (0, 90, 180, 270)
    return turned[int(degrees % 360) // 90], None


def _user_unit(page: pikepdf.Object) -> tuple[float, Sentence | None]:
    unit = _number(page.get("/UserUnit", 1))
    if unit is None or not 0 < unit <= LARGEST_USER_UNIT:
        return 1.0, sentence("the UserUnit is no usable number; 1 is taken.")
    return unit, None


def _number(value: object) -> float | None:
    if isinstance(value, int | Decimal) and not isinstance(value, bool) and isfinite(value):
        return float(value)
    return None


# --- The ruler --------------------------------------------------------------------------------------------------------


def ruler(trim_box_pt: Box, rotation: Rotation, user_unit: float) -> Matrix:
    """From default user space to mm from the top-left corner of the trimmed page as displayed, y downwards."""
    x0, y0, x1, y1 = trim_box_pt
    mm = MM_PER_POINT * user_unit
    match rotation:
        case 90:  # what was the left edge is on top
            return Matrix(0, mm, mm, 0, -y0 * mm, -x0 * mm)
        case 180:
            return Matrix(-mm, 0, 0, mm, x1 * mm, -y0 * mm)
        case 270:  # what was the right edge is on top
            return Matrix(0, -mm, -mm, 0, y1 * mm, x1 * mm)
    return Matrix(mm, 0, 0, -mm, -x0 * mm, y1 * mm)


def boxes_in_force(declared: DeclaredPage, trim_box_pt: Box, to_mm: Matrix) -> PageBoxes:
    """All five, mm; the trim as it was worked out."""
    return PageBoxes(
        media=to_mm.box(declared.media_pt),
        crop=to_mm.box(declared.crop_pt),
        bleed=to_mm.box(declared.in_force_pt("bleed") or declared.crop_pt),
        trim=to_mm.box(trim_box_pt),
        art=to_mm.box(declared.in_force_pt("art") or declared.crop_pt),
    )


def boxes_declared(declared: DeclaredPage, to_mm: Matrix) -> tuple[DeclaredBox, ...]:
    return tuple(DeclaredBox(name, to_mm.box(box)) for name, box in declared.boxes_pt.items())
