"""Reports of real PDFs, judged against sheets written out in the test: what the page says, read by a parser of its own."""

from __future__ import annotations

import io
from dataclasses import dataclass, field
from datetime import UTC, datetime
from html.parser import HTMLParser
from pathlib import Path

from PIL import Image

from service.jobs.question import question_for
from service.pdf.measure import measure
from service.proofs.report.pdf import REPORT_TEMPLATE, ReportPdfBrief, report_pdf
from service.proofs.report.records import Report
from service.proofs.report.telling import Checked, report_of
from service.rules.catalogue import RULES
from service.rules.judge import judge
from service.sheets.format.parsing import parse_sheet_text
from service.sheets.format.validation import read_sheet

CHECKED_AT = datetime(2026, 3, 9, 16, 5, tzinfo=UTC)
_VOID = {"meta", "link", "br", "img", "path", "circle", "hr", "input"}


def checked(pdf: bytes, sheet: str, folder: Path, name: str = "card.pdf") -> Checked:
    path = folder / "sent.pdf"
    path.write_bytes(pdf)
    asked = read_sheet(parse_sheet_text(sheet), stored=False, known_rules=RULES)
    measurements = measure(path, question_for(asked), lambda *_: None)
    return Checked(
        file_name=name,
        sha256="5c" * 32,
        checked_at=CHECKED_AT,
        expires_at=CHECKED_AT.replace(day=10),
        sheet=asked,
        measurements=measurements,
        judgement=judge(measurements, asked),
    )


def report(pdf: bytes, sheet: str, folder: Path, *, name: str = "card.pdf", pictures: dict[int, bytes] | None = None) -> Report:
    return report_of(checked(pdf, sheet, folder, name), pictures or {})


def picture() -> bytes:
    """As a crop comes: PNG, RGB."""
    written = io.BytesIO()
    Image.effect_noise((68, 52), 60).convert("RGB").save(written, "PNG")
    return written.getvalue()


def as_pdf(made: Report) -> bytes:
    pdf = report_pdf(REPORT_TEMPLATE, ReportPdfBrief(made, CHECKED_AT))
    assert isinstance(pdf, bytes), pdf
    return pdf


@dataclass
class Page(HTMLParser):
    """An HTML page, parsed strictly: an element that is closed out of turn, or never, is a mistake."""

    text: str
    said: list[str] = field(default_factory=list)
    headings: list[tuple[int, str]] = field(default_factory=list)
    elements: list[tuple[str, dict[str, str | None]]] = field(default_factory=list)
    _open: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.feed(self.text)
        self.close()
        assert self._open == [], f"never closed: {self._open}"

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        assert len({name for name, _ in attrs}) == len(attrs), f"{tag} has an attribute twice"
        self.elements.append((tag, dict(attrs)))
        if tag not in _VOID:
            self._open.append(tag)
        if tag in ("h1", "h2", "h3", "h4"):
            self.headings.append((int(tag[1]), ""))

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self._open, f"</{tag}> closes nothing"
        assert self._open.pop() == tag, f"</{tag}> is out of turn"

    def handle_data(self, data: str) -> None:
        if self._open and self._open[-1] == "style":
            return
        if data.strip():
            self.said.append(" ".join(data.split()))
        inside = next((tag for tag in reversed(self._open) if tag in ("h1", "h2", "h3", "h4")), None)
        if inside and data.strip():
            level, before = self.headings[-1]
            self.headings[-1] = (level, f"{before} {data.strip()}".strip())

    @property
    def words(self) -> str:
        return " ".join(self.said)

    def all(self, tag: str) -> list[dict[str, str | None]]:
        return [attributes for name, attributes in self.elements if name == tag]
