"""The light preview of the brochure against Ghostscript's pdfwrite at the same picture ppi: `python -m tests.bench.preview`.

`/ebook` asks for pictures of 150 ppi; so does this run. Both get one warm run, then the median of some.
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from service.demo.order import make_files
from service.pdf.facts.unknown import Unmeasured
from service.pdf.measure import measure
from service.proofs.preview.brief import preview_brief
from service.proofs.preview.drawn import preview_pdf
from service.proofs.preview.wishes import PreviewWishes
from service.sheets.model import SpecSheet

PPI = 150
TIMES = 3


def main() -> int:
    with tempfile.TemporaryDirectory() as folder:
        make_files(Path(folder), lambda _: None)
        pdf, light, theirs = (Path(folder, name) for name in ("brochure-12-pages.pdf", "light.pdf", "theirs.pdf"))
        pages = measure(pdf).pages
        assert not isinstance(pages, Unmeasured)
        brief = preview_brief(pages, SpecSheet(), PreviewWishes("singles", ppi=PPI))

        def ours() -> None:
            made = preview_pdf(pdf, brief)
            assert isinstance(made, bytes), made
            light.write_bytes(made)

        command = ["gs", "-q", "-dBATCH", "-dNOPAUSE", "-sDEVICE=pdfwrite", "-dPDFSETTINGS=/ebook", f"-o{theirs}", str(pdf)]
        seconds = _median(ours), _median(lambda: subprocess.run(command, check=True))
        sizes = light.stat().st_size, theirs.stat().st_size
    print(
        f"preview: {seconds[0]:.2f} s, {sizes[0] / 1000:.0f} kB; Ghostscript /ebook: {seconds[1]:.2f} s, {sizes[1] / 1000:.0f} kB"
    )
    print(f"ratio of times {seconds[0] / seconds[1]:.2f}, of sizes {sizes[0] / sizes[1]:.2f}; both should be at most 1")
    return 0 if seconds[0] <= seconds[1] and sizes[0] <= sizes[1] else 1


def _median(run: Callable[[], object]) -> float:
    run()
    taken = []
    for _ in range(TIMES):
        started = time.perf_counter()
        run()
        taken.append(time.perf_counter() - started)
    return statistics.median(taken)


if __name__ == "__main__":
    sys.exit(main())
