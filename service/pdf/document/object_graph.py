"""Which features the file's objects have, and from which pages they can be reached.

Every object that a page leads to is looked at once for the whole file; then each feature is followed back to its pages.
Links from one page to another, and to the structure of the document, are not followed: they print nothing.
"""

from __future__ import annotations

from collections.abc import Iterable

import pikepdf

from service.pdf.document.features import Seen, features_of_array, features_of_content, features_of_object
from service.pdf.facts.document import Feature
from service.pdf.facts.unknown import Unmeasured
from service.pdf.reading.names import name_text

MOST_OBJECTS = 300_000
MOST_DIRECT = 3_000_000
"""Values looked at, and objects entered: a heavy catalogue has some tens of thousands. Ours, no source."""
MOST_KINDS = 500

_NOT_FOLLOWED = frozenset({
    "/Parent", "/P", "/Pg", "/Dest", "/B", "/Popup", "/IRT", "/PieceInfo", "/Metadata", "/W", "/W2", "/Widths",
    "/Differences", "/StructParent", "/StructParents",
})
_CONTENT = frozenset({"/Contents", "/CharProcs"})

_VIEWER_AREAS = frozenset({"/ViewArea", "/ViewClip", "/PrintArea", "/PrintClip"})

_WHOLE_FILE = 0
"""Node of what belongs to no page; page n is node n."""


def features_of(pdf: pikepdf.Pdf) -> tuple[Feature, ...] | Unmeasured:
    """Raises what reading raises."""
    graph = _Graph([page.obj for page in pdf.pages])
    for page in graph.pages:
        graph.look_at_everything_from(page)
    intents = pdf.Root.get("/OutputIntents")
    if intents is not None:
        graph.look_at_whole_file(intents)
    if graph.too_much:
        return Unmeasured("The file holds more objects than a check may look at.")
    return (*_features_of_the_file(pdf), *graph.features())


class _Graph:
    def __init__(self, pages: list[pikepdf.Object]) -> None:
        self.pages = pages
        self.nodes: dict[tuple[int, int], int] = {page.objgen: number for number, page in enumerate(pages, start=1)}
        self.parents: list[list[int]] = [[] for _ in range(len(pages) + 1)]
        self.seen: dict[Seen, set[int]] = {}
        self.pending: list[tuple[pikepdf.Object, str, int]] = []
        """Value, the key that it stands under, and the node that it belongs to."""
        self.left = MOST_DIRECT
        self.too_much = False

    def look_at_everything_from(self, page: pikepdf.Object) -> None:
        self._look_into(page, "", self.nodes[page.objgen])
        if "/Resources" not in page:  # inherited (7.7.3.4)
            node = page.get("/Parent")
            for _ in range(64):
                if not isinstance(node, pikepdf.Dictionary) or "/Resources" in node:
                    break
                node = node.get("/Parent")
            if isinstance(node, pikepdf.Dictionary):
                self._meet(node.Resources, "/Resources", self.nodes[page.objgen])
        self._drain()

    def look_at_whole_file(self, value: pikepdf.Object) -> None:
        self._meet(value, "", _WHOLE_FILE)
        self._drain()

    def _drain(self) -> None:
        while self.pending and not self.too_much:
            self._look_into(*self.pending.pop())

    def _meet(self, value: object, key: str, node: int) -> None:
        """Queue a value; an indirect object gets a node of its own, once, and a way back to where it was met."""
        if not isinstance(value, pikepdf.Object) or not isinstance(value, pikepdf.Dictionary | pikepdf.Stream | pikepdf.Array):
            return
        identity = value.objgen
        if identity == (0, 0):
            self.pending.append((value, key, node))
            return
        known = self.nodes.get(identity)
        if known is None:
            known = self.nodes[identity] = len(self.parents)
            self.parents.append([])
            self.pending.append((value, key, known))
            self.too_much |= known > MOST_OBJECTS + len(self.pages)
        if known > len(self.pages):  # another page is no part of this one
            self.parents[known].append(node)

    def _look_into(self, value: pikepdf.Object, key: str, node: int) -> None:
        if isinstance(value, pikepdf.Array):
            self.left -= len(value)
            self._note(features_of_array(value), node)
            for one in value:
                self._meet(one, key, node)
        elif isinstance(value, pikepdf.Dictionary | pikepdf.Stream):
            self._look_into_dictionary(value, key, node)
        self.too_much |= self.left < 0

    def _look_into_dictionary(self, holder: pikepdf.Dictionary | pikepdf.Stream, key: str, node: int) -> None:
        self._note(features_of_object(holder), node)
        if isinstance(holder, pikepdf.Stream):
            if key in _CONTENT or name_text(holder.get("/Subtype")) == "Form" or holder.get("/PatternType") == 1:
                self._note(features_of_content(holder), node)
            dictionary = holder.stream_dict
        else:
            dictionary = holder
        self.left -= len(dictionary)
        for name, value in dictionary.items():
            if name not in _NOT_FOLLOWED:
                self._meet(value, key if key == "/CharProcs" else name, node)

    def _note(self, seen: Iterable[Seen], node: int) -> None:
        for one in seen:
            if one not in self.seen and len(self.seen) >= MOST_KINDS:
                self.too_much = True
                return
            self.seen.setdefault(one, set()).add(node)

    def features(self) -> list[Feature]:
        return [Feature(kind, detail, self._pages_that_lead_to(nodes)) for (kind, detail), nodes in sorted(self.seen.items())]

    def _pages_that_lead_to(self, nodes: set[int]) -> tuple[int, ...]:
        reached, pending = set(nodes), list(nodes)
        while pending:
            for parent in self.parents[pending.pop()]:
                if parent not in reached:
                    reached.add(parent)
                    pending.append(parent)
        return tuple(number for number in range(1, len(self.pages) + 1) if number in reached)


def _features_of_the_file(pdf: pikepdf.Pdf) -> list[Feature]:
    found = []
    preferences = pdf.Root.get("/ViewerPreferences")
    if isinstance(preferences, pikepdf.Dictionary):  # 12.2, Table 147
        for key in sorted(_VIEWER_AREAS & preferences.keys()):
            found.append(Feature("viewer area", f"{key[1:]}: {name_text(preferences[key])[:100]}", ()))
    types = {name_text(one.get("/Type")) for one in pdf.objects if isinstance(one, pikepdf.Stream)}
    if "ObjStm" in types:  # 7.5.7
        found.append(Feature("object stream", "", ()))
    if "XRef" in types or pdf.trailer.get("/Type") == "/XRef":  # 7.5.8
        found.append(Feature("cross-reference stream", "", ()))
    return found
