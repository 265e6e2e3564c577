"""What one object of the file makes use of, beyond what it paints: filters, OPI, halftones, references and the like.

Each handler looks at one key and quotes its clause of ISO 32000-2:2020. What it finds is a fact of the object; whether it is
in use, and on which pages, `object_graph` works out.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

import pikepdf

from service.pdf.content.color_spaces import color_space
from service.pdf.facts.document import FeatureKind
from service.pdf.reading.lexer import INLINE_IMAGE, Name, operations
from service.pdf.reading.names import name_text
from service.pdf.reading.streams import content_bytes

Seen = tuple[FeatureKind, str]
Holder = pikepdf.Dictionary | pikepdf.Stream

RENDERING_INTENTS = frozenset({"AbsoluteColorimetric", "RelativeColorimetric", "Saturation", "Perceptual"})
"""8.6.5.8, Table 69."""

_FILTERS: dict[str, FeatureKind] = {
    "LZWDecode": "LZW", "LZW": "LZW", "JBIG2Decode": "JBIG2", "JPXDecode": "JPEG 2000", "Crypt": "Crypt filter",
}


def features_of_object(holder: Holder) -> Iterator[Seen]:
    """Of a dictionary, or of a stream and its dictionary."""
    keys = holder.keys()
    for key in _HANDLERS.keys() & keys:
        yield from _HANDLERS[key](holder)
    if isinstance(holder, pikepdf.Stream) and "PS" in (name_text(holder.get("/Subtype")), name_text(holder.get("/Subtype2"))):
        yield "PostScript", ""  # 8.8.2


def _filter(holder: Holder) -> Iterator[Seen]:
    """7.4."""
    written = holder.get("/Filter")
    if isinstance(holder, pikepdf.Stream):
        for one in written if isinstance(written, pikepdf.Array) else (written,):
            if name_text(one) in _FILTERS:
                yield _FILTERS[name_text(one)], ""


def _external_data(holder: Holder) -> Iterator[Seen]:
    """7.3.8.2: a stream whose data stands in another file."""
    if isinstance(holder, pikepdf.Stream):
        yield "data outside the file", ""


def _opi(_: Holder) -> Iterator[Seen]:
    """14.11.7."""
    yield "OPI", ""


def _reference(holder: Holder) -> Iterator[Seen]:
    """8.10.4."""
    if isinstance(holder, pikepdf.Stream) and holder.get("/Subtype") == "/Form":
        yield "reference to another file", ""


def _alternates(holder: Holder) -> Iterator[Seen]:
    """8.9.5.4."""
    listed = holder.get("/Alternates")
    for one in listed if isinstance(listed, pikepdf.Array) else ():
        if isinstance(one, pikepdf.Dictionary) and bool(one.get("/DefaultForPrinting") == True):  # noqa: E712
            yield "alternate image for printing", ""


def _transfer(holder: Holder) -> Iterator[Seen]:
    """10.5: TR of a graphics state; a soft mask (11.6.5.2) has a TR of another meaning."""
    if holder.get("/Type") != "/Mask" and "/G" not in holder:
        yield "transfer function", "TR"


def _transfer_2(holder: Holder) -> Iterator[Seen]:
    if holder.get("/TR2") != "/Default":
        yield "transfer function", "TR2"


def _halftone_type(holder: Holder) -> Iterator[Seen]:
    """10.6.5."""
    kind = holder.get("/HalftoneType")
    if kind not in (1, 5):
        yield "halftone", f"type {kind}" if isinstance(kind, int) else "of no type"


def _halftone_name(_: Holder) -> Iterator[Seen]:
    yield "halftone", "named"


def _halftone_phase(_: Holder) -> Iterator[Seen]:
    """HTP of PDF 1.2, from memory."""
    yield "halftone phase", ""


def _rendering_intent(holder: Holder) -> Iterator[Seen]:
    """8.6.5.8: RI of a graphics state, Intent of a picture."""
    for key in ("/RI", "/Intent"):
        name = name_text(holder.get(key))
        is_intent = key == "/RI" or isinstance(holder, pikepdf.Stream)  # a layer has an Intent of another meaning
        if name and is_intent and name not in RENDERING_INTENTS:
            yield "rendering intent", name[:100]


def _group(holder: Holder) -> Iterator[Seen]:
    """11.6.6."""
    group = holder.get("/Group")
    if isinstance(group, pikepdf.Dictionary) and group.get("/S") == "/Transparency":
        yield "transparency group", ""


def _separated(_: Holder) -> Iterator[Seen]:
    """14.11.4."""
    yield "separated page", ""


_HANDLERS: dict[str, Callable[[Holder], Iterator[Seen]]] = {
    "/Filter": _filter, "/F": _external_data, "/OPI": _opi, "/Ref": _reference, "/Alternates": _alternates,
    "/TR": _transfer, "/TR2": _transfer_2, "/HTP": _halftone_phase, "/HalftoneType": _halftone_type,
    "/HalftoneName": _halftone_name, "/RI": _rendering_intent, "/Intent": _rendering_intent, "/Group": _group,
    "/SeparationInfo": _separated,
}


def features_of_array(array: pikepdf.Array) -> Iterator[Seen]:
    """8.6.6.4 and 8.6.6.5: what stands in for an ink that a device does not have, where it is no device space itself."""
    if len(array) < 4 or name_text(array[0]) not in ("Separation", "DeviceN"):
        return
    alternate = color_space(array[2]).written
    if alternate not in ("DeviceCMYK", "DeviceGray"):
        names = list(array[1]) if isinstance(array[1], pikepdf.Array) else [array[1]]
        yield "alternate space", f"{', '.join(name_text(one) for one in names)[:200]}: {alternate}"


# --- Content streams --------------------------------------------------------------------------------------------------

_WORTH_READING = re.compile(rb"(?<![^\s\])>])(?:PS|ri)(?=[\s/(\[<]|$)|/(?:LZWDecode|LZW)\b")


def features_of_content(stream: pikepdf.Stream) -> Iterator[Seen]:
    """Operators that paint nothing: `PS` (obsolete, from memory), `ri` (8.6.5.8); and the filter of inline images (8.9.7)."""
    data = content_bytes(stream)
    if not any(one in data for one in (b"PS", b"ri", b"LZW")) or not _WORTH_READING.search(data):  # as most: do not cut it again
        return
    for operator, operands in operations(data):
        if operator == b"PS":
            yield "PostScript", ""
        elif operator == b"ri" and isinstance(operands, list):
            for one in operands:
                if isinstance(one, Name) and one.decode("latin-1") not in RENDERING_INTENTS:
                    yield "rendering intent", one.decode("latin-1")[:100]
        elif operator == INLINE_IMAGE and isinstance(operands[0], dict):
            named = operands[0].get(b"F", operands[0].get(b"Filter"))
            if any(one in (b"LZW", b"LZWDecode") for one in (named if isinstance(named, list) else [named])):
                yield "LZW", ""
