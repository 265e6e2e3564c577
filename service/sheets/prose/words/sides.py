"""What lines say together: 'Width: 85 mm' over 'Height: 55 mm', a row or a line for each product with its size; and the products
that all of a text is about.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from itertools import groupby, takewhile

from service.sheets.prose.claims.claim import Claim
from service.sheets.prose.words.narrowing import Scope
from service.sheets.prose.words.products import (
    BOOKISH,
    KIN,
    PROCESSES,
    PRODUCT,
    THE_BOOK,
    WHOLE,
    names_products_alone,
    products_in,
    with_kin,
)
from service.sheets.prose.words.sizes import Size
from service.sheets.prose.words.statements import Statement

LABEL = re.compile(r"[^:.;|(]{2,60}(?:\([^()]{0,30}\)[^:.;|(]{0,20})?:(?=\s|$)")
"""What stands before the colon at the head of a paragraph."""
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
    sized = dict.fromkeys(one.row for one in group if one.row and (A_SIZE.search(one.text) or A_SIZE.search(one.row)))
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


def _labels_tell_products_apart(statements: Sequence[Statement]) -> bool:
    """'Business cards: …', 'Posters: …': the first line is no title."""
    labels = (found.group() for one in statements[:400] if (found := LABEL.match(one.text)))
    return len({product.family for label in labels for product in products_in(label) if names_products_alone(label)}) > 1


_MOSTLY = 0.7


_FOR_ONE = re.compile(
    r"(?:for|on|bei|beim|fur|pour)\b(?! (?:your|our|ihr\w*|unser\w*|deine?\w*|votre|vos|notre|nos|this|these|dies\w*|cette?"
    r"|ces)\b).*[0-9]"
)
"""'For banners, 100 dpi is enough.' says a number of them alone."""
_CONTRASTS = re.compile(r"\b(?:everything else|all (?:the )?others?|alles andere|tous les autres)\b")
"""'For banners 100 dpi is fine, for everything else …' is no title."""


def families_of_the_title(statements: Sequence[Statement]) -> frozenset[str]:
    """Of the headings that open the text, or of its first sentence; or the one that nearly all of the text names."""
    headings = list(takewhile(lambda one: one.is_heading, statements[:3]))
    if not headings and _labels_tell_products_apart(statements):
        return frozenset()
    for one in headings or [first for first in statements[:1] if not first.label]:
        if _CONTRASTS.search(one.text) or (_FOR_ONE.match(one.text) and not one.is_heading):
            break
        told = one.text if one.is_heading else re.split(r"[0-9] ?(?:mm|cm|%|dpi|ppi|pt|in\b|\")", one.text)[0]
        if families := frozenset(product.family for product in products_in(told) if product.family != "size"):
            return with_kin(families) | _the_process(statements)
    mentions = [
        (place, {KIN.get(product.family, product.family) for product in products_in(one.text)})
        for place, one in enumerate(statements[:400])
    ]
    naming = [(place, families) for place, families in mentions if families]
    counts = Counter(family for _, families in naming for family in families if family not in ("size", "for-size"))
    if not counts:
        return frozenset()
    processes = frozenset(counts) & PROCESSES
    return _by_what_is_named(statements, naming, counts) | (processes if len(processes) == 1 else frozenset())


def _the_process(statements: Sequence[Statement]) -> frozenset[str]:
    """The one process that a text names is how all of it is printed."""
    named = frozenset(product.family for one in statements[:400] for product in products_in(one.text)) & PROCESSES
    return named if len(named) == 1 else frozenset()


def _by_what_is_named(
    statements: Sequence[Statement], naming: Sequence[tuple[int, set[str]]], counts: Counter[str]
) -> frozenset[str]:
    """A process that stands alone is how all of it is printed; `counts` are the statements that name each family."""
    family, times = counts.most_common(1)[0]
    if len(counts) == 1 and family in WHOLE and any(_is_ones_own(statements[place].text) for place, _ in naming):
        return with_kin(frozenset((family,)))
    if set(counts) <= BOOKISH and any(THE_BOOK.search(one.text) for one in statements[:400]):
        return frozenset(("book",))
    early = naming[0][0] <= max(3, len(statements) // 4) and family in naming[0][1]
    return (
        with_kin(frozenset((family,)))
        if early and times >= max(3, len(statements) // 7) and times >= _MOSTLY * len(naming)
        else frozenset()
    )


_OWN = re.compile(r"\b(?:this|your|our|the|dies\w*|ihr\w*|unser\w*|votre|vos|cette?|notre)\s")


def _is_ones_own(text: str) -> bool:
    """As 'this brochure', 'your poster', 'leaflets are trimmed to 99 x 210 mm'."""
    return A_SIZE.search(text) is not None or any(
        _OWN.search(text[max(0, match.start() - 12) : match.start()]) for match in PRODUCT.finditer(text)
    )
