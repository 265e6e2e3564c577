"""A drawing as SVG: dark lines on light, or light on dark where the reader's screen is dark. Nothing in it runs or is fetched."""

from __future__ import annotations

from xml.etree.ElementTree import Element, SubElement, register_namespace, tostring

from service.language.spoken import spoken
from service.proofs.drawing.shapes import Area, Arrowhead, Segment, Shape, SheetDrawing, Stroke, Words

_SVG = "http://www.w3.org/2000/svg"
register_namespace("", _SVG)

STROKES: dict[Stroke, tuple[float, str | None]] = {
    "outline": (0.5, None),
    "narrow": (0.18, None),
    "bleed": (0.25, "4 1.2"),
    "fold": (0.25, "2 1"),
    "margin": (0.25, "0.4 0.9"),
}
"""Width and dashes in mm. Wide is about twice narrow (ISO 128-2, from memory)."""

_STYLE = """svg { color: #1d2429; background: #ffffff } .line { stroke: currentColor; fill: none }
text { font-family: sans-serif; fill: currentColor; stroke: #ffffff; stroke-width: 0.8; paint-order: stroke }
.tinted { fill: #8aa0a8; fill-opacity: 0.22 } .head { fill: currentColor }
@media (prefers-color-scheme: dark) { svg { color: #e8edf0; background: #14191c } text { stroke: #14191c } }"""


def drawing_svg(drawing: SheetDrawing) -> bytes:
    """In mm: opened as it is, it has its size; used in a page, it takes what room it is given."""
    width, height = _number(drawing.width_mm), _number(drawing.height_mm)
    root = Element(
        f"{{{_SVG}}}svg",
        {
            "viewBox": f"0 0 {width} {height}", "width": f"{width}mm", "height": f"{height}mm", "role": "img",
            "aria-labelledby": "title words", "lang": spoken(),
        },
    )  # fmt: skip
    SubElement(root, f"{{{_SVG}}}title", {"id": "title"}).text = drawing.title
    SubElement(root, f"{{{_SVG}}}desc", {"id": "words"}).text = drawing.words
    SubElement(root, f"{{{_SVG}}}style").text = _STYLE
    for shape in drawing.shapes:
        _add(root, shape)
    register_namespace("", _SVG)  # once more: others of this process may have named another space so
    drawn: bytes = tostring(root, encoding="utf-8", xml_declaration=True)
    return drawn


def _add(root: Element, shape: Shape) -> None:
    match shape:
        case Segment(start, end, stroke):
            ends = zip(("x1", "y1", "x2", "y2"), (*start, *end), strict=True)
            SubElement(root, f"{{{_SVG}}}line", {name: _number(one) for name, one in ends} | _line(stroke))
        case Area(box, stroke, tinted):
            sides = zip(("x", "y", "width", "height"), (box.x0, box.y0, box.width, box.height), strict=True)
            line = _line(stroke)
            if tinted:
                line["class"] += " tinted"
            SubElement(root, f"{{{_SVG}}}rect", {name: _number(one) for name, one in sides} | line)
        case Arrowhead(points):
            corners = " ".join(f"{_number(x)},{_number(y)}" for x, y in points)
            SubElement(root, f"{{{_SVG}}}polygon", {"points": corners, "class": "head"})
        case Words(text, (x, y), anchor, upright, size):
            place = {"x": _number(x), "y": _number(y), "text-anchor": anchor, "font-size": _number(size)}
            turned = {"transform": f"rotate(-90 {_number(x)} {_number(y)})"} if upright else {}
            SubElement(root, f"{{{_SVG}}}text", place | turned).text = text


def _line(stroke: Stroke) -> dict[str, str]:
    width, dashes = STROKES[stroke]
    drawn = {"class": "line", "data-line": stroke, "stroke-width": _number(width)}
    return drawn | ({"stroke-dasharray": dashes} if dashes else {})


def _number(value: float) -> str:
    return f"{value:.3f}".rstrip("0").rstrip(".")
