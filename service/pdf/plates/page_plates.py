"""The plates of a page as measuring wants them: made, or not made with the reason."""

from __future__ import annotations

import logging
from collections.abc import Callable
from functools import cached_property

import pikepdf
import pypdfium2

from service.language.spoken import to_say
from service.pdf.content.kept import Kept
from service.pdf.content.resources import Shared
from service.pdf.content.work_limits import TooMuchWork
from service.pdf.facts.geometry import Box
from service.pdf.facts.painted.content import Content, inks_of
from service.pdf.facts.unknown import Unmeasured, beyond_limits, unmeasured
from service.pdf.plates.colors.inks import Tints, process_by_formula, process_by_profile
from service.pdf.plates.pictures.recolored import Picture, kept_of_file
from service.pdf.plates.rewriting.rewriter import CannotSeparate
from service.pdf.plates.separation import JUDGING_PPI, PageToSeparate, Plates, separate
from service.pdf.plates.unreadable import TooLarge, Unreadable
from service.pdf.reading.reading_errors import READING_ERRORS

log = logging.getLogger(__name__)

_BY_PROFILE = to_say("through the profile of the file's output intent")
_BY_FORMULA = to_say("by the simple formula of ISO 32000-2:2020, 10.4.2.4, with full black generation (100 % GCR)")


def to_process_inks(pdf: pikepdf.Pdf) -> tuple[Callable[[Tints], Tints], str]:
    """How RGB and Lab become process inks in this file, and the words that say so, to be said."""
    intents = pdf.Root.get("/OutputIntents")
    for intent in intents if isinstance(intents, pikepdf.Array) else ():
        profile = intent.get("/DestOutputProfile") if isinstance(intent, pikepdf.Dictionary) else None
        if isinstance(profile, pikepdf.Stream) and profile.get("/N") == 4:
            try:
                return process_by_profile(profile.read_bytes()), _BY_PROFILE
            except READING_ERRORS:
                continue
    return process_by_formula, _BY_FORMULA


class PlatesOfFile:
    """What the plates of all pages of a file have in common, worked out once."""

    def __init__(self, pdf: pikepdf.Pdf, shared: Shared) -> None:
        self._pdf, self._shared = pdf, shared
        self._kept = kept_of_file()

    @cached_property
    def converts_by_formula(self) -> bool:
        """RGB and Lab, as no output intent has a profile to convert by."""
        return to_process_inks(self._pdf)[0] is process_by_formula

    @cached_property
    def _to_process(self) -> Callable[[Tints], Tints]:
        return to_process_inks(self._pdf)[0]

    def of_page(
        self, page: pikepdf.Dictionary, media_pt: Box, media_mm: Box, rotation: int, user_unit: float, content: Content
    ) -> Plates | Unmeasured:
        """`media_pt` in default user space, `media_mm` the same in ruler mm."""
        asked = PageToSeparate(page, media_pt, media_mm, rotation, user_unit, inks_of(content))
        return plates_or_reason(self._pdf, asked, self._shared, self._to_process, kept=self._kept)


def plates_or_reason(
    pdf: pikepdf.Pdf,
    asked: PageToSeparate,
    shared: Shared,
    to_process: Callable[[Tints], Tints],
    ppi: float = JUDGING_PPI,
    kept: Kept[Picture] | None = None,
) -> Plates | Unmeasured:
    try:
        return separate(pdf, asked, shared, to_process, ppi, kept)
    except (TooMuchWork, TooLarge) as limit:
        return beyond_limits("The page's separations were not made: {limit}.", limit=limit.sentence)
    except (CannotSeparate, Unreadable) as reason:
        log.info("a page's plates cannot be made", exc_info=reason.__cause__ is not None)
        return unmeasured("The page's separations cannot be made: {reason}.", reason=reason.sentence)
    except (*READING_ERRORS, pypdfium2.PdfiumError):
        log.info("a page's plates cannot be made", exc_info=True)
        return Unmeasured("The page's separations cannot be made: something that it paints is damaged or of an unknown kind.")
