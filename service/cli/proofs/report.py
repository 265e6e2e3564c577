"""`print-spec report`: the report of a check as one HTML page or as PDF, made on this machine without a server."""

from __future__ import annotations

import argparse
import hashlib
from collections.abc import Mapping
from datetime import UTC, datetime
from pathlib import Path

from service.cli import telling
from service.cli.arguments import add_file, add_order, add_out, add_spec
from service.cli.files import workbench_for
from service.cli.refused import Refused
from service.cli.sheets.named import stored_or_from_file, with_order
from service.jobs.children.tasks import DrawingTask
from service.jobs.question import question_for
from service.jobs.workbench import Workbench
from service.language.spoken import say
from service.language.wording import reason
from service.pdf.facts.unknown import Unmeasured
from service.proofs.picture.crops_brief import CROPS, read_crops
from service.proofs.report.crops import CropsPlanned, crops_planned
from service.proofs.report.html import report_html
from service.proofs.report.pdf import NOT_SET, REPORT_PDF, REPORT_TEMPLATE, ReportPdfBrief
from service.proofs.report.records import Report
from service.proofs.report.telling import Checked, report_of
from service.rules.judge import judge
from service.sheets.model import SpecSheet


def declare(command: argparse.ArgumentParser) -> None:
    command.description = (
        "Checks a PDF against one sheet and writes the result as one HTML page or as PDF, with pictures of what to put right. "
        "Exit code: 0 written, whatever the verdict; 2 cannot be made."
    )
    add_file(command)
    add_spec(command, required=True)
    add_order(command)
    add_out(command, "the report to write: .html or .pdf")
    command.set_defaults(run=run)


def run(given: argparse.Namespace) -> int:
    """0 where the report was written, whatever the verdict. Raises `Refused` where it cannot be made."""
    file, out = given.file, given.out
    sheet = with_order(stored_or_from_file(given.spec), given.order)
    if out.suffix.lower() not in (".pdf", ".html"):
        raise Refused(say("{file} does not say what to make: a report is called .pdf or .html.", file=str(out)))
    console = telling.console(stderr=True)
    with workbench_for(file) as (workbench, path), console.status(say("Checking {file}", file=file.name)) as status:
        dated = datetime.now(UTC).replace(microsecond=0)
        report = _report(workbench, path, sheet, dated)
        status.update(say("Making {file}", file=out.name))
        made = report_html(report).encode() if out.suffix.lower() == ".html" else _pdf(workbench, report, dated)
        out.write_bytes(made)
    print(say("{file} written.", file=str(out)), report.headline, sep="\n")
    return 0


def _report(workbench: Workbench, path: Path, sheet: SpecSheet, dated: datetime) -> Report:
    measurements = workbench.everything(path, question_for(sheet))
    judgement = judge(measurements, sheet)
    planned = crops_planned(measurements, judgement)
    pictures = _pictures(workbench, path, planned)
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


def _pictures(workbench: Workbench, path: Path, planned: CropsPlanned) -> Mapping[int, bytes]:
    drawn = workbench.drawn(DrawingTask(pdf=path, brief=planned.brief, draw=CROPS)) if planned.numbers else b""
    try:
        return {} if isinstance(drawn, Unmeasured) else planned.of(read_crops(drawn, planned.brief))
    except ValueError:  # what came back from the sandbox is nothing that ours draws
        return {}


def _pdf(workbench: Workbench, report: Report, dated: datetime) -> bytes:
    drawn = workbench.drawn(DrawingTask(pdf=REPORT_TEMPLATE, brief=ReportPdfBrief(report, dated), draw=REPORT_PDF))
    if isinstance(drawn, Unmeasured) or not drawn.startswith(b"%PDF-"):
        raise Refused(reason(NOT_SET))
    return drawn
