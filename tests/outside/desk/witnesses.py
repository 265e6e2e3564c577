"""What other programs make of a page: Ghostscript's rendering and its ink plates (tiffsep), and MuPDF's rendering.

All are over the MediaBox, turned as the page is displayed, so that ruler coordinates find their pixels by the media's corner.
"""

from __future__ import annotations

import re
import shutil
import subprocess
from dataclasses import dataclass, field
from pathlib import Path

import pymupdf
from PIL import Image

from service.pdf.facts.geometry import MM_PER_INCH, MM_PER_POINT, Box

FINEST_PPI = 300.0
FINEST_PLATES_PPI = 150.0
MOST_PIXELS = 10_000_000
"""Of a page: A4 at 300 ppi has 8.7 million."""
BEYOND = 255
"""What a crop has beyond the media: white, as if no ink were there."""
SECONDS = 90
"""For one run of Ghostscript."""

Image.MAX_IMAGE_PIXELS = None  # sizes are ours


class NoWitness(Exception):
    """Why a program showed nothing, in a line."""


@dataclass
class PageWitness:
    """Renderings of one page, each made when it is first asked for."""

    pdf: Path
    number: int
    media_mm: Box
    folder: Path
    """For Ghostscript's files."""
    _made: dict[str, Image.Image | NoWitness] = field(default_factory=dict)
    _plates: dict[str, Image.Image] | NoWitness | None = None

    def ppi(self, finest: float = FINEST_PPI) -> float:
        inches = self.media_mm.area / MM_PER_INCH**2
        return float(min(finest, (MOST_PIXELS / max(inches, 1e-6)) ** 0.5))

    def ghostscript(self, area_mm: Box) -> Image.Image:
        """The area of the page; beyond the media it is white. Raises NoWitness; so does `mupdf`."""
        if "gs" not in self._made:
            self._made["gs"] = self._whole_by_ghostscript()
        whole = self._made["gs"]
        if isinstance(whole, NoWitness):
            raise whole
        return self._cut(whole, area_mm)

    def plates(self, area_mm: Box) -> dict[str, Image.Image]:
        """Ink → the area of its plate, dark where the ink prints. Raises NoWitness."""
        if self._plates is None:
            self._plates = self._whole_plates()
        if isinstance(self._plates, NoWitness):
            raise self._plates
        return {ink: self._cut(plate, area_mm) for ink, plate in self._plates.items()}

    def mupdf(self, area_mm: Box, ppi: float) -> Image.Image:
        points = [one / MM_PER_POINT for one in _moved(area_mm, self.media_mm)]
        try:
            with pymupdf.open(self.pdf) as document:
                page = document[self.number - 1]
                page.set_cropbox(page.mediabox)
                pixels = page.get_pixmap(dpi=round(ppi), clip=pymupdf.Rect(*points))
        except (RuntimeError, ValueError, IndexError) as error:
            raise NoWitness(f"MuPDF: {error}"[:200]) from error
        return Image.frombytes("RGB", (pixels.width, pixels.height), pixels.samples)

    def _cut(self, whole: Image.Image, area_mm: Box) -> Image.Image:
        x0, y0, x1, y1 = _moved(area_mm, self.media_mm)
        across, down = whole.width / self.media_mm.width, whole.height / self.media_mm.height
        left, top, right, bottom = round(x0 * across), round(y0 * down), round(x1 * across), round(y1 * down)
        size = max(right - left, 1), max(bottom - top, 1)
        picture = Image.new(whole.mode, size, BEYOND if whole.mode == "L" else (BEYOND,) * 3)
        picture.paste(whole, (-left, -top))
        return picture

    def _whole_by_ghostscript(self) -> Image.Image | NoWitness:
        out = self.folder / "page.png"
        options = ["-sDEVICE=png16m", "-dTextAlphaBits=4", "-dGraphicsAlphaBits=4", f"-r{self.ppi():.3f}"]
        failed = self._run([*options, f"-sOutputFile={out}"])
        if failed or not out.is_file():
            return failed or NoWitness("Ghostscript made no picture of this page.")
        with Image.open(out) as image:
            image.load()
            out.unlink()
            return image.convert("RGB")

    def _whole_plates(self) -> dict[str, Image.Image] | NoWitness:
        ppi = self.ppi(FINEST_PLATES_PPI)
        options = ["-sDEVICE=tiffsep", f"-r{2 * ppi:.3f}", "-dDownScaleFactor=2"]
        failed = self._run([*options, f"-sOutputFile={self.folder / 'plate.tif'}"])
        if failed:
            return failed
        plates = {}
        for path in sorted(self.folder.glob("plate*.tif")):
            if name := re.search(r"\((.*)\)\.tif$", path.name):
                with Image.open(path) as image:
                    plates[name[1]] = image.convert("L")
            path.unlink()
        return plates or NoWitness("Ghostscript made no plates of this page.")

    def _run(self, options: list[str]) -> NoWitness | None:
        program = shutil.which("gs")
        if program is None:
            return NoWitness("Ghostscript is not there.")
        range_ = [f"-dFirstPage={self.number}", f"-dLastPage={self.number}"]
        command = [program, "-q", "-dNOPAUSE", "-dBATCH", "-dSAFER", "-dPrinted=true", *range_, *options, str(self.pdf)]
        try:
            done = subprocess.run(command, capture_output=True, timeout=SECONDS)
        except subprocess.TimeoutExpired:
            return NoWitness(f"Ghostscript took longer than {SECONDS} s.")
        if done.returncode:
            return NoWitness(f"Ghostscript: {done.stdout.decode('utf-8', 'replace')[:160]}")
        return None


def _moved(area: Box, media: Box) -> Box:
    """From the trim's corner to the media's."""
    return Box(area.x0 - media.x0, area.y0 - media.y0, area.x1 - media.x0, area.y1 - media.y0)
