"""What tests compare with and no Python package brings: programs and libraries, and what to do where one is absent.

A test that needs it is skipped, and says its name; in continuous integration (CI=true) it fails.
`python3 -m tests.outside_tools` prints the Debian packages of what is absent (`--node`: npm packages), and needs Python alone.
"""

from __future__ import annotations

import ctypes
import importlib
import os
import shutil
import subprocess
import sys
import warnings
from collections.abc import Callable
from pathlib import Path
from typing import Any, NoReturn

PROGRAMS = {
    "curl": "curl",
    "firefox-esr": "firefox-esr",
    "gs": "ghostscript",
    "nginx": "nginx-light",
    "node": "nodejs",
    "npm": "npm",
    "pdffonts": "poppler-utils",
    "pdfimages": "poppler-utils",
    "pdfinfo": "poppler-utils",
    "pdftoppm": "poppler-utils",
    "pdftotext": "poppler-utils",
    "qpdf": "qpdf",
}
WEBKIT = {"WebKitWebDriver": "webkit2gtk-driver", "Xvfb": "xvfb"}
"""Only where it is asked for: a third browser, and the screen that it wants."""
MINI_BROWSER = Path("/usr/lib/x86_64-linux-gnu/webkit2gtk-4.1/MiniBrowser")
POSTGRES = Path("/usr/lib/postgresql")
"""Where Debian puts the server's programs, by version; `initdb` is on no path."""
BROWSERS = ("chromium-headless-shell", "chromium")
"""One of them will do; the first does without a window and its parts, at half the cost."""
NPM_PACKAGES = Path(__file__).parent / "browser" / "pages" / "node_modules"
"""What `npm install --no-package-lock` in the folder beside it brings."""
LIBRARIES = {
    "libcairo.so.2": "libcairo2",
    "libpango-1.0.so.0": "libpango-1.0-0",
    "libpangoft2-1.0.so.0": "libpangoft2-1.0-0",
}
"""What cairocffi and WeasyPrint, two of the independent makers of test files, draw with."""
DRAWS_WITH = {"cairocffi": "cairo", "weasyprint": "Pango"}
PROFILES = Path("/usr/share/color/icc/ghostscript")
MOST_SECONDS = 300
"""For one run of a program, on a busy machine."""

FILES = {
    PROFILES / "default_cmyk.icc": "ghostscript",
    Path("/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf"): "fonts-dejavu-core",
}
"""Ghostscript's profiles, and a font that the pages are looked at with."""


def absent(what: str) -> NoReturn:
    """Fail or skip, with the reason."""
    import pytest

    if os.environ.get("CI", "").lower() in ("1", "true"):
        pytest.fail(f"{what} is needed in continuous integration")
    pytest.skip(f"{what} is not there")


def program(name: str) -> str:
    """Where it is."""
    assert name in PROGRAMS | WEBKIT, "say it above, so that continuous integration has it"
    found = shutil.which(name)
    if found is None:
        absent(f"the program {name}")
    return found


def postgres_program(name: str) -> str:
    """Where that program of the PostgreSQL server is, of the latest version."""
    found = shutil.which(name) or max(map(str, POSTGRES.glob(f"*/bin/{name}")), default=None)
    if found is None:
        absent("the server PostgreSQL")
    return found


def npm_package(name: str) -> Path:
    """Its folder."""
    found = NPM_PACKAGES / name
    if not found.is_dir():
        absent(f"{name} of npm (npm install in tests/browser/pages)")
    return found


NODE_TOOLS = "PRINT_SPEC_NODE_TOOLS"
"""Folder in which npm has installed what `NODE_PACKAGES` lists, as `.ci/run` does."""
NODE_PACKAGES = ("openapi-typescript@7.13.0", "typescript@5.9.3")


def node_tool(name: str) -> str:
    """A program of these packages."""
    found = Path(os.environ.get(NODE_TOOLS, "build/node")).resolve() / "node_modules" / ".bin" / name
    if not found.is_file():
        absent(f"{name}, from `npm install --prefix build/node {' '.join(NODE_PACKAGES)}`,")
    return str(found)


def browser_program() -> str:
    found = [path for path in map(shutil.which, BROWSERS) if path]
    if not found:
        absent("a browser, chromium-headless-shell or chromium,")
    return found[0]


Tool = Callable[..., str]
"""Runs the tool with these arguments and gives what it prints."""


def tool(name: str) -> Tool:
    """`tool("pdfinfo")` is a function that runs it: `pdfinfo("-box", path)`. Raises CalledProcessError."""
    found = program(name)

    def run(*arguments: str | Path) -> str:
        command = [found, *(str(one) for one in arguments)]
        done = subprocess.run(command, capture_output=True, timeout=MOST_SECONDS, check=True)
        return done.stdout.decode("utf-8", "replace")

    return run


def profile(name: str) -> Path:
    """One of Ghostscript's ICC profiles."""
    path = PROFILES / f"{name}.icc"
    if not path.is_file():
        absent(f"Ghostscript's profile {name}")
    return path


def drawing_package(name: str) -> Any:
    """WeasyPrint or cairocffi. They look for Pango and cairo when they are imported, and warn or raise where it is absent."""
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            return importlib.import_module(name)
    except OSError:
        absent(f"{DRAWS_WITH[name]}, with which {name} draws,")


def _is_here(library: str) -> bool:
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True


def packages_wanted() -> list[str]:
    wanted = [package for one, package in PROGRAMS.items() if shutil.which(one) is None]
    wanted += [] if shutil.which("initdb") or any(POSTGRES.glob("*/bin/initdb")) else ["postgresql"]
    wanted += [] if shutil.which(BROWSERS[0]) else [BROWSERS[0]]
    wanted += [package for one, package in LIBRARIES.items() if not _is_here(one)]
    wanted += [package for one, package in FILES.items() if not one.is_file()]
    return sorted(set(wanted))


if __name__ == "__main__":
    print(*(NODE_PACKAGES if "--node" in sys.argv else packages_wanted()), sep="\n")
