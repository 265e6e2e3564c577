"""A whole check over HTTP beside what a person would script for the same questions: `python -m tests.bench`.

    pdfinfo -box; pdfimages -list; pdffonts; gs -sDEVICE=tiffsep -r100      the whole pipeline; its first three, the light half

Not a test: it prints medians and spread of this machine, the three taking turns on the same files. Processor seconds are steadier
than wall time: compare by them. The last line, after BENCH, is JSON. `--short` takes what a few minutes allow; names of files
(`tests/bench/files.py`) take these alone. Needs poppler-utils and Ghostscript.
"""

from __future__ import annotations

import argparse
import json
import signal
import statistics
import subprocess
import sys
import tempfile
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any

from rich.table import Table

from service.cli.telling import console
from tests.bench.files import MAKERS, book, jpeg_page, made
from tests.bench.meters import Cost, of_commands, of_service
from tests.bench.sending import SECONDS, checked, file_as_new, new_session
from tests.running import Running, running

SHORT = ("card", "book", "flyer")
SHEETS = {"card": "business-card-85x55"}
OTHER_SHEET = "flyer-a4"
GROWTH_PAGES, GROWTH_MEGAPIXELS = (10, 100, 1000), (1, 4, 16)


def main(given: list[str]) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.bench")
    parser.add_argument("files", nargs="*", metavar="FILE", help=f"of {', '.join(MAKERS)}")
    parser.add_argument("--short", action="store_true", help="few files, few times")
    parser.add_argument("--times", type=int, default=0, help="5, or 3 where it is short")
    parser.add_argument("--folder", type=Path, help="keeps the files for the next time")
    wishes = parser.parse_args(given)
    names = wishes.files or (SHORT if wishes.short else tuple(MAKERS))
    times = wishes.times or (3 if wishes.short else 5)
    told: dict[str, Any] = {"times": times, "files": {}}
    roomy = {"CHECK_SECONDS": str(SECONDS), "MAXIMUM_UPLOAD": "1 GB"}
    with tempfile.TemporaryDirectory() as folder, running(Path(folder, "data"), anew=True, **roomy) as service:
        files = wishes.folder or Path(folder, "files")
        for name in names:
            told["files"][name] = found = _compared(service, made(files, name), SHEETS.get(name, OTHER_SHEET), times)
            print(name, json.dumps(found), file=sys.stderr, flush=True)  # what is measured outlives a run that is broken off
        if not wishes.files:
            told |= _growth(service, Path(folder), wishes.short)
    _show(told, times)
    print("BENCH", json.dumps(told))
    return 0


def _compared(service: Running, pdf: Path, sheet: str, times: int) -> dict[str, Any]:
    """Medians and spread, the three taking turns, after one round that does not count."""
    asked: dict[str, Callable[[], Cost]] = {
        "light": lambda: of_commands(partial(_light, pdf)),
        "whole": lambda: of_commands(partial(_whole, pdf)),
        "check": lambda: of_service(service.process.pid, partial(_check, service, pdf, sheet)),
    }
    rounds = [{name: ask() for name, ask in asked.items()} for _ in range(times + 1)][1:]
    told: dict[str, Any] = {"bytes": pdf.stat().st_size}
    for name in asked:
        told[name] = _summed([one[name] for one in rounds])
    for of in ("light", "whole"):
        told[f"wall_ratio_{of}"] = round(told["check"]["wall_s"] / told[of]["wall_s"], 2)
        told[f"processor_ratio_{of}"] = round(told["check"]["processor_s"] / max(told[of]["processor_s"], 0.01), 2)
    return told


def _summed(costs: list[Cost]) -> dict[str, float]:
    walls = [one.wall_s for one in costs]
    return {
        "wall_s": round(statistics.median(walls), 3),
        "wall_least_s": round(min(walls), 3),
        "wall_most_s": round(max(walls), 3),
        "processor_s": round(statistics.median(one.processor_s for one in costs), 3),
        "peak_mb": round(max(one.peak_mb for one in costs)),
    }


def _growth(service: Running, folder: Path, short: bool) -> dict[str, Any]:
    """Processor seconds of one check, by pages and by the pixels of a picture."""
    told: dict[str, Any] = {"pages": {}, "megapixels": {}}
    for pages in GROWTH_PAGES[: 2 if short else None]:
        book(folder / "pages.pdf", pages)
        told["pages"][pages] = _once(service, folder / "pages.pdf")
    for megapixels in GROWTH_MEGAPIXELS[: 2 if short else None]:
        jpeg_page(folder / "pixels.pdf", megapixels)
        told["megapixels"][megapixels] = _once(service, folder / "pixels.pdf")
    return told


def _once(service: Running, pdf: Path) -> float:
    return round(of_service(service.process.pid, partial(_check, service, pdf, OTHER_SHEET)).processor_s, 3)


# --- What is timed ----------------------------------------------------------------------------------------------------


def _light(pdf: Path) -> None:
    for command in (["pdfinfo", "-box", "-f", "1", "-l", "-1"], ["pdfimages", "-list"], ["pdffonts"]):
        subprocess.run([*command, pdf], check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)


def _whole(pdf: Path) -> None:
    _light(pdf)
    with tempfile.TemporaryDirectory() as folder:
        plates = ["gs", "-q", "-dSAFER", "-dBATCH", "-dNOPAUSE", "-sDEVICE=tiffsep", "-r100"]
        command = [*plates, f"-sOutputFile={folder}/page-%d.tif", pdf]
        subprocess.run(command, check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)


def _check(service: Running, pdf: Path, sheet: str) -> None:
    with file_as_new(pdf), pdf.open("rb") as file, new_session() as session:
        checked(session, service.address, file, sheet)


def _show(told: dict[str, Any], times: int) -> None:
    table = Table(title=f"Medians of {times}: wall and processor seconds (times the whole pipeline)", title_justify="left")
    for heading in ("File", "light half", "whole pipeline", "check over HTTP", "least to most", "peak MB"):
        table.add_column(heading, justify="left" if heading == "File" else "right")
    for name, one in told["files"].items():
        check, ratios = one["check"], (one["wall_ratio_whole"], one["processor_ratio_whole"])
        table.add_row(
            f"{name}, {one['bytes'] / 1e6:.1f} MB",
            *(f"{one[of]['wall_s']:.2f} / {one[of]['processor_s']:.2f}" for of in ("light", "whole")),
            f"{check['wall_s']:.2f} ({ratios[0]:.2f}) / {check['processor_s']:.2f} ({ratios[1]:.2f})",
            f"{check['wall_least_s']:.2f} – {check['wall_most_s']:.2f}",
            str(check["peak_mb"]),
        )
    console().print(table)


if __name__ == "__main__":
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(128 + signal.SIGTERM))  # or the service would outlive a run broken off
    sys.exit(main(sys.argv[1:]))
