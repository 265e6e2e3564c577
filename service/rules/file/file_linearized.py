"""The rule on a file whose first page shows before the whole of it has arrived."""

from __future__ import annotations

from collections.abc import Iterator

from service.language.spoken import say
from service.language.wording import first_few, inside_a_sentence, reason
from service.pdf.facts.document import Linearization
from service.rules.base import Finding, Outcome, rule
from service.rules.seen import fact_of
from service.sheets.model import FileAsked


@rule(
    "file.linearized",
    needs=fact_of(lambda document: document.linearization),
    asks=lambda sheet: sheet.file if sheet.file and sheet.file.linearized not in (None, "allowed") else None,
    asked_by="file.linearized",
    level="should",
    source="ISO 32000-2:2020, Annex F (linearized PDF)",
    measured={"linearized": "whether the file is arranged so, and still is", "faults": "what no longer matches, a sentence each"},
    required={"linearized": "whether it has to be"},
)
def file_linearized(found: Linearization | None, file: FileAsked) -> Iterator[Outcome]:
    """A preview shows its first page at once ('fast web view').

    Why: a client who opens the preview from a mail or a page waits for the whole file otherwise.
    Remedy: save with 'fast web view' (linearized) switched on, as the last step: any later change undoes it.
    Knows: the linearization dictionary, whether the file's length and page count still match it, and where the first page stands.
    Cannot know: whether the server sends parts of a file on request. The hint tables are not looked at.
    """
    required = file.linearized == "required"
    faults = list(found.faults) if found else []
    linearized = found is not None and not faults
    if required and faults:
        told = first_few([inside_a_sentence(reason(one)) for one in faults])
        message = say("The file was saved for fast viewing, and no longer is: {faults}.", faults=told)
    elif required and not linearized:
        message = say("The first page can show only when the whole file has arrived; it should show at once.")
    elif not required and found is not None:
        message = say("The file is arranged for fast viewing on the web; the printer does not take such files.")
    else:
        return
    yield Finding(
        message=message,
        remedy=say("Save the file once more with 'fast web view' (linearized) on, as the last step.")
        if required
        else say("Export again with 'fast web view' switched off."),
        measured={"linearized": linearized, "faults": [one.english for one in faults]},
        required={"linearized": required},
    )
