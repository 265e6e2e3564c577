"""What the words of a sheet that are chosen from a list are called in a form."""

from __future__ import annotations

from collections.abc import Mapping

from service.language.spoken import say, to_say

_WORDS: Mapping[tuple[str, str], str] = {
    ("level", "must"): to_say("a must"),
    ("level", "should"): to_say("a wish, no must"),
    ("level", "off"): to_say("not checked"),
    ("", "required"): to_say("required"),
    ("", "allowed"): to_say("allowed"),
    ("", "forbidden"): to_say("not allowed"),
    ("trim.orientation", "any"): to_say("either"),
    ("trim.orientation", "portrait"): to_say("upright"),
    ("trim.orientation", "landscape"): to_say("sideways"),
    ("pages.arrangement", "any"): to_say("either"),
    ("pages.arrangement", "single-pages"): to_say("each page on its own"),
    ("pages.arrangement", "reader-spreads"): to_say("as reader spreads"),
    ("color.allowed", "cmyk"): to_say("CMYK"),
    ("color.allowed", "gray"): to_say("grey"),
    ("color.allowed", "rgb"): to_say("RGB"),
    ("color.allowed", "lab"): to_say("Lab"),
    ("fonts.formats", "type-1"): to_say("Type 1"),
    ("fonts.formats", "truetype"): to_say("TrueType"),
    ("fonts.formats", "type-3"): to_say("Type 3"),
    ("keep_clear.corner", "top-left"): to_say("top left"),
    ("keep_clear.corner", "top-right"): to_say("top right"),
    ("keep_clear.corner", "bottom-left"): to_say("bottom left"),
    ("keep_clear.corner", "bottom-right"): to_say("bottom right"),
    ("keep_clear.free_of", "ink"): to_say("all ink"),
    ("keep_clear.free_of", "text"): to_say("text; pictures and colour may stand there"),
    ("folds.axis", "vertical"): to_say("from top to bottom"),
    ("folds.axis", "horizontal"): to_say("from side to side"),
    ("folding.type", "half"): to_say("once in the middle"),
    ("folding.type", "zigzag"): to_say("to and fro, as a zigzag"),
    ("folding.type", "roll"): to_say("one panel inside the next"),
    ("folding.type", "gate"): to_say("two panels inwards, as a gate"),
    ("pages.boxes", "trim"): "TrimBox",
    ("pages.boxes", "bleed"): "BleedBox",
    ("pages.boxes", "crop"): "CropBox",
    ("pages.boxes", "art"): "ArtBox",
    ("pages.boxes", "media"): "MediaBox",
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
    ("finishes.artwork", "vector"): to_say("none, outlines alone"),
    ("finishes.artwork", "any"): to_say("allowed"),
    ("purpose", "print"): to_say("printing"),
    ("purpose", "client-preview"): to_say("showing it to a client"),
}

_LEVELS = ("level", "standards_level", "rgb_level", "overprint_level", "levels")


def choice_said(place: str, word: str) -> str:
    """A word that nobody has written down stands as it is: 'PDF/X-4', '1.6'."""
    last = place.rpartition(".")[2]
    text = _WORDS.get(("level" if last in _LEVELS else place, word)) or _WORDS.get(("", word))
    if text and text.endswith("Box"):
        return text  # as a PDF has it, in every language
    return say(text) if text else word
