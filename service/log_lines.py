"""What the service writes into its log: one record, one line that says whose it is, and no id of a check.

* The id of a check is all that is needed to read it, so it is no matter for a log. Traces name files, and files are named by ids.
* What a measuring process says of itself comes from a stranger: its line breaks would begin lines that look like ours.
"""

from __future__ import annotations

import logging
import re
import sys

FORMAT = "%(asctime)s %(levelname)s %(name)s %(message)s"
CONTINUED = "\n    | "
"""Before each further line of a record, such as of a trace."""

_ID = re.compile(r"(?<![\w-])[\w-]{24}(?![\w-])")
"""As ids of checks are made (`secrets.token_urlsafe(18)`); a word of ours that is as long goes with them."""
_BREAKS = re.compile(r"\r\n|[\n\r\v\f\x1c-\x1e\x85\u2028\u2029]")
_CONTROLS = re.compile(r"[\x00-\x08\x0e-\x1b\x1f\x7f-\x9f]")


def log_to_the_console() -> None:
    lines = logging.StreamHandler(sys.stderr)
    lines.setFormatter(LogLines())
    logging.basicConfig(level=logging.INFO, handlers=[lines])


class LogLines(logging.Formatter):
    def __init__(self) -> None:
        super().__init__(FORMAT)

    def format(self, record: logging.LogRecord) -> str:
        text = _ID.sub("(id)", super().format(record))
        return CONTINUED.join(_CONTROLS.sub("?", line) for line in _BREAKS.split(text))
