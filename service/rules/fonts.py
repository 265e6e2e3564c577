"""Rules on fonts."""

from __future__ import annotations

from collections.abc import Iterator

from service.pdf.measurements import Measurements
from service.rules.base import LEFT_OUT, Finding, NotMeasured, Outcome, Place, contents_of, rule
from service.rules.wording import counted, first_few, page_list, quoted
from service.sheets.model import FontsAsked


@rule(
    "font.embedded",
    asks=lambda sheet: sheet.fonts if sheet.fonts and sheet.fonts.embedded == "required" else None,
    asked_by="fonts.embedded",
    level="must",
    source="ISO 32000-2:2020, 9.9 (embedded font programs); ISO 15930 asks for all fonts, the standard 14 included",
    measured={"fonts": "names of the fonts that are missing", **LEFT_OUT},
    required={"embedded": "true: every font that prints is in the file"},
)
def font_embedded(measurements: Measurements, _: FontsAsked) -> Iterator[Outcome]:
    """Every font that prints is in the file.

    Why: a printer who lacks the font prints another one in its place: lines break anew, characters go missing.
    Remedy: switch on the embedding of all fonts in the export settings, or choose a font whose licence allows it.
    Knows: the fonts that paint visible text, and whether their programs are in the file.
    Cannot know: whether an embedded program is complete and right, or text that was turned to outlines.
    """
    missing: dict[str, list[Place]] = {}
    pages: set[int] = set()
    for item in contents_of(measurements):
        if isinstance(item, NotMeasured):
            yield item
            continue
        page, content = item
        for font in content.fonts:
            if not font.embedded:
                missing.setdefault(font.name, []).extend(Place(page.number, box) for box in font.boxes_mm)
                pages.add(page.number)
    if missing:
        numbers = tuple(sorted(pages))
        names = sorted(missing)
        one = len(names) == 1
        yield Finding(
            message=f"{counted(len(names), 'font')} on {'page' if len(numbers) == 1 else 'pages'} {page_list(numbers)} "
            f"{'is' if one else 'are'} "
            f"not in the file: {first_few([quoted(name) for name in names])}; the printer asks for all fonts to be embedded.",
            remedy="Export again with all fonts embedded. If the export refuses, the font's licence forbids it: choose "
            "another font or turn "
            f"{'its' if one else 'their'} text to outlines.",
            measured={"fonts": names},
            required={"embedded": True},
            pages=numbers,
            places=tuple(place for places in missing.values() for place in places),
        )
