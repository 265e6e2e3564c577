"""Plates of third-party files: made without a crash, and beside Ghostscript's where the file names its own inks.

The folder is that of `test_corpus`. Files that use RGB or Lab are left out of the comparison: each program converts as it likes.
"""

from __future__ import annotations

import subprocess
from collections import Counter
from pathlib import Path

import pytest

from service.pdf.facts.page import Page
from service.pdf.facts.painted.content import Content
from service.pdf.facts.unknown import Unmeasured
from tests.outside.conftest import MeasuredOnce
from tests.outside.separations import all_agreements, ghostscript_plates, plates_of
from tests.outside.test_corpus import FILES
from tests.outside_tools import program

pytestmark = pytest.mark.skipif(not FILES, reason="no folder of other people's PDFs; set PRINT_SPEC_CORPUS")


def test_plates_of_third_party_files_agree_with_ghostscript(tmp_path: Path, measured_once: MeasuredOnce) -> None:
    """Seen: 59 of 66 pages within 1.5 % of full tint and 98 % of the quiet pixels. Left: ICC gray that Ghostscript splits into
    four inks (5), a 1-bit picture that it does not paint, a picture that a form takes from its parent's resources.
    """
    gs = program("gs")
    counts: Counter[str] = Counter()
    for path in FILES:
        page = first_page(measured_once(path).pages)
        if page is None or not names_its_inks(page):
            continue
        if isinstance(page.plates, Unmeasured):
            counts["not made"] += 1
            continue
        data = path.read_bytes()
        try:
            theirs = ghostscript_plates(gs, data, tmp_path, finer=3)
        except (subprocess.CalledProcessError, subprocess.TimeoutExpired):
            counts["Ghostscript fails"] += 1
            continue
        counts["compared"] += 1
        found = all_agreements(plates_of(data, page).coverage, theirs).values()
        counts["agree"] += all(one.mean_difference <= 1.5 and one.pixels_alike >= 0.98 for one in found)
    assert counts["compared"] >= len(FILES) / 3, counts
    assert counts["agree"] / counts["compared"] >= 0.88, counts
    assert counts["not made"] <= 3, counts


def first_page(pages: tuple[Page, ...] | Unmeasured) -> Page | None:
    return None if isinstance(pages, Unmeasured) or not pages else pages[0]


def names_its_inks(page: Page) -> bool:
    """Upright, with a box of its own, and painted in process and spot inks only."""
    if not isinstance(page.content, Content) or page.rotation or not page.content.colors or page.declared("media") is None:
        return False
    return not {use.family for use in page.content.colors} & {"rgb", "lab", "multicolor"}


def test_most_third_party_pages_have_plates(measured_once: MeasuredOnce) -> None:
    """What has none says why in a sentence."""
    made, reasons = 0, []
    for path in FILES:
        page = first_page(measured_once(path).pages)
        if page is None or isinstance(page.content, Unmeasured):
            continue
        if isinstance(page.plates, Unmeasured):
            reasons.append(page.plates.why)
        else:
            made += 1
    assert made > 0.85 * len(FILES)
    assert len(reasons) <= 6
    assert all(reason.endswith(".") for reason in reasons)
