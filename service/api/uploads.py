"""A PDF that somebody sends: kept as a file, or refused with what it is instead."""

from __future__ import annotations

import secrets
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from service.api.blueprint import parts
from service.api.problems import Problem
from service.store.blobs import Readable, Saved, TooLarge

_OTHER_FILES = {
    b"\x89PNG": "a PNG picture", b"\xff\xd8\xff": "a JPEG picture", b"II*\0": "a TIFF picture", b"MM\0*": "a TIFF picture",
    b"PK\x03\x04": "a ZIP archive or an office document", b"%!PS": "PostScript", b"8BPS": "a layered picture",
}  # fmt: skip
"""What is sent by mistake most often, by its first bytes."""


def save_pdf(check_id: str, stream: Readable) -> Saved:
    """Raises `Problem`; nothing stays of a file that is refused."""
    maximum = parts().settings.maximum_upload_bytes
    try:
        saved = parts().blobs.save(check_id, stream, maximum)
    except TooLarge as error:
        detail = f"The file is larger than {maximum:,} bytes, the most that this service takes."
        raise Problem("too-large", detail, errors=[("/file", "This file is too large.")]) from error
    if b"%PDF-" not in saved.head:
        parts().blobs.forget(check_id)
        raise Problem("not-a-pdf", _no_pdf(saved), errors=[("/file", "This is not a PDF.")])
    return saved


@contextmanager
def pdf_for_a_moment(stream: Readable) -> Iterator[tuple[Path, Saved]]:
    """The file while it is looked at; gone afterwards. Raises `Problem` as `save_pdf`."""
    moment = secrets.token_urlsafe(18)
    saved = save_pdf(moment, stream)
    try:
        yield parts().blobs.path(moment), saved
    finally:
        parts().blobs.forget(moment)


def _no_pdf(saved: Saved) -> str:
    if not saved.size_bytes:
        return "The file is empty: nothing arrived in it. Choose the file again and send it."
    seems = next((kind for start, kind in _OTHER_FILES.items() if saved.head.startswith(start)), None)
    return f"The file {f'seems to be {seems}' if seems else 'does not begin as a PDF does'}. Export a PDF and send that."
