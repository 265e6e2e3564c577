"""Ghostscript: PostScript that is distilled, and files of other programs that are converted on the way to the printer's.

It takes what the other programs have made in the same folder, and leaves out what is not there.
"""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

from tests.outside.desk.making.words import LINES, NAME

PT = 72 / 25.4
_COPPER = "[/Separation (Copper) /DeviceCMYK {dup .2 mul exch dup .6 mul exch dup .9 mul exch .1 mul}] setcolorspace"
_FLYER = f"""0.02 0.06 0.2 0 setcmykcolor -3 mm -3 mm 154 mm 216 mm rectfill 0 0 0 1 setcmykcolor
/Helvetica-Bold findfont 28 scalefont setfont 12 mm 150 mm moveto ({NAME}) show
true setoverprint /Helvetica findfont 8 scalefont setfont 12 mm 60 mm moveto ({LINES[1]}) show"""
_INVITATION = f"""{_COPPER} 1 setcolor -3 mm -3 mm 111 mm 154 mm rectfill 0 setcolor
/Times-Roman findfont 22 scalefont setfont 12 mm 100 mm moveto (Bread fair) show 0.5 setcolor 12 mm 20 mm 60 mm 20 mm rectfill"""
_LETTER = f"""/Times-Roman findfont 11 scalefont setfont
0 1 30 {{ 20 mm 270 mm 3 -1 roll 8 mm mul sub moveto ({LINES[1]}) show }} for
0.1 setlinewidth 20 mm 280 mm moveto 190 mm 280 mm lineto stroke"""
_BITS = "".join(f"{((x * 7 + y * 13) % 5 == 0) * 0xF0 + ((x + y) % 3 == 0) * 0x0F:02X}" for y in range(200) for x in range(50))
_LINE_ART = f"""/s <{_BITS}> def gsave 10 mm 10 mm translate 80 mm 80 mm scale
400 200 true [400 0 0 200 0 0] {{s}} imagemask grestore"""

DISTILLED: dict[str, tuple[str, float, float, float, str]] = {
    "flyer-a5": (_FLYER, 148, 210, 3, "flyer-a5"),
    "invitation-copper": (_INVITATION, 105, 148, 3, "invitation-a6"),
    "letter-without-boxes": (_LETTER, 210, 297, 0, "letterhead-a4"),
    "line-art": (_LINE_ART, 148, 105, 3, "postcard-a6"),
}
"""Drawing, width, height and bleed in mm, sheet."""

_TO_CMYK = ("-sColorConversionStrategy=CMYK", "-dProcessColorModel=/DeviceCMYK")
_TO_GRAY = ("-sColorConversionStrategy=Gray", "-dProcessColorModel=/DeviceGray")
CONVERTED: dict[str, tuple[str, tuple[str, ...], str]] = {
    "poster-for-screens": ("reportlab-poster-a3", ("-dPDFSETTINGS=/screen",), "poster-a3"),
    "effects-flattened": ("weasyprint-flyer-a4-effects", ("-dCompatibilityLevel=1.3",), "flyer-a4"),
    "flyer-to-cmyk": ("chromium-flyer-a5-with-room", _TO_CMYK, "flyer-a5"),
    "flyer-to-grey": ("weasyprint-flyer-a5", _TO_GRAY, "flyer-a5"),
    "booklet-for-e-books": ("typst-booklet-a5", ("-dPDFSETTINGS=/ebook",), "booklet-a5-stapled"),
    "office-to-cmyk": ("libreoffice-booklet-a5", _TO_CMYK[:1], "booklet-a5-stapled"),
}
"""File that it is made from, options, sheet."""


def program() -> str | None:
    return shutil.which("gs")


def _page(drawing: str, width: float, height: float, bleed: float) -> str:
    across, down, edge = (width + 2 * bleed) * PT, (height + 2 * bleed) * PT, bleed * PT
    trim = f"/TrimBox [{edge} {edge} {across - edge} {down - edge}] /BleedBox [0 0 {across} {down}]"
    boxes = f"[ {trim} /PAGE pdfmark" if bleed else ""
    size = f"<< /PageSize [{across} {down}] >> setpagedevice /mm {{ {PT} mul }} def"
    return f"%!PS\n{size}\n{boxes}\n{edge} {edge} translate\n{drawing}\nshowpage\n"


def _run(source: Path, made: Path, *options: str) -> None:
    command = ["gs", "-q", "-dNOPAUSE", "-dBATCH", "-sDEVICE=pdfwrite", "-o", str(made), *options, str(source)]
    subprocess.run(command, check=True, capture_output=True, timeout=120)


def make(folder: Path) -> dict[str, str]:
    made: dict[str, str] = {}
    written = folder / "source.ps"
    for name, (drawing, width, height, bleed, sheet) in DISTILLED.items():
        written.write_text(_page(drawing, width, height, bleed))
        _run(written, folder / f"ghostscript-{name}.pdf", *(("-dPDFSETTINGS=/prepress",) if bleed else ()))
        made[f"ghostscript-{name}.pdf"] = sheet
    written.unlink()
    for name, (source, options, sheet) in CONVERTED.items():
        if (folder / f"{source}.pdf").exists():
            _run(folder / f"{source}.pdf", folder / f"ghostscript-{name}.pdf", *options)
            made[f"ghostscript-{name}.pdf"] = sheet
    return made
