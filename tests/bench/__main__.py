"""How long a check takes beside the shell pipeline that asks for the same facts: `python -m tests.bench`.

Not a test: it prints medians and ratios of this machine, in one run, on the same files. Needs poppler-utils.
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import requests
from rich.table import Table

from service.cli.telling import console
from service.demo.order import make_files
from service.demo.run import running_service
from service.jobs.question import question_for
from service.pdf.measure import measure
from service.rules.judge import judge
from service.sheets.catalogue import stored_sheets

FILES = (("card-right.pdf", "business-card-85x55"), ("brochure-12-pages.pdf", "booklet-a5-stapled"))
TIMES = 9


def main() -> int:
    table = Table(
        title=f"Median of {TIMES} warm runs, milliseconds; in brackets how many times the pipeline", title_justify="left"
    )
    for heading in ("File", "pdfinfo; pdfimages; pdffonts", "measure and judge", "over HTTP"):
        table.add_column(heading, justify="left" if heading == "File" else "right")
    with tempfile.TemporaryDirectory() as folder, running_service() as address, requests.Session() as session:
        session.trust_env = False
        make_files(Path(folder), lambda _: None)
        for name, spec in FILES:
            pdf = Path(folder, name)
            pipeline = _median(lambda pdf=pdf: _pipeline(pdf))
            local = _median(lambda pdf=pdf, spec=spec: _measure_and_judge(pdf, spec))
            remote = _median(lambda pdf=pdf, spec=spec: _over_http(session, address, pdf, spec))
            row = (f"{local:.1f} ({local / pipeline:.2f})", f"{remote:.1f} ({remote / pipeline:.2f})")
            table.add_row(f"{name}, {pdf.stat().st_size / 1e6:.1f} MB", f"{pipeline:.1f}", *row)
    console().print(table)
    return 0


def _median(run: Callable[[], None]) -> float:
    """Milliseconds; one run before the clock starts."""
    run()
    taken = []
    for _ in range(TIMES):
        started = time.perf_counter()
        run()
        taken.append((time.perf_counter() - started) * 1000)
    return statistics.median(taken)


def _pipeline(pdf: Path) -> None:
    for command in (["pdfinfo", "-box", "-f", "1", "-l", "-1"], ["pdfimages", "-list"], ["pdffonts"]):
        subprocess.run([*command, pdf], check=True, stdout=subprocess.DEVNULL)


def _measure_and_judge(pdf: Path, spec: str) -> None:
    sheet = stored_sheets()[spec]
    if judge(measure(pdf, question_for(sheet)), sheet).verdict != "conforming":
        raise SystemExit(f"{pdf.name} should conform")


def _over_http(session: requests.Session, address: str, pdf: Path, spec: str) -> None:
    with pdf.open("rb") as file:
        answer = session.post(f"{address}/v1/checks", files={"file": file}, data={"spec": spec}, timeout=60)
    if answer.status_code != 201 or answer.json()["verdict"] != "conforming":
        raise SystemExit(f"{pdf.name}: {answer.status_code} {answer.text[:500]}")


if __name__ == "__main__":
    sys.exit(main())
