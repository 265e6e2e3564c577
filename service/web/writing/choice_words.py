"""What the words of a sheet that are chosen from a list are called in a form."""

from __future__ import annotations

from collections.abc import Mapping

from service.language.spoken import say, to_say
from service.sheets.prose.ours.words import CHOICES

_FINISHES: Mapping[tuple[str, str], str] = {
    ("finishes.kind", "cut"): to_say("cutting line"),
    ("finishes.kind", "kiss-cut"): to_say("cutting line of several pieces"),
    ("finishes.kind", "crease"): to_say("crease"),
    ("finishes.kind", "perforation"): to_say("perforation"),
    ("finishes.kind", "hole"): to_say("holes"),
    ("finishes.kind", "numbering"): to_say("numbering"),
    ("finishes.kind", "white"): to_say("white printed below"),
    ("finishes.kind", "foil"): to_say("foil"),
    ("finishes.kind", "varnish"): to_say("varnish"),
    ("finishes.kind", "embossing"): to_say("embossing"),
}
"""Called in a list by what they are; a sentence says 'a cut'."""

_LEVELS = ("level", "standards_level", "rgb_level", "overprint_level", "levels")


def choice_said(place: str, word: str) -> str:
    """A word that nobody has written down stands as it is: 'PDF/X-4', '1.6'."""
    last = place.rpartition(".")[2]
    key = ("level" if last in _LEVELS else place, word)
    text = _FINISHES.get(key) or CHOICES.get(key) or CHOICES.get(("", word))
    if text and text.endswith("Box"):
        return text  # as a PDF has it, in every language
    return say(text) if text else word
