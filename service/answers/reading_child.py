"""A published spec read where nothing else can suffer from it: what runs in the sandbox, and what comes back as JSON."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path

from service.answers.readings import reading_answer
from service.language.spoken import Language, say, speaking
from service.sheets.prose.drafts import ProseRefused

READ = "service.answers.reading_child:read"


@dataclass(frozen=True)
class ReadingBrief:
    text: str
    media_type: str
    language: Language


def read(_: Path | None, brief: object) -> bytes:
    """An object with `read`, or with `refused`: a sentence."""
    from service.sheets.prose.reading import read_prose  # not for whoever asks: the grammar is some hundred patterns

    assert isinstance(brief, ReadingBrief), "the brief of a reading"
    with speaking(brief.language):
        try:
            told: dict[str, object] = {"read": reading_answer(read_prose(brief.text, brief.media_type))}
        except ProseRefused as refused:
            told = {"refused": refused.said_of(say("The text"))}
    return json.dumps(told).encode()
