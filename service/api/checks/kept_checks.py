"""A check that is asked for by its id, where the caller may see it."""

from __future__ import annotations

from service.api.http.blueprint import parts
from service.api.http.callers.access import key_missing, owner
from service.api.http.problems import Problem
from service.jobs.again.outdated import measured_again
from service.jobs.checking import now
from service.language.spoken import say, to_say
from service.store.checks import is_outdated
from service.store.models import CheckRow

OUTDATED = to_say(
    "An earlier version of the service made this check. Its result cannot be read any longer and its PDF is gone: send it again."
)


def found_check(check_id: str) -> CheckRow:
    """One that the caller may read, as this version reads it. Raises `Problem` where there is none, or no longer."""
    here = parts()
    row = kept_check(check_id)
    if row.state != "finished" or not is_outdated(row):
        return row
    again = measured_again(row, here.blobs, here.checks, here.queue)
    if again is None:
        raise Problem("check-not-found", say(OUTDATED))
    return again


def kept_check(check_id: str, *, by_link: bool = True) -> CheckRow:
    """Raises `Problem`, the same for a check that is another's as for none."""
    row = parts().checks.visible(check_id, now(), owner(), by_link=by_link)
    if row is None and owner() is None:
        raise key_missing()
    if row is None:
        raise Problem("check-not-found", say("There is no check of this id, or it was forgotten meanwhile."))
    return row
