"""What belongs to a spread or leads to it, given to the half that it means: annotations, destinations, page labels.

* An annotation that the file draws stands on each half whose paper it touches, so that both look as before; one without
  appearance, such as a link, goes to the half where its middle lies (ISO 32000-2:2020, 12.5).
* A destination goes to the half where its point lies; one without a point across, to the left half (12.3.2.2).
* Page labels keep their numbering from the same page on (12.4.2).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from math import isfinite

import pikepdf

from service.pdf.facts.geometry import Box, Matrix
from service.pdf.reading.arrays import box_of
from service.pdf.reading.names import name_text
from service.proofs.single_pages.brief import PageCuts
from service.proofs.single_pages.passive import bookmarks

_POINT_AT = {"XYZ": (2, 3), "FitR": (2, 5), "FitV": (2, None), "FitBV": (2, None), "FitH": (None, 2), "FitBH": (None, 2)}
"""Kind of destination → where its x and its y stand in the array (Table 149)."""


@dataclass(frozen=True)
class Spread:
    left: pikepdf.Object
    right: pikepdf.Object
    """The pages that are its halves as displayed. `left` is the object that was the spread."""
    cuts: PageCuts
    to_mm: Matrix

    def half_at(self, x_mm: float) -> pikepdf.Object:
        trim = self.cuts.cuts[0].trim_mm
        assert trim is not None, "a half has a trim"
        return self.left if x_mm <= trim.x1 else self.right


# --- Annotations ----------------------------------------------------------------------------------------------------------


def share_annotations(pdf: pikepdf.Pdf, spread: Spread) -> None:
    """Raises what reading raises."""
    listed = spread.left.get("/Annots")
    if not isinstance(listed, pikepdf.Array):
        return
    left, right = [], []
    for one in listed:
        if not isinstance(one, pikepdf.Dictionary):
            continue
        on_left, on_right = _stands_on(one, spread)
        if on_left:
            left.append(one)
        if on_right:
            right.append(_on_page(_copy(pdf, one) if on_left else one, spread.right))
    for page, those in ((spread.left, left), (spread.right, right)):
        if those:
            page["/Annots"] = pikepdf.Array(those)
        elif "/Annots" in page:
            del page["/Annots"]


def _stands_on(annotation: pikepdf.Dictionary, spread: Spread) -> tuple[bool, bool]:
    """Whether it belongs to the left and to the right half; at least to one."""
    rectangle = box_of(annotation.get("/Rect"))
    if rectangle is None:
        return True, False
    box = spread.to_mm.box(rectangle)
    on_left = spread.half_at((box.x0 + box.x1) / 2) is spread.left
    if "/AP" not in annotation:
        return on_left, not on_left
    touched = tuple(_touches(box, cut.media_mm) for cut in spread.cuts.cuts)
    return (touched[0], touched[1]) if any(touched) else (on_left, not on_left)


def _touches(box: Box, media: Box | None) -> bool:
    shared = box.intersection(media) if media else None
    return shared is not None and shared.area > 0


def _copy(pdf: pikepdf.Pdf, annotation: pikepdf.Dictionary) -> pikepdf.Object:
    """The second of the two: without a name and a place in the structure, which there is once."""
    once = ("/NM", "/StructParent", "/Popup", "/IRT")
    return pdf.make_indirect(pikepdf.Dictionary({key: value for key, value in annotation.items() if key not in once}))


def _on_page(annotation: pikepdf.Object, page: pikepdf.Object) -> pikepdf.Object:
    if "/P" in annotation:
        annotation["/P"] = page
    return annotation


# --- Destinations ---------------------------------------------------------------------------------------------------------


def retarget(pdf: pikepdf.Pdf, spreads: Sequence[Spread]) -> None:
    """Every destination of the file. Raises what reading raises."""
    by_page = {spread.left.objgen: spread for spread in spreads}
    if not by_page:
        return
    for destination in _destinations(pdf):
        if isinstance(destination, pikepdf.Dictionary):  # a named one may be wrapped (12.3.2.4)
            destination = destination.get("/D")
        if not isinstance(destination, pikepdf.Array) or len(destination) == 0:
            continue
        page = destination[0]
        spread = by_page.get(page.objgen) if isinstance(page, pikepdf.Dictionary) else None
        if spread:
            destination[0] = spread.half_at(_x_mm(destination, spread))


def _destinations(pdf: pikepdf.Pdf) -> Iterator[object]:
    root = pdf.Root
    yield root.get("/OpenAction")
    named = root.get("/Dests")
    if isinstance(named, pikepdf.Dictionary):
        yield from (value for _, value in named.items())
    names = root.get("/Names")
    if isinstance(names, pikepdf.Dictionary):
        yield from _leaf_values(names.get("/Dests"), "/Names")
    for bookmark in bookmarks(pdf):
        yield from _of_holder(bookmark)
    for page in pdf.pages:
        listed = page.obj.get("/Annots")
        for annotation in listed if isinstance(listed, pikepdf.Array) else ():
            if isinstance(annotation, pikepdf.Dictionary):
                yield from _of_holder(annotation)


def _of_holder(holder: pikepdf.Dictionary) -> Iterator[object]:
    yield holder.get("/Dest")
    yield holder.get("/A")


def _x_mm(destination: pikepdf.Array, spread: Spread) -> float:
    """How far right it points, as displayed; far left where it does not say."""
    known = list(destination)
    at = _POINT_AT.get(name_text(known[1]) if len(known) > 1 else "", (None, None))
    x, y = (_number(known[index]) if index is not None and index < len(known) else None for index in at)
    across_is_x = abs(spread.to_mm.a) > abs(spread.to_mm.c)  # not where Rotate has turned the page on its side
    if (x if across_is_x else y) is None:
        return float("-inf")
    return spread.to_mm.point(x or 0.0, y or 0.0)[0]


def _number(value: object) -> float | None:
    good = isinstance(value, int | Decimal) and not isinstance(value, bool) and isfinite(value)
    return float(value) if good else None  # type: ignore[arg-type]  # mypy does not see through `good`


# --- Page labels ----------------------------------------------------------------------------------------------------------


def move_labels(pdf: pikepdf.Pdf, firsts: Sequence[int]) -> None:
    """`firsts`: where each page of before begins now, from 0. Raises what reading raises."""
    labels = pdf.Root.get("/PageLabels")
    if not isinstance(labels, pikepdf.Dictionary):
        return
    flat = list(_leaf_values(labels, "/Nums", keys=True))
    moved: dict[int, object] = {}
    for key, label in zip(flat[::2], flat[1::2], strict=False):
        if isinstance(key, int) and 0 <= key < len(firsts):
            moved[firsts[key]] = label
    numbers = [part for key in sorted(moved) for part in (key, moved[key])]
    pdf.Root["/PageLabels"] = pikepdf.Dictionary(Nums=pikepdf.Array(numbers))


def _leaf_values(tree: object, leaf: str, *, keys: bool = False) -> Iterator[object]:
    """The values, on demand with their keys before them, of a name tree or number tree (7.9.6, 7.9.7); loops end."""
    pending, entered = [tree], set()
    while pending:
        node = pending.pop()
        if not isinstance(node, pikepdf.Dictionary) or (node.objgen != (0, 0) and node.objgen in entered):
            continue
        entered.add(node.objgen)
        leaves, kids = node.get(leaf), node.get("/Kids")
        if isinstance(leaves, pikepdf.Array):
            yield from list(leaves) if keys else list(leaves)[1::2]
        if isinstance(kids, pikepdf.Array):
            pending.extend(kids)
