"""The XMP packet: the few properties that print standards ask for (ISO 16684-1; ISO 32000-2:2020, 14.3.2).

* A property stands as a child of a top-level rdf:Description or as its attribute; of a list of languages the first counts.
* A packet with a document type declaration is refused, so no entity is ever expanded; its size is bounded.
"""

from __future__ import annotations

from typing import NoReturn
from xml.parsers import expat

import pikepdf

from service.language.spoken import to_say
from service.pdf.document.whole import clean
from service.pdf.facts.document import MetadataStream
from service.pdf.reading.reading_errors import READING_ERRORS
from service.pdf.reading.streams import content_bytes

LARGEST_PACKET = 16_000_000
"""Bytes; packets with a history of years have a few million. Ours, no source."""

_RDF = "http://www.w3.org/1999/02/22-rdf-syntax-ns#"
_DESCRIPTION, _ITEM = f"{_RDF} Description", f"{_RDF} li"
_XMP, _XMP_MM = "http://ns.adobe.com/xap/1.0/", "http://ns.adobe.com/xap/1.0/mm/"

_PROPERTIES = {
    "http://www.npes.org/pdfx/ns/id/ GTS_PDFXVersion": "pdfx_version",
    "http://purl.org/dc/elements/1.1/ title": "title",
    f"{_XMP} CreateDate": "create_date",
    f"{_XMP} ModifyDate": "modify_date",
    f"{_XMP} MetadataDate": "metadata_date",
    f"{_XMP_MM} DocumentID": "document_id",
    f"{_XMP_MM} VersionID": "version_id",
    f"{_XMP_MM} RenditionClass": "rendition_class",
    "http://ns.adobe.com/pdf/1.3/ Trapped": "trapped",
}
"""Namespace and name → field of `MetadataStream`."""


def metadata_of(pdf: pikepdf.Pdf) -> MetadataStream | None:
    """The catalog's packet; None where it has none."""
    stream = pdf.Root.get("/Metadata")
    if stream is None:
        return None
    if not isinstance(stream, pikepdf.Stream):
        return _unread(to_say("It is no stream."), filtered=False)
    filters = stream.get("/Filter")
    filtered = filters is not None and not (isinstance(filters, pikepdf.Array) and len(filters) == 0)
    try:
        data = content_bytes(stream)
    except READING_ERRORS:
        return _unread(to_say("Its data cannot be unpacked."), filtered)
    return read_packet(data, filtered)


def read_packet(data: bytes, filtered: bool) -> MetadataStream:
    if len(data) > LARGEST_PACKET:
        return _unread(to_say("It is too large and was not read."), filtered)
    reader = _Reader()
    try:
        wide = data.startswith((b"\xfe\xff", b"\xff\xfe"))  # UTF-16: half of its bytes are 0
        reader.parser.Parse(data if wide else data.strip(b"\0 \t\r\n"), True)
    except (expat.ExpatError, _Refused, ValueError, LookupError):
        return _unread(to_say("It is not well-formed XML, or it brings a document type (DTD) of its own."), filtered)
    found = {name: clean(text) for name, text in reader.found.items()}
    return MetadataStream(None, filtered, **{name: found.get(name) for name in _PROPERTIES.values()})


def _unread(damage: str, filtered: bool) -> MetadataStream:
    return MetadataStream(damage, filtered, **dict.fromkeys(_PROPERTIES.values()))


class _Refused(Exception):
    """The packet declares a document type."""


class _Reader:
    def __init__(self) -> None:
        self.parser = expat.ParserCreate(namespace_separator=" ")
        self.parser.StartElementHandler = self._start
        self.parser.EndElementHandler = self._end
        self.parser.CharacterDataHandler = self._text
        self.parser.StartDoctypeDeclHandler = self._refuse
        self.found: dict[str, str] = {}
        self.path: list[str] = []
        self.wanted: str | None = None
        """Field of the property that is being read."""
        self.items = 0

    def _start(self, name: str, attributes: dict[str, str]) -> None:
        if name == _DESCRIPTION and self.path[-1:] == [f"{_RDF} RDF"]:
            for key, value in attributes.items():
                if key in _PROPERTIES:
                    self.found[_PROPERTIES[key]] = value
        if self.path[-2:] == [f"{_RDF} RDF", _DESCRIPTION] and name in _PROPERTIES:
            self.wanted, self.items = _PROPERTIES[name], 0
            self.found[self.wanted] = ""
        self.items += name == _ITEM
        self.path.append(name)

    def _end(self, _: str) -> None:
        self.path.pop()
        if len(self.path) >= 2 and self.path[-2:] == [f"{_RDF} RDF", _DESCRIPTION]:
            self.wanted = None

    def _text(self, text: str) -> None:
        if self.wanted and self.items <= 1:
            self.found[self.wanted] += text

    def _refuse(self, *_: object) -> NoReturn:
        raise _Refused
