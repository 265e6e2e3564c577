"""Demands on what names and dates the file, its lock and its PDF version."""

from __future__ import annotations

from collections.abc import Iterator

from service.language.spoken import say, to_say
from service.language.wording import listed, quoted, reason
from service.pdf.facts.document import Document, Encryption, Identification
from service.pdf.facts.unknown import Unmeasured
from service.rules.file.print_standard.demand import ALL, X_1A, X_3, X_4, Breach, Edition, Told, demand
from service.rules.seen import NotMeasured, document_of, fact_of

NEWEST_VERSION: dict[Edition, str] = {
    "PDF/X-1a:2001": "1.3",
    "PDF/X-3:2002": "1.3",
    "PDF/X-1a:2003": "1.4",
    "PDF/X-3:2003": "1.4",
    "PDF/X-4": "1.6",
    "PDF/X-4p": "1.6",
}
"""The PDF version that each part is built on. From memory."""

IDENTIFICATION = fact_of(lambda document: document.identification)

_EXPORT = "Export again with the PDF/X setting of your layout program switched on from the start; it writes these entries itself."


@demand(
    "title-and-dates",
    needs=IDENTIFICATION,
    of=(*X_1A, *X_3),
    remedy="Export again as PDF/X, which writes the dates itself; a title that is missing is given in the document's file "
    "information first.",
    subject="Info has a title, a creation date and a modification date",
    source="from memory",
)
def title_and_dates(facts: Identification, _: Edition) -> Iterator[Told]:
    entries = {
        to_say("no title"): facts.info_title,
        to_say("no creation date"): facts.info_creation_date,
        to_say("no modification date"): facts.info_modification_date,
    }
    missing = [say(words) for words, value in entries.items() if not value]
    if missing:
        yield Breach(say("its file information has {missing}", missing=listed(missing)))


@demand(
    "xmp-properties",
    needs=IDENTIFICATION,
    of=X_4,
    remedy=_EXPORT,
    source="from memory",
    subject="XMP has title, three dates, document id, version id and rendition class",
)
def xmp_properties(facts: Identification, _: Edition) -> Iterator[Told]:
    xmp = facts.metadata
    assert xmp is not None, "without XMP there is no claim of these editions"
    entries = {
        to_say("no title"): xmp.title,
        to_say("no creation date"): xmp.create_date,
        to_say("no modification date"): xmp.modify_date,
        to_say("no metadata date"): xmp.metadata_date,
        to_say("no document id"): xmp.document_id,
        to_say("no version id"): xmp.version_id,
        to_say("no rendition class"): xmp.rendition_class,
    }
    missing = [say(words) for words, value in entries.items() if not value]
    if missing:
        yield Breach(say("its XMP metadata has {missing}", missing=listed(missing)))


@demand(
    "xmp-unpacked",
    needs=IDENTIFICATION,
    of=X_4,
    remedy=_EXPORT,
    source="from memory",
    subject="the XMP metadata is not packed",
)
def xmp_unpacked(facts: Identification, _: Edition) -> Iterator[Told]:
    if facts.metadata and facts.metadata.filtered:
        yield Breach(say("its XMP metadata is packed, so that only PDF programs can read it"))


@demand(
    "file-id",
    needs=IDENTIFICATION,
    of=ALL,
    remedy=_EXPORT,
    source="ISO 32000-2:2020, 14.4 (file identifiers); the demand from memory",
    subject="the file has an identifier",
)
def file_id(facts: Identification, _: Edition) -> Iterator[Told]:
    if not facts.has_file_id:
        yield Breach(say("it has no file identifier"))


@demand(
    "encryption",
    needs=fact_of(lambda document: document.encryption),
    of=ALL,
    remedy="Export again with passwords and permissions switched off.",
    source="from memory",
    subject="the file is not encrypted",
)
def encryption(lock: Encryption, _: Edition) -> Iterator[Told]:
    if lock.encrypted:
        yield Breach(say("it is encrypted"))


@demand(
    "trapped",
    needs=IDENTIFICATION,
    of=ALL,
    subject="the file says whether it is trapped",
    remedy="Export again with the PDF/X setting on; if your program asks whether the file is trapped, say no unless you did it.",
    source="a published table that compares PDF and PDF/X-3 (bvdm, Ifra, Ugra) has the demand; ISO 32000-2:2020, 14.3.3 the key",
)
def trapped(facts: Identification, edition: Edition) -> Iterator[Told]:
    xmp = facts.metadata.trapped if facts.metadata and edition in X_4 else None
    said = facts.info_trapped or xmp
    if not said:
        yield Breach(say("it does not say whether it is trapped (colours overlapped at their edges for the press)"))
    elif said not in ("True", "False"):
        found = say(
            "it says {found} where it must say True or False, whether it is trapped (colours overlapped at their edges for the "
            "press)",
            found=quoted(said),
        )
        yield Breach(found)


@demand(
    "pdf-version",
    needs=document_of,
    of=ALL,
    remedy="Export again with the PDF/X setting on; it chooses the right PDF version.",
    subject="the PDF version is the one that the standard is built on, or older",
    source="from memory",
)
def pdf_version(document: Document, edition: Edition) -> Iterator[Told]:
    version, features = document.version, document.features
    yield from (NotMeasured(reason(one)) for one in (version, features) if isinstance(one, Unmeasured))
    newest = NEWEST_VERSION[edition]
    if not isinstance(version, Unmeasured) and version > newest:  # all are of the form d.d
        found = say(
            "it is PDF {version}, and {standard} allows PDF {newest} at most", version=version, standard=edition, newest=newest
        )
        yield Breach(found)
    kinds = () if isinstance(features, Unmeasured) else {one.kind for one in features}
    if newest < "1.5" and ("object stream" in kinds or "cross-reference stream" in kinds):
        yield Breach(say("it is packed in a way that came with PDF 1.5 (object streams)"))
