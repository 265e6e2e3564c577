"""Files that nobody made for us: none may crash or hang the measuring, and each ends with pages or with a reason.

Where poppler can read them too, its boxes and fonts are ours.

The folder is `PRINT_SPEC_CORPUS`, else `../shared/corpus` beside the repository. Nothing of it is copied into the project.
"""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from service.pdf.content.fonts.font_facts import describe_font
from service.pdf.facts.geometry import MM_PER_POINT
from service.pdf.facts.unknown import Failure, Unmeasured
from service.pdf.reading.opening import opened
from tests.outside.conftest import MeasuredOnce
from tests.outside.test_boxes import NAMES, boxes_printed, sides_beyond, sides_of
from tests.outside.test_fonts import LINE, TYPES
from tests.outside_tools import tool
from tests.sweeps import part_of

REPOSITORY = Path(__file__).parents[2]
CORPUS = Path(os.environ.get("PRINT_SPEC_CORPUS", REPOSITORY.parent / "shared" / "corpus"))
EVERY = sorted(CORPUS.glob("*.pdf")) if CORPUS.is_dir() else []
FILES = part_of(EVERY, one_in=3)
"""What is measured or drawn whole; to look into files is cheap."""

pytestmark = pytest.mark.skipif(not FILES, reason=f"no folder of other people's PDFs ({CORPUS.name}); set PRINT_SPEC_CORPUS")


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_a_file_of_the_wild_is_measured_or_refused_with_a_reason(path: Path, measured_once: MeasuredOnce) -> None:
    found = measured_once(path)
    if found.document.failure:
        assert found.document.failure.why.endswith(".")
        assert isinstance(found.pages, Unmeasured)
        return
    assert not isinstance(found.pages, Unmeasured)
    assert [one.number for one in found.pages] == list(range(1, len(found.pages) + 1))
    for page in found.pages:
        assert page.trim_width_mm > 0
        assert page.trim_height_mm > 0
        assert page.boxes_mm.trim[:2] == pytest.approx((0, 0), abs=1e-6)


def test_boxes_of_the_wild_agree_with_pdfinfo(measured_once: MeasuredOnce) -> None:
    """Every page that both can find. Left out: pages with an ArtBox and no TrimBox, whose trim we take from it."""
    pdfinfo, compared, apart = tool("pdfinfo"), 0, []
    for path in FILES:
        found = measured_once(path)
        if isinstance(found.pages, Unmeasured) or not isinstance(found.document.page_count, int):
            continue
        printed = boxes_printed(pdfinfo("-box", "-f", "1", "-l", str(len(found.pages)), path))
        for page, (rotation, boxes) in zip(found.pages, printed, strict=True):
            if page.trim_source == "art_box":
                continue
            compared += 1
            unit_mm = page.user_unit * MM_PER_POINT
            expected = [one * unit_mm for name in NAMES for one in sides_beyond(boxes[name], boxes["trim"], rotation)]
            ours = [one for name in NAMES for one in sides_of(page, name)]
            if page.rotation != rotation or ours != pytest.approx(expected, abs=0.01):
                apart.append((path.stem, page.number))
    assert apart == []
    assert compared > len(FILES) / 2


def test_fonts_of_the_wild_agree_with_pdffonts() -> None:
    pdffonts, compared, apart = tool("pdffonts"), 0, []
    for path in FILES:
        with opened(path) as pdf:
            if isinstance(pdf, Failure):
                continue
            for theirs in filter(None, map(LINE.match, pdffonts(path).splitlines())):
                font = describe_font(pdf.pdf.get_object((int(theirs["id"]), int(theirs["gen"]))))
                compared += 1
                expected = (TYPES[theirs["type"].removesuffix(" (OT)")], theirs["emb"] == "yes", theirs["sub"] == "yes")
                if (font.type, font.embedded, font.subset) != expected:
                    apart.append((path.stem, theirs["name"]))
    assert apart == []
    assert compared > len(FILES) / 2
