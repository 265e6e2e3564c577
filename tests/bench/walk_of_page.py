"""The walk over a file's first page alone, timed: `python -m tests.bench.walk_of_page FILE` prints seconds and peak megabytes."""

from __future__ import annotations

import resource
import sys
import time
from pathlib import Path

import pikepdf

from service.pdf.content.resources import Shared
from service.pdf.facts.geometry import MM_PER_POINT, Box, Matrix
from service.pdf.facts.page import PageBoxes
from service.pdf.facts.painted.content import Content
from service.pdf.gather.page_content import page_content


def walk_seconds(path: Path) -> float:
    with pikepdf.open(path) as pdf:
        page = pdf.pages[0].obj
        x0, y0, x1, y1 = (float(one) for one in page.MediaBox)
        ruler = Matrix(MM_PER_POINT, 0, 0, -MM_PER_POINT, -x0 * MM_PER_POINT, y1 * MM_PER_POINT)
        media = Box(0, 0, (x1 - x0) * MM_PER_POINT, (y1 - y0) * MM_PER_POINT)
        boxes = PageBoxes(media, media, media, media.grown(-3), media)
        started = time.perf_counter()
        content = page_content(page, ruler, boxes, Shared(pdf))
        assert isinstance(content, Content), content
        return time.perf_counter() - started


if __name__ == "__main__":
    print(walk_seconds(Path(sys.argv[1])), resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1000)
