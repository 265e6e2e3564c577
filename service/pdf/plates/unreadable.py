"""Why plates are not made of what a page paints: each reason a clause of its own, to be said in any language."""

from __future__ import annotations

from service.language.sentences import sentence
from service.language.spoken import to_say
from service.pdf.reading.lexer import INLINE_IMAGE


class Unreadable(ValueError):
    """Something that the page paints is damaged, or of a kind that is not read here; the text, a clause, says what."""

    def __init__(self, text: str, /, **values: str | int) -> None:
        self.sentence = sentence(text, **values)
        super().__init__(self.sentence.english)


class TooLarge(Unreadable):
    """It asks for more than a check may take: a limit of ours, which says nothing against the file."""


_DAMAGED = {
    b"sh": to_say("a gradient is damaged or of an unknown kind"),
    b"gs": to_say("a graphics state is damaged or of an unknown kind"),
    b"Do": to_say("a picture or form is damaged or of an unknown kind"),
    INLINE_IMAGE: to_say("a picture inside the drawing is damaged or of an unknown kind"),
    **dict.fromkeys((b"Tf", b"Tj", b"TJ", b"'", b'"'), to_say("a font is damaged or of an unknown kind")),
}
_COLOR = to_say("a colour or pattern is damaged or of an unknown kind")


def damaged_at(operator: bytes) -> Unreadable:
    """Where nothing more is known than the operator whose objects could not be read."""
    return Unreadable(_DAMAGED.get(operator, _COLOR))
