"""The rule on what acts, plays or is carried along in a file that is meant for paper."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from service.language.spoken import say, to_say
from service.language.wording import first_few, on_pages, quoted
from service.pdf.facts.document import ActiveContent
from service.rules.base import LEFT_OUT, Finding, Outcome, Place, always, rule
from service.rules.seen import fact_of
from service.sheets.model import Level, SpecSheet

HARMLESS = frozenset({"GoTo", "URI", "Named", "Thread", "Trans", "Hide"})
"""Actions that only lead somewhere or change the view (ISO 32000-2:2020, 12.6.4). Links on a page are page.annotation's."""


@dataclass(frozen=True)
class _Group:
    kinds: frozenset[str]
    """Empty: every kind that no other group has."""
    told: str
    level: Level
    remedy: str


_GROUPS = {
    "scripts": _Group(
        frozenset({"JavaScript", "Launch"}), to_say("scripts, or commands that start programs"), "must",
        to_say(
            "Take scripts, buttons and calculated fields out of the layout, or print the form to a plain PDF, and export again."
        ),
    ),
    "multimedia": _Group(
        frozenset({"Screen", "Movie", "Sound", "3D", "RichMedia", "Rendition", "GoTo3DView", "RichMediaExecute"}),
        to_say("videos, sound or 3D models"), "should", to_say("Replace them with pictures in the layout, and export for print."),
    ),
    "files": _Group(
        frozenset({"EmbeddedFile", "FileAttachment"}), to_say("other files inside it"), "should",
        to_say("Remove the attached files; send what the printer needs beside the PDF."),
    ),
    "form": _Group(
        frozenset({"XFA"}), to_say("a form that builds its pages when it is opened"), "should",
        to_say("Print the filled form to a plain PDF, and send that."),
    ),
    "actions": _Group(
        frozenset(), to_say("actions that send data or open other files"), "should",
        to_say("Switch off interactive elements in the export settings, and export again."),
    ),
}


@rule(
    "file.active-content",
    needs=fact_of(lambda document: document.active_content),
    asks=always,
    asked_by="always",
    level="must",
    source="ISO 32000-2:2020, 12.6 (actions), 13 (multimedia), 7.11.4 (embedded files); that none of it prints: common practice",
    measured={"group": "scripts, multimedia, files, form or actions", "kinds": "type as the file has it → how many",
              "files": "names of the files inside", **LEFT_OUT},
    required={"count": "0: a print file carries nothing that acts"},
)
def file_active_content(found: tuple[ActiveContent, ...], _: SpecSheet) -> Iterator[Outcome]:
    """Nothing in the file acts, plays or carries other files.

    Why: it does not print; scripts can change what is printed after the proof, and mail filters and printers' intakes refuse
    such files.
    Remedy: export for print, with interactive elements switched off.
    Knows: actions of the document, pages, annotations, form fields and bookmarks, multimedia, embedded files and XFA forms.
    Cannot know: what a script does. Scripts and commands that start programs are a nonconformity, the rest an observation.
    """
    grouped: dict[str, list[ActiveContent]] = {}
    for one in found:
        if one.kind not in HARMLESS:
            grouped.setdefault(_group_of(one.kind), []).append(one)
    for name, group in _GROUPS.items():
        if name in grouped:
            yield _finding(name, group, grouped[name])


def _group_of(kind: str) -> str:
    return next((name for name, group in _GROUPS.items() if kind in group.kinds), "actions")


def _finding(name: str, group: _Group, found: list[ActiveContent]) -> Finding:
    kinds: dict[str, int] = {}
    for one in found:
        kinds[one.kind] = kinds.get(one.kind, 0) + 1
    files = [one.detail for one in found if one.detail]
    pages = tuple(sorted({one.page for one in found if one.page is not None}))
    what = say("{what} {on_pages}", what=say(group.told), on_pages=on_pages(pages)) if pages else say(group.told)
    if files:
        names = first_few([quoted(one) for one in files])
        message = say("The file has {what}: {files}; a file for print or approval carries none.", what=what, files=names)
    else:
        told = first_few(list(kinds))
        message = say("The file has {what} ({kinds}); a file for print or approval carries none.", what=what, kinds=told)
    return Finding(
        message=message,
        remedy=say(group.remedy),
        measured={"group": name, "kinds": kinds, "files": files},
        required={"count": 0},
        pages=pages,
        places=tuple(Place(one.page, one.box_mm) for one in found if one.page is not None and one.box_mm is not None),
        level=group.level,
    )
