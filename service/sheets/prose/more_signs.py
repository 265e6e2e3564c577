"""Signs of doubt in how a value hangs in its sentence: what it is set against, one of several ways, one end of a range."""

from __future__ import annotations

import re
from collections.abc import Callable

from service.sheets.format.lengths import parse_length_mm, parse_percent
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
_SENT_ALONG = re.compile(r"\binclud|\bbeigefug|\bmitgeliefert|\bbeileg|\bjoint|\bfourni|\bsuppl|\bprovid")
_IN_THE_FILE = re.compile(
    r"embed|ein(?:zu)?bett|eingebettet|incorpor|integr"
    r"|\b(?:in|within|dans|im|into) (?:the |your |a |le |votre |der |die )?(?:pdf|file|document|datei|fichier)"
)
_TO_A_SIDE_WHOLE = re.compile(
    r"\bto (?:the |both )?(?:\w+ )?(?:width|length|height|dimensions?|size)\b|\bzur? (?:breite|hohe|lange)\b"
    r"|\ba la (?:largeur|hauteur)\b"
)
_LARGEST_USUAL = {"bleed.minimum": 30.0, "margin.minimum": 60.0, "images.contone_ppi.minimum": 500.0, "color.ink_limit": 380.0}
"""mm, ppi, percent. Of 252 published texts no right value was larger and twelve false ones were: they were of a product, of line
art, or of no limit (four inks cannot be more than 400 %)."""
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


def _sent_along(one: Seen) -> bool:
    """'Files with all links and fonts included' may be files of the layout program, with the fonts beside them."""
    return _SENT_ALONG.search(one.part) is not None and _IN_THE_FILE.search(one.part) is None


def _added_to_a_whole_side(one: Seen) -> bool:
    """'Add 6 mm to the width' is 3 mm a side."""
    return _TO_A_SIDE_WHOLE.search(one.part) is not None


def _unusual(one: Seen) -> bool:
    """Larger than what is asked of a whole product: of another thing, or of one product."""
    if one.path == "images.contone_ppi.minimum":
        amount = float(one.value)
    else:
        amount = parse_percent(one.value) if one.value.endswith("%") else parse_length_mm(one.value)
    return amount > _LARGEST_USUAL[one.path]


MORE_SIGNS: tuple[tuple[str, str, Callable[[Seen], bool]], ...] = (
    ("set against", r"", _set_against),
    ("not enough", r"fonts\.", _not_enough),
    ("or embedded", r"fonts\.outlines", _or_embedded),
    ("upper end", r".*minimum", _upper_end),
    ("sent along", r"fonts\.embedded", _sent_along),
    ("to a whole side", r"bleed\.minimum|margin\.minimum", _added_to_a_whole_side),
    ("unusual", "|".join(f"{re.escape(path)}$" for path in _LARGEST_USUAL), _unusual),
    ("only if there are", r"color\.allowed", _only_if_there_are),
    ("fine pictures", r"images\.contone", _of_fine_pictures),
)
