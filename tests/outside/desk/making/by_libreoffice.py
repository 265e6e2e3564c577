"""LibreOffice Draw and Writer, from flat OpenDocument: what an office makes of a flyer, a card and a letter.

Draw takes A4 whatever page layout it is given this way (seen in 7.4): flyer and card lie in the corner of an office sheet, as
offices send them.
"""

from __future__ import annotations

import base64
import shutil
import subprocess
from pathlib import Path

from tests.outside.desk.making.words import BODY, CREAM_RGB, CRUST_RGB, LINES, NAME, picture_jpeg

_SPACES = " ".join(
    f'xmlns:{short}="urn:oasis:names:tc:opendocument:xmlns:{long}:1.0"'
    for short, long in (
        ("office", "office"), ("style", "style"), ("text", "text"), ("draw", "drawing"), ("fo", "xsl-fo-compatible"),
        ("svg", "svg-compatible"),
    )
)


def program() -> str | None:
    return shutil.which("soffice") or shutil.which("libreoffice")


def _flat(kind: str, width: float, height: float, margin: float, styles: str, body: str) -> str:
    master = "Default" if kind == "graphics" else "Standard"
    layout = (
        f'<style:page-layout style:name="L"><style:page-layout-properties fo:page-width="{width}mm" fo:page-height="{height}mm" '
        f'fo:margin-top="{margin}mm" fo:margin-bottom="{margin}mm" fo:margin-left="{margin}mm" fo:margin-right="{margin}mm" '
        'style:print-orientation="portrait"/></style:page-layout>'
    )
    return (
        f'<?xml version="1.0" encoding="UTF-8"?><office:document {_SPACES} office:version="1.2" '
        f'office:mimetype="application/vnd.oasis.opendocument.{kind}"><office:automatic-styles>{layout}{styles}'
        '<style:style style:name="dp" style:family="drawing-page"/></office:automatic-styles><office:master-styles>'
        f'<style:master-page style:name="{master}" style:page-layout-name="L" draw:style-name="dp"/>'
        f"</office:master-styles><office:body>{body}</office:body></office:document>"
    )


def _paint(name: str, colour: str) -> str:
    properties = f'<style:graphic-properties draw:stroke="none" draw:fill="solid" draw:fill-color="{colour}"/>'
    return f'<style:style style:name="{name}" style:family="graphic">{properties}</style:style>'


def _type(name: str, family: str, size: float, colour: str) -> str:
    return (
        f'<style:style style:name="{name}" style:family="text"><style:text-properties fo:font-family="{family}" '
        f'fo:font-size="{size}pt" fo:color="{colour}"/></style:style>'
    )


def _at(x: float, y: float, width: float, height: float) -> str:
    return f'svg:x="{x}mm" svg:y="{y}mm" svg:width="{width}mm" svg:height="{height}mm"'


def _box(style: str, x: float, y: float, width: float, height: float) -> str:
    return f'<draw:rect draw:style-name="{style}" {_at(x, y, width, height)}/>'


def _words(style: str, x: float, y: float, width: float, text: str) -> str:
    spans = f'<text:p><text:span text:style-name="{style}">{text}</text:span></text:p>'
    return f'<draw:frame draw:style-name="clear" {_at(x, y, width, 10)}><draw:text-box>{spans}</draw:text-box></draw:frame>'


def _photo(x: float, y: float, width: float, height: float) -> str:
    data = base64.b64encode(picture_jpeg(900, 640, in_cmyk=False)).decode()
    image = f"<draw:image><office:binary-data>{data}</office:binary-data></draw:image>"
    return f"<draw:frame {_at(x, y, width, height)}>{image}</draw:frame>"


_STYLES = (
    _paint("cream", CREAM_RGB)
    + _paint("crust", CRUST_RGB)
    + '<style:style style:name="clear" style:family="graphic"><style:graphic-properties draw:stroke="none" draw:fill="none" '
    'fo:padding="0mm"/></style:style>'
    + _type("script", "Z003", 40, "#000000")
    + _type("head", "URW Gothic", 30, "#ffffff")
    + _type("small", "DejaVu Sans", 7, "#000000")
    + _type("body", "C059", 11, "#000000")
)


def _drawing(width: float, height: float, *shapes: str) -> str:
    page = f'<draw:page draw:master-page-name="Default" draw:style-name="dp">{"".join(shapes)}</draw:page>'
    body = f"<office:drawing>{page}</office:drawing>"
    return _flat("graphics", width, height, 0, _STYLES, body)


def _text(width: float, height: float, *paragraphs: str) -> str:
    body = "".join(f'<text:p><text:span text:style-name="body">{one}</text:span></text:p>' for one in paragraphs)
    return _flat("text", width, height, 20, _STYLES, f"<office:text>{body}</office:text>")


def sources() -> dict[str, tuple[str, str, str]]:
    """Name → suffix, source, sheet."""
    flyer = _drawing(
        148, 210, _box("cream", 0, 0, 148, 210), _photo(0, 0, 148, 100), _words("script", 4, 4, 130, "Harvest fully jolly"),
        _words("small", 12, 120, 120, LINES[0]), _words("small", 4, 204, 130, LINES[1]),
    )
    card = _drawing(
        91, 61, _box("crust", 0, 0, 91, 61), _words("head", 8, 16, 80, "Halyard"), _words("small", 8, 40, 70, LINES[0])
    )
    return {
        "flyer-a5": ("fodg", flyer, "flyer-a5"),
        "card-with-room": ("fodg", card, "business-card-85x55"),
        "letter": ("fodt", _text(210, 297, NAME, "", BODY), "letterhead-a4"),
        "booklet-a5": ("fodt", _text(148, 210, NAME, *([BODY] * 18)), "booklet-a5-stapled"),
    }


def make(folder: Path) -> dict[str, str]:
    found = program()
    assert found
    for name, (suffix, source, _) in sources().items():
        path = folder / f"libreoffice-{name}.{suffix}"
        path.write_text(source, "utf-8")
        profile = f"-env:UserInstallation={(folder / 'profile').as_uri()}"
        command = [found, profile, "--headless", "--convert-to", "pdf", "--outdir", str(folder), str(path)]
        subprocess.run(command, capture_output=True, timeout=180, check=True)
        path.unlink()
    shutil.rmtree(folder / "profile", ignore_errors=True)
    return {f"libreoffice-{name}.pdf": sheet for name, (_, _, sheet) in sources().items()}
