"""Ink plates as reference renderers make them, and how far two sets of plates agree."""

from __future__ import annotations

import io
import re
import subprocess
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import numpy.typing as npt
import pikepdf
import pymupdf
from PIL import Image
from pymupdf import mupdf

from service.pdf.content.resources import Shared
from service.pdf.facts.geometry import Box
from service.pdf.facts.page import Page
from service.pdf.facts.painted.content import Content, inks_of
from service.pdf.facts.unknown import Unmeasured
from service.pdf.measure import measure
from service.pdf.plates.colors.inks import process_by_formula
from service.pdf.plates.separation import PageToSeparate, Plates, separate
from tests.outside_tools import MOST_SECONDS

Plate = npt.NDArray[np.uint8]
PPI = 100


def our_plates(data: bytes, folder: Path, ppi: float = PPI) -> Plates:
    """Plates of page 1, over its media."""
    path = folder / "ours.pdf"
    path.write_bytes(data)
    pages = measure(path).pages
    assert not isinstance(pages, Unmeasured), pages
    return plates_of(data, pages[0], ppi)


def plates_of(data: bytes, page: Page, ppi: float = PPI) -> Plates:
    """The same for a page that has been measured."""
    assert isinstance(page.content, Content), page.content
    with pikepdf.open(io.BytesIO(data)) as pdf:
        first = pdf.pages[0].obj
        media = Box.of_corners(*(float(one) for one in first.MediaBox))
        asked = PageToSeparate(first, media, page.boxes_mm.media, page.rotation, page.user_unit, inks_of(page.content))
        return separate(pdf, asked, Shared(pdf), process_by_formula, ppi)


def ghostscript_plates(program: str, data: bytes, folder: Path, finer: int = 8, options: Sequence[str] = ()) -> dict[str, Plate]:
    """Ghostscript's tiffsep at `finer` times the resolution, averaged down: one plate for each ink of page 1."""
    ghostscript_plates_of(program, [data], folder, finer, options)
    plates = kept_plates(folder, 1)
    for path in folder.glob("plate-*.tif"):
        path.unlink()
    return plates


def ghostscript_plates_of(
    program: str, files: Sequence[bytes], folder: Path, finer: int = 8, options: Sequence[str] = ()
) -> None:
    """The same of several files, for `kept_plates`. By itself each takes five times as long, as Ghostscript begins slowly."""
    options = [*options, "-q", "-dNOPAUSE", "-dBATCH", "-dSAFER", "-sDEVICE=tiffsep", "-dLastPage=1"]
    options += [f"-r{finer * PPI}", f"-dDownScaleFactor={finer}"]
    paths = [folder / f"gs-{number}.pdf" for number in range(1, len(files) + 1)]
    for path, data in zip(paths, files, strict=True):
        path.write_bytes(data)
    command = [program, *options, f"-sOutputFile={folder / 'plate-%d.tif'}", *map(str, paths)]
    subprocess.run(command, capture_output=True, check=True, timeout=MOST_SECONDS)


def kept_plates(folder: Path, number: int) -> dict[str, Plate]:
    """Of the file with that number, from 1, by ink."""
    plates: dict[str, Plate] = {}
    for path in folder.glob(f"plate-{number}(*).tif"):
        name = re.search(r"\((.*)\)", path.name)
        assert name
        with Image.open(path) as image:
            plates[name[1]] = 255 - np.asarray(image.convert("L"))
    return plates


def mupdf_plates(data: bytes, number: int = 0, ppi: float = PPI) -> dict[str, Plate]:
    """MuPDF's rendering of a page to CMYK with every spot as a channel of its own (PyMuPDF's low-level bindings)."""
    with pymupdf.open(stream=data, filetype="pdf") as document:
        page = mupdf.FzPage(document[number].this)
        spots = mupdf.fz_page_separations(page)
        names = []
        for at in range(spots.fz_count_separations() if spots.m_internal else 0):
            names.append(spots.fz_separation_name(at))
            spots.fz_set_separation_behavior(at, mupdf.FZ_SEPARATION_SPOT)
        scale = mupdf.fz_scale(ppi / 72, ppi / 72)
        pixmap = mupdf.fz_new_pixmap_from_page_with_separations(page, scale, mupdf.fz_device_cmyk(), spots, 0)
        samples = np.frombuffer(bytes(mupdf.fz_pixmap_samples_memoryview(pixmap)), np.uint8)
        channels = samples.reshape(pixmap.h(), pixmap.stride())[:, : pixmap.w() * pixmap.n()].reshape(pixmap.h(), pixmap.w(), -1)
        return {name: channels[:, :, at] for at, name in enumerate(("Cyan", "Magenta", "Yellow", "Black", *names))}


@dataclass(frozen=True)
class Agreement:
    mean_difference: float
    """Of the whole plate, percent of full tint."""
    pixels_alike: float
    """Share of the pixels away from edges that differ by at most 2 % of full tint."""


def agreement(ours: Plate, theirs: Plate) -> Agreement:
    rows, columns = min(ours.shape[0], theirs.shape[0]), min(ours.shape[1], theirs.shape[1])
    one, other = ours[:rows, :columns].astype(np.int16), theirs[:rows, :columns].astype(np.int16)
    quiet = ~(_busy(one) | _busy(other))
    alike = np.abs(one - other)[quiet] <= 6
    return Agreement(float(abs(one.mean() - other.mean()) / 2.55), float(alike.mean()) if alike.size else 1.0)


def _busy(plate: npt.NDArray[np.int16]) -> npt.NDArray[np.bool_]:
    """Pixels within two of a steep change: an edge, where anti-aliasing is anybody's choice."""
    padded = np.pad(plate, 2, mode="edge")
    views = [padded[y : y + plate.shape[0], x : x + plate.shape[1]] for y in range(5) for x in range(5)]
    stack_max, stack_min = np.maximum.reduce(views), np.minimum.reduce(views)
    return (stack_max - stack_min) > 12


def all_agreements(ours: Mapping[str, Plate], theirs: Mapping[str, Plate]) -> dict[str, Agreement]:
    """For every ink of either; a plate that one lacks counts as empty."""
    found = {}
    for ink in {*ours, *theirs}:
        shape = ours[ink].shape if ink in ours else theirs[ink].shape
        empty = np.zeros(shape, np.uint8)
        found[ink] = agreement(ours.get(ink, empty), theirs.get(ink, empty))
    return found
