"""The Python client: send a PDF to a running service, read what it found. It needs `requests` and nothing else of the service.

from pathlib import Path
from service.client import PrintSpec

with PrintSpec("http://127.0.0.1:8000") as service:
    check = service.check(Path("card.pdf"), spec="business-card-85x55")
    print(check.verdict)
    for finding in check.findings:
        print(finding.message, finding.remedy)
    service.report(check.id, Path("report.pdf"))
"""

from __future__ import annotations

from service.client.connection import ProblemError
from service.client.records import Check, Finding, Place
from service.client.service import PrintSpec

__all__ = ["Check", "Finding", "Place", "PrintSpec", "ProblemError"]
