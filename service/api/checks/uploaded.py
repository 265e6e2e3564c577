"""A check of a file that came before, piece by piece (`/v1/uploads`): it is taken over by the first check that names it."""

from __future__ import annotations

from service.api.checks.requests import CheckWishes
from service.api.http.blueprint import parts
from service.api.http.callers.access import owner
from service.api.http.problems import Problem
from service.api.http.uploads import pdf_only, too_large
from service.jobs.checking import now
from service.language.spoken import say
from service.store.files.blobs import Saved
from service.store.files.uploads import Upload
from service.store.models import CheckRow


def upload_of(wishes: CheckWishes) -> Upload:
    """That is whole and may be taken by whoever asks, as far as that can be said before it is tried. Raises `Problem`."""
    upload = parts().uploads.get(wishes.upload or "", now())
    if upload is None or upload.facts.owner != owner():
        raise _wrong(say("There is no upload of this id, or it was forgotten meanwhile. Send the file again."))
    if wishes.origin is not None and upload.facts.origin != wishes.origin:
        raise _wrong(say("This upload was not made by a page of {origin}.", origin=wishes.origin))
    if not upload.is_whole:
        counts = {"count": upload.offset, "length": upload.facts.length}
        detail = say("So far {count} bytes of {length} have come. Send the rest first.", **counts)
        raise Problem("upload-not-whole", detail, errors=[("/upload", detail)], headers={"Upload-Offset": str(upload.offset)})
    if wishes.maximum_bytes is not None and upload.facts.length > wishes.maximum_bytes:
        raise too_large(wishes.maximum_bytes, "/upload")
    return upload


def given(upload: Upload, check_id: str, own_key: str | None) -> Saved:
    """The file as that of the check; what is no PDF is forgotten. A repeat of the request that took it finds its digest alone."""
    here, taken_by = parts(), upload.facts.check
    if taken_by is not None:
        first = here.checks.by_key(own_key, now()) if own_key else None
        if first is None or first.id != taken_by:
            detail = say("A check has taken this upload. Name that check in 'check' to judge the file against another sheet.")
            raise Problem("upload-taken", detail, errors=[("/upload", detail)])
        return Saved(upload.facts.length, upload.facts.sha256 or "", b"")
    try:
        saved = here.uploads.give(upload, check_id)
    except FileNotFoundError as error:  # just now
        raise _wrong(say("There is no upload of this id, or it was forgotten meanwhile. Send the file again.")) from error
    try:
        return pdf_only(check_id, saved, "/upload")
    except Problem:
        here.uploads.forget(upload.id)
        raise


def note_taken(upload: Upload, check: CheckRow) -> None:
    """Once the check is there: until then the upload can be named again."""
    if upload.facts.check is None:
        parts().uploads.note_taken(upload, check.id, check.sha256, now())


def _wrong(detail: str) -> Problem:
    return Problem("invalid-request", detail, errors=[("/upload", detail)])
