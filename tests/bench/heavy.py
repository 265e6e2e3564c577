"""Heavy pages beside the usual tools: `python -m tests.bench.heavy`. Needs poppler-utils and Ghostscript.

* Walk: a page of 700,000 operators (a map's worth of short paths), time and peak memory of a process of its own, beside
  `pdfimages -list` and Ghostscript's null device on the same file.
* Plates: the brochure of twelve pages with full-page pictures, 100,000 filled paths on a page (in the
  inks of one rendering, and in all four), and a card of two pages, at
  100 ppi, beside Ghostscript's tiffsep at the same ppi; one process each.

Prints medians and ratios of one run on this machine; it is no test.
"""

from __future__ import annotations

import random
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from rich.table import Table

from service.cli.telling import console
from service.demo.order import make_files
from tests.build import page

TIMES = 3
_WHOLE = """
import resource, sys, time
from pathlib import Path
from service.pdf.measure import measure
started = time.perf_counter()
measure(Path(sys.argv[1]))
print(time.perf_counter() - started, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1000)
"""
_PLATES = """
import resource, sys, time
from pathlib import Path
from tests.bench.plates_of_file import plates_of_file
plates_of_file(Path(sys.argv[1]))
started = time.perf_counter()
plates_of_file(Path(sys.argv[1]))
print(time.perf_counter() - started, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1000)
"""


def operators(path: Path, count: int) -> Path:
    """Short closed paths and lines in changing colours and widths: seven operators each."""
    dice = random.Random(1047)
    pieces = []
    for _ in range(count // 7):
        x, y = dice.uniform(0, 580), dice.uniform(0, 830)
        points = " ".join(f"{x + dice.uniform(-9, 9):.2f} {y + dice.uniform(-9, 9):.2f} l" for _ in range(2))
        ink = f"{dice.random():.2f} {dice.random():.2f} 0 0.1 k"
        pieces.append(f"{ink} {dice.choice((0.3, 0.5, 1))} w {x:.2f} {y:.2f} m {points} h B\n")
    return page(210, 297).raw("".join(pieces).encode()).save(path)


def filled_paths(path: Path, count: int, inks: int = 3) -> Path:
    """Triangles in changing tints of cyan and magenta over some black; with four inks all of them change."""
    dice = random.Random(1047)
    pieces = []
    for _ in range(count):
        x, y = dice.uniform(0, 580), dice.uniform(0, 830)
        rest = "0 0.1" if inks == 3 else f"{dice.random():.2f} {dice.random() * 0.3:.2f}"
        tints = f"{dice.random():.2f} {dice.random():.2f} {rest}"
        pieces.append(f"{tints} k {x:.2f} {y:.2f} m {x + 9:.2f} {y:.2f} l {x:.2f} {y + 9:.2f} l f\n")
    return page(210, 297).raw("".join(pieces).encode()).save(path)


def main() -> int:
    with tempfile.TemporaryDirectory() as folder:
        where = Path(folder)
        map_page = operators(where / "map.pdf", 700_000)
        seconds, megabytes = _ours(["-m", "tests.bench.walk_of_page"], map_page)
        whole, most = _ours(["-c", _WHOLE], map_page)
        images = _theirs(["pdfimages", "-list", str(map_page)])
        null = _theirs(["gs", "-q", "-dNOPAUSE", "-dBATCH", "-dSAFER", "-sDEVICE=nullpage", str(map_page)])
        console().print(
            f"700,000 operators: walked in {seconds:.2f} s with {megabytes:.0f} MB at the peak, "
            f"measured with plates in {whole:.2f} s and {most:.0f} MB; "
            f"pdfimages -list {images:.2f} s (the walk {seconds / images:.1f} times), "
            f"Ghostscript's null device {null:.2f} s ({seconds / null:.1f} times)"
        )
        make_files(where, lambda _: None)
        table = Table(title="Plates at 100 ppi, warm, beside tiffsep", title_justify="left")
        for heading in ("File", "plates, s", "tiffsep, s", "ratio", "peak, MB"):
            table.add_column(heading, justify="left" if heading == "File" else "right")
        for pdf in (
            where / "brochure-12-pages.pdf",
            filled_paths(where / "100,000 paths in three inks.pdf", 100_000),
            filled_paths(where / "100,000 paths in four inks.pdf", 100_000, inks=4),
            where / "card-right.pdf",
        ):
            ours, peak = _ours(["-c", _PLATES], pdf)
            theirs = _theirs(
                [
                    "gs",
                    "-q",
                    "-dNOPAUSE",
                    "-dBATCH",
                    "-dSAFER",
                    "-sDEVICE=tiffsep",
                    "-r100",
                    f"-sOutputFile={where}/out%d.tif",
                    str(pdf),
                ]
            )
            table.add_row(pdf.name, f"{ours:.3f}", f"{theirs:.3f}", f"{ours / theirs:.2f}", f"{peak:.0f}")
        console().print(table)
    return 0


def _ours(program: list[str], pdf: Path) -> tuple[float, float]:
    """Seconds and peak megabytes, each the median of processes of their own."""
    command = [sys.executable, *program, str(pdf)]
    runs = [subprocess.run(command, check=True, capture_output=True, text=True) for _ in range(TIMES)]
    numbers = [[float(one) for one in run.stdout.split()] for run in runs]
    return statistics.median(one[0] for one in numbers), statistics.median(one[1] for one in numbers)


def _theirs(command: list[str]) -> float:
    taken = []
    for _ in range(TIMES):
        started = time.perf_counter()
        subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
        taken.append(time.perf_counter() - started)
    return statistics.median(taken)


if __name__ == "__main__":
    sys.exit(main())
