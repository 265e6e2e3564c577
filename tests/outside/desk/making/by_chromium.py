"""Chromium's print to PDF: RGB, no boxes but the media, no bleed."""

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path

from tests.outside.desk.making import pages_in_html as pages


def program() -> str | None:
    return shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")


def make(folder: Path) -> dict[str, str]:
    sources = {
        "card-with-room": (pages.card(room=3), "business-card-85x55"),
        "flyer-a5": (pages.flyer(), "flyer-a5"),
        "flyer-a5-with-room": (pages.flyer(room=3), "flyer-a5"),
        "letterhead": (pages.letterhead(), "letterhead-a4"),
        "booklet-a5": (pages.booklet(), "booklet-a5-stapled"),
        "flyer-a4-effects": (pages.sale(), "flyer-a4"),
    }
    found = program()
    assert found
    for name, (html, _) in sources.items():
        source = folder / "page.html"
        source.write_text(html, "utf-8")
        out = folder / f"chromium-{name}.pdf"
        sandbox = ["--no-sandbox"] if os.geteuid() == 0 else []
        options = ["--headless", "--disable-gpu", *sandbox, "--no-pdf-header-footer", f"--print-to-pdf={out}"]
        subprocess.run([found, *options, source.as_uri()], capture_output=True, timeout=120, check=True)
        source.unlink()
    return {f"chromium-{name}.pdf": sheet for name, (_, sheet) in sources.items()}
