"""The least and the greatest tint that prints as one."""

from __future__ import annotations

import re
from collections.abc import Sequence

from service.sheets.prose.claims.claim import Claim
from service.sheets.prose.words.amounts import Amount
from service.sheets.prose.words.qualifiers import bound_of, regions
from service.sheets.prose.words.statements import Statement

_TINT = re.compile(
    r"\btints?\b|\btonal values?\b|\btone values?\b|\bdot (?:percentages?|sizes?|areas?)\b|\bhighlight dots?\b"
    r"|\bscreen (?:tints?|values?)\b|\bscreens\b|\b(?:minimum|maximum|smallest|largest) dots?\b|\bshades? of\b"
    r"|\b(?:raster)?tonwert(?:e|en|bereich\w*|umfang\w*)?\b|\bgerastert\w* (?:objekt|flache|element)\w*"
    r"|\brasterobjekt\w*|\bteintes?\b|\bbendays?\b|\bfarbwert(?:e|en)\b|\brasterwert\w*|\braster(?:tone|flachen|tonwerte)\w*"
    r"|\btrames?\b"
    r"|\baplats? trames?\b|\bvaleurs? tonales?\b|\btons? trames?\b|\bles trames?\b|\bvaleurs? de trames?\b"
)
_ELSE = re.compile(
    r"\bgain\b|\bzunahme\b|\bengraissement\b|\btransparen\w*|\bopacity\b|\bdeckkraft\b|\bopacite\b|\bsum\w*|\btotal\b"
    r"|\btonwertsumme\w*|\bscal\w*|\bmassstab\b|\btolerance\b"
)
_FEARED = re.compile(r"\b(?:more|greater|higher|over|above) (?:than )?\W*$|\b(?:may|might|can|could|will) (?:\w+ )?(?:cause"
    r"|lead|result|cost)\b")
"""'More than 8 % of a tint may cause trouble' sets no least."""
_LEAST, _MOST = (1, 20), (80, 99)


def read_tints(statement: Statement, amounts: Sequence[Amount]) -> tuple[list[Claim], set[int]]:
    """'Tints between 5 % and 95 %', 'nothing below 3 %'. The claims, and where the percentages stand."""
    text = statement.text
    about = _TINT.search(text) or _TINT.search(statement.label) or _TINT.search(statement.heading)
    if about is None or _ELSE.search(text):
        return [], set()
    found: list[Claim] = []
    used: set[int] = set()
    percents = [one for one in amounts if one.kind == "percent"]
    for amount, (first, end) in zip(percents, regions(text, [(one.start, one.end) for one in percents]), strict=True):
        place = (statement.start + amount.start, statement.start + amount.end)
        bound = bound_of(text[first : amount.start], text[amount.end : end], statement.label)
        if amount.high is not None:
            if _LEAST[0] <= amount.low <= _LEAST[1] and _MOST[0] <= amount.high <= _MOST[1]:
                found.append(Claim("color.tint.minimum", amount.low_written, *place, size=amount.low))
                found.append(Claim("color.tint.maximum", str(amount.high_written), *place, size=amount.high))
                used.add(amount.start)
        elif _FEARED.search(text[first:end]):
            continue
        elif bound in ("minimum", "below") and _LEAST[0] <= amount.low <= _LEAST[1]:
            found.append(Claim("color.tint.minimum", amount.low_written, *place, size=amount.low))
            used.add(amount.start)
        elif bound in ("maximum", "above") and _MOST[0] <= amount.low <= _MOST[1]:
            found.append(Claim("color.tint.maximum", amount.low_written, *place, size=amount.low))
            used.add(amount.start)
    return found, used
