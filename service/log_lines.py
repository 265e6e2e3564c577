"""What the service writes into its log: one record, one line that says whose it is, and no id of a check.

* The id of a check is all that is needed to read it, so it is no matter for a log. Traces name files, and files are named by ids.
* What a measuring process says of itself comes from a stranger: its line breaks would begin lines that look like ours.
"""

from __future__ import annotations

import hashlib
import json
import logging
import re
import sys
from contextvars import ContextVar
from datetime import UTC, datetime

FORMAT = "%(asctime)s %(levelname)s %(name)s %(message)s"
CONTINUED = "\n    | "
"""Before each further line of a record, such as of a trace."""

_ID = re.compile(r"(?<![\w-])[\w-]{24}(?![\w-])")
"""As ids of checks are made (`secrets.token_urlsafe(18)`); a word of ours that is as long goes with them."""
_BREAKS = re.compile(r"\r\n|[\n\r\v\f\x1c-\x1e\x85\u2028\u2029]")
_CONTROLS = re.compile(r"[\x00-\x08\x0e-\x1b\x1f\x7f-\x9f]")


REQUEST: ContextVar[str] = ContextVar("request", default="")
"""Id of the request that is being answered, in the thread that answers it; none elsewhere."""
FACTS = ("method", "route", "status", "milliseconds")
"""That a record may have besides (`extra`); as fields of their own where lines are JSON."""


def log_to_the_console(form: str = "text") -> None:
    """`form`: 'text', or 'json' for programs that collect logs."""
    lines = logging.StreamHandler(sys.stderr)
    lines.setFormatter(JsonLines() if form == "json" else LogLines())
    logging.basicConfig(level=logging.INFO, handlers=[lines])


def without_ids(text: str) -> str:
    """The same check is the same eight letters, which lead nobody to it: lines about one can be laid together."""
    return _ID.sub(lambda found: f"(id {hashlib.sha256(found[0].encode()).hexdigest()[:8]})", text)


class LogLines(logging.Formatter):
    def __init__(self) -> None:
        super().__init__(FORMAT)

    def format(self, record: logging.LogRecord) -> str:
        text = without_ids(super().format(record))
        return CONTINUED.join(_CONTROLS.sub("?", line) for line in _BREAKS.split(text))


class JsonLines(logging.Formatter):
    """One object a line; what is told stands in it as it is, and can begin no line."""

    def format(self, record: logging.LogRecord) -> str:
        time = datetime.fromtimestamp(record.created, UTC).isoformat(timespec="milliseconds")
        said = {"time": time, "level": record.levelname, "logger": record.name, "message": without_ids(record.getMessage())}
        if request := REQUEST.get():
            said["request_id"] = request
        if record.exc_info:
            said["trace"] = without_ids(self.formatException(record.exc_info))
        return json.dumps(said | {name: getattr(record, name) for name in FACTS if hasattr(record, name)})
