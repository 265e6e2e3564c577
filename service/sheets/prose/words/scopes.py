"""What a demand holds for: everything, one product, one condition; or nothing, as what an example or an explanation says.

* A product is said in the demand's own part of the sentence ('posters 150 dpi'), before it ('For posters we need …'), in its row
  or column, or in a heading over it. The product that the whole text is about, by its title, narrows nothing.
* A condition that every file meets ('when you save the PDF') or that only says what a key means anyway ('where pictures run off
  the edge') narrows nothing either.
* An example holds to the end of its brackets, its sentence, or, where it opens a paragraph, its paragraph.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from itertools import groupby, takewhile

from service.sheets.prose.words.narrowing import EXAMPLE, PURPOSE, Around, Scope, led_by_a_scale, of_another_scale, said
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
from service.sheets.prose.words.qualifiers import PAST_REMARK, regions
from service.sheets.prose.words.sides import A_SIZE, listed_sizes, rows_of_products
from service.sheets.prose.words.statements import Statement

_OPENS_AN_EXAMPLE = re.compile(
    r"(?:for ex\b|for example|for instance|e\.g\.|z\. ?b\.|zum beispiel|beispiel\w*|par exemple|exemples?|ex\. ?:"
    r"|(?:in )?(?:this|the|our"
    r"|these|following)"
    r" (?:\w+ )?examples?(?! (?:below|above|shows?))|example ?:|(?:dieses|das|unser|folgendes) beispiel|cet exemple)(?:\b"
    r"|(?<=[.:]))"
)
_THE_REST = re.compile(
    r"\b(?:otherwise|all (?:the )?others?|everything else|in general|generally|sonst\w*|ansonsten|alle (?:anderen|ubrigen)"
    r"|generell|sinon|tous les autres|en general)\b"
)
_DEMANDS_ANEW = re.compile(r"^(?!.*\b(?:then|dann|alors|so|also|hier|here|ici)\b).*\b(?:must|muss|mussen|doit|doivent)\b")
"""A sentence after an example that is none of it any more."""
_BRACKETS = re.compile(r"\(([^()]{0,300})\)?")


def around(statements: Sequence[Statement]) -> list[Around]:
    """For each statement, in their order."""
    own = _families_of_the_title(statements)
    sections = _sections_of_products(statements)
    listed = listed_sizes(statements)
    title = statements[0].text.strip(" :#*") if not sections and _tells_products_apart(statements) else None
    pdf_said = any("pdf" in one.text for one in statements)
    found: list[Around] = []
    for _, members in groupby(statements, key=lambda one: one.block):
        group = list(members)
        example, labelled = False, None
        rows = rows_of_products(group)
        for one in group:
            example = (example and not _DEMANDS_ANEW.search(one.text)) or _OPENS_AN_EXAMPLE.match(one.text) is not None
            labelled = _by_its_label(one, own) if _LABEL.match(one.text) else labelled
            scope = listed.get(one.start) or labelled or rows.get(one.row) or _of_its_section(one, sections)
            scope = scope or _inherited(one, own, title)
            found.append(Around(Scope("example", one.text[:80]) if example else scope, own, pdf_said))
    _examples_under_their_lead(statements, found)
    return found


def _examples_under_their_lead(statements: Sequence[Statement], found: list[Around]) -> None:
    """'…, for example:' holds until the next heading, as far as the lines are short."""
    open_since: tuple[str, ...] | None = None
    for index, one in enumerate(statements):
        if open_since is not None and (one.is_heading or one.above != open_since or len(one.text) > 60):
            open_since = None
        if open_since is not None and found[index].inherited is None:
            found[index] = Around(Scope("example", "example"), found[index].own, found[index].pdf_said)
        if one.text.endswith(":") and EXAMPLE.search(one.text[-20:]):
            open_since = (*one.above, one.text.strip(" :#*")) if one.is_heading else one.above


def _labels_tell_products_apart(statements: Sequence[Statement]) -> bool:
    """'Business cards: …', 'Posters: …': the first line is no title."""
    labels = (found.group() for one in statements[:400] if (found := _LABEL.match(one.text)))
    return len({product.family for label in labels for product in products_in(label) if names_products_alone(label)}) > 1


_MOSTLY = 0.7


def _families_of_the_title(statements: Sequence[Statement]) -> frozenset[str]:
    """Of the headings that open the text, or of its first sentence; or the one that nearly all of the text names."""
    headings = list(takewhile(lambda one: one.is_heading, statements[:3]))
    if not headings and _labels_tell_products_apart(statements):
        return frozenset()
    for one in headings or statements[:1]:
        told = one.text if one.is_heading else re.split(r"[0-9] ?(?:mm|cm|%|dpi|ppi|pt|in\b|\")", one.text)[0]
        if families := frozenset(product.family for product in products_in(told) if product.family != "size"):
            return with_kin(families)
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


def _tells_products_apart(statements: Sequence[Statement]) -> bool:
    """'Flyers and posters' over a section on posters."""
    title = next((one for one in statements[:1] if one.is_heading), None)
    if title is None:
        return False
    named = {KIN.get(product.family, product.family) for product in products_in(title.text)} - {"size"}
    below = {
        KIN.get(product.family, product.family) for one in statements[1:] if one.is_heading for product in products_in(one.text)
    }
    return len(named) > 1 and bool(named & below)


def _sections_of_products(statements: Sequence[Statement]) -> frozenset[str]:
    """The headings, where several name nothing but a product each."""
    named = [words for one in statements if one.is_heading and names_products_alone(words := one.text.strip(" :#*"))]
    if named and statements[0].is_heading and named[0] == statements[0].text.strip(" :#*"):
        title = {product.family for product in products_in(named[0])}
        if any(title & {product.family for product in products_in(words)} for words in named[1:]):
            named = named[1:]
    families = {tuple(product.family for product in products_in(words)) for words in named}
    return frozenset(named) if len(set(named)) >= _SECTIONS or len(families) > 1 < len(set(named)) else frozenset()


def _of_its_section(one: Statement, sections: frozenset[str]) -> Scope | None:
    found = next((words for words in reversed(one.above) if words in sections), None)
    return Scope("product", found, f"section {found}") if found else None


_SECTIONS = 3


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


def _inherited(one: Statement, own: frozenset[str], title: str | None) -> Scope | None:
    """`title`: the words over everything, where they name products that sections below tell apart."""
    for words in (one.row, one.label, *reversed(one.above)):
        if EXAMPLE.search(words) and not _is_a_topic(words):
            return Scope("example", words[:80])
        for product in products_in(words) if words != title else ():
            if product.family not in own or title is not None:
                return Scope("product", product.name, product.family)
    return None


def _by_its_label(one: Statement, own: frozenset[str]) -> Scope | None:
    """'Booklets: …' at the head of a paragraph."""
    label = _LABEL.match(one.text)
    for product in products_in(label.group()) if label and not one.is_heading else ():
        if product.family not in own:
            return Scope("product", product.name, product.family)
    return None


_LABEL = re.compile(r"[^:.;|]{2,60}:(?=\s|$)")


def _is_a_topic(words: str) -> bool:
    return len(words) > 60


def scope_at(one: Statement, start: int, end: int, spans: Sequence[tuple[int, int]], given: Around) -> Scope | None:
    """The scope of the demand at one.text[start:end]. `spans` are the numbers and sizes of the statement."""
    if given.inherited is not None:
        return given.inherited
    text = one.text
    if not any(a < end and start < b for a, b in spans) and text[start:end].strip()[:1].isdigit():
        spans = sorted([*spans, (start, end)])  # a size
    first, last = _stretch(text, start, end, spans)
    inside = _bracket_of(text, start) or _bracket_of(text, end - 1)
    if inside is not None and not any(_SAID_AGAIN.fullmatch(text, b, start) for _, b in spans):
        first, last = max(first, inside[0]), min(last, inside[1])
        if EXAMPLE.search(text, inside[0], start):
            return Scope("example", text[inside[0] : inside[1]][:80])
    own = _without_brackets(text, first, last, start, end, spans)
    if purpose := PURPOSE.search(own, end - first):
        own = own[: purpose.start()]
    numbered = any(a < end and start < b for a, b in spans)
    if numbered and (scaled := of_another_scale(led_by_a_scale(text, start) + _between_commas(text, start, end))):
        return scaled
    if found := said(own, end - first, given, numbered=numbered):
        return found
    example = EXAMPLE.search(text, 0, start)
    if example and not _closed_bracket(text, example.start(), start):
        return Scope("example", text[example.start() : example.start() + 80])
    if _THE_REST.search(own):
        return None
    lead_end = min((span[0] for span in spans), default=start)
    lead = PAST_REMARK.sub(" ", text[: min(lead_end, first)])
    if lead and not re.search(r";|\.\s", lead):
        return said(lead, len(lead), given, numbered=numbered, leading=True)
    return None


_SAID_AGAIN = re.compile(r"\s?[(/=]\s?")
"""Between '0.125 in' and '(1/8 in)': what follows holds for both."""


def _between_commas(text: str, start: int, end: int) -> str:
    before, after = (
        re.split(r"[,;()|]|\. ", text[max(0, start - 120) : start])[-1],
        re.split(r"[,;)|]|\. ", text[end : end + 120])[0],
    )
    return before + text[start:end] + after


def _stretch(text: str, start: int, end: int, spans: Sequence[tuple[int, int]]) -> tuple[int, int]:
    """The part of the statement that belongs to the number; of what has no number, its part between semicolons."""
    mine = [index for index, (a, b) in enumerate(spans) if a < end and start < b]
    if mine:
        stretches = regions(text, spans)
        last = mine[-1]
        while last + 1 < len(spans) and _SAID_AGAIN.fullmatch(text, spans[last][1], spans[last + 1][0]):
            last += 1
        return min(stretches[mine[0]][0], start), max(stretches[last][1], end)
    first = max(text.rfind(";", 0, start), text.rfind(" - ", 0, start)) + 1
    last = min((place for place in (text.find(";", end), text.find(", but ", end)) if place >= 0), default=len(text))
    return first, len(text) if _BUT_ONLY.match(text, last) else last


_BUT_ONLY = re.compile(r", but (?:only|not|just|never)\b")


def _bracket_of(text: str, start: int) -> tuple[int, int] | None:
    opened = text.rfind("(", 0, start)
    if opened < 0 or text.rfind(")", opened, start) >= 0:
        return None
    closed = text.find(")", start)
    return opened + 1, closed if closed >= 0 else len(text)


def _closed_bracket(text: str, place: int, start: int) -> bool:
    """Whether the example stands in brackets that close before the demand."""
    opened = text.rfind("(", 0, place)
    if opened < 0 or text.rfind(")", opened, place) >= 0:
        return False
    closed = text.find(")", place)
    return 0 <= closed <= start


NARROWS = re.compile(
    r"\W*(?:for|only|if|when|unless|not|nur|bei|wenn|falls|ab|bis|gilt|pour|si|lorsqu\w*|uniquement|seulement|sauf"
    r"|except\b|fur|on|auf|sur|in|im|en|up to|over|above"
    r"|\w+(?: \w+)?(?: only)?\s*$)"
)
"""A remark in brackets that can narrow what stands before it: '(posters only)', and not '(this may happen if …)'."""


_GOES_ON_BEHIND = re.compile(r"\s?[,;]")
"""'Embed all fonts (from Corel: outline them), pictures 300 dpi': the remark is of what stands before it."""


def _without_brackets(text: str, first: int, last: int, start: int, end: int, spans: Sequence[tuple[int, int]]) -> str:
    """The stretch; brackets with a number of their own, and examples in brackets, speak for themselves."""
    kept = text[first:last]
    for match in _BRACKETS.finditer(text, first, last):
        if match.start() <= start and end <= match.end():
            continue
        numbered = any(match.start() < a < match.end() for a, _ in spans)
        numbered = numbered or (match.end() <= start and _GOES_ON_BEHIND.match(text, match.end()) is not None)
        numbered = numbered or re.search(r"[0-9]", match[1]) is not None
        if EXAMPLE.search(match.group()) or numbered or not NARROWS.match(match[1]) or "etc" in match[1]:
            a, b = match.start() - first, match.end() - first
            kept = f"{kept[:a]}{' ' * (b - a)}{kept[b:]}"
    return kept
