"""The client preview of the bakery's brochure, held against general-purpose tools.

qpdf says that it is linearized, poppler that its text is the source's, PDFium that it looks as the source does, and Ghostscript
what process inks look like through a profile (both by LittleCMS, relative colorimetric with black point compensation).
"""

from __future__ import annotations

import shutil
from pathlib import Path

import numpy as np
import pytest
from pikepdf import Array, Dictionary, Name, Pdf, Stream, String
from PIL import Image

from service.pdf.facts.painted.content import Content
from service.pdf.facts.unknown import Unmeasured
from service.rules.judge import judge
from service.sheets.catalogue import stored_sheets
from tests.build import document, page
from tests.outside_tools import profile, tool
from tests.proofs.made_preview import Preview, differing, trimmed

FEWEST_PPI = 100
LARGEST_BYTES = 600_000
"""Where the package of Ghostscript puts its profiles on Debian and its kin."""


@pytest.fixture(scope="module")
def brochure(bakery_order: Path, tmp_path_factory: pytest.TempPathFactory) -> Preview:
    copied = shutil.copy(bakery_order / "brochure-12-pages.pdf", tmp_path_factory.mktemp("brochure"))
    return Preview(Path(copied), "spreads")


@pytest.fixture(scope="module")
def singles(brochure: Preview) -> Preview:
    return Preview(brochure.path)


def test_the_brochures_preview_is_light_and_conforms(brochure: Preview) -> None:
    assert brochure.path.stat().st_size > 10_000_000
    assert len(brochure.bytes) < LARGEST_BYTES
    measurements = brochure.measured()
    judged = judge(measurements, stored_sheets()["client-preview"])
    assert judged.verdict == "conforming", [one.finding.message for one in judged.findings]
    assert not isinstance(measurements.pages, Unmeasured)
    contents = [one.content for one in measurements.pages]
    pictures = [image for content in contents if isinstance(content, Content) for image in content.images]
    assert len(pictures) == 10
    assert min(one.ppi for one in pictures) >= FEWEST_PPI


def test_qpdf_finds_it_linearized_and_sound(brochure: Preview) -> None:
    brochure.measured()
    light = brochure.path.with_name("preview.pdf")
    assert "no linearization errors" in tool("qpdf")("--check-linearization", light)
    assert "No syntax or stream encoding errors" in tool("qpdf")("--check", light)


def test_poppler_reads_the_same_words_in_the_same_fonts(brochure: Preview, singles: Preview) -> None:
    light = brochure.path.with_name("singles.pdf")
    light.write_bytes(singles.bytes)
    words, source = (tool("pdftotext")(path, "-").split() for path in (light, brochure.path))
    assert words == source
    assert len(words) > 150
    fonts = [line.split()[0] for line in tool("pdffonts")(light).splitlines()[2:]]
    assert sorted(fonts) == sorted({line.split()[0] for line in tool("pdffonts")(brochure.path).splitlines()[2:]})


def test_every_page_looks_as_its_source_does(brochure: Preview, singles: Preview) -> None:
    """Pixels that differ by more than 40 of 255 at 50 ppi: at most 1 in 100, for grain and edges."""
    for number in range(1, 13):
        assert differing(singles.shown(number, ppi=50), trimmed(brochure.path, number, ppi=50), by=40) < 0.01, number


def test_process_inks_look_through_the_profile_as_ghostscript_shows_them(tmp_path: Path) -> None:
    inks, screen = profile("default_cmyk"), profile("default_rgb")
    colors = [
        (1, 0, 0, 0),
        (0, 1, 0, 0),
        (0, 0, 1, 0),
        (0, 0, 0, 1),
        (1, 1, 0, 0),
        (0.3, 0.6, 0.7, 0.6),
        (0, 0.5, 1, 0),
        (0.1, 0.1, 0.1, 0),
    ]
    built = page(8 * len(colors), 10, bleed=0)
    for at, (cyan, magenta, yellow, black) in enumerate(colors):
        built.fill(at=(8 * at, 0, 8 * at + 8, 10), cyan=cyan, magenta=magenta, yellow=yellow, black=black)

    def intent(pdf: Pdf) -> None:
        profile = pdf.make_indirect(Stream(pdf, inks.read_bytes(), N=4))
        condition = Dictionary(S=Name.GTS_PDFX, OutputConditionIdentifier=String("Copperbeck"), DestOutputProfile=profile)
        pdf.Root.OutputIntents = Array([condition])

    path = document(built).also(intent).save(tmp_path / "inks.pdf")
    tool("gs")(
        "-q", "-dSAFER", "-dBATCH", "-dNOPAUSE", "-sDEVICE=png16m", "-r72", f"-sDefaultCMYKProfile={inks}",
        f"-sOutputICCProfile={screen}", "-dRenderIntent=1", "-dBlackPtComp=1", f"-o{tmp_path / 'gs.png'}", path,
    )
    with Image.open(tmp_path / "gs.png") as drawn:
        theirs = np.asarray(drawn.convert("RGB")).astype(np.int16)
    ours = Preview(path).shown()
    middles = [round((8 * at + 4) * 72 / 25.4) for at in range(len(colors))]
    assert np.abs(ours[14, middles] - theirs[14, middles]).max() <= 6, (ours[14, middles], theirs[14, middles])
