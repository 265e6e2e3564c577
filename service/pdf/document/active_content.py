"""What acts, plays or is carried along in the file instead of being printed.

* Actions of the catalog, pages, annotations, form fields and bookmarks, with those that follow them (ISO 32000-2:2020, 12.6).
* JavaScript and embedded files of the name dictionary (7.7.4, 7.11.4), XFA forms (12.7.8, deprecated).
* Annotations that play or carry something: Screen, Movie, Sound, 3D, RichMedia, FileAttachment (12.5.6, 13).

Each is told with its type; which of them matter is not for measuring to say.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

import pikepdf

from service.pdf.document.whole import text_string
from service.pdf.facts.document import ActionPlace, ActiveContent
from service.pdf.facts.geometry import Box, Matrix
from service.pdf.facts.unknown import Unmeasured
from service.pdf.reading.arrays import box_of
from service.pdf.reading.names import name_text

MOST_STEPS = 200_000
"""Objects followed; a book with an index has some ten thousand. Ours, no source."""

MOST_FOUND = 10_000

CARRYING = frozenset({"Screen", "Movie", "Sound", "3D", "RichMedia", "FileAttachment"})
"""Annotation types that play or carry something."""

LEADING = frozenset({"GoTo", "URI", "Named", "Thread"})
"""Actions that only lead somewhere (12.6.4): a catalogue has thousands, so they are told once a page, without a place."""


class TooMuch(Exception):
    """There is more of it than a check may follow."""


def active_content_of(pdf: pikepdf.Pdf, ruler: Callable[[int], Matrix | None]) -> tuple[ActiveContent, ...] | Unmeasured:
    """`ruler`: page number → from default user space to ruler mm; asked only where a box is told. Raises what reading raises."""
    search = _Search(ruler)
    found: dict[ActiveContent, None] = {}
    try:
        for one in search.everything(pdf):
            found[one] = None
            if len(found) > MOST_FOUND:
                raise TooMuch
    except TooMuch:
        return Unmeasured("The file holds more links, actions and bookmarks than a check may follow.")
    return tuple(found)


def _nowhere() -> Box | None:
    """What belongs to the document has no place on a page."""
    return None


class _Search:
    def __init__(self, ruler: Callable[[int], Matrix | None]) -> None:
        self.ruler = ruler
        self.steps_left = MOST_STEPS

    def everything(self, pdf: pikepdf.Pdf) -> Iterator[ActiveContent]:
        root = pdf.Root
        yield from self._actions(root.get("/OpenAction"), "document")
        yield from self._triggered(root, "document")
        yield from self._names(root)
        yield from self._fields(root.get("/AcroForm"))
        for number, page in enumerate(pdf.pages, start=1):
            yield from self._triggered(page.obj, "page", number)
            annotations = page.obj.get("/Annots")
            for annotation in annotations if isinstance(annotations, pikepdf.Array) else ():
                if isinstance(annotation, pikepdf.Dictionary):
                    yield from self._annotation(annotation, number)
        yield from self._bookmarks(root.get("/Outlines"))

    def _step(self) -> None:
        self.steps_left -= 1
        if self.steps_left < 0:
            raise TooMuch

    # --- actions ---

    def _actions(
        self, action: object, on: ActionPlace, page: int | None = None, box: Callable[[], Box | None] = _nowhere
    ) -> Iterator[ActiveContent]:
        """An action and those after it (12.6.2, Next); an array in its place is a destination and does nothing but show."""
        pending, entered = [action], set()
        while pending:
            one = pending.pop()
            if not isinstance(one, pikepdf.Dictionary) or (one.objgen != (0, 0) and one.objgen in entered):
                continue
            self._step()
            entered.add(one.objgen)
            kind = name_text(one.get("/S"))[:100] or "unknown"
            yield ActiveContent(kind, on, page, None if kind in LEADING else box(), "")
            following = one.get("/Next")
            pending.extend(following if isinstance(following, pikepdf.Array) else [following])

    def _triggered(
        self, holder: pikepdf.Object, on: ActionPlace, page: int | None = None, box: Callable[[], Box | None] = _nowhere
    ) -> Iterator[ActiveContent]:
        """Actions that an event starts (12.6.3, AA)."""
        events = holder.get("/AA")
        if isinstance(events, pikepdf.Dictionary):
            for _, action in events.items():
                yield from self._actions(action, on, page, box)

    def _annotation(self, annotation: pikepdf.Dictionary, number: int) -> Iterator[ActiveContent]:
        self._step()

        def box() -> Box | None:
            rectangle, ruler = box_of(annotation.get("/Rect")), self.ruler(number)
            return ruler.box(rectangle) if ruler and rectangle else None

        kind = name_text(annotation.get("/Subtype"))
        if kind in CARRYING:
            yield ActiveContent(kind, "annotation", number, box(), _file_name(annotation.get("/FS")))
        for key in ("/A", "/PA"):
            yield from self._actions(annotation.get(key), "annotation", number, box)
        yield from self._triggered(annotation, "annotation", number, box)

    # --- lists of the document ---

    def _names(self, root: pikepdf.Object) -> Iterator[ActiveContent]:
        names = root.get("/Names")
        if not isinstance(names, pikepdf.Dictionary):
            return
        for action in self._values(names.get("/JavaScript")):
            yield from self._actions(action, "document")
        for file in self._values(names.get("/EmbeddedFiles")):
            yield ActiveContent("EmbeddedFile", "document", None, None, _file_name(file))

    def _values(self, tree: object) -> Iterator[object]:
        """The values of a name tree (7.9.6)."""
        pending, entered = [tree], set()
        while pending:
            node = pending.pop()
            if not isinstance(node, pikepdf.Dictionary) or (node.objgen != (0, 0) and node.objgen in entered):
                continue
            self._step()
            entered.add(node.objgen)
            names, kids = node.get("/Names"), node.get("/Kids")
            if isinstance(names, pikepdf.Array):
                yield from list(names)[1::2]
            if isinstance(kids, pikepdf.Array):
                pending.extend(kids)

    def _fields(self, form: object) -> Iterator[ActiveContent]:
        """Of the fields only their own actions: what stands on a page is an annotation too (12.7.4)."""
        if not isinstance(form, pikepdf.Dictionary):
            return
        if "/XFA" in form:
            yield ActiveContent("XFA", "document", None, None, "")
        pending, entered = [form.get("/Fields")], set()
        while pending:
            field = pending.pop()
            if isinstance(field, pikepdf.Array):
                pending.extend(field)
            if not isinstance(field, pikepdf.Dictionary) or (field.objgen != (0, 0) and field.objgen in entered):
                continue
            self._step()
            entered.add(field.objgen)
            if "/Subtype" not in field:
                yield from self._actions(field.get("/A"), "form field")
                yield from self._triggered(field, "form field")
            pending.append(field.get("/Kids"))

    def _bookmarks(self, outline: object) -> Iterator[ActiveContent]:
        """12.3.3."""
        pending, entered = [outline], set()
        while pending:
            item = pending.pop()
            if not isinstance(item, pikepdf.Dictionary) or (item.objgen != (0, 0) and item.objgen in entered):
                continue
            self._step()
            entered.add(item.objgen)
            yield from self._actions(item.get("/A"), "bookmark")
            pending += [item.get("/Next"), item.get("/First")]


def _file_name(specification: object) -> str:
    """7.11.3: UF before F."""
    if isinstance(specification, pikepdf.Dictionary):
        for key in ("/UF", "/F"):
            name = specification.get(key)
            if isinstance(name, pikepdf.String):
                return text_string(bytes(name)) or ""
    return ""
