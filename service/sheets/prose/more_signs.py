"""Signs of doubt in how a value hangs in its sentence: what it is set against, one of several ways, one end of a range."""

from __future__ import annotations

import re
from collections.abc import Callable

from service.sheets.prose.seen import Seen

_SET_AGAINST = re.compile(r"\b(?:rather than|instead of|anstatt|statt|anstelle|plutot que|au lieu de)\b[^.;:]{0,60}$")
_NOT_ENOUGH = re.compile(
    r"\b(?:not (?:be )?(?:enough|sufficient)|insufficient|genug(?:t|en) nicht|reich(?:t|en) nicht|nicht (?:aus|ausreichend)"
    r"|ne suffi\w+ pas)\b"
)
_OR_EMBEDDED = re.compile(r"\b(?:or|oder|ou) (?:\w+ ){0,3}(?:embed\w*|eingebettet|einzubetten|einbetten|incorpor\w*|integr\w*)"
    r"|\b(?:embed\w*|eingebettet|incorpor\w*|integre\w*)(?: \w+){0,2} (?:or|oder|ou)\b")
_UP_TO_IT = re.compile(r"[0-9](?: ?(?:mm|cm|dpi|ppi|pt|\"|in))?(?: ?\([^()]*\))? ?(?:-|to|bis|a) ?$")
_FINE = re.compile(
    r"\b(?:with|mit|avec|having|containing) (?:very )?(?:fine|small|thin|feinen|kleinen|dunnen|fins?|petits?|fines?)\b"
)
_IF_THERE_ARE = re.compile(r"^\W*(?:if|when|where|falls|wenn|sofern|si|lorsque)\b")


def _set_against(one: Seen) -> bool:
    """'… in black rather than a CMYK build'."""
    return _SET_AGAINST.search(one.text[: one.start]) is not None


def _not_enough(one: Seen) -> bool:
    """'Embedding is not enough'."""
    return _NOT_ENOUGH.search(one.part) is not None


def _or_embedded(one: Seen) -> bool:
    """'Outlined, flattened or embedded'."""
    return _OR_EMBEDDED.search(one.text) is not None


def _upper_end(one: Seen) -> bool:
    """'1/8 to 1/4 in' asks for 1/8."""
    return _UP_TO_IT.search(one.text[: one.start]) is not None


def _of_fine_pictures(one: Seen) -> bool:
    """'Pictures with small type: 600 dpi.'"""
    return _FINE.search(one.part) is not None


def _only_if_there_are(one: Seen) -> bool:
    """'If you use photos, CMYK, please.'"""
    return _IF_THERE_ARE.match(one.part) is not None


MORE_SIGNS: tuple[tuple[str, str, Callable[[Seen], bool]], ...] = (
    ("set against", r"", _set_against),
    ("not enough", r"fonts\.", _not_enough),
    ("or embedded", r"fonts\.outlines", _or_embedded),
    ("upper end", r".*minimum", _upper_end),
    ("only if there are", r"color\.allowed", _only_if_there_are),
    ("fine pictures", r"images\.contone", _of_fine_pictures),
)
