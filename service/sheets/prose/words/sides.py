"""What lines say of sizes together: 'Width: 85 mm' over 'Height: 55 mm', a row or a line for each product with its size."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import groupby

from service.sheets.prose.claims.claim import Claim
from service.sheets.prose.words.narrowing import Scope
from service.sheets.prose.words.sizes import Size
from service.sheets.prose.words.statements import Statement

A_SIZE = re.compile(r"[0-9]\s?(?:mm|cm|in|\")?\s?x\s?[0-9]|\b[abc][0-7]\b|\bdl\b")


def size_from_sides(claims: Sequence[Claim]) -> Size | None:
    """Where the text says one width and one height, each at least 15 mm."""
    widths, heights = ([claim for claim in claims if claim.path == f"side.{side}"] for side in ("width", "height"))
    if len(widths) != 1 or len(heights) != 1:
        return None
    width, height = widths[0], heights[0]
    if width.size is None or height.size is None or min(width.size, height.size) < 15:
        return None
    start, end = min(width.start, height.start), max(width.end, height.end)
    return Size(width.size, height.size, str(width.value), str(height.value), "size", start, end)


def rows_of_products(group: Sequence[Statement]) -> dict[str, Scope]:
    """The rows of a table that has another size in each: they are of one product each, whatever they are called."""
    sized = dict.fromkeys(one.row for one in group if one.row and A_SIZE.search(one.text))
    if len(sized) < 2 or any(_A_FEATURE.search(row) for row in sized):
        return {}
    return {one.row: Scope("product", one.row, f"row {one.row}") for one in group if one.row}


_A_FEATURE = re.compile(
    r"\b(?:trim\w*|bleed\w*|size|sizes|format|safe\w*|live|area|document|dimensions?|\w*format|beschnitt\w*|anschnitt\w*"
    r"|sicher\w*|satzspiegel|fini|rogne|fonds?|securite|page|file|open|closed|folded|flat)\b"
)


_A_LINE = re.compile(
    r"(?P<name>[^:|;0-9][^:|;]{2,44}?|[1-9]/[1-9][^:|;0-9]{2,40})\s?(?:[:|-]|\s)\s*"
    r"(?P<size>(?:w(?:idth)? ?:? ?)?[0-9][0-9.,/ ½¼¾⅛⅜⅝⅞]* ?(?:mm|cm|in|\"|'')? ?(?:w\w*|h\w*"
    r"|b)? ?x ?(?:h(?:eight)? ?:? ?)?[0-9])"
)
_OF_ONE_PAGE = re.compile(
    r"\b(?:trim\w*|safe\w*|live|area|document|dimensions?|\w*format|beschnitt\w*|anschnitt\w*|sicher\w*|satzspiegel|fini"
    r"|rogne|fonds?|securite|file|open|closed|folded|flat|size|sizes|with(?! compliments)|incl\w*|plus|final|finished"
    r"|type|window|image|scale)\b"
    r"|(?<!non )(?<!non-)\bbleed\b"
)
_A_LIST = 3


def listed_sizes(statements: Sequence[Statement]) -> dict[int, Scope]:
    """Lines like 'Half page: 190 x 133 mm', by their places: at least three with three sizes are of one product each."""
    found: dict[int, Scope] = {}
    for _, members in groupby(statements, key=lambda one: (one.above, one.row != "")):
        lines = [(one, line) for one in members if not one.row and (line := _A_LINE.match(one.text))]
        lines = [(one, line) for one, line in lines if not _OF_ONE_PAGE.search(line["name"])]
        if min(len({line["name"] for _, line in lines}), len({line["size"] for _, line in lines})) >= _A_LIST:
            found |= {one.start: Scope("product", line["name"].strip(" -"), f"row {line['name']}") for one, line in lines}
    return found
