"""One's own sheet as it is kept: what was sent, and the complete sheet that it stands for, which is what judges.

* A sheet may extend a stored one (`service.sheets.extending`). It is laid over its base once, when it is written: a base that
  changes later changes nothing that was agreed before.
* Revisions are counted by the service: a number that was sent is replaced by its own.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Any

from service.language.spoken import say
from service.sheets.catalogue import laid_over_its_base
from service.sheets.extending import EXTENDS
from service.sheets.format.refusals import refusal
from service.sheets.format.validation import read_sheet
from service.sheets.format.writing import digest, sheet_to_document
from service.sheets.model import SpecSheet

LONGEST_ID = 64


@dataclass(frozen=True)
class OwnSheet:
    """One revision, as documents in the sheet's own format."""

    sent: Mapping[str, Any]
    """With `extends` and null where it has them; `id` and `revision` as they were settled."""
    complete: Mapping[str, Any]
    """What it stands for, and what is judged by."""
    digest: str
    """Of the complete sheet."""

    @property
    def extends(self) -> str | None:
        return self.sent.get(EXTENDS)

    def document(self) -> dict[str, Any]:
        """Complete, and to be sent again as it is: `extends` stays, and so does every null of what was sent."""
        whole = dict(self.complete)
        if self.extends is None:
            return whole
        return {"id": whole.pop("id"), EXTENDS: self.extends, **_with_nulls(whole, self.sent)}


def read_complete(document: object, *, stored: bool = False, known_rules: Collection[str] | None = None) -> SpecSheet:
    """The sheet that the document is, or becomes when it is laid over what it extends. Raises `SheetRefused`."""
    return read_sheet(laid_over_its_base(document), stored=stored, known_rules=known_rules)


def read_own(document: object, *, sheet_id: str | None, revision: int, known_rules: Collection[str] | None = None) -> OwnSheet:
    """A revision to be kept. `sheet_id`: what the address says; None where the document has to say it.

    Raises `SheetRefused`.
    """
    if not isinstance(document, Mapping):
        raise refusal([((), say("must be a block of keys such as trim, bleed and images."))])
    named = document.get("id", sheet_id)
    if named is None:
        raise refusal([(("id",), say("is missing: a stored sheet needs it."))])
    if sheet_id is not None and named != sheet_id:
        raise refusal([(("id",), say("must be '{id}', as in the address, or be left out.", id=sheet_id))])
    if isinstance(named, str) and ("/" in named or len(named) > LONGEST_ID):
        says = say("must have {most} characters at most and no '/', as the sheets of catalogues have.", most=LONGEST_ID)
        raise refusal([(("id",), says)])
    settled = {"id": named, **document, "revision": revision}
    sheet = read_complete(settled, stored=True, known_rules=known_rules)
    return OwnSheet(settled, sheet_to_document(sheet), digest(sheet))


def _with_nulls(whole: Mapping[str, Any], sent: Mapping[str, Any]) -> dict[str, Any]:
    marked = dict(whole)
    for key, value in sent.items():
        if value is None:
            marked.setdefault(key, None)
        elif isinstance(value, Mapping) and isinstance(marked.get(key), Mapping):
            marked[key] = _with_nulls(marked[key], value)
    return marked
