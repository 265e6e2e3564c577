"""What the names of layers and spot inks say that is drawn in them, as in a printer's empty document.

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
    ("other", r"perfs?|perforat\w*|perforier\w*|perforé\w*|glue|glueing|leim\w*|kleb\w*|colle|kiss|anstanz\w*|holes?|drill\w*|"
              r"bohr\w*|windows?|fenster|barcode|artwork"),
    ("bleed", r"bleeds?|beschnitt\w*|anschnitt\w*|fonds? perdus?|débords?|debords?|sangrado|sangre|sangría|sangria"),
    ("margin", r"safe|safety|safe ?zone|margins?|quiet|live area|sicherheit\w*|schutz(?:zone|rand|abstand)|"
               r"sécurité|securite|marges?|tranquille|seguridad|margen"),
    ("fold", r"fold(?:s|ing|line|lines)?|creas(?:e|es|ing)|scor(?:e|es|ing)|falz\w*|rill\w*|nut(?:en|ung)?|plis?|pliage|"
             r"rainages?|rainures?|pliegues?|plegad\w*|hendid\w*"),
    ("trim", r"trim(?:s|med|ming|line|box)?|cut(?:s|ting|ter)?|cut ?(?:line|contour|path)s?|die ?(?:line|cut)s?|net size|"
             r"finished size|endformat|schnitt\w*|schneid\w*|stanz\w*|format fini|coupe|découp\w*|decoup\w*|rognage|corte|"
             r"formato final|troquel\w*"),
    ("guides", r"guides?|guidelines?|templates?|help ?lines?|do not print|non ?printing|hilfslinie\w*|vorlage\w*|schablone\w*|"
               r"nicht drucken\w*|gabarit\w*|repère\w*|ne pas imprimer|guías?|guias?|plantilla\w*|no imprimir"),
)  # fmt: skip
"""The first that fits: 'Beschnitt' is no 'Schnitt', and 'Guides: fold' is a fold."""


def role_of(name: str | None) -> Role | None:
    """What a name says; None where it says nothing of the kind."""
    words = " ".join(_PARTS.findall(name or "")).casefold()
    return next((role for role, pattern in _ROLES if re.search(rf"\b(?:{pattern})\b", words)), None)
