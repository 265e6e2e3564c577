"""Cut a content stream into operators and their operands, on bytes and in one pass (ISO 32000-2:2020, 7.2 and 7.8.2).

* An operator whose operands are all plain numbers comes with them as raw bytes: whoever needs the numbers parses them.
* Any other operator comes with a list: `float`, `Name`, `bytes` (a string), `list`, `dict`, `bool` or `None`.
* After `m` the segments that follow directly come in one piece, as the operator `SEGMENTS` with raw bytes that still hold their
  letters: outlines of thousands of points are the bulk of most heavy pages.
* `BI … ID … EI` comes as the operator `INLINE_IMAGE` with a dictionary and the undecoded data (8.9.7).
* What cannot be read as a token is skipped, as every reader does; nothing here raises on damaged input.

It knows no operator's meaning beyond that.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

Operand = object
SEGMENTS = b"(segments)"
INLINE_IMAGE = b"(inline image)"
RUN = b"(run)"
MOST_OPERANDS = 100_000
"""Far beyond any operator; character maps list thousands of entries before theirs."""
DEEPEST_NESTING = 32

_SPACE = rb"[\x00\t\n\x0c\r ]"
_NUMBER = rb"[-+.\d]++"
_NUMBERS = rb"(?>(?:" + _NUMBER + _SPACE + rb"++)*)"
"""A group is repeated inside an atomic group: as a possessive repeat of itself it matches too much before Python 3.11.5."""
_TOKEN = re.compile(
    _SPACE + rb"*+(?>(?:%[^\r\n]*+" + _SPACE + rb"*+)*)(?:"  # blanks without a comment at once: there may be megabytes
    rb"(" + _NUMBERS + rb")([A-Za-z'\"][A-Za-z\d*'\"]*+)"  # 1 numbers, 2 operator
    rb"|(" + _NUMBER + rb")"  # 3 a number before something else
    rb"|/([^\x00\t\n\x0c\r ()<>\[\]{}/%]*+)"  # 4 name
    rb"|\(([^()\\\r]*+)\)"  # 5 string without escapes or nesting
    rb"|<([\dA-Fa-f\x00\t\n\x0c\r ]*+)>"  # 6 hex string
    rb"|(\(|<<|>>|\[|\]|.)"  # 7 everything else
    rb")",
    re.DOTALL,
)
_SEGMENT = rb"(?>(?:" + _NUMBER + _SPACE + rb"++){2,6})[lcvy]" + _SPACE + rb"++|h" + _SPACE + rb"++"
_SEGMENTS = re.compile(_SPACE + rb"*+((?>(?:" + _SEGMENT + rb")+))")
_PASSED_OVER = rb"m|l|c|v|y|h|re|w|J|j|M|i|n|W\*?|BT|ET|T[dDmczLsw]|T\*"
PATHS_AND_PLACES = re.compile(_SPACE + rb"*+(?>(?:" + _NUMBERS + rb"(?:" + _PASSED_OVER + rb")" + _SPACE + rb"++)+)")
"""Operators that neither paint nor set a colour: for `skip`."""
PATHS_AND_COLORS = re.compile(
    _SPACE + rb"*+(?>(?:" + _NUMBERS + rb"(?:" + _PASSED_OVER + rb"|[fBb]\*?|[FSskKgG]|rg|RG)" + _SPACE + rb"++)+)"
)
"""The same with those that fill and stroke paths, and those that set device colours."""
DEVICE_COLORS = re.compile(
    rb"(\A|(?<=[A-Za-z*]))(" + _SPACE + rb"*+)(" + _NUMBERS + rb")([kKgG]|rg|RG)(?=" + _SPACE + rb")"
)
"""In such a run: 2 the blanks before each colour, 3 its operands, which may be missing, 4 its operator. It starts behind an
operator only, so that the numbers of paths are looked at once."""
_STRING_STOP = re.compile(rb"[()\\\r]")
_NAME_ESCAPE = re.compile(rb"#([\dA-Fa-f]{2})")
_ESCAPES = {b"n": b"\n", b"r": b"\r", b"t": b"\t", b"b": b"\b", b"f": b"\f"}
_OCTAL = re.compile(rb"[0-7]{1,3}")
_UNNESTED = re.compile(rb"((?>(?:[^()\\\r]++|\\[^\r])*))\)", re.DOTALL)
"""The rest of a string without a parenthesis that is not escaped, and without a carriage return."""
_USUAL = re.compile(rb"((?>(?:[^()\\\r]++|\\[0-3][0-7]{2}|\\[nrtbf\\])*))\)", re.DOTALL)
"""The same with those escapes alone that Python has as well."""
_ESCAPE = re.compile(rb"\\([0-7]{1,3}|.)", re.DOTALL)
_MEANINGS = {
    **_ESCAPES,
    b"\n": b"",
    **{b"%0*o" % (width, code): bytes([code & 0xFF]) for code in range(512) for width in (1, 2, 3) if code < 8**width},
}
"""Of what follows a backslash; of anything else, itself."""
_KEYWORDS: dict[bytes, Operand] = {b"true": True, b"false": False, b"null": None}
_INLINE_END = re.compile(rb"[\x00\t\n\x0c\r ]EI(?=[\x00\t\n\x0c\r /(<\[%]|$)")
_FOLLOWS_INLINE = re.compile(rb"[\x00\t\n\x0c\r -~]{0,12}")


class Name(bytes):
    """A PDF name without its slash, escapes resolved."""


def operations(data: bytes) -> Iterator[tuple[bytes, bytes | list[Operand]]]:
    """Every operator of the stream with its operands (see the module's docstring)."""
    return ((operator, operands) for operator, operands, _, _ in located_operations(data))


def located_operations(
    data: bytes, skip: Callable[[bytes, int], int | None] | None = None
) -> Iterator[tuple[bytes, bytes | list[Operand], int, int]]:
    """The same with the places before the operands and behind the operator.

    `skip` tells, before each operation, up to where operators need no look of their own: they come in one piece, as the operator
    `RUN` with raw bytes that still hold their letters.
    """
    position = start = 0
    pending: list[Operand] = []
    match = _TOKEN.match
    while True:
        if not pending:
            start = position
            if skip is not None and (passed := skip(data, position)):
                position = passed
                yield RUN, data[start:position], start, position
                start = position
        found = match(data, position)
        if not found:
            return
        position = found.end()
        kind = found.lastindex
        if kind == 2:
            raw, operator = found.group(1, 2)
            if operator in _KEYWORDS:
                pending += numbers(raw)
                pending.append(_KEYWORDS[operator])
            elif operator == b"BI":
                image, position = _inline_image(data, position)
                yield INLINE_IMAGE, image, start, position
                pending = []
            elif pending:
                yield operator, pending + numbers(raw), start, position
                pending = []
            else:
                yield operator, raw, start, position
                if operator == b"m" and (run := _SEGMENTS.match(data, position)):
                    position = run.end()
                    yield SEGMENTS, run[1], run.start(), position
        else:
            operand, position = _operand(data, found, 0)
            if operand is not _NOTHING and len(pending) < MOST_OPERANDS:
                pending.append(operand)


def numbers(raw: bytes) -> list[float]:
    """The numbers of a run of operands; one that is malformed is read as far as it goes, as readers do."""
    try:
        return [float(one) for one in raw.split()]
    except ValueError:
        return [_number(one) for one in re.split(_SPACE + rb"+", raw.strip(b"\x00\t\n\x0c\r ")) if one]


def _number(raw: bytes) -> float:
    found = re.match(rb"[-+]*(\d*\.?\d*)", raw)
    digits = found[1] if found else b""
    try:
        value = float(digits)
    except ValueError:
        return 0.0
    return -value if raw.startswith(b"-") else value


class _Nothing:
    """Marks a token that is no operand: a stray delimiter."""


_NOTHING = _Nothing()


def _operand(data: bytes, found: re.Match[bytes], depth: int) -> tuple[Operand, int]:
    """The operand that starts with this token, and where it ends."""
    position = found.end()
    kind = found.lastindex
    if kind == 3:
        return numbers(found[3])[0], position
    if kind == 4:
        return _name(found[4]), position
    if kind == 5:
        return found[5], position
    if kind == 6:
        return _hex(found[6]), position
    if kind == 7:
        if found[7] == b"(":
            return _string(data, position)
        if found[7] in (b"[", b"<<"):
            closing = b"]" if found[7] == b"[" else b">>"
            items, position = _items(data, position, closing, depth + 1)
            return (items if closing == b"]" else _dictionary(items)), position
    return _NOTHING, position


def _items(data: bytes, position: int, closing: bytes, depth: int) -> tuple[list[Operand], int]:
    """What stands between brackets. An operator inside is damage: `true`, `false`, `null` apart, it is left out."""
    items: list[Operand] = []
    while depth < DEEPEST_NESTING and (found := _TOKEN.match(data, position)):
        position = found.end()
        if found.lastindex == 2:
            items += numbers(found[1])
            if found[2] in _KEYWORDS:
                items.append(_KEYWORDS[found[2]])
        elif found.lastindex == 7 and found[7] == closing:
            break
        else:
            operand, position = _operand(data, found, depth)
            if operand is not _NOTHING:
                items.append(operand)
    return items, position


def _dictionary(items: list[Operand]) -> dict[bytes, Operand]:
    pairs = zip(items[::2], items[1::2], strict=False)
    return {bytes(key): value for key, value in pairs if isinstance(key, Name)}


def _name(raw: bytes) -> Name:
    if b"#" in raw:
        raw = _NAME_ESCAPE.sub(lambda found: bytes.fromhex(found[1].decode()), raw)
    return Name(raw)


def _hex(raw: bytes) -> bytes:
    digits = raw.translate(None, b"\x00\t\n\x0c\r ").decode()
    return bytes.fromhex(digits + "0" * (len(digits) % 2))


def _string(data: bytes, position: int) -> tuple[bytes, int]:
    """A literal string with nesting and escapes, from behind its opening parenthesis (7.3.4.2)."""
    if usual := _USUAL.match(data, position):
        return usual[1].decode("unicode_escape").encode("latin-1"), usual.end()
    if plain := _UNNESTED.match(data, position):
        return _ESCAPE.sub(_unescaped, plain[1]), plain.end()
    parts: list[bytes] = []
    depth = 1
    while found := _STRING_STOP.search(data, position):
        parts.append(data[position : found.start()])
        position = found.end()
        character = found[0]
        if character == b"(":
            depth += 1
        elif character == b")":
            depth -= 1
            if depth == 0:
                return b"".join(parts), position
        elif character == b"\r":
            position += data[position : position + 1] == b"\n"
            parts.append(b"\n")
            continue
        else:
            escaped, position = _escape(data, position)
            parts.append(escaped)
            continue
        parts.append(character)
    parts.append(data[position:])
    return b"".join(parts), len(data)


def _unescaped(found: re.Match[bytes]) -> bytes:
    return _MEANINGS.get(found[1], found[1])


def _escape(data: bytes, position: int) -> tuple[bytes, int]:
    character = data[position : position + 1]
    if character in _ESCAPES:
        return _ESCAPES[character], position + 1
    if octal := _OCTAL.match(data, position):
        return _MEANINGS[octal[0]], octal.end()
    if character == b"\r":
        return b"", position + (2 if data[position + 1 : position + 2] == b"\n" else 1)
    return (b"" if character == b"\n" else character), position + 1


def _inline_image(data: bytes, position: int) -> tuple[list[Operand], int]:
    """[dictionary, undecoded data] and where the stream goes on behind EI."""
    items: list[Operand] = []
    while found := _TOKEN.match(data, position):
        position = found.end()
        if found.lastindex == 2:
            items += numbers(found[1])
            if found[2] in _KEYWORDS:
                items.append(_KEYWORDS[found[2]])
            elif found[2] == b"ID":
                break
        else:
            operand, position = _operand(data, found, 0)
            if operand is not _NOTHING:
                items.append(operand)
    image = _dictionary(items)
    start = position + 1
    for end in _INLINE_END.finditer(data, max(start - 1, start - 1 + _bare_length(image))):
        follows = _FOLLOWS_INLINE.match(data, end.end())
        if follows and (follows.end() - follows.start() == 12 or follows.end() == len(data)):
            return [image, data[start : end.start()]], end.end()
    return [image, data[start:]], len(data)


_BARE_COMPONENTS = {b"DeviceGray": 1, b"G": 1, b"DeviceRGB": 3, b"RGB": 3, b"DeviceCMYK": 4, b"CMYK": 4}


def _bare_length(image: dict[bytes, Operand]) -> int:
    """Bytes of an inline image that no filter has changed, so that 'EI' among its pixels ends nothing; 0 where unknown."""
    if image.get(b"F", image.get(b"Filter")) not in (None, []):
        return 0
    width, height = image.get(b"W", image.get(b"Width")), image.get(b"H", image.get(b"Height"))
    bits = image.get(b"BPC", image.get(b"BitsPerComponent", 1.0))
    space = image.get(b"CS", image.get(b"ColorSpace"))
    components = _BARE_COMPONENTS.get(space, 0) if isinstance(space, bytes) else 1
    if not (isinstance(width, float) and isinstance(height, float) and isinstance(bits, float)):
        return 0
    return (int(width) * int(bits) * components + 7) // 8 * int(height)
