"""What all blocks of a spec sheet share: a key that is not known is refused with the nearest one that is; nothing is ignored."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any, ClassVar

from marshmallow import RAISE, Schema, ValidationError, fields, post_dump, post_load, validates_schema

from service.language.spoken import say
from service.sheets.format.fields import PLAIN_MESSAGES, Choice, Words
from service.sheets.format.refusals import NO_BLOCK, UNKNOWN_KEY, Path, listed, nearest, nest

NEEDS = ("required", "allowed", "forbidden")
PERMISSIONS = ("allowed", "forbidden")
_WORDS_OF_A_BLOCK = {"level", "note"}


class BlockSchema(Schema):
    """What all blocks share."""

    makes: ClassVar[type[Any]]
    must_ask: ClassVar[bool] = True
    """Whether a block that asks for nothing is a mistake."""
    homes_of_keys: ClassVar[Callable[[], Mapping[str, str]]]
    """Where a key belongs that stands in the wrong block; known where the whole sheet is put together (`blocks`)."""
    error_messages = {"type": NO_BLOCK, "unknown": UNKNOWN_KEY}  # noqa: RUF012  (as in the library)

    class Meta:
        unknown = RAISE

    def on_bind_field(self, field_name: str, field_obj: fields.Field[Any]) -> None:  # noqa: ARG002  (the library's hook)
        field_obj.error_messages = {**field_obj.error_messages, **PLAIN_MESSAGES}

    def known_keys(self) -> list[str]:
        return [field.data_key or name for name, field in self.load_fields.items()]

    def contradictions(self, data: Mapping[str, Any]) -> Iterable[tuple[Path, str]]:
        """What cannot stand together. `data` has only the values that were read without a mistake."""
        del data
        return ()

    @validates_schema(pass_original=True, skip_on_field_errors=False)
    def refuse(self, data: Mapping[str, Any], original: object, **_: object) -> None:
        if not isinstance(original, Mapping):
            return
        mistakes: list[tuple[Path, str]] = list(self.contradictions(data))
        known = self.known_keys()
        for key in original:
            if key not in known:
                one_of_many = next((one for one in known if str(key) in (f"{one}s", f"{one}es")), None)
                near = one_of_many or BlockSchema.homes_of_keys().get(str(key)) or nearest(str(key), known)
                mistakes.append(((key,), _not_known(near, known)))
        needs_one = self.must_ask and not any(field.required for field in self.load_fields.values())
        if needs_one and not set(original) - _WORDS_OF_A_BLOCK:
            asks = listed([key for key in known if key not in _WORDS_OF_A_BLOCK])
            mistakes.append(((), say("asks for nothing: give it {keys}, or leave it out.", keys=asks)))
        if mistakes:
            raise ValidationError(nest(mistakes))

    @post_load
    def make(self, data: dict[str, Any], **_: object) -> Any:
        return self.makes(**{key: tuple(value) if isinstance(value, list) else value for key, value in data.items()})

    @post_dump
    def without_the_unset(self, document: dict[str, Any], **_: object) -> dict[str, Any]:
        return {key: value for key, value in document.items() if value is not None and value not in ([], {})}


def _not_known(near: str | None, known: list[str]) -> str:
    if near:
        return say("is not a key that is known here; did you mean '{near}'?", near=near)
    return say("is not a key that is known here; known here: {keys}.", keys=", ".join(known))


class AskingSchema(BlockSchema):
    """A block that may carry a level and the printer's own words."""

    level = Choice(("must", "should"), "Level of the whole block; without it each rule's own.")
    note = Words("The printer's own words; they come back with every finding of this block.", longest=2000)


def in_order(data: Mapping[str, Any], low: str, high: str, at: str, says: str) -> Iterator[tuple[Path, str]]:
    """A mistake at the key `at` where both values are there and the low one is higher."""
    if data.get(low) is not None and data.get(high) is not None and data[low] > data[high]:
        yield (at,), says
