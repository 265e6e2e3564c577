"""The properties of an XMP packet, and packets that nobody should follow."""

from __future__ import annotations

import pytest

from service.pdf.document.xmp import LARGEST_PACKET, read_packet

NAMESPACES = """xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#" xmlns:pdfxid="http://www.npes.org/pdfx/ns/id/"
 xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:xmp="http://ns.adobe.com/xap/1.0/" xmlns:pdf="http://ns.adobe.com/pdf/1.3/"
 xmlns:xmpMM="http://ns.adobe.com/xap/1.0/mm/" """


def packet(inside: str, before: str = "") -> bytes:
    rdf = f'<rdf:RDF {NAMESPACES}><rdf:Description rdf:about="">{inside}</rdf:Description></rdf:RDF>'
    text = f'<?xpacket begin="" id="W5M0"?>{before}<x:xmpmeta xmlns:x="adobe:ns:meta/">{rdf}</x:xmpmeta>'
    return (text + " " * 50 + '<?xpacket end="w"?>').encode()


def test_properties_as_elements() -> None:
    found = read_packet(packet("<pdfxid:GTS_PDFXVersion>PDF/X-4</pdfxid:GTS_PDFXVersion><pdf:Trapped>False</pdf:Trapped>"), False)
    assert (found.damage, found.pdfx_version, found.trapped, found.title) == (None, "PDF/X-4", "False", None)


def test_properties_as_attributes() -> None:
    inside = f'<rdf:RDF {NAMESPACES}><rdf:Description rdf:about="" xmp:CreateDate="2026-03-01" xmpMM:VersionID="1"/></rdf:RDF>'
    found = read_packet(f'<x:xmpmeta xmlns:x="adobe:ns:meta/">{inside}</x:xmpmeta>'.encode(), False)
    assert (found.create_date, found.version_id) == ("2026-03-01", "1")


def test_a_title_in_several_languages_gives_the_first() -> None:
    items = '<rdf:li xml:lang="x-default">Rye</rdf:li><rdf:li xml:lang="de">Roggen</rdf:li>'
    assert read_packet(packet(f"<dc:title><rdf:Alt>{items}</rdf:Alt></dc:title>"), False).title == "Rye"


def test_a_property_of_something_else_is_not_the_file_s() -> None:
    nested = "<xmpMM:History><rdf:Seq><rdf:li><rdf:Description><pdfxid:GTS_PDFXVersion>PDF/X-4</pdfxid:GTS_PDFXVersion>"
    found = read_packet(packet(nested + "</rdf:Description></rdf:li></rdf:Seq></xmpMM:History>"), False)
    assert found.pdfx_version is None


@pytest.mark.parametrize("encoding", ["utf-16-le", "utf-16-be"])
def test_other_encodings_are_read(encoding: str) -> None:
    text = packet("<dc:title>Bäckerei</dc:title>").decode()
    mark = b"\xff\xfe" if encoding.endswith("le") else b"\xfe\xff"
    assert read_packet(mark + text.encode(encoding), False).title == "Bäckerei"


EXPONENTIAL = '<!DOCTYPE x [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;"><!ENTITY c "&b;&b;&b;&b;&b;&b;&b;">]>'


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"not xml",
        packet("<dc:title>open"),
        packet("<dc:title>&c;</dc:title>", EXPONENTIAL),
        packet("<dc:title>&a;</dc:title>", '<!DOCTYPE x [<!ENTITY a SYSTEM "file:///etc/hostname">]>'),
        packet("", '<!DOCTYPE x SYSTEM "http://127.0.0.1/x.dtd">'),
        b'<?xml version="1.0" encoding="no-such"?><x/>',
    ],
    ids=["empty", "no xml", "cut off", "entities", "outside entity", "outside type", "encoding"],
)
def test_a_packet_that_cannot_be_trusted_is_damage(data: bytes) -> None:
    found = read_packet(data, True)
    assert found.damage
    assert (found.title, found.filtered) == (None, True)


def test_a_huge_packet_is_not_read() -> None:
    assert "too large" in (read_packet(packet("") + b" " * LARGEST_PACKET, False).damage or "")
