"""Where a file claims its standard, and which claims a printer's name takes."""

from __future__ import annotations

from dataclasses import replace

from service.rules.file.print_standard.claims import accepts, claims_of
from tests.rules.print_files import XMP, identification


def test_an_older_standard_in_the_metadata_stream_is_no_claim() -> None:
    facts = identification("PDF/X-4", metadata=replace(XMP, pdfx_version="PDF/X-3:2003"))
    assert claims_of(facts) == ()


def test_a_claim_with_more_behind_its_year_is_another() -> None:
    assert accepts("PDF/X-1a", "PDF/X-1a:2003")
    assert not accepts("PDF/X-1a:2003", "PDF/X-1a:2003:draft")
