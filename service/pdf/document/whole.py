"""Facts of the file as a whole: size, version, encryption, page count, and what it says of its maker.

* The catalog's Version replaces the header's where it is later (7.5.2, 7.7.2).
* Permissions: bit 3 allows printing, bit 12 at full quality (7.6.4.2).
* Two readers count the pages; where they disagree, or pages are lost, the count is not known.
"""

from __future__ import annotations

import re
from pathlib import Path

import pikepdf

from service.language.sentences import Sentence
from service.language.spoken import to_say
from service.pdf.facts.document import Document, Encryption
from service.pdf.facts.parts import capped
from service.pdf.facts.unknown import NOT_LOOKED_AT, Unmeasured, unmeasured
from service.pdf.header import HEADER_WITHIN_BYTES
from service.pdf.reading.opening import LOST_END, OpenedPdf
from service.pdf.reading.reading_errors import READING_ERRORS
from service.pdf.reading.second_witness import pages_by_pdfium

VERSIONS = ("1.0", "1.1", "1.2", "1.3", "1.4", "1.5", "1.6", "1.7", "2.0")
"""All that were published (the PDF references 1.0 to 1.7, ISO 32000-1, ISO 32000-2), earliest first."""

_HEADER_NEVER_PUBLISHED = to_say("The header states PDF version '{version}', which was never published.")
_CATALOG_NEVER_PUBLISHED = to_say("The catalog states PDF version '{version}', which was never published.")

LONGEST_TEXT = 200
"""Characters that are kept of a title or of a program's name."""

_HEADER = re.compile(rb"%PDF-([^\s%]{0,12})")


def measure_document(opened: OpenedPdf) -> Document:
    """Without what the pages add (`damage` is complete only with them) and without `standard_facts`."""
    second = pages_by_pdfium(opened.path)
    damage = list(opened.damage)
    if isinstance(second, Unmeasured):
        damage.append(Sentence(second.text, second.values))
    return Document(
        size_bytes=opened.path.stat().st_size,
        failure=None,
        page_count=agreed_page_count(opened, second),
        version=version_of(first_bytes(opened.path), catalog_version(opened.pdf)),
        encryption=encryption_of(opened.pdf),
        damage=capped(damage),
        cut_off=LOST_END in damage,
        title=info_text(opened.pdf, "/Title"),
        creator=info_text(opened.pdf, "/Creator"),
        producer=info_text(opened.pdf, "/Producer"),
        identification=NOT_LOOKED_AT,
        output_intents=NOT_LOOKED_AT,
        profiles=NOT_LOOKED_AT,
        layers=NOT_LOOKED_AT,
        features=NOT_LOOKED_AT,
        active_content=NOT_LOOKED_AT,
        linearization=NOT_LOOKED_AT,
    )


def agreed_page_count(opened: OpenedPdf, second: int | Unmeasured) -> int | Unmeasured:
    """The count by pikepdf, unless pages are lost or PDFium finds another number. A witness that fails proves nothing."""
    if opened.pages_lost:
        return unmeasured("The file names pages that cannot be found; {count} can.", count=opened.page_count)
    if isinstance(second, int) and second != opened.page_count:
        return unmeasured(
            "pikepdf and PDFium disagree: {count} and {other_count} pages.", count=opened.page_count, other_count=second
        )
    return opened.page_count


# --- Version ----------------------------------------------------------------------------------------------------------


def first_bytes(path: Path) -> bytes:
    with path.open("rb") as file:
        return file.read(HEADER_WITHIN_BYTES)


def version_of(first: bytes, catalog: str | Unmeasured | None) -> str | Unmeasured:
    """The later of header and catalog. A value that names no published version leaves the version unknown."""
    if isinstance(catalog, Unmeasured):
        return catalog
    header = _header_version(first)
    if isinstance(header, Unmeasured) or catalog is None:
        return catalog or header
    return max(header, catalog, key=VERSIONS.index)


def _header_version(first: bytes) -> str | Unmeasured:
    found = _HEADER.search(first[:HEADER_WITHIN_BYTES])
    if not found:
        return Unmeasured("The file does not say which version of PDF it is: its header is missing.")
    text = found[1].decode("latin-1")
    return text if text in VERSIONS else unmeasured(_HEADER_NEVER_PUBLISHED, version=clean(text) or "")


def catalog_version(pdf: pikepdf.Pdf) -> str | Unmeasured | None:
    """The catalog's Version; None where it has none."""
    try:
        value = pdf.Root.get("/Version")
        if value is None:
            return None
        if not isinstance(value, pikepdf.Name):
            return Unmeasured("The catalog states the PDF version in a form that is not allowed.")
        text = str(value).removeprefix("/")
        return text if text in VERSIONS else unmeasured(_CATALOG_NEVER_PUBLISHED, version=clean(text) or "")
    except READING_ERRORS:
        return Unmeasured("The PDF version in the catalog cannot be read.")


# --- Encryption -------------------------------------------------------------------------------------------------------


def encryption_of(pdf: pikepdf.Pdf) -> Encryption | Unmeasured:
    """Of a file that opened, that is one without a password for reading."""
    try:
        if not pdf.is_encrypted:
            return Encryption(encrypted=False, printing_allowed=True)
        allowed = pdf.allow
        return Encryption(encrypted=True, printing_allowed=bool(allowed.print_lowres and allowed.print_highres))
    except READING_ERRORS:
        return Unmeasured("The encryption dictionary cannot be read.")


# --- What the file says of its maker ----------------------------------------------------------------------------------


def info_text(pdf: pikepdf.Pdf, key: str) -> str | None:
    """A text of the Info dictionary (ISO 32000-2:2020, 14.3.3), cleaned; None where there is none."""
    try:
        info = pdf.trailer.get("/Info")
        value = info.get(key) if isinstance(info, pikepdf.Dictionary) else None
        return text_string(bytes(value)) if isinstance(value, pikepdf.String) else None
    except READING_ERRORS:
        return None


def text_string(raw: bytes) -> str | None:
    """A text string (ISO 32000-2:2020, 7.9.2.2): UTF-16, UTF-8 or PDFDocEncoding, by its first bytes; cleaned."""
    for mark, encoding in ((b"\xfe\xff", "utf-16-be"), (b"\xff\xfe", "utf-16-le"), (b"\xef\xbb\xbf", "utf-8")):
        if raw.startswith(mark):
            return clean(raw[len(mark) :].decode(encoding, "replace"))
    return clean(raw.decode("pdfdoc", "replace"))  # the codec that pikepdf registers


def clean(text: str) -> str | None:
    """One line without control characters, at most `LONGEST_TEXT` long; None where nothing is left."""
    visible = "".join(one if one.isprintable() else " " for one in text[: 4 * LONGEST_TEXT])
    return " ".join(visible.split())[:LONGEST_TEXT].strip() or None
