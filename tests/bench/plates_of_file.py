"""Every page's plates, as measuring makes them."""

from __future__ import annotations

from pathlib import Path

import pikepdf

from service.pdf.content.resources import Shared
from service.pdf.facts.geometry import Box
from service.pdf.facts.painted.content import Content
from service.pdf.facts.unknown import Unmeasured
from service.pdf.measure import measure
from service.pdf.plates.page_plates import PlatesOfFile

_MEASURED: dict[Path, list[tuple[int, float, Box, Content]]] = {}


def plates_of_file(path: Path) -> int:
    """How many plates there are; measuring (which is timed elsewhere) happens once a file."""
    if path not in _MEASURED:
        pages = measure(path).pages
        assert not isinstance(pages, Unmeasured)
        contents = [(one, one.content) for one in pages]
        _MEASURED[path] = [
            (one.rotation, one.user_unit, one.boxes_mm.media, content)
            for one, content in contents
            if isinstance(content, Content)
        ]
    count = 0
    with pikepdf.open(path) as pdf:
        of_file = PlatesOfFile(pdf, Shared(pdf))
        for page, (rotation, unit, media_mm, content) in zip(pdf.pages, _MEASURED[path], strict=True):
            media = Box.of_corners(*(float(one) for one in page.obj.MediaBox))
            plates = of_file.of_page(page.obj, media, media_mm, rotation, unit, content)
            assert not isinstance(plates, Unmeasured), plates
            count += len(plates.coverage)
    return count
