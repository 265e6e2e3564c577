"""A long piece of an upload that may break off is answered in portions: what came is kept as it comes.

The body of every other request is taken in whole before anybody looks at it; of one of 500 MB nothing would be left when the
line breaks at the last of them. So the body of a PATCH that adds to an upload (tus 1.0: `application/offset+octet-stream`, with
its place in `Upload-Offset`) goes to the application a few megabytes at a time, each as a request of its own at its own place,
which is what any client of that protocol may send as well. The caller gets the last answer, or the first that is a refusal.
"""

from __future__ import annotations

import asyncio
from asyncio import IncompleteReadError, LimitOverrunError
from collections.abc import AsyncIterator, Mapping
from typing import IO, Any, NamedTuple

from service.door.bodies import Body, NoRoomForBody, NotTaken, Spools
from service.door.holding import GOES_ON
from service.door.pace import paced

PIECES_OF_AN_UPLOAD = "application/offset+octet-stream"
PORTION_BYTES = 4 * 2**20
_PROMISED = {"CONTENT-DIGEST", "REPR-DIGEST"}
"""Of the body as a whole: it is taken whole, then."""


class Portion(NamedTuple):
    body: Body
    changes: Mapping[str, Any]
    """Of the environment, so that it is a request of its own."""
    is_last: bool
    is_cut: bool
    """The line broke: nobody is there for the answer."""


def comes_in_portions(request: Any) -> bool:
    headers = dict(request.headers)
    kind = headers.get("CONTENT-TYPE", "").partition(";")[0].strip().lower()
    numbered = headers.get("UPLOAD-OFFSET", "")
    return bool(
        request.method == "PATCH" and kind == PIECES_OF_AN_UPLOAD and numbered.isascii() and numbered.isdigit()
        and len(numbered) < 16 and not _PROMISED & headers.keys()
    )  # fmt: skip


class Portions:
    def __init__(self, request: Any, pieces: AsyncIterator[bytes], spools: Spools) -> None:
        self._pieces, self._spools = pieces, spools
        self._offset = self._begin = int(dict(request.headers)["UPLOAD-OFFSET"])

    async def next(self) -> Portion:
        body, size, ended, cut = self._spools.new(), 0, False, False
        try:
            async with paced() as pace:
                while size < PORTION_BYTES and not ended:
                    piece = await anext(self._pieces, b"")
                    body.write(piece)
                    pace.went(len(piece))
                    size += len(piece)
                    ended = not piece
        except (IncompleteReadError, LimitOverrunError, ConnectionError, TimeoutError, ValueError):
            cut = True
        except asyncio.CancelledError:
            body.close()
            raise
        except OSError:  # the disk
            body.close()
            return Portion(NotTaken(NoRoomForBody()), self._changes(0), is_last=True, is_cut=False)
        return self._portion(body, size, is_last=ended, is_cut=cut)

    def _portion(self, body: IO[bytes], size: int, *, is_last: bool, is_cut: bool) -> Portion:
        body.seek(0)
        changes = self._changes(size)
        self._offset += size
        return Portion(body, changes, is_last, is_cut)

    def _changes(self, size: int) -> Mapping[str, Any]:
        goes_on = {GOES_ON: True} if self._offset != self._begin else {}
        return {"HTTP_UPLOAD_OFFSET": str(self._offset), "CONTENT_LENGTH": str(size), **goes_on}
