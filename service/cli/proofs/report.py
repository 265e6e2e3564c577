"""`print-spec report`: the report of a check as one HTML page or as PDF, made on this machine without a server."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from datetime import UTC, datetime
from pathlib import Path

from service.cli import telling
from service.cli.files import NotRead, asking_about, refused
from service.cli.sheets.sheets import sheet_for_order
from service.jobs.asking import Asking
from service.jobs.children.drawing_child import DrawingTask
from service.jobs.question import question_for
from service.language.spoken import Language, speaking
from service.language.wording import reason
from service.pdf.facts.unknown import Unmeasured
from service.proofs.picture.crops_brief import CROPS, read_crops
from service.proofs.report.crops import CropsPlanned, crops_planned
from service.proofs.report.html import report_html
from service.proofs.report.pdf import NOT_SET, REPORT_PDF, REPORT_TEMPLATE, ReportPdfAsked
from service.proofs.report.records import Report
from service.proofs.report.telling import Checked, report_of
from service.rules.judge import judge
from service.sheets.model import SpecSheet


def write_report(file: Path, out: Path, *, spec: str, order: str | None = None, language: Language) -> int:
    """0 where `out` was written, whatever the verdict; 2 where it cannot be made, and the reason goes to stderr."""
    sheets = sheet_for_order(spec, order)
    if isinstance(sheets, list):
        return refused(*sheets)
    _, sheet = sheets
    if out.suffix.lower() not in (".pdf", ".html"):
        return refused(f"{out} does not say what to make: a report is called .pdf or .html.")
    console = telling.console(stderr=True)
    try:
        with speaking(language), asking_about(file) as (asking, path), console.status(f"Checking {file.name}") as status:
            dated = datetime.now(UTC).replace(microsecond=0)
            report = _report(asking, path, sheet, dated)
            status.update(f"Making {out.name}")
            made = report_html(report).encode() if out.suffix.lower() == ".html" else _pdf(asking, report, dated)
            out.write_bytes(made)
    except NotRead as error:
        return refused(str(error))
    print(f"{out} written.", report.headline, sep="\n")
    return 0


def _report(asking: Asking, path: Path, sheet: SpecSheet, dated: datetime) -> Report:
    measurements = asking.everything(path, question_for(sheet))
    judgement = judge(measurements, sheet)
    planned = crops_planned(measurements, judgement)
    pictures = _pictures(asking, path, planned)
    with path.open("rb") as opened:
        sha256 = hashlib.file_digest(opened, "sha256").hexdigest()
    checked = Checked(
        file_name=path.name,
        sha256=sha256,
        checked_at=dated,
        expires_at=None,
        sheet=sheet,
        measurements=measurements,
        judgement=judgement,
    )
    return report_of(checked, pictures, planned.said_of_missing(pictures))


def _pictures(asking: Asking, path: Path, planned: CropsPlanned) -> Mapping[int, bytes]:
    drawn = asking.drawn(DrawingTask(pdf=path, asked=planned.asked, draw=CROPS)) if planned.numbers else b""
    try:
        return {} if isinstance(drawn, Unmeasured) else planned.of(read_crops(drawn, planned.asked))
    except ValueError:  # what came back from the sandbox is nothing that ours draws
        return {}


def _pdf(asking: Asking, report: Report, dated: datetime) -> bytes:
    drawn = asking.drawn(DrawingTask(pdf=REPORT_TEMPLATE, asked=ReportPdfAsked(report, dated), draw=REPORT_PDF))
    if isinstance(drawn, Unmeasured) or not drawn.startswith(b"%PDF-"):
        raise NotRead(reason(NOT_SET))
    return drawn
