"""A report as one HTML page that needs nothing else: its style and pictures are in it, and there is no script.

Whoever sends it sends `CONTENT_SECURITY_POLICY` with it, which allows exactly that style and pictures out of the page itself.
"""

from __future__ import annotations

import base64
import hashlib
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from service.language.spoken import say, say_many, spoken
from service.proofs.report.records import Report

_TEMPLATES = Path(__file__).parent / "templates"
_STYLE = (_TEMPLATES / "report.css").read_text(encoding="utf-8")
_STYLE_DIGEST = base64.b64encode(hashlib.sha256(_STYLE.encode()).digest()).decode()

CONTENT_SECURITY_POLICY = (
    f"default-src 'none'; img-src data:; style-src 'sha256-{_STYLE_DIGEST}'; base-uri 'none'; form-action 'none'; "
    "frame-ancestors 'none'"
)


def _environment() -> Environment:
    """Everything that a file or a sheet brings is escaped."""
    made = Environment(
        loader=FileSystemLoader(_TEMPLATES), autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True
    )
    made.globals.update(say=say, say_many=say_many, style=Markup(_STYLE))
    made.filters["data_uri"] = _data_uri
    return made


def report_html(report: Report, pdf_address: str | None = None) -> str:
    """`pdf_address`: where the same report is a PDF, relative to the page."""
    return _PAGES.get_template("report.html").render(report=report, pdf_address=pdf_address)


def waiting_html(*, stage: str, page: int | None, pages: int | None, seconds: int) -> str:
    """How far the check is; the page asks again by itself."""
    facts = {"stage": stage, "page": page, "pages": pages, "seconds": seconds}
    return _PAGES.get_template("report_waiting.html").render(language=spoken(), **facts)


def failed_html(*, what: str, what_to_do: str) -> str:
    return _PAGES.get_template("report_failed.html").render(language=spoken(), what=what, what_to_do=what_to_do)


def _data_uri(png: bytes) -> str:
    return f"data:image/png;base64,{base64.b64encode(png).decode()}"


_PAGES = _environment()
