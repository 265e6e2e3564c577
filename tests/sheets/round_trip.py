"""`python -m tests.sheets.round_trip [ID …]`: every stored sheet as prose in every language, read back; prints what is lost.

Id, revision and aliases are not in the prose, which has no place for them.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Any

from service.language.spoken import LANGUAGES, Language
from service.sheets.catalogue import stored_sheets
from service.sheets.format.validation import read_sheet
from service.sheets.format.writing import sheet_to_document
from service.sheets.prose.ours.lines import lines_of
from service.sheets.prose.reading import read_prose


def lost(sheet_ids: Iterable[str], languages: Iterable[Language] = LANGUAGES) -> Iterator[str]:
    """What does not come back, in words; nothing where all does."""
    for sheet_id in sheet_ids:
        sheet = stored_sheets()[sheet_id]
        whole = sheet_to_document(sheet)
        asked = replace(sheet, id=None, revision=None, aliases=())
        for language in languages:
            reading = read_prose("\n".join(lines_of(whole, language)))
            if reading.not_understood or reading.questions:
                yield f"{sheet_id} {language}: open: {[one.quote for one in (*reading.not_understood, *reading.questions)]}"
            elif read_sheet(reading.draft) != asked:
                yield f"{sheet_id} {language}: {list(_differences(sheet_to_document(asked), dict(reading.draft)))}"


def _differences(one: dict[str, Any], other: dict[str, Any]) -> Iterator[str]:
    for key in sorted(one.keys() | other.keys()):
        if one.get(key) != other.get(key):
            yield f"{key}: {one.get(key)} is read as {other.get(key)}"


def main(sheet_ids: list[str]) -> int:
    ids = sheet_ids or [*stored_sheets()]
    found = list(lost(ids))
    print(*found, sep="\n")
    print(f"{len(ids)} sheets in {len(LANGUAGES)} languages: {len(found)} of {len(ids) * len(LANGUAGES)} do not come back")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
