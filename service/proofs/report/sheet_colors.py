"""What a sheet asks of colours and inks, in a few words."""

from __future__ import annotations

from collections.abc import Iterator

from service.language.spoken import say, say_many, to_say
from service.language.wording import first_few, listed, number, percent, quoted
from service.sheets.model import ColorAsked

_COLORS = {"cmyk": to_say("CMYK"), "gray": to_say("grey"), "rgb": to_say("RGB"), "lab": to_say("Lab")}


def color_told(color: ColorAsked) -> list[str]:
    said = []
    if color.allowed is not None:
        said.append(listed(say(_COLORS[one]) for one in color.allowed))
    if color.spots and color.spots.maximum is not None:
        most = color.spots.maximum
        said.append(say_many("at most {count} spot ink", "at most {count} spot inks", most) if most else say("no spot inks"))
    if color.spots and color.spots.allowed is not None:
        said.append(say("spot inks by the names {names}", names=first_few([quoted(one) for one in color.spots.allowed])))
    if color.ink_limit_percent is not None:
        said.append(say("at most {percent} % of ink in one place", percent=number(color.ink_limit_percent, 0)))
    if color.ink_preferred_percent is not None:
        said.append(say("preferably {amount}", amount=f"{number(color.ink_preferred_percent, 0)} %"))
    said += _plain_colors(color)
    if color.icc_profiles == "forbidden":
        said.append(say("no ICC profiles beside that of the printing condition"))
    return said


def _plain_colors(color: ColorAsked) -> Iterator[str]:
    if color.ink_minimum_percent is not None:
        yield say("at least {percent} of ink in a colour", percent=percent(color.ink_minimum_percent, 0))
    if color.tint and color.tint.minimum_percent is not None:
        yield say("tints of at least {percent}", percent=percent(color.tint.minimum_percent, 0))
    if color.tint and color.tint.maximum_percent is not None:
        yield say("tints of at most {percent}, or solid", percent=percent(color.tint.maximum_percent, 0))
    if color.rich_black and color.rich_black.ink_limit_percent is not None:
        yield say("in a black of several inks at most {percent}", percent=percent(color.rich_black.ink_limit_percent, 0))
    recipe = color.rich_black.recipe if color.rich_black else {}
    if recipe:
        inks = listed(f"{ink} {percent(strength * 100, 0)}" for ink, strength in recipe.items())
        yield say("a black of several inks preferably of {inks}", inks=inks)
