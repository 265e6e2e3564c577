"""A report as PDF, set by Typst in the sandbox: tagged, with its language and title, and with every typeface in it.

* Words reach the template as data, never as markup: `#` and `\\` of a file's name are letters.
* Only the typefaces that Typst brings are used, so that every machine sets the same; nothing is read from disk but the template,
  and nothing from a network.
* PDF/UA-1 where every letter can be set. A letter that the typefaces lack shows as a box; that report is tagged as well,
  but cannot claim the standard.
* Sandboxed although no upload is opened: names and pictures come out of one, and a page that does not end must not block.
"""

from __future__ import annotations

import base64
import json
import logging
import os
import re
import struct
from collections.abc import Callable, Iterator
from dataclasses import asdict, dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from service.pdf.facts.unknown import Unmeasured
from service.proofs.report.records import Report

log = logging.getLogger(__name__)

REPORT_PDF = "service.proofs.report.pdf:report_pdf"
"""Where it is made; `REPORT_TEMPLATE` is the file that it is drawn from."""
REPORT_TEMPLATE = Path(__file__).parent / "templates" / "report.typ"

NOT_SET = Unmeasured("The report could not be set as PDF. The same stands in its HTML page, which can be printed.")

_LONG_WORD = re.compile(r"\S{24,}")
_PIECE = 12
_ZERO_WIDTH_SPACE = "\u200b"


@dataclass(frozen=True)
class ReportPdfBrief:
    report: Report
    dated: datetime
    """What the PDF says that it was made at: the time of the check, so that the same check gives the same file."""


def report_pdf(template: Path, brief: object) -> bytes | Unmeasured:
    assert isinstance(brief, ReportPdfBrief)
    os.environ.setdefault("RAYON_NUM_THREADS", "2")  # a thread for each core would not fit the sandbox on a large machine
    import typst  # 80 MB that only this child needs

    set_type: Callable[..., bytes] = typst.compile  # its own types leave out that the input may be several files
    dated = brief.dated.replace(microsecond=0)  # others are refused
    for files, standards in _tries(template.read_bytes(), brief.report):
        try:
            return set_type(files, ignore_system_fonts=True, format="pdf", pdf_standards=standards, timestamp=dated)
        except RuntimeError as error:
            log.info("a report was not set with %s: %.300s", standards, error)
    return NOT_SET


def _tries(template: bytes, report: Report) -> Iterator[tuple[dict[str, bytes], list[str]]]:
    """With the claim of PDF/UA-1; without it, where a letter cannot be set; at last without pictures, should one be damaged."""
    pictures = {
        _picture_name(one.number): _wrapped(one.crop.png)
        for group in report.findings
        for one in group.findings
        if one.crop is not None
    }
    whole = {"main": template, "report.json": _data(report, with_pictures=True), **pictures}
    bare = {"main": template, "report.json": _data(report, with_pictures=False)}
    yield from ((whole, ["ua-1"]), (whole, ["1.7"]), (bare, ["1.7"]))


def _picture_name(number: int) -> str:
    return f"crop-{number}.svg"


def _wrapped(png: bytes) -> bytes:
    """The picture within an SVG: files that are handed over in memory have to be text."""
    width, height = _size_px(png)
    data = base64.b64encode(png).decode()
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}">'
        f'<image width="{width}" height="{height}" href="data:image/png;base64,{data}"/></svg>'
    ).encode()


def _size_px(png: bytes) -> tuple[int, int]:
    """PNG Specification, third edition, 11.2.1."""
    width, height = struct.unpack_from(">II", png, 16)
    return width, height


def _ratio(png: bytes) -> float:
    """Of its width to its height."""
    width, height = _size_px(png)
    return width / max(height, 1)


def _data(report: Report, *, with_pictures: bool) -> bytes:
    data = asdict(report)
    for group in data["findings"]:
        for finding in group["findings"]:
            crop = finding["crop"] if with_pictures else None
            finding["crop"] = crop and {
                "file": _picture_name(finding["number"]),
                "ratio": _ratio(crop["png"]),
                "alternative": crop["alternative"],
                "caption": crop["caption"],
            }
    return json.dumps(_breakable(data)).encode()


def _breakable(value: Any) -> Any:
    """Long words may be broken anywhere: a name of a font has no spaces, and a column has an end."""
    if isinstance(value, str):
        return _LONG_WORD.sub(_broken, value)
    if isinstance(value, dict):
        return {key: inner if key in ("file", "language", "kind", "paper") else _breakable(inner) for key, inner in value.items()}
    return [_breakable(one) for one in value] if isinstance(value, list | tuple) else value


def _broken(word: re.Match[str]) -> str:
    return _ZERO_WIDTH_SPACE.join(word[0][at : at + _PIECE] for at in range(0, len(word[0]), _PIECE))
