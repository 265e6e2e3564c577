"""What a caller wishes is the same at the command line and over HTTP: names, defaults, choices and ranges of one record."""

from __future__ import annotations

from dataclasses import asdict, fields
from typing import Any

import marshmallow as ma
import pytest

from service.api.proofs.dummies import DummyQuery
from service.api.proofs.pictures import PictureQuery
from service.api.proofs.plate_shapes import PlatesQuery
from service.api.proofs.previews import PreviewQuery
from service.api.proofs.single_pages import SinglePagesQuery
from service.cli.commands import parser_for
from service.proofs.dummy.wishes import DummyWishes
from service.proofs.picture.wishes import PictureWishes, shown_named
from service.proofs.plates.wishes import PlatesWishes
from service.proofs.preview.wishes import PreviewWishes
from service.proofs.single_pages.wishes import SinglePagesWishes
from service.proofs.wishes import NotUnderstood, WishesRefused, understood

TWINS: dict[str, tuple[type[Any], type[ma.Schema]]] = {
    "dummy": (DummyWishes, DummyQuery),
    "plates": (PlatesWishes, PlatesQuery),
    "preview": (PreviewWishes, PreviewQuery),
    "single-pages": (SinglePagesWishes, SinglePagesQuery),
}


def written(command: str, *more: str) -> dict[str, Any]:
    """What the command line makes of the least that has to be written, and of `more`."""
    line = [command, "file.pdf", "-o", "out", *more]
    return vars(parser_for(line).parse_args(line))


@pytest.mark.parametrize("command", TWINS)
def test_who_wishes_nothing_gets_the_same_from_both(command: str) -> None:
    wishes, query = TWINS[command]
    usual = asdict(wishes())
    assert {field: written(command)[field] for field in usual} == usual
    assert {**usual, **query().load({})} == usual
    assert {one.name for one in fields(wishes)} <= query().fields.keys()


def test_a_picture_shows_the_same_from_both() -> None:
    usual = PictureWishes()
    line = written("picture", "--spec", "business-card-85x55")
    query = PictureQuery().load({})
    assert line["ppi"] == query["ppi"] == usual.ppi
    assert shown_named(line["show"]) == shown_named(query["show"]) == usual.shown


@pytest.mark.parametrize(
    ("command", "field", "refused"),
    [
        ("preview", "ppi", 301),
        ("preview", "quality", 19),
        ("plates", "ppi", 9),
        ("dummy", "caliper_mm", 1.01),
        ("dummy", "flip", "x"),
    ],
)
def test_what_the_one_refuses_the_other_refuses_too(command: str, field: str, refused: object) -> None:
    with pytest.raises(SystemExit):
        written(command, f"--{field.replace('_', '-')}", str(refused))
    with pytest.raises(ma.ValidationError):
        TWINS[command][1]().load({field: refused})


def test_every_wish_that_cannot_be_is_told() -> None:
    def refuses(sentence: str) -> None:
        raise NotUnderstood(sentence)

    with pytest.raises(WishesRefused) as refused:
        understood(pages=lambda: refuses("No such page."), ppi=lambda: 72, watermark=lambda: refuses("Too long."))
    assert refused.value.mistakes == [("pages", "No such page."), ("watermark", "Too long.")]
    assert understood(ppi=lambda: 72) == {"ppi": 72}
