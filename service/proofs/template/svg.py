"""An empty page as SVG for drawing programs: one layer for the artwork, one locked above it with the guides.

Layers are groups with the attributes of Inkscape's own SVG extensions (`groupmode`, `insensitive`); other programs take them as
groups.
"""

from __future__ import annotations

from xml.etree.ElementTree import Element, SubElement, register_namespace, tostring

from service.language.spoken import say
from service.pdf.facts.geometry import Box
from service.product.flat_pages import FlatPage
from service.proofs.template.pages import guide_words, guides_of

_SVG = "http://www.w3.org/2000/svg"
_LAYERS = "http://www.inkscape.org/namespaces/inkscape"
_LOCKS = "http://sodipodi.sourceforge.net/DTD/sodipodi-0.dtd"
register_namespace("", _SVG)
register_namespace("inkscape", _LAYERS)
register_namespace("sodipodi", _LOCKS)

_GUIDE = "#e6007e"
_DASHES = {"trim": "", "margin": "0.2 0.6", "fold": "1.4 0.7", "area": "0.4 0.4"}


def template_svg(page: FlatPage, title: str) -> bytes:
    """In mm, as large as the trimmed page with its bleed; the page's corner is the corner of the bleed."""
    area = page.trim_mm.grown(page.bleed_mm)
    size = {
        "width": f"{area.width:.4f}mm",
        "height": f"{area.height:.4f}mm",
        "viewBox": f"0 0 {area.width:.4f} {area.height:.4f}",
    }
    root = Element(f"{{{_SVG}}}svg", size)
    SubElement(root, f"{{{_SVG}}}title").text = title
    SubElement(root, f"{{{_SVG}}}g", _layer("artwork", say("Artwork")))
    guides = SubElement(
        root, f"{{{_SVG}}}g", _layer("guides", say("Guides (do not print)")) | {f"{{{_LOCKS}}}insensitive": "true"}
    )
    for kind, place in guides_of(page):
        line = {"fill": "none", "stroke": _GUIDE, "stroke-width": "0.1", "data-guide": kind, "stroke-dasharray": _DASHES[kind]}
        _draw(guides, place, area, line)
    at = {"x": f"{page.bleed_mm + 1:.4f}", "y": f"{page.bleed_mm + page.trim_mm.height - 1:.4f}"}
    SubElement(
        guides, f"{{{_SVG}}}text", at | {"font-size": "1.8", "font-family": "sans-serif", "fill": _GUIDE}
    ).text = guide_words()
    register_namespace("", _SVG)  # once more: others of this process may have named another space so
    drawn: bytes = tostring(root, encoding="utf-8", xml_declaration=True)
    return drawn


def _layer(name: str, label: str) -> dict[str, str]:
    return {"id": name, f"{{{_LAYERS}}}groupmode": "layer", f"{{{_LAYERS}}}label": label}


def _draw(layer: Element, place: Box, area: Box, line: dict[str, str]) -> None:
    box = Box(place.x0 - area.x0, place.y0 - area.y0, place.x1 - area.x0, place.y1 - area.y0)
    if box.width and box.height:
        sides = {"x": box.x0, "y": box.y0, "width": box.width, "height": box.height}
        SubElement(layer, f"{{{_SVG}}}rect", {name: f"{one:.4f}" for name, one in sides.items()} | line)
    else:
        ends = {"x1": box.x0, "y1": box.y0, "x2": box.x1, "y2": box.y1}
        SubElement(layer, f"{{{_SVG}}}line", {name: f"{one:.4f}" for name, one in ends.items()} | line)
