"""A language in which every text that is looked up shows it: 'Page {pages} has …' comes back as '⟦Page ⟧{pages}⟦ has …⟧'.

What stands outside the brackets was never said: numbers and units, names from the file or the sheet, or a text that escaped.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import is_dataclass
from functools import cache
from gettext import NullTranslations
from typing import get_type_hints

import pytest

from service.language import spoken
from service.language.sentences import Sentence
from service.language.spoken import speaking
from service.pdf.facts.measurements import Measurements
from service.rules.base import Rule
from service.rules.headline import headline
from service.rules.judge import judge
from service.rules.judgement import Judgement
from service.sheets.model import SpecSheet

_PLACEHOLDER = re.compile(r"(\{\w+\})")
_WORDS = re.compile(r"[^\W\d_](?:[\w.:/+-]*\w)?")

_PLAIN = """
mm mm² cm² m pt ppi in MB kB x y
PDF PDF/X-1a:2001 PDF/X-1a:2003 PDF/X-3:2002 PDF/X-3:2003 PDF/X-4 PDF/X-4p ISO XMP
MediaBox CropBox BleedBox TrimBox ArtBox Rotate UserUnit
DeviceGray DeviceRGB DeviceCMYK Gray GRAY RGB CMYK Lab
Cyan Magenta Yellow Black LZW JBIG2 JPEG
"""
PLAIN = frozenset(_PLAIN.split())
"""Units, and names of the standards, that are the same in every language."""


_OUR_WORDS = {"label", "damage", "text"}
"""Fields of measurements with words of our own, which are said."""


class Mirror(NullTranslations):
    def __init__(self) -> None:
        super().__init__()
        self.looked_up: set[str] = set()

    def gettext(self, message: str) -> str:
        self.looked_up.add(message)
        return "".join(one if _PLACEHOLDER.fullmatch(one) else f"⟦{one}⟧" for one in _PLACEHOLDER.split(message) if one)

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        return self.gettext(msgid1 if n == 1 else msgid2)

    def pgettext(self, context: str, message: str) -> str:  # noqa: ARG002
        return self.gettext(message)


@contextmanager
def mirrored() -> Iterator[Mirror]:
    """German is the mirror's language inside."""
    mirror, spoken_otherwise = Mirror(), spoken.catalogue
    with pytest.MonkeyPatch.context() as patch, speaking("de"):
        patch.setattr(spoken, "catalogue", lambda language: mirror if language == "de" else spoken_otherwise(language))
        yield mirror


def not_said(text: str) -> list[str]:
    """Words outside the brackets that are no units and no names of a standard. What is quoted is the file's own."""
    rest = re.sub(r"⟦‘⟧.*?⟦’⟧", " ", text, flags=re.DOTALL)
    while rest != (rest := re.sub(r"⟦[^⟦⟧]*⟧", " ", rest)):
        pass
    return [one for one in _WORDS.findall(rest) if one not in PLAIN]


def assert_all_is_said(measurements: Measurements, sheet: SpecSheet, rules: Mapping[str, Rule]) -> Judgement:
    """Judged in the mirror's language, nothing is left in English but words of the file's and of the sheet's own.

    What is looked up is a message of the catalogues, or a reason that the test made up.
    """
    with mirrored() as mirror:
        judgement = judge(measurements, sheet, rules)
        texts = [headline(judgement), *(one.reason for one in judgement.rules if one.reason)]
    for one in judgement.findings:
        texts += [one.finding.message, one.finding.remedy]
    own = {*own_words(measurements), *own_words(sheet)}
    for text in texts:
        escaped = [word for word in not_said(text) if word not in own]
        assert not escaped, (escaped, text)
    facts = repr(measurements)
    unknown = {text for text in mirror.looked_up if text not in _collected() and repr(text)[1:-1] not in facts}
    assert not unknown, f"said, and not marked for the catalogues: {sorted(unknown)}"
    return judgement


def own_words(record: object, hint: object = None) -> Iterator[str]:
    """Of the fields that hold any text, such as names; not of those with a closed list of values, which are ours."""
    if isinstance(record, str):
        yield from () if "Literal" in str(hint) else _WORDS.findall(record)
    elif is_dataclass(record) and not isinstance(record, type | Sentence):
        hints = _hints(type(record))
        for name in hints.keys() - _OUR_WORDS:
            yield from own_words(getattr(record, name), hints[name])
    elif isinstance(record, Mapping):
        yield from own_words([*record.keys(), *record.values()])
    elif isinstance(record, tuple | list):
        for one in record:
            yield from own_words(one, hint)


@cache
def _hints(kind: type) -> dict[str, object]:
    return get_type_hints(kind)


@cache
def _collected() -> frozenset[str]:
    from tests.language.messages import all_messages

    return frozenset(form for text in all_messages() for form in (text.one, text.many) if form)
