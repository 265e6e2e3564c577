"""Numbers, page lists and sides as a designer reads them, the same in every message and in the language that is spoken."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from math import floor, gcd
from typing import Literal, Protocol

from service.language.first_words import begun_small
from service.language.sentences import Sentence
from service.language.spoken import Language, say, say_about, say_many, spoken, to_say
from service.language.typography import decimal_number, space_before_unit

_MM_PER_INCH = 25.4
"""As `service.pdf.facts.geometry` has it, of which words know nothing."""


def number(value: float, digits: int = 1) -> str:
    """1.20 → '1.2', 3.0 → '3'; '1,2' where the language has a decimal comma."""
    return decimal_number(plain_number(value, digits), spoken())


def plain_number(value: float, digits: int = 1) -> str:
    """The same in every language, for what is no running text."""
    return f"{value:.{digits}f}".rstrip("0").rstrip(".") if digits else f"{value:.0f}"


def with_unit(amount: str, unit: str) -> str:
    """'1.5 mm', on one line where the language has a space for that."""
    return f"{amount}{space_before_unit(spoken())}{unit}"


def millimetres(value: float) -> str:
    return with_unit(number(value), "mm")


def percent(value: float, digits: int = 1) -> str:
    return with_unit(number(value, digits), "%")


def points(value: float) -> str:
    return with_unit(number(value, 2), "pt")


def ppi(value: float) -> str:
    return say("{ppi} ppi", ppi=number(value, 0))


def by(width: str, height: str) -> str:
    """'210 × 297': one piece."""
    space = space_before_unit(spoken())
    return f"{width}{space}×{space}{height}"


def just_short(value_mm: float, asked_mm: float) -> str:
    """'2.88 mm' where 3 mm are asked for and less than 0.3 mm is missing; else one digit, as anywhere."""
    return f"{number(value_mm, 2 if 0 <= asked_mm - value_mm < 0.3 else 1)} mm"


def size(width_mm: float, height_mm: float) -> str:
    return with_unit(by(number(width_mm), number(height_mm)), "mm")


def asked_length(value_mm: float) -> str:
    """A length that a sheet asks for; one that was plainly set in inches says so: '3.2 mm (1/8 in)'."""
    if _set_in_inches(value_mm):
        return say("{mm} ({inches} in)", mm=millimetres(value_mm), inches=_inches(value_mm))
    return millimetres(value_mm)


def asked_size(width_mm: float, height_mm: float) -> str:
    """The size of the product: '152.4 × 101.6 mm (6 × 4 in)' where it was set in inches."""
    both = width_mm, height_mm
    if all(_is_sixteenths(one) for one in both) and any(_set_in_inches(one) for one in both):
        inches = by(_inches(width_mm), _inches(height_mm))
        return say("{mm} ({inches} in)", mm=size(*both), inches=inches)
    return size(*both)


def _is_sixteenths(value_mm: float) -> bool:
    return abs(value_mm / _MM_PER_INCH * 16 - round(value_mm / _MM_PER_INCH * 16)) < 1e-3


def _set_in_inches(value_mm: float) -> bool:
    """Sixteenths of an inch that are no round number of millimetres."""
    return value_mm > 0 and _is_sixteenths(value_mm) and abs(value_mm * 2 - round(value_mm * 2)) > 1e-3


def _inches(value_mm: float) -> str:
    sixteenths = round(value_mm / _MM_PER_INCH * 16)
    common = gcd(sixteenths, 16)
    return f"{sixteenths // common}/{16 // common}" if sixteenths < 16 else number(sixteenths / 16, 4)


def ppi_under(value: float, limit: float) -> str:
    """A resolution below its limit, in whole ppi that never read like the limit: 71.6 under 72 is '71 ppi'."""
    whole = round(value)
    return ppi(floor(value) if whole >= limit else whole)


def area(square_mm: float) -> str:
    """4220 → '42 cm²': large areas in square centimetres."""
    return with_unit(*((number(square_mm / 100, 0), "cm²") if square_mm >= 1000 else (number(square_mm, 0), "mm²")))


def stored_size(size_bytes: float, *, exactly: bool = False) -> str:
    """91999 → '92 kB', 200_000_000 → '200 MB' (powers of 1,000, IEC 80000-13).

    `exactly`: never in bytes and with two digits, so that a size just over its limit does not read like the limit.
    """
    if size_bytes < 1000 and not exactly:
        return say("{size} B", size=number(size_bytes, 0))
    if size_bytes < (1e6 if exactly else 999_500):
        return say("{size} kB", size=number(size_bytes / 1e3, 2 if exactly else 0))
    return say("{size} MB", size=number(size_bytes / 1e6, 2 if exactly else 1))


def page_list(numbers: Sequence[int]) -> str:
    """(1, 2, 3, 7) → '1–3 and 7'."""
    runs: list[tuple[int, int]] = []
    for one in sorted(set(numbers)):
        if runs and one == runs[-1][1] + 1:
            runs[-1] = (runs[-1][0], one)
        else:
            runs.append((one, one))
    return listed(str(first) if first == last else f"{first}–{last}" for first, last in runs)


def pages_phrase(numbers: Sequence[int]) -> str:
    """'Page 2' or 'Pages 2–5', to open a sentence."""
    return say_many("Page {pages}", "Pages {pages}", len(set(numbers)), pages=page_list(numbers))


def pages_named(numbers: Sequence[int]) -> str:
    """'page 2' or 'pages 2–5', inside a sentence."""
    return say_many("page {pages}", "pages {pages}", len(set(numbers)), pages=page_list(numbers))


def on_pages(numbers: Sequence[int]) -> str:
    """'on page 2' or 'on pages 2–5', inside a sentence."""
    return say_many("on page {pages}", "on pages {pages}", len(set(numbers)), pages=page_list(numbers))


def starting_on_pages(numbers: Sequence[int]) -> str:
    """'On page 2' or 'On pages 2–5', to open a sentence."""
    return say_many("On page {pages}", "On pages {pages}", len(set(numbers)), pages=page_list(numbers))


def on_which(told: str, page: int, pages: Sequence[int]) -> str:
    """'71 ppi (page 3)': where it is, if several pages are told of."""
    return say("{told} (page {page})", told=told, page=page) if len(set(pages)) > 1 else told


def pages_counted(count: int) -> str:
    """'1 page' or '12 pages'."""
    return say_many("{count} page", "{count} pages", count)


def listed(words: Iterable[str]) -> str:
    """('a', 'b', 'c') → 'a, b and c'."""
    *first, last = list(words) or [""]
    if first and _sounds_like_the_conjunction(last, "and"):
        return say_about("before the same vowel", "{first} and {last}", first=", ".join(first), last=last)
    return say("{first} and {last}", first=", ".join(first), last=last) if first else last


def listed_or(words: Iterable[str]) -> str:
    """('a', 'b', 'c') → 'a, b or c'."""
    *first, last = list(words) or [""]
    if first and _sounds_like_the_conjunction(last, "or"):
        return say_about("before the same vowel", "{first} or {last}", first=", ".join(first), last=last)
    return say("{first} or {last}", first=", ".join(first), last=last) if first else last


_SAME_VOWEL: Mapping[Language, Mapping[Literal["and", "or"], re.Pattern[str]]] = {
    "es": {
        "and": re.compile(r"h?[ií](?![aeo])", re.IGNORECASE),
        "or": re.compile(r"h?[oó]|8|11(?!\d)", re.IGNORECASE),
    }
}
"""How words begin before which the conjunction has another form: 'y' is 'e' before i, 'o' is 'u' before o and before ocho and
once written in figures (RAE, Ortografía, from memory)."""


def _sounds_like_the_conjunction(word: str, conjunction: Literal["and", "or"]) -> bool:
    begins = _SAME_VOWEL.get(spoken(), {}).get(conjunction)
    return begins is not None and begins.match(word.lstrip("«'‘ \u00a0")) is not None


def clauses(words: Iterable[str]) -> str:
    """('it is locked', 'it has layers') → 'it is locked; it has layers'. Whole sentences stand one after the other."""
    first, *others = list(words) or [""]
    for one in others:
        first = f"{first} {one}" if first.endswith(".") else set_apart((first, one))
    return first


def set_apart(words: Iterable[str]) -> str:
    """('2 mm', '5 mm') → '2 mm; 5 mm': values or names side by side, in which a comma may stand."""
    first, *others = list(words) or [""]
    for one in others:
        first = say("{first}; {next}", first=first, next=one)
    return first


def first_few(words: Sequence[str], most: int = 5) -> str:
    """The first of many names, and how many more there are."""
    kept = list(words[:most])
    return listed([*kept, say_many("{count} more", "{count} more", len(words) - most)] if len(words) > most else kept)


class NotKnown(Protocol):
    """What carries the sentence that says why it is not known."""

    @property
    def reason(self) -> Sentence: ...


def reason(unknown: Sentence | NotKnown) -> str:
    """Why something is not known (`Unmeasured`, `Failure`), or what measuring says of damage, in the spoken language."""
    return (unknown if isinstance(unknown, Sentence) else unknown.reason).said()


def inside_a_sentence(said: str) -> str:
    """After a colon or a semicolon: 'The file asks ….' → 'the file asks …'. Names such as 'JavaScript' stay as they are."""
    return begun_small(said).rstrip(".")


def labelled(label: str, said: str) -> str:
    """'Bleed: 3 mm', with the space that French has before a colon."""
    return say("{about}: {source}", about=label, source=said)


def after_a_colon(sentence: str) -> str:
    """A whole sentence that closes another after a colon: small as in `inside_a_sentence`, but in German, where it keeps its
    capital (Amtliches Regelwerk der deutschen Rechtschreibung, § 81, from memory).
    """
    return (sentence[:1].upper() + sentence[1:]).rstrip(".") if spoken() == "de" else inside_a_sentence(sentence)


SIDES = ("top", "right", "bottom", "left")


def side_named(side: str) -> str:
    """'left', as it stands before a measure or after 'at the'."""
    assert side in SIDES, side
    return say_about("side", side)


def sides_named(sides: Iterable[str]) -> str:
    """'left and top'."""
    return listed(side_named(one) for one in sides)


_PROCESS_INKS = {"Cyan": to_say("Cyan"), "Magenta": to_say("Magenta"), "Yellow": to_say("Yellow"), "Black": to_say("Black")}


def ink_named(name: str) -> str:
    """'Gelb' for Yellow; a spot ink has its name from the file alone."""
    return say(_PROCESS_INKS[name]) if name in _PROCESS_INKS else name


def quoted(text: str, most: int = 60) -> str:
    """Words from the file in quotation marks."""
    return say("‘{words}’", words=on_one_line(text, most))


_UNREADABLE = re.compile("\ufffd[\ufffd ]*")
"""Glyphs of a font that does not say which characters they are."""


def on_one_line(text: str, most: int) -> str:
    """Words from the file, safe to show: without control characters, not endless. Letters that nobody can read are left out."""
    plain = " ".join("".join(one if one.isprintable() else " " for one in text).split())
    plain = _UNREADABLE.sub("…", plain)
    return plain if len(plain) <= most else plain[: most - 1] + "…"
