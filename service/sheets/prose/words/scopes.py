"""What a demand holds for: everything, one product, one condition; or nothing, as what an example or an explanation says.

* A product is said in the demand's own part of the sentence ('posters 150 dpi'), before it ('For posters we need …'), in its row
  or column, or in a heading over it. The product that the whole text is about, by its title, narrows nothing.
* A condition that every file meets ('when you save the PDF') or that only says what a key means anyway ('where pictures run off
  the edge') narrows nothing either.
* An example holds to the end of its brackets, its sentence, or, where it opens a paragraph, its paragraph.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import groupby

from service.sheets.prose.words.narrowing import EXAMPLE, PURPOSE, Around, Scope, led_by_a_scale, of_another_scale, said
from service.sheets.prose.words.products import KIN, names_products_alone, products_in
from service.sheets.prose.words.qualifiers import PAST_REMARK, regions
from service.sheets.prose.words.sides import LABEL, families_of_the_title, listed_sizes, rows_of_products
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
    own = families_of_the_title(statements)
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
            labelled = _by_its_label(one, own) if LABEL.match(one.text) else labelled
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
    parts = {words for one in statements if one.is_heading and _A_PART.fullmatch(words := one.text.strip(" :#*"))}
    if len({"cover" in words or "jacket" in words for words in parts}) > 1:
        return frozenset(parts)
    named = [words for one in statements if one.is_heading and names_products_alone(words := one.text.strip(" :#*"))]
    if named and statements[0].is_heading and named[0] == statements[0].text.strip(" :#*"):
        title = {product.family for product in products_in(named[0])}
        if any(title & {product.family for product in products_in(words)} for words in named[1:]):
            named = named[1:]
    families = {tuple(product.family for product in products_in(words)) for words in named}
    return frozenset(named) if len(set(named)) >= _SECTIONS or len(families) > 1 < len(set(named)) else frozenset()


_A_PART = re.compile(
    r"(?:the |your |book )?(?:covers?|interiors?|inside(?: pages)?|inner pages|text (?:pages|block)|book ?block|(?:dust )?jacket)"
    r"(?: files?| set-?up| specifications| requirements| pages)?"
)
"""'Cover' and 'Interior' over what holds for one of them."""


def _of_its_section(one: Statement, sections: frozenset[str]) -> Scope | None:
    found = next((words for words in reversed(one.above) if words in sections), None)
    return Scope("product", found, f"section {found}") if found else None


_SECTIONS = 3


def _inherited(one: Statement, own: frozenset[str], title: str | None) -> Scope | None:
    """`title`: the words over everything, where they name products that sections below tell apart."""
    for words in (one.row, one.label, *reversed(one.above)):
        if EXAMPLE.search(words) and not _is_a_topic(words) and not _DEMANDS_AT_LENGTH.search(one.text):
            return Scope("example", words[:80])
        for product in products_in(words) if words != title else ():
            if product.family not in own or title is not None:
                return Scope("product", product.name, product.family)
    return None


_DEMANDS_AT_LENGTH = re.compile(
    r"^(?=.{60})(?!.*\b(?:then|dann|alors|so|also|hier|here|ici)\b).*\b(?:must|should|muss|mussen|sollten?|doit|doivent)\b"
)
"""A whole sentence under 'Example:' that goes back to what is asked."""


def _by_its_label(one: Statement, own: frozenset[str]) -> Scope | None:
    """'Booklets: …' at the head of a paragraph."""
    label = LABEL.match(one.text)
    told_apart = label is not None and not one.is_heading and _THE_REST.search(label.group()) is None
    for product in products_in(label.group()) if label and told_apart else ():
        if product.family not in own:
            return Scope("product", product.name, product.family)
    return None


def _is_a_topic(words: str) -> bool:
    return len(words) > 60


def scope_at(one: Statement, start: int, end: int, spans: Sequence[tuple[int, int]], given: Around) -> Scope | None:
    """The scope of the demand at one.text[start:end]. `spans` are the numbers and sizes of the statement."""
    if given.inherited is not None:
        return given.inherited
    text = one.text
    if aside := _SUBORDINATE.match(text, 0, start):
        text = f"{'- '.rjust(aside.end())}{text[aside.end() :]}"
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
        return None if found.family == "size" and _THE_REST.search(own) else found
    example = EXAMPLE.search(text, 0, start)
    if example and not _closed_bracket(text, example.start(), start):
        return Scope("example", text[example.start() : example.start() + 80])
    if _THE_REST.search(own):
        return None
    lead_end = min((span[0] for span in spans), default=start)
    lead = PAST_REMARK.sub(" ", text[: min(lead_end, first)])
    if lead and not re.search(r";|\.\s", lead):
        found = said(lead, len(lead), given, numbered=numbered, leading=True)
        return None if found and found.kind == "aside" and ";" in text[lead_end:first] else found
    return None


_A_CLAUSE = 40
"""Characters before a colon that are no label."""
_SUBORDINATE = re.compile(
    r"\W*(?:wahrend|obwohl|obgleich|da|weil|while|although|whereas|bien que|alors que)\b[^;]{3,160}?,\s"
    r"(?=(?:muss|mussen|soll\w*|darf|durfen|bitte|betragt|must|should|please|il|les|vos|nous)\b)"
)
"""'While marks may have 400 %, the artwork should have no more than 320 %': what stands before the comma narrows nothing."""
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
        first = max(stretches[mine[0]][0], text.rfind(";", 0, start) + 1)
        return min(first, start), max(stretches[last][1], end)
    first = max(text.rfind(";", 0, start), text.rfind(" - ", 0, start)) + 1
    colon = text.rfind(": ", 0, start)
    first = colon + 1 if colon > _A_CLAUSE else first
    stop = _GOES_ON_TO_SAY.search(text, end)
    return first, stop.start() if stop else len(text)


_GOES_ON_TO_SAY = re.compile(r";|, however\b|, but\b(?! (?:only|not|just|never)\b)")


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
