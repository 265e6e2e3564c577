"""What the names of layers and spot inks in a printer's empty document say that is drawn in them.

In English, German, French and Spanish, as printers write them, and the processing steps of ISO 19593-1 (Cutting, Creasing,
Folding, Bleed, from memory). Common practice, no source.
"""

from __future__ import annotations

import re
from typing import Literal

Role = Literal["trim", "bleed", "margin", "fold", "other", "guides"]
"""`other`: something that is named and asks nothing that can be read here. `guides`: help lines of whatever kind."""

_PARTS = re.compile(r"[a-zà-ÿ]+|[A-ZÀ-Þ]+(?![a-zà-ÿ])|[A-ZÀ-Þ][a-zà-ÿ]*")
"""'CutContour' and 'TRIM_LINE' are words too."""

_ROLES: tuple[tuple[Role, str], ...] = (
    ("other", r"perf\w*|glue|glueing|leim\w*|kleb\w*|colle|kiss|anstanz\w*|hole|drill\w*|bohr\w*|window|fenster|barcode|"
              r"artwork"),
    ("bleed", r"bleed\w*|beschnitt\w*|anschnitt\w*|fonds? perdus?|débord\w*|debord\w*|sangr\w+|sangria"),
    ("margin", r"safe\w*|margins?|quiet|live area|sicherheit\w*|schutz\w*|sécurité|securite|marge\w*|tranquille|"
               r"seguridad|margen"),
    ("fold", r"fold\w*|creas\w*|scor\w*|falz\w*|rill\w*|nut(?:en|ung)?|plis?|pliage|rain\w*|pliegue\w*|plegad\w*|hendid\w*"),
    ("trim", r"trim\w*|cut\w*|die|dieline|die ?cut|net size|finished size|endformat|schnitt\w*|schneid\w*|stanz\w*|format fini|"
             r"coupe|découp\w*|decoup\w*|rogn\w*|cort\w+|formato final|troquel\w*"),
    ("guides", r"guides?|guidelines?|templates?|help ?lines?|do not print|non ?printing|hilfslinie\w*|vorlage\w*|schablone\w*|"
               r"nicht drucken\w*|gabarit\w*|repère\w*|ne pas imprimer|guías?|guias?|plantilla\w*|no imprimir"),
)  # fmt: skip
"""The first that fits: 'Beschnitt' is no 'Schnitt', and 'Guides: fold' is a fold."""


def role_of(name: str | None) -> Role | None:
    """What a name says; None where it says nothing of the kind."""
    words = " ".join(_PARTS.findall(name or "")).casefold()
    return next((role for role, pattern in _ROLES if re.search(rf"\b(?:{pattern})\b", words)), None)
