"""Why a file cannot be read or written, as the person at the terminal reads it."""

from __future__ import annotations

import errno

from service.language.spoken import say, to_say

_WHY = {
    errno.ENOENT: to_say("there is no such file or folder"),
    errno.EISDIR: to_say("it is a folder"),
    errno.ENOTDIR: to_say("a part of the path is no folder"),
    errno.EACCES: to_say("permission is missing"),
    errno.EPERM: to_say("permission is missing"),
    errno.ENOSPC: to_say("the disk is full"),
    errno.EROFS: to_say("it lies where nothing can be written"),
}


def why(error: OSError) -> str:
    """Why a file cannot be read or written; what is rare in the system's own words."""
    return say(_WHY[error.errno]) if error.errno in _WHY else error.strerror or ""
