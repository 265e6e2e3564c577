"""Whether a file begins as a PDF does; no PDF library is needed to see that.

The header stands within the first 1,024 bytes (readers' leniency, from memory; ISO 32000-2:2020, 7.5.2 has it first).
"""

from __future__ import annotations

HEADER_WITHIN_BYTES = 1024


def starts_as_pdf(first: bytes) -> bool:
    """Whether the header's marker stands in the first bytes."""
    return b"%PDF-" in first[:HEADER_WITHIN_BYTES]
