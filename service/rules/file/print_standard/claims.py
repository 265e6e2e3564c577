"""Which standards a file claims, and which of them a sheet's name accepts.

* PDF/X-1a:2001 says 'PDF/X-1:2001' as version and 'PDF/X-1a:2001' as conformance; later parts name themselves in the version
  alone. All of it stands in the Info dictionary (ISO 15930-1, -3, -4, -6; key names from memory).
* PDF/X-4 and later stand in XMP alone (pdfxid:GTS_PDFXVersion; ISO 15930-7, from memory).
"""

from __future__ import annotations

from service.pdf.facts.document import Identification
from service.rules.file.print_standard.demand import ALL, Edition

_IN_XMP = ("PDF/X-4", "PDF/X-5", "PDF/X-6")


def claims_of(identification: Identification) -> tuple[str, ...]:
    """The standards that the file claims where that standard looks for the claim; other names as they are written."""
    claims = []
    version, conformance = identification.info_version, identification.info_conformance
    if version == "PDF/X-1:2001":
        claims.append("PDF/X-1a:2001" if conformance == "PDF/X-1a:2001" else "PDF/X-1:2001")
    elif version and not version.startswith(_IN_XMP):
        claims.append(version)
    in_xmp = identification.metadata.pdfx_version if identification.metadata else None
    if in_xmp and in_xmp.startswith(_IN_XMP):
        claims.append(in_xmp)
    return tuple(claims)


def misplaced_claim(identification: Identification) -> str | None:
    """A claim of PDF/X-4 or later in the Info dictionary, where no reader looks for it, and not in XMP."""
    version = identification.info_version
    return version if version and version.startswith(_IN_XMP) and version not in claims_of(identification) else None


def accepts(name: str, claim: str) -> bool:
    """Whether a sheet's name takes a file of this claim: 'PDF/X-1a' takes every year, 'PDF/X-1a:2003' that one."""
    return claim == name or (":" not in name and claim.startswith(f"{name}:"))


def edition_of(claim: str) -> Edition | None:
    """The claim as an edition whose demands are known here."""
    return next((one for one in ALL if one == claim), None)
