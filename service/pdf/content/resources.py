"""Named resources of a content stream, each looked up and understood once (ISO 32000-2:2020, 7.8.3)."""

from __future__ import annotations

from functools import cached_property
from typing import TypeVar

import pikepdf

from service.pdf.content.color_spaces import ColorSpace, color_space, device_space
from service.pdf.content.fonts.text_fonts import TextFont
from service.pdf.content.graphics_state import Paint
from service.pdf.content.kept import Kept, Sized
from service.pdf.content.layers import ObjectId, is_on, layer_states
from service.pdf.content.state_parameters import StateParameters, state_parameters
from service.pdf.facts.unknown import Unmeasured
from service.pdf.reading.operands import Operands, name_of

Kind = TypeVar("Kind")
MOST_RUN_BYTES = 32_000_000
"""Some 150,000 paths. Ours, no source."""
MOST_FORM_BYTES = 16_000_000
"""Some 20,000 marks. Ours, no source."""
UNREADABLE = "\ufffd"
_DEFAULTS = {
    "DeviceGray": "/DefaultGray", "G": "/DefaultGray", "DeviceRGB": "/DefaultRGB", "RGB": "/DefaultRGB",
    "DeviceCMYK": "/DefaultCMYK", "CMYK": "/DefaultCMYK",
}


class Shared:
    """What is understood once for the whole document: fonts, how JPEGs are compressed, and which layers print and show."""

    def __init__(self, pdf: pikepdf.Pdf) -> None:
        self._pdf = pdf
        self._printing = layer_states(pdf, "Print")
        self._showing = layer_states(pdf, "View")
        self.fonts: dict[ObjectId, TextFont] = {}
        self.jpeg_qualities: dict[ObjectId, int | Unmeasured] = {}
        self.path_runs: Kept[Sized] = Kept(MOST_RUN_BYTES)
        """Runs of paths that one walk over a page has cut for the next."""
        self.drawn_forms: Kept[Sized] = Kept(MOST_FORM_BYTES)
        """What forms have told that were drawn before."""
        self.borrows = False
        """Content that is drawn in another has asked for a name that its own resources do not have: it depends on the page."""

    def prints(self, content: object) -> bool:
        """Whether what belongs to this optional content group or membership prints."""
        return is_on(content, self._printing)

    def shows(self, content: object) -> bool:
        """Whether it shows on a screen."""
        return is_on(content, self._showing)

    @cached_property
    def annotations_on_pages(self) -> tuple[int, int]:
        """(annotations, pages) of the whole file: pages that share a list have it each. Raises READING_ERRORS."""
        lengths = [_length(page.obj.get("/Annots")) for page in self._pdf.pages]
        return sum(lengths), len(lengths)


def _length(listed: object) -> int:
    return len(listed) if isinstance(listed, pikepdf.Array) else 0


def _substitute(name: str) -> pikepdf.Dictionary:
    return pikepdf.Dictionary(Type=pikepdf.Name.Font, Subtype=pikepdf.Name.Type1, BaseFont=pikepdf.Name("/" + name))


class Resources:
    """The resource dictionary of one content stream; a missing or damaged entry is None."""

    def __init__(self, dictionary: object, shared: Shared) -> None:
        self.dictionary = dictionary if isinstance(dictionary, pikepdf.Dictionary) else pikepdf.Dictionary()
        self.page: Resources | None = None
        """Those of the page, where a name may be found that a form's own do not have: readers look there, against 7.8.3."""
        self.shared = shared
        self.paints: dict[tuple[str, bytes | tuple[float, ...]], Paint] = {}
        """Device colours that were set before, by their operands, as written or as numbers."""
        self._spaces: dict[str, ColorSpace] = {}
        self._fonts: dict[str, TextFont | None] = {}
        self._parameters: dict[str, StateParameters | None] = {}

    def _entry(self, category: str, name: str) -> pikepdf.Object | None:
        if UNREADABLE in name:
            raise ValueError("a resource has a name that cannot be looked up")
        found = self._own_entry(category, name)
        if found is not None or self.page is None:
            return found
        self.shared.borrows = True
        return self.page._own_entry(category, name)

    def _own_entry(self, category: str, name: str) -> pikepdf.Object | None:
        entries = self.dictionary.get(category)
        return entries.get("/" + name) if isinstance(entries, pikepdf.Dictionary) and name else None

    def inner(self, dictionary: object) -> Resources:
        """Of a form, pattern or glyph inside; without a dictionary of its own it uses this one (7.8.3)."""
        if not isinstance(dictionary, pikepdf.Dictionary):
            return self
        made = Resources(dictionary, self.shared)
        made.page = self.page or self
        return made

    def dictionary_of(self, category: str, name: str) -> pikepdf.Dictionary | None:
        found = self._entry(category, name)
        return found if isinstance(found, pikepdf.Dictionary) else None

    def layer_of(self, operands: Operands) -> pikepdf.Dictionary | None:
        """The optional content group or membership that a marked-content sequence belongs to (8.11.3.2)."""
        if isinstance(operands, list) and len(operands) > 1 and operands[-2] == b"OC":
            return self.dictionary_of("/Properties", name_of(operands) or "")
        return None

    def state_parameters(self, operands: Operands) -> StateParameters | None:
        """What `gs` sets; None where there is no such dictionary."""
        name = name_of(operands) or ""
        if name not in self._parameters:
            entries = self.dictionary_of("/ExtGState", name)
            self._parameters[name] = state_parameters(entries) if entries is not None else None
        return self._parameters[name]

    def stream(self, category: str, name: str) -> pikepdf.Stream | None:
        found = self._entry(category, name)
        return found if isinstance(found, pikepdf.Stream) else None

    def pattern(self, name: str) -> pikepdf.Object | None:
        found = self._entry("/Pattern", name)
        return found if isinstance(found, pikepdf.Dictionary | pikepdf.Stream) else None

    def shading(self, name: str) -> pikepdf.Object | None:
        found = self._entry("/Shading", name)
        return found if isinstance(found, pikepdf.Dictionary | pikepdf.Stream) else None

    def named_space(self, name: str) -> ColorSpace:
        """A device space (or the default that stands in for it), or a space of the resources."""
        if name not in self._spaces:
            self._spaces[name] = self._find_space(name)
        return self._spaces[name]

    def _find_space(self, name: str) -> ColorSpace:
        entry = None if device_space(name) else self._entry("/ColorSpace", name)
        if isinstance(entry, pikepdf.Array):
            return self.space(entry)
        return self.space(entry if entry is not None else pikepdf.Name("/" + (name or "DeviceGray")))

    def space(self, written: pikepdf.Object | None) -> ColorSpace:
        """A space as an image, a shading or a group has it; a device space may have a default (8.6.5.6)."""
        name = str(written)[1:] if isinstance(written, pikepdf.Name) else ""
        default = self._own_entry("/ColorSpace", _DEFAULTS[name][1:]) if name in _DEFAULTS else None
        return color_space(default if isinstance(default, pikepdf.Array) else written)

    def font(self, name: str) -> TextFont | None:
        """A font that is missing is read as one that is not embedded, under its resource name: readers substitute it."""
        if name not in self._fonts:
            entry = self.dictionary_of("/Font", name)
            self._fonts[name] = self.font_of(entry if entry is not None else _substitute(name)) if name else None
        return self._fonts[name]

    def font_of(self, dictionary: pikepdf.Dictionary) -> TextFont:
        """The font, read once for the document where it is an indirect object."""
        identity = dictionary.objgen
        if identity == (0, 0):
            return TextFont(dictionary)
        if identity not in self.shared.fonts:
            self.shared.fonts[identity] = TextFont(dictionary)
        return self.shared.fonts[identity]
