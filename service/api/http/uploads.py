"""A PDF that somebody sends: kept as a file, or refused with what it is instead."""

from __future__ import annotations

import logging
import secrets
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from service.api.http.blueprint import parts
from service.api.http.problems import OnPage, Problem
from service.language.sentences import sentence
from service.language.spoken import say, to_say
from service.store.files.blobs import NoRoom, Readable, Saved, TooLarge

log = logging.getLogger(__name__)

FILES_AWAY = to_say("The service's folder for files cannot be used just now. Try again in a moment.")
NO_ROOM = to_say("There is not enough room left to take the file. Try again later.")
_MORE_THAN_THE_SERVICE_TAKES = to_say("The file is larger than {count} bytes, the most that this service takes.")
_MORE_THAN_THE_PAGE_TAKES = to_say("The file is larger than {count} bytes, the most that the page that it comes from takes.")
_OTHER_FILES = {
    b"\x89PNG": to_say("a PNG picture"), b"\xff\xd8\xff": to_say("a JPEG picture"), b"II*\0": to_say("a TIFF picture"),
    b"MM\0*": to_say("a TIFF picture"), b"PK\x03\x04": to_say("a ZIP archive or an office document"),
    b"%!PS": to_say("PostScript"), b"8BPS": to_say("a layered picture"),
}
"""What is sent by mistake most often, by its first bytes."""


def save_pdf(check_id: str, stream: Readable, allowed_bytes: int | None = None, *, for_a_moment: bool = False) -> Saved:
    """Raises `Problem`; nothing stays of a file that is refused. `allowed_bytes`: by the sender's token, where it has one."""
    most = parts().settings.maximum_upload_bytes
    maximum = most if allowed_bytes is None else min(allowed_bytes, most)
    try:
        save = parts().blobs.save_here if for_a_moment else parts().blobs.save
        saved = save(check_id, stream, maximum)
    except TooLarge as error:
        raise too_large(maximum) from error
    except NoRoom as error:
        raise Problem("no-room", say(NO_ROOM), headers={"Retry-After": "60"}) from error
    except OSError as error:
        log.exception("a file cannot be kept")
        raise Problem("not-ready", say(FILES_AWAY), headers={"Retry-After": "5"}) from error
    return pdf_only(check_id, saved)


def pdf_only(check_id: str, saved: Saved, pointer: str = "/file") -> Saved:
    """Raises `Problem` for what is none; nothing stays of it."""
    if b"%PDF-" not in saved.head:
        parts().blobs.forget(check_id)
        empty = None if saved.size_bytes else OnPage(title=say("The file is empty"), what_to_do="")
        raise Problem("not-a-pdf", _no_pdf(saved), errors=[(pointer, say("This is not a PDF."))], on_page=empty)
    return saved


def too_large(maximum: int, pointer: str = "/file") -> Problem:
    """`maximum`: of the service, or the smaller one of the sender's token."""
    is_ours = maximum == parts().settings.maximum_upload_bytes
    told = _MORE_THAN_THE_SERVICE_TAKES if is_ours else _MORE_THAN_THE_PAGE_TAKES
    return Problem("too-large", sentence(told, count=maximum).said(), errors=[(pointer, say("This file is too large."))])


@contextmanager
def pdf_for_a_moment(stream: Readable) -> Iterator[tuple[Path, Saved]]:
    """The file while it is looked at; gone afterwards. Raises `Problem` as `save_pdf`."""
    moment = secrets.token_urlsafe(18)
    saved = save_pdf(moment, stream, for_a_moment=True)
    try:
        yield parts().blobs.path(moment), saved
    finally:
        parts().blobs.forget(moment)


def _no_pdf(saved: Saved) -> str:
    if not saved.size_bytes:
        return say("The file is empty: nothing arrived in it. Choose the file again and send it.")
    seems = next((kind for start, kind in _OTHER_FILES.items() if saved.head.startswith(start)), None)
    if seems is None:
        return say("The file does not begin as a PDF does. Export a PDF and send that.")
    return say("The file seems to be {kind}. Export a PDF and send that.", kind=say(seems))
