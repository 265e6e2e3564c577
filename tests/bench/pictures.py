"""Pictures of pages over HTTP once their file is checked, on files by several producers: `python -m tests.bench.pictures`.

Not a test: it prints medians of this machine. Each picture is drawn anew; processor milliseconds are the whole service's, a mean
of all that were asked for. The last line, after BENCH, is JSON.
"""

from __future__ import annotations

import argparse
import json
import signal
import statistics
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

import requests
from rich.table import Table

from service.cli.telling import console
from tests.bench.files import MAKERS, PHOTOGRAPHS, made
from tests.bench.meters import of_service
from tests.bench.sending import SECONDS, checked, new_session
from tests.running import Running, running

PAGES = {
    "card": 1, "brochure": 1, "book": 50, "catalogue": 3, "jpeg": 1, "flate": 1, "flate-over-jpeg": 1, "flyer": 1, "paths": 1,
    "thousand": 500,
}
"""By reportlab the first four, by pikepdf the next three and paths, by cairo flyer, by typst thousand."""
SHEETS = {"card": "business-card-85x55"}
OTHER_SHEET = "flyer-a4"
TIMES = 10


def main(given: list[str]) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.bench.pictures")
    parser.add_argument("files", nargs="*", metavar="FILE", help=f"of {', '.join((*MAKERS, *PHOTOGRAPHS))}")
    parser.add_argument("--times", type=int, default=TIMES)
    parser.add_argument("--folder", type=Path, help="keeps the files for the next time")
    wishes = parser.parse_args(given)
    told: dict[str, Any] = {"times": wishes.times, "pictures": {}}
    roomy = {"CHECK_SECONDS": str(SECONDS), "MAXIMUM_UPLOAD": "1 GB"}
    with tempfile.TemporaryDirectory() as folder, running(Path(folder, "data"), anew=True, **roomy) as service:
        time.sleep(5)  # what is made ready while nobody asks is
        for name in wishes.files or PAGES:
            pdf, sheet = made(wishes.folder or Path(folder, "files"), name), SHEETS.get(name, OTHER_SHEET)
            told["pictures"][name] = found = pictured(service, pdf, sheet, PAGES.get(name, 1), wishes.times)
            print(name, json.dumps(found), file=sys.stderr, flush=True)
    _show(told)
    print("BENCH", json.dumps(told))
    return 0


def pictured(service: Running, pdf: Path, sheet: str, page: int, times: int) -> dict[str, float]:
    """Of one page, asked for again and again, after once that does not count."""
    walls: list[float] = []
    sizes: list[int] = []
    with new_session() as session:
        with pdf.open("rb") as file:
            check = checked(session, service.address, file, sheet)
        address = service.address + check["links"]["picture"].replace("{page}", str(page))

        def ask() -> None:
            began = time.perf_counter()
            sizes.append(len(_picture(session, address)))
            walls.append(time.perf_counter() - began)

        ask()

        def ask_often() -> None:
            for _ in range(times):
                ask()

        cost = of_service(service.process.pid, ask_often)
    return {
        "wall_ms": round(1000 * statistics.median(walls[1:])),
        "wall_least_ms": round(1000 * min(walls[1:])),
        "wall_most_ms": round(1000 * max(walls[1:])),
        "processor_ms": round(1000 * cost.processor_s / times),
        "kilobytes": round(sizes[-1] / 1000),
        "peak_mb": round(cost.peak_mb),
    }


def _picture(session: requests.Session, address: str) -> bytes:
    answer = session.get(address, timeout=SECONDS)
    if answer.status_code != 200:
        raise SystemExit(f"{answer.status_code} {answer.text[:500]}")
    return answer.content


def _show(told: dict[str, Any]) -> None:
    table = Table(title=f"A page's picture, medians of {told['times']}", title_justify="left")
    for heading in ("File", "wall ms", "least to most", "processor ms", "kB", "peak MB"):
        table.add_column(heading, justify="left" if heading == "File" else "right")
    for name, one in told["pictures"].items():
        spread = f"{one['wall_least_ms']} – {one['wall_most_ms']}"
        cells = (one["wall_ms"], spread, one["processor_ms"], one["kilobytes"], one["peak_mb"])
        table.add_row(name, *map(str, cells))
    console().print(table)


if __name__ == "__main__":
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(128 + signal.SIGTERM))  # or the service would outlive a run broken off
    sys.exit(main(sys.argv[1:]))
