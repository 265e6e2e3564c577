"""Make single pages of a PDF: spreads cut in two, missing boxes written, nothing that is painted touched.

* Both halves of a spread share one content stream, byte for byte; MediaBox, CropBox, BleedBox and TrimBox make the difference.
  Boxes are stated before Rotate and in user-space units (ISO 32000-2:2020, 7.7.3.3, 14.11.2, 8.3.2.3).
* The halves stand in the order of reading: left first, or right first where the file says that it reads from right to left
  (ViewerPreferences, Direction; 12.2).
* What acts or is carried along is left out (`passive`). What leads to a spread leads to the half that it means
  (`spread_halves`).
* A claim of PDF/X, with its output intent, stays: the boxes are as PDF/X asks (TrimBox without ArtBox, within BleedBox, within
  MediaBox), and nothing else of what it asks is touched. It is a claim all the same: have the new file checked.
* The same file and question give the same bytes. What was changed stands in the Info dictionary under `Changes`.

A file that is protected against being changed is not changed, and one of which pages are lost is not passed on as whole.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from pathlib import Path

import pikepdf

from service.language.spoken import say
from service.language.wording import listed
from service.pdf.document.whole import info_text
from service.pdf.facts.geometry import Box, Matrix
from service.pdf.facts.unknown import Failure, Unmeasured
from service.pdf.pages.page_boxes import DeclaredPage, read_page, ruler
from service.pdf.reading.names import name_text
from service.pdf.reading.opening import OpenedPdf, opened
from service.pdf.reading.page_tree import inherited
from service.pdf.reading.reading_errors import READING_ERRORS
from service.proofs.single_pages.brief import Cut, PageCuts, SinglePagesBrief
from service.proofs.single_pages.passive import make_passive
from service.proofs.single_pages.spread_halves import Spread, move_labels, retarget, share_annotations

CHANGES = "/Changes"
"""Entry of the Info dictionary, which may hold any text besides its own (14.3.3)."""

_OF_WHOLE_SPREAD = ("/ArtBox", "/Thumb", "/PieceInfo", "/VP", "/SeparationInfo")
"""Entries of a page that describe it as a whole, and neither of its halves."""
_INHERITED = ("/Resources", "/MediaBox", "/CropBox", "/Rotate")

_PROTECTED = Unmeasured("The file is protected against being changed. Save it without protection, and send that.")
_LOST = Unmeasured("The file names pages that cannot be found: its single pages would be fewer. Export it again.")
_DAMAGED = Unmeasured("The file is too damaged for its pages to be written anew. Export it again.")
_OTHER_PAGES = Unmeasured("The file's pages are not those that were measured.")


def single_pages_pdf(path: Path, brief: SinglePagesBrief) -> bytes | Unmeasured:
    """The new PDF, or why there is none. Raises OSError where the file cannot be read from the disk."""
    with opened(path) as pdf:
        if isinstance(pdf, Failure):
            return pdf.reason
        if pdf.pages_lost:
            return _LOST
        try:
            return _made(pdf, brief)
        except READING_ERRORS:
            return _DAMAGED


def _made(source: OpenedPdf, brief: SinglePagesBrief) -> bytes | Unmeasured:
    pdf = source.pdf
    if pdf.is_encrypted and not (pdf.allow.modify_assembly and pdf.allow.modify_other):
        return _PROTECTED
    if len(pdf.pages) != len(brief.pages):
        return _OTHER_PAGES
    rulers = [_ruler(source, number, page, cut) for number, (page, cut) in enumerate(zip(pdf.pages, brief.pages, strict=True), 1)]
    gone = make_passive(pdf)
    spreads = _cut(pdf, brief, rulers)
    retarget(pdf, spreads)
    told = [*brief.changes, *_also(source, gone, bool(spreads))]
    _tell(pdf, " ".join(told))
    out = io.BytesIO()
    pdf.save(
        out,
        deterministic_id=True,
        encryption=False,
        compress_streams=False,
        stream_decode_level=pikepdf.StreamDecodeLevel.none,
        object_stream_mode=pikepdf.ObjectStreamMode.preserve,
        fix_metadata_version=False,
    )
    return out.getvalue()


@dataclass(frozen=True)
class _Ruler:
    to_mm: Matrix
    to_user: Matrix


def _ruler(source: OpenedPdf, number: int, page: pikepdf.Page, cut: PageCuts) -> _Ruler:
    """From the page's units to the ruler that it was measured with, and back. Raises ValueError where there is no such way."""
    declared: DeclaredPage = read_page(page.obj, has_size=number not in source.without_size)
    from_media = ruler(declared.media_pt, declared.rotation, declared.user_unit)
    to_mm = from_media.then(Matrix(e=cut.media_mm.x0, f=cut.media_mm.y0))
    to_user = to_mm.inverse()
    media_mm = to_mm.box(declared.media_pt)
    if to_user is None or not (media_mm.contains(cut.media_mm) and cut.media_mm.contains(media_mm)):
        raise ValueError(f"page {number} is not as it was measured")
    return _Ruler(to_mm, to_user)


# --- Pages ------------------------------------------------------------------------------------------------------------------


def _cut(pdf: pikepdf.Pdf, brief: SinglePagesBrief, rulers: list[_Ruler]) -> list[Spread]:
    """Write every box; insert the second half of each spread. The spreads, as they are now."""
    from_right = _reads_from_right(pdf)
    spreads: list[Spread] = []
    firsts = []
    for page, cuts, measured in zip(list(pdf.pages), brief.pages, rulers, strict=True):
        index = cuts.number - 1 + len(spreads)
        firsts.append(index)
        if not cuts.is_spread:
            _write(page.obj, cuts.cuts[0], measured.to_user)
            continue
        left, at = page.obj, index if from_right else index + 1
        pdf.pages.insert(at, pikepdf.Page(_second(pdf, left)))
        right = pdf.pages[at].obj
        _write(left, cuts.cuts[0], measured.to_user)
        _write(right, cuts.cuts[1], measured.to_user)
        spread = Spread(left, right, cuts, measured.to_mm)
        share_annotations(pdf, spread)
        spreads.append(spread)
    if spreads:
        move_labels(pdf, firsts)
    return spreads


def _second(pdf: pikepdf.Pdf, page: pikepdf.Object) -> pikepdf.Dictionary:
    """The page once more, with what it inherits, after what speaks of the spread as a whole was taken from it."""
    for key in _OF_WHOLE_SPREAD:
        if key in page:
            del page[key]
    for key in _INHERITED:
        if key not in page and (value := inherited(page, key)) is not None:
            page[key] = value
    # The structure of the content is told once, by the left half.
    second = pikepdf.Dictionary({key: value for key, value in page.items() if key != "/StructParents"})
    return pdf.make_indirect(second)


def _write(page: pikepdf.Object, cut: Cut, to_user: Matrix) -> None:
    boxes = {"/MediaBox": cut.media_mm, "/CropBox": cut.crop_mm, "/BleedBox": cut.bleed_mm, "/TrimBox": cut.trim_mm}
    for key, box in boxes.items():
        if box is not None:
            page[key] = _rectangle(to_user.box(box))
    if cut.trim_mm is not None and "/ArtBox" in page:
        del page["/ArtBox"]


def _rectangle(box: Box) -> pikepdf.Array:
    """To a hundred-thousandth of a unit, inwards: a box never grows beyond the one that it lies in."""
    low, high = [_decimal(one, ROUND_CEILING) for one in box[:2]], [_decimal(one, ROUND_FLOOR) for one in box[2:]]
    return pikepdf.Array([*low, *high])


def _decimal(value: float, rounding: str) -> Decimal:
    """What is off by less than 10⁻⁸ comes from our own arithmetic."""
    exact = Decimal(f"{value:.8f}").quantize(Decimal("0.00001"), rounding)
    return exact.normalize() if exact != exact.to_integral_value() else exact.quantize(Decimal(1))


def _reads_from_right(pdf: pikepdf.Pdf) -> bool:
    wishes = pdf.Root.get("/ViewerPreferences")
    return isinstance(wishes, pikepdf.Dictionary) and name_text(wishes.get("/Direction")) == "R2L"


# --- What the new file says of itself ---------------------------------------------------------------------------------------


def _also(source: OpenedPdf, gone: tuple[str, ...], any_spread: bool) -> Iterator[str]:
    """Besides the boxes."""
    if gone:
        yield say("Left out, since it is not printed: {parts}.", parts=listed(gone))
    if source.damage:
        yield say("The file was damaged and had to be repaired to be read.")
    if source.pdf.is_encrypted:
        yield say("Its encryption was taken off.")
    if any_spread and "/StructTreeRoot" in source.pdf.Root:
        yield say("The structure for reading aloud leads to the left half of a spread.")
    claim = info_text(source.pdf, "/GTS_PDFXVersion")
    if claim:
        yield say("The claim of {claim} was kept; have this file checked anew.", claim=claim)


def _tell(pdf: pikepdf.Pdf, text: str) -> None:
    info = pdf.trailer.get("/Info")
    if not isinstance(info, pikepdf.Dictionary):
        info = pdf.trailer["/Info"] = pdf.make_indirect(pikepdf.Dictionary())
    info[CHANGES] = pikepdf.String(text)
