"""What to switch on when a layout program exports the file for a sheet, in general terms, by what the sheet asks."""

from __future__ import annotations

from collections.abc import Iterator

from service.language.spoken import say
from service.language.wording import asked_length, asked_size, listed_or, number
from service.sheets.model import SpecSheet


def export_advice(sheet: SpecSheet) -> tuple[str, ...]:
    """Common practice, no source."""
    return tuple(_advice(sheet))


def _advice(sheet: SpecSheet) -> Iterator[str]:
    if sheet.trim:
        size = asked_size(sheet.trim.width_mm, sheet.trim.height_mm)
        yield say("Set the document's page to {size}: the trimmed size, without bleed.", size=size)
    if sheet.bleed and sheet.bleed.minimum_mm:
        depth = asked_length(sheet.bleed.advised_mm)
        yield say(
            "Set the bleed to {depth} on every side, run backgrounds and pictures out to it, and export with it.", depth=depth
        )
    if sheet.pages and sheet.pages.arrangement == "single-pages":
        yield say("Export single pages, not spreads.")
    if sheet.marks and sheet.marks.crop_marks == "forbidden":
        yield say("Leave crop marks and other printer's marks off.")
    if sheet.marks and sheet.marks.crop_marks == "required":
        yield say("Switch crop marks on.")
    if sheet.file and sheet.file.standards:
        yield say("Choose {standards} as the standard of the PDF.", standards=listed_or(sheet.file.standards))
    if sheet.color and sheet.color.allowed is not None and "rgb" not in sheet.color.allowed:
        yield say("Convert pictures and colours to CMYK, with the printing condition that the printer names.")
    if sheet.images and sheet.images.contone and (ppi := sheet.images.contone.preferred_ppi or sheet.images.contone.minimum_ppi):
        yield say("Let the export reduce no picture below {ppi} ppi.", ppi=number(ppi, 0))
    if sheet.fonts and sheet.fonts.embedded == "required":
        yield say("Embed all fonts.")
    if sheet.transparency and sheet.transparency.live == "forbidden":
        yield say("Flatten transparency.")
    yield say("Delete the layer of guides before you export, and check the file here.")
