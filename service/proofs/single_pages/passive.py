"""Take out of a PDF, in memory, whatever acts, plays or is carried along instead of being printed; and say what it was.

* Of the catalog only what describes the pages stays (ISO 32000-2:2020, 7.7.2, Table 29): scripts, attached files, actions and
  forms go. A form field that the file draws stays as it looks, as a stamp: readers may not show a field without its form.
* Of all actions (12.6) only those stay that show a place of the same file (GoTo).
* Annotations that play or carry something go whole (12.5.6, 13); of file specifications the files inside (7.11.4).

What the pages paint is not touched. Layers stay as they are.
"""

from __future__ import annotations

from collections.abc import Iterator

import pikepdf

from service.language.spoken import say, to_say
from service.pdf.document.active_content import CARRYING
from service.pdf.reading.names import name_text

_OF_PAGES = frozenset({
    "/Type", "/Version", "/Extensions", "/Pages", "/PageLabels", "/Names", "/Dests", "/ViewerPreferences", "/PageLayout",
    "/PageMode", "/Outlines", "/OpenAction", "/Metadata", "/StructTreeRoot", "/MarkInfo", "/Lang", "/OutputIntents",
    "/PieceInfo", "/OCProperties",
})
"""Entries of the catalog that describe pages, their colours, layers, names or structure."""

_FORM_FIELDS = to_say("form fields")
_CALLED = {
    **dict.fromkeys(("/AA", "/OpenAction", "/A", "/PA", "/Next"), to_say("actions")),
    "/JavaScript": to_say("scripts"),
    **dict.fromkeys(("/EmbeddedFiles", "/AF", "/EF", "/FS", "/Collection"), to_say("attached files")),
    "/AcroForm": _FORM_FIELDS,
    **dict.fromkeys(("/Perms", "/DSS"), to_say("digital signatures")),
    **dict.fromkeys(("/Trans", "/Dur", "/PresSteps"), to_say("page turns of a screen show")),
    **dict.fromkeys(("/Threads", "/B"), to_say("article threads")),
}

_OF_ACTING_PAGE = ("/AA", "/AF", "/B", "/PresSteps", "/Trans", "/Dur", "/DPart", "/TemplateInstantiated")

_OF_STAMP = frozenset({"/Type", "/Subtype", "/Rect", "/P", "/F", "/AP", "/AS", "/OC", "/NM", "/M", "/StructParent"})


def make_passive(pdf: pikepdf.Pdf) -> tuple[str, ...]:
    """What was taken out, as a designer calls it, sorted; empty where there was nothing. Raises what reading raises."""
    gone: set[str] = set()
    _clear_catalog(pdf.Root, gone)
    for page in pdf.pages:
        for key in _OF_ACTING_PAGE:
            _take(page.obj, key, gone)
        _clear_annotations(page.obj, gone)
    for bookmark in bookmarks(pdf):
        _clear_actions(bookmark, gone)
    for one in pdf.objects:
        if isinstance(one, pikepdf.Dictionary | pikepdf.Stream):
            _take(one, "/EF", gone)
            _take(one, "/AF", gone)
    return tuple(sorted(gone))


def _clear_catalog(root: pikepdf.Object, gone: set[str]) -> None:
    opening = root.get("/OpenAction")
    if isinstance(opening, pikepdf.Dictionary) and not _only_shows(opening, gone):
        _take(root, "/OpenAction", gone)
    for key in [key for key in root.keys() if key not in _OF_PAGES]:  # noqa: SIM118 (an object, no mapping)
        _take(root, key, gone)
    names = root.get("/Names")
    if isinstance(names, pikepdf.Dictionary):
        for key in [key for key in names.keys() if key != "/Dests"]:  # noqa: SIM118
            _take(names, key, gone)


def _clear_annotations(page: pikepdf.Object, gone: set[str]) -> None:
    listed = page.get("/Annots")
    if not isinstance(listed, pikepdf.Array):
        return
    kept = []
    for one in listed:
        if isinstance(one, pikepdf.Dictionary):
            kind = name_text(one.get("/Subtype"))
            if kind in CARRYING:
                gone.add(say("what plays or carries a file on a page"))
                continue
            _clear_actions(one, gone)
            _take(one, "/FS", gone)
            if kind == "Widget":
                gone.add(say(_FORM_FIELDS))
                if "/AP" not in one:
                    continue
                _as_it_looks(one)
        kept.append(one)
    if len(kept) < len(listed):
        page["/Annots"] = pikepdf.Array(kept)


def _clear_actions(holder: pikepdf.Object, gone: set[str]) -> None:
    """Of an annotation or bookmark."""
    _take(holder, "/AA", gone)
    _take(holder, "/PA", gone)
    action = holder.get("/A")
    if action is not None and not (isinstance(action, pikepdf.Dictionary) and _only_shows(action, gone)):
        _take(holder, "/A", gone)


def _only_shows(action: pikepdf.Dictionary, gone: set[str]) -> bool:
    """Whether it leads to a place of this file; what would follow it is cut off."""
    if name_text(action.get("/S")) != "GoTo":
        return False
    _take(action, "/Next", gone)
    return True


def _as_it_looks(widget: pikepdf.Dictionary) -> None:
    """A stamp is drawn by its appearance, as the field was (12.5.6.12, 12.5.6.19)."""
    widget["/Subtype"] = pikepdf.Name.Stamp
    for key in [key for key in widget.keys() if key not in _OF_STAMP]:  # noqa: SIM118
        del widget[key]


def _take(holder: pikepdf.Object, key: str, gone: set[str]) -> None:
    if key in holder:
        del holder[key]
        gone.add(say(_CALLED[key]) if key in _CALLED else say("the entry {name}", name=key[1:][:40]))


def bookmarks(pdf: pikepdf.Pdf) -> Iterator[pikepdf.Dictionary]:
    """Each item of the outline once (ISO 32000-2:2020, 12.3.3); loops end."""
    outlines = pdf.Root.get("/Outlines")
    pending: list[object] = [outlines.get("/First")] if isinstance(outlines, pikepdf.Dictionary) else []
    entered: set[tuple[int, int]] = set()
    while pending:
        item = pending.pop()
        if not isinstance(item, pikepdf.Dictionary) or (item.objgen != (0, 0) and item.objgen in entered):
            continue
        entered.add(item.objgen)
        yield item
        pending += [item.get("/Next"), item.get("/First")]
