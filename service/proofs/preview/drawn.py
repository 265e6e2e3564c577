"""The light PDF that a client reads on a screen: pages cut to their trim, as reader spreads or alone (see `brief`).

* A real export: text and line art stay what they are, fonts are stored once, pictures are made as fine as a screen needs.
* Linearized (ISO 32000-2:2020, Annex F): the first page shows before the rest has arrived.
* A new file is written, and only what a page paints goes into it: no scripts, actions, attachments, bookmarks, hidden layers
  or metadata but the title. The structure of a tagged PDF does not go in either.
* A page that cannot be rewritten is drawn as a picture by PDFium; the file's Info dictionary names it under Changes and says why.

Not a proof: colours on a screen are not those of the print, and overprint is not shown.
"""

from __future__ import annotations

import io
import logging
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pikepdf
import pypdfium2
from pikepdf import Array, Dictionary, Name, Stream

from service.language.sentences import Sentence, sentence
from service.language.spoken import say
from service.pdf.content.resources import Shared
from service.pdf.content.work_limits import MOST_OPERATORS, TooMuchWork
from service.pdf.document.whole import info_text
from service.pdf.facts.geometry import MM_PER_POINT, POINTS_PER_INCH, Box, Matrix
from service.pdf.facts.unknown import Failure, Unmeasured, unmeasured
from service.pdf.pages.page_boxes import DeclaredPage, read_page, ruler
from service.pdf.plates.rewriting.color_runs import ColorRuns
from service.pdf.plates.rewriting.objects import rgb_group
from service.pdf.plates.rewriting.rewriter import CannotSeparate, Rewriter, State
from service.pdf.plates.separation import page_content
from service.pdf.plates.unreadable import Unreadable
from service.pdf.reading.opening import OpenedPdf, opened
from service.pdf.reading.reading_errors import READING_ERRORS
from service.proofs.preview.brief import PageShown, PreviewBrief
from service.proofs.preview.font_copies import share_font_programs
from service.proofs.preview.page_as_picture import drawn_page
from service.proofs.preview.pictures import NEED_PPI, Fineness, ScreenPictures
from service.proofs.preview.rewriting import SCREEN_HANDLERS
from service.proofs.preview.screen_color import ScreenColors
from service.proofs.preview.watermark import watermark_form

log = logging.getLogger(__name__)

LEAST_PPI, LEAST_QUALITY = 72, 25
"""A preview is not made coarser than this to fit a size: nothing could be made out. Ours, after the client-preview sheet."""
_TRIES = 24
"""Steps of fineness between the brief and the least."""
_STEPS = 4

Sheet = tuple[PageShown, ...]


def preview_pdf(path: Path, brief: PreviewBrief) -> bytes | Unmeasured:
    """The preview as bytes, or why it cannot be made."""
    with opened(path) as pdf:
        if isinstance(pdf, Failure):
            return pdf.reason
        drawn: dict[int, Sentence] = {}
        try:
            while True:
                with pikepdf.new() as out:
                    preview = _Preview(pdf, out, brief, drawn)
                    damaged = preview.make()
                    if not damaged:
                        return preview.within_limit()
                drawn |= dict.fromkeys(damaged, sentence("a picture on it is damaged or of an unknown kind"))
        except (*READING_ERRORS, pypdfium2.PdfiumError):
            return Unmeasured("The preview cannot be made: the file, its pages or its layers are damaged. Export it again.")


class _Preview:
    """One preview on its way. `drawn`: pages that are to be drawn as pictures, and why; more may be added."""

    def __init__(self, pdf: OpenedPdf, out: pikepdf.Pdf, brief: PreviewBrief, drawn: dict[int, Sentence]) -> None:
        self.pdf, self.out, self.brief, self.drawn = pdf, out, brief, drawn
        colors = ScreenColors(pdf.pdf)
        self.pictures = ScreenPictures(colors, out)
        self.rewriter = Rewriter(SCREEN_HANDLERS, pdf.pdf, out, colors, Shared(pdf.pdf), self.pictures, ColorRuns())
        self.rewriter.refuses_knockout = False  # it is shown as the reader shows it
        self.rewriter.steps = _STEPS
        self.mark = watermark_form(out, brief.watermark) if brief.watermark else None

    def make(self) -> set[int]:
        """All sheets. Returns pages whose pictures cannot be decoded; the preview is then of no use."""
        for sheet in self.brief.sheets:
            self._add(sheet)
        share_font_programs(self.out)
        self.picture_bytes, damaged = self.pictures.fill(Fineness(self.brief.ppi, self.brief.quality))
        return damaged

    def within_limit(self) -> bytes | Unmeasured:
        written, limit = self._saved(), self.brief.maximum_bytes
        if limit is None or len(written) <= limit:
            return written
        rest = len(written) - self.picture_bytes
        coarser = list(_coarser(self.brief.ppi, self.brief.quality))
        first, last = 0, len(coarser) - 1
        while first < last:  # the first that fits; all after it do
            middle = (first + last) // 2
            if rest + self.pictures.fill(coarser[middle])[0] <= limit:
                last = middle
            else:
                first = middle + 1
        for fineness in coarser[first:]:
            self.pictures.fill(fineness)
            self.brief = replace(self.brief, ppi=fineness.ppi, quality=fineness.quality)
            written = self._saved()
            if len(written) <= limit:
                return written
        return unmeasured(
            "A preview of at most {limit} kB cannot be made: with pictures as coarse as can still be made out it has {size} kB, "
            "of which text, fonts and drawings have {rest} kB. Ask for more or for fewer pages.",
            limit=round(limit / 1000),
            size=round(len(written) / 1000),
            rest=round(rest / 1000),
        )

    def _saved(self) -> bytes:
        drawn = (
            say("Page {number} is drawn as a picture: {why}.", number=number, why=why.said())
            for number, why in sorted(self.drawn.items())
        )
        told, title = " ".join((*self.brief.changes, *drawn)), info_text(self.pdf.pdf, "/Title")
        plain, written = io.BytesIO(), io.BytesIO()
        self.out.save(plain, compress_streams=True, deterministic_id=True)  # else by the clock, and it stays in the ID
        with pikepdf.open(plain) as pdf:  # linearizing leaves a document behind that cannot be saved again
            pdf.docinfo = pdf.make_indirect(Dictionary(Changes=told))
            if isinstance(title, str) and title:
                pdf.docinfo.Title = title
            pdf.save(written, linearize=True, deterministic_id=True, object_stream_mode=pikepdf.ObjectStreamMode.generate)
        return written.getvalue()

    # --- one sheet ---

    def _add(self, sheet: Sheet) -> None:
        width = sum(one.trim_mm.width for one in sheet) / MM_PER_POINT
        height = max(one.trim_mm.height for one in sheet) / MM_PER_POINT
        made = Dictionary()
        pieces: list[bytes] = []
        left = 0.0
        blends = None
        for shown in sheet:
            area = Box(left, height - shown.trim_mm.height / MM_PER_POINT, left + shown.trim_mm.width / MM_PER_POINT, height)
            pieces.append(self._page(shown, area, made))
            group = self.pdf.pdf.pages[shown.number - 1].obj.get("/Group")
            blends = group if isinstance(group, Dictionary) else blends
            left = area.x1
        if self.mark is not None:
            pieces.append(b"q %s cm %s Do Q" % (_numbers(self.mark.placed_on(width, height)), _named(made, self.mark.form)))
        size = Array([0, 0, round(width, 4), round(height, 4)])
        page = Dictionary(Type=Name.Page, MediaBox=size, TrimBox=size, Resources=made)
        page.Contents = self.out.make_indirect(Stream(self.out, b"\n".join(pieces)))
        if blends is not None:
            page.Group = rgb_group(blends)
        self.out.pages.append(pikepdf.Page(self.out.make_indirect(page)))

    def _page(self, shown: PageShown, area: Box, made: Dictionary) -> bytes:
        """What shows one page in its area of the sheet, points from the bottom left."""
        if shown.number not in self.drawn:
            try:
                return self._rewritten(shown, area, made)
            except (CannotSeparate, TooMuchWork, Unreadable) as reason:
                self.drawn[shown.number] = reason.sentence
            except READING_ERRORS:
                log.info("a page cannot be rewritten for a preview", exc_info=True)
                self.drawn[shown.number] = sentence("something that it paints is damaged or of an unknown kind")
        media_pt = self._declared(shown).media_pt
        picture = drawn_page(self.pdf.path, self.out, shown, media_pt, Fineness(self.brief.ppi, self.brief.quality))
        return b"q %s cm %s Do Q" % (_numbers((area.width, 0, 0, area.height, area.x0, area.y0)), _named(made, picture))

    def _rewritten(self, shown: PageShown, area: Box, made: Dictionary) -> bytes:
        page = self.pdf.pdf.pages[shown.number - 1].obj
        to_sheet = self._to_mm(shown).then(Matrix(1 / MM_PER_POINT, 0, 0, -1 / MM_PER_POINT, area.x0, area.y1))
        rewriter, inch = self.rewriter, NEED_PPI / POINTS_PER_INCH
        to_need = Matrix(inch, 0, 0, inch, 0, 0)
        rewriter.operators_left, rewriter.running = MOST_OPERATORS, []
        rewriter.state = State(ctm=to_sheet.then(to_need))
        rewriter.media_px = to_need.box(area)
        self.pictures.page = shown.number
        before = set(made.get("/Pattern", Dictionary()).keys())
        content = page_content(rewriter, page, made)
        clip = b"%s re W n" % _numbers((area.x0, area.y0, area.width, area.height))
        if set(made.get("/Pattern", Dictionary()).keys()) == before:
            return b"q %s %s cm\n%s\nQ" % (clip, _numbers(to_sheet), content)
        # patterns are fixed to the content stream that they stand in (8.7.3.1): it has to keep its own coordinates
        inverse = to_sheet.inverse()
        if inverse is None:
            raise ValueError("a page is flat")
        form = Stream(self.out, content, Type=Name.XObject, Subtype=Name.Form, Resources=_copy(made))
        form.BBox, form.Matrix = Array(list(inverse.box(area))), Array(list(to_sheet))
        return b"q %s %s Do Q" % (clip, _named(made, self.out.make_indirect(form)))

    def _declared(self, shown: PageShown) -> DeclaredPage:
        page = self.pdf.pdf.pages[shown.number - 1].obj
        return read_page(page, has_size=shown.number not in self.pdf.without_size)

    def _to_mm(self, shown: PageShown) -> Matrix:
        """From the page's own coordinates to mm from the corner of the trim as it was measured."""
        declared = self._declared(shown)
        turned = ruler(declared.media_pt, declared.rotation, declared.user_unit)
        media, trim = shown.media_mm, shown.trim_mm
        return turned.then(Matrix(1, 0, 0, 1, media.x0 - trim.x0, media.y0 - trim.y0))


def _coarser(ppi: int, quality: int) -> Iterator[Fineness]:
    """From the brief down to the least, pixels and quality together."""
    least_ppi, least_quality = min(ppi, LEAST_PPI), min(quality, LEAST_QUALITY)
    for step in range(1, _TRIES + 1):
        share = step / _TRIES
        yield Fineness(round(ppi * (least_ppi / ppi) ** share), round(quality + (least_quality - quality) * share))


def _named(made: Dictionary, value: pikepdf.Object) -> bytes:
    if "/XObject" not in made:
        made.XObject = Dictionary()
    name = f"/R{len(made.XObject.keys())}"
    made.XObject[name] = value
    return name.encode()


def _copy(made: Dictionary) -> Dictionary:
    """What is added to the one does not show in the other."""
    return Dictionary({category: Dictionary(dict(entries.items())) for category, entries in made.items()})


def _numbers(values: tuple[float, ...]) -> bytes:
    return b" ".join(b"%.6f" % value for value in values)
