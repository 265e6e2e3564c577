"""An empty document read where nothing else can suffer from it: what runs in the sandbox, and what comes back as JSON."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from service.language.spoken import Language, speaking
from service.language.wording import reason
from service.pdf.facts.guides import GuidedPages
from service.sheets.format.writing import document_to_yaml
from service.sheets.templates.reading import read_template
from service.sheets.templates.told import TemplateReading

READ = "service.answers.template_child:read"


@dataclass(frozen=True)
class TemplateBrief:
    language: Language


def read(pdf: Path | None, brief: object) -> bytes:
    """An object with `read`, or with `refused`: a sentence."""
    assert isinstance(brief, TemplateBrief), "the brief of a reading"
    assert pdf is not None, "an empty document is a file"
    from service.pdf.guided import look_at_guides  # loads the PDF library, which only the child may

    with speaking(brief.language):
        pages = look_at_guides(pdf)
        if isinstance(pages, GuidedPages):
            return json.dumps({"read": template_answer(read_template(pages))}).encode()
        return json.dumps({"refused": reason(pages)}).encode()


def template_answer(reading: TemplateReading) -> dict[str, Any]:
    document = reading.document()
    return {
        "draft": document,
        "draft_yaml": document_to_yaml(document) if document else "",
        "values": [{"pointer": one.pointer, "value": one.value, "source": one.source} for one in reading.values],
        "questions": [{"about": one.about, "question": one.question, "source": one.source} for one in reading.questions],
    }
