"""The kinds of values that a sheet holds, as marshmallow fields that read and write them.

Every message is the end of a sentence that begins with the key: 'must be 1 or more; found 0.' Each field also says its form for
OpenAPI.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from typing import Any, TypeVar

from marshmallow import ValidationError, fields

from service.language.spoken import say
from service.pdf.facts.geometry import Box
from service.sheets.format.lengths import (
    NotAQuantity,
    bytes_text,
    parse_area_mm2,
    parse_bytes,
    parse_length_mm,
    parse_percent,
    parse_ppi,
    parse_type_pt,
    plain_decimal,
    shown,
    whole_where_possible,
)
from service.sheets.format.refusals import EMPTY, MISSING, listed, nearest

T = TypeVar("T")

PLAIN_MESSAGES = {"required": MISSING, "null": EMPTY}

LARGEST_WHOLE_NUMBER = 1_000_000
_NOT_PRINTABLE = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028\u2029\ufeff\ufffe\uffff\ud800-\udfff]")
"""Control characters, lone surrogates and noncharacters: nothing that a printer writes, and trouble in databases and pages."""


class SheetField(fields.Field[T]):
    """A field that reads its value from the sheet's format and writes it back, and looks at nothing beside it."""

    def read(self, value: Any) -> T:
        """Raises `ValidationError`, whose messages may be nested under keys or indexes of the value."""
        raise NotImplementedError

    def write(self, value: Any) -> Any:
        return value

    def _deserialize(self, value: Any, *_: Any, **__: Any) -> T:
        return self.read(value)

    def _serialize(self, value: Any, *_: Any, **__: Any) -> Any:
        return None if value is None else self.write(value)


class Quantity(SheetField[float]):
    """A number with its unit."""

    def __init__(
        self,
        read: Callable[[object], float],
        write: Callable[[Any], str | int | float],
        *,
        example: str | int,
        about: str,
        zero: bool = False,
        **more: Any,
    ) -> None:
        form = {"description": about, "anyOf": [{"type": "string"}, {"type": "number", "minimum": 0}], "example": example}
        super().__init__(metadata=form, **more)
        self.reads, self._write, self.zero = read, write, zero

    def read(self, value: Any) -> float:
        try:
            amount = self.reads(value)
        except NotAQuantity as error:
            raise ValidationError(f"{error}.") from None
        if amount == 0 and not self.zero:
            raise ValidationError(say("must be more than 0; found {found}.", found=shown(value)))
        return amount

    def write(self, value: float) -> str | int | float:
        return self._write(value)


def length(about: str, **more: Any) -> Quantity:
    return Quantity(parse_length_mm, length_text, example="3 mm", about=about, **more)


def type_size(about: str, **more: Any) -> Quantity:
    return Quantity(parse_type_pt, lambda value: f"{plain_decimal(value)} pt", example="5 pt", about=about, **more)


def percent(about: str, **more: Any) -> Quantity:
    return Quantity(parse_percent, lambda value: f"{plain_decimal(value)} %", example="300 %", about=about, **more)


def ppi(about: str, **more: Any) -> Quantity:
    return Quantity(parse_ppi, whole_where_possible, example=300, about=about, **more)


def area(about: str, **more: Any) -> Quantity:
    return Quantity(parse_area_mm2, lambda value: f"{plain_decimal(value)} mm²", example="15 mm²", about=about, **more)


def file_size(about: str, **more: Any) -> Quantity:
    return Quantity(parse_bytes, bytes_text, example="100 MB", about=about, **more)


def length_text(millimetres: float) -> str:
    return f"{plain_decimal(millimetres)} mm"


class Choice(SheetField[str]):
    """One word of a list. `also` maps other values that mean one of them."""

    def __init__(self, words: Sequence[str], about: str, also: Mapping[object, str] | None = None, **more: Any) -> None:
        super().__init__(metadata={"description": about, "type": "string", "enum": list(words)}, **more)
        self.words, self.also = tuple(words), dict(also or {})

    def read(self, value: Any) -> str:
        if isinstance(value, str) and value in self.words:
            return value
        for other, word in self.also.items():
            if value == other and isinstance(value, bool) == isinstance(other, bool):
                return word
        near = nearest(value, self.words) if isinstance(value, str) else None
        found, words = shown(value), listed(self.words)
        if near:
            meant = say("must be {words}; found {found}. Did you mean '{near}'?", words=words, found=found, near=near)
            raise ValidationError(meant)
        raise ValidationError(say("must be {words}; found {found}.", words=words, found=found))


class Words(SheetField[str]):
    """Text for people, or a name of a given form."""

    def __init__(self, about: str, *, longest: int = 200, form: str | None = None, form_said: str = "", **more: Any) -> None:
        described: dict[str, object] = {"description": about, "type": "string", "maxLength": longest, "minLength": 1}
        super().__init__(metadata=described | ({"pattern": f"^{form}$"} if form else {}), **more)
        self.longest, self.form, self._form_said = longest, form, form_said

    def read(self, value: Any) -> str:
        if not isinstance(value, str):
            if isinstance(value, bool | int | float):
                raise ValidationError(say("must be text; found {found}. Put it in quotes.", found=shown(value)))
            raise ValidationError(say("must be text; found {found}.", found=shown(value)))
        text = value.replace("\r\n", "\n")
        if not text.strip():
            raise ValidationError(say(EMPTY))
        if len(text) > self.longest:
            raise ValidationError(say("must be at most {most} characters; found {found}.", most=self.longest, found=len(text)))
        if _NOT_PRINTABLE.search(text):
            raise ValidationError(say("holds a control character: leave it out."))
        if self.form and not re.fullmatch(self.form, text):
            raise ValidationError(say("must be {words}; found {found}.", words=say(self._form_said), found=shown(text)))
        return text


class Whole(SheetField[int]):
    """A whole number."""

    def __init__(self, about: str, *, least: int = 1, **more: Any) -> None:
        super().__init__(metadata={"description": about, "type": "integer", "minimum": least}, **more)
        self.least = least

    def read(self, value: Any) -> int:
        if isinstance(value, bool) or not isinstance(value, int | float) or not (isinstance(value, int) or value.is_integer()):
            raise ValidationError(say("must be a whole number; found {found}.", found=shown(value)))
        if value < self.least:
            raise ValidationError(say("must be {least} or more; found {found}.", least=self.least, found=shown(value)))
        if value > LARGEST_WHOLE_NUMBER:
            raise ValidationError(say("must be at most {most}; found {found}.", most=LARGEST_WHOLE_NUMBER, found=shown(value)))
        return int(value)


class Flag(SheetField[bool]):
    """true or false; `yes` and `no` as words mean the same."""

    def __init__(self, about: str, **more: Any) -> None:
        super().__init__(metadata={"description": about, "type": "boolean"}, **more)

    def read(self, value: Any) -> bool:
        if isinstance(value, bool):
            return value
        if value in ("yes", "no"):
            return bool(value == "yes")
        raise ValidationError(say("must be true or false; found {found}.", found=shown(value)))


class Many(fields.List[Any]):
    """A list of one or more values, each of them once."""

    def __init__(self, inner: fields.Field[Any], about: str, *, separate: bool = True, **more: Any) -> None:
        inner.error_messages = {**inner.error_messages, **PLAIN_MESSAGES}
        super().__init__(inner, metadata={"description": about, "minItems": 1}, **more)
        self.separate = separate

    def _deserialize(self, value: Any, attr: str | None, data: Mapping[str, Any] | None, **more: Any) -> list[Any]:
        if not isinstance(value, list | tuple):
            raise ValidationError(say("must be a list; found {found}.", found=shown(value)))
        if not value:
            raise ValidationError(say(EMPTY))
        read = super()._deserialize(value, attr, data, **more)
        doubles = {index: [say("stands in the list twice.")] for index, one in enumerate(read) if one in read[:index]}
        if doubles and self.separate:
            raise ValidationError(doubles)
        return read


class BoxOnPage(SheetField[Box]):
    """[left, top, right, bottom] from the top-left corner of the trimmed page."""

    def __init__(self, about: str, **more: Any) -> None:
        side = {"anyOf": [{"type": "string"}, {"type": "number", "minimum": 0}]}
        super().__init__(metadata={"description": about, "type": "array", "minItems": 4, "maxItems": 4, "items": side}, **more)

    def read(self, value: Any) -> Box:
        if not isinstance(value, list | tuple) or len(value) != 4:
            raise ValidationError(
                say("must be four lengths from the top-left corner of the trimmed page: [left, top, right, bottom].")
            )
        sides: list[float] = []
        mistakes: dict[int, list[str]] = {}
        for index, one in enumerate(value):
            try:
                sides.append(parse_length_mm(one))
            except NotAQuantity as error:
                mistakes[index] = [f"{error}."]
        if mistakes:
            raise ValidationError(mistakes)
        box = Box(*sides)
        if box.x0 >= box.x1 or box.y0 >= box.y1:
            raise ValidationError(say("must go from the top-left to the bottom-right corner: [left, top, right, bottom]."))
        return box

    def write(self, value: Box) -> list[str]:
        return [length_text(side) for side in value]


class Levels(SheetField[dict[str, str]]):
    """Rule id → must, should or off. `false` means off: that is what YAML 1.1 makes of the word."""

    level = Choice(("must", "should", "off"), "How strictly the rule is taken.", also={False: "off"})

    def __init__(self, about: str, **more: Any) -> None:
        level = {"type": "string", "enum": ["must", "should", "off"]}
        super().__init__(metadata={"description": about, "type": "object", "additionalProperties": level}, **more)

    def read(self, value: Any) -> dict[str, str]:
        if not isinstance(value, Mapping):
            raise ValidationError(
                say("must be a block of rules and levels, such as 'image.compression: off'; found {found}.", found=shown(value))
            )
        levels: dict[str, str] = {}
        mistakes: dict[str, list[str]] = {}
        for rule, level in value.items():
            try:
                levels[rule] = self.level.read(level)
            except ValidationError as error:
                mistakes[rule] = [str(one) for one in error.messages]
        if mistakes:
            raise ValidationError(mistakes)
        return levels

    def write(self, value: Mapping[str, str]) -> dict[str, str] | None:
        return dict(value) or None
