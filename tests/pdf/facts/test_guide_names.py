"""What the names of layers and spot inks say, as printers write them."""

from __future__ import annotations

import pytest

from service.pdf.facts.guide_names import Role, role_of

NAMES: dict[Role | None, tuple[str | None, ...]] = {
    "trim": ("Trim", "TRIM_LINE", "CutContour", "Die line", "Endformat", "Stanze", "Format fini", "Coupe", "Corte"),
    "bleed": ("Bleed", "Bleed area", "Beschnitt", "Beschnittzugabe", "Anschnitt 3mm", "Fond perdu", "Sangrado"),
    "margin": ("Safe zone", "SafetyMargin", "Sicherheitsabstand", "Marge de sécurité", "Margen de seguridad"),
    "fold": ("Fold", "Folding", "Creasing", "Falz", "Rilllinie", "Pli", "Rainage", "Plegado", "Guides: fold"),
    "guides": ("Guides (do not print)", "Hilfslinien (nicht drucken)", "Gabarit", "Plantilla", "Template"),
    "other": ("Perforation", "Kleben", "Kiss cut", "Artwork"),
    None: (
        *("Layer 1", "Ebene 2", "Halyard Copper", "", None, "Shortcut", "Multiplication", "Bankfold", "Folder", "die Bilder"),
        *("Rainbow", "Schutzlack", "Perfect", "Cortado", "Cutlery", "Scorpion", "Plissee"),
    ),
}


@pytest.mark.parametrize(("name", "role"), [(name, role) for role, names in NAMES.items() for name in names])
def test_a_name_says_what_is_drawn_under_it(name: str | None, role: Role | None) -> None:
    assert role_of(name) == role
