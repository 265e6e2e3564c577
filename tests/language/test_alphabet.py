"""Lists that are read stand by their letters."""

from __future__ import annotations

from service.language.alphabet import by_letters


def test_a_letter_with_a_mark_stands_with_the_letter() -> None:
    countries = ["Österreich", "Polen", "Dänemark", "Deutschland", "Norwegen"]
    assert sorted(countries, key=by_letters) == ["Dänemark", "Deutschland", "Norwegen", "Österreich", "Polen"]
    assert sorted(["Étiquette", "Flyer", "enveloppe"], key=by_letters) == ["enveloppe", "Étiquette", "Flyer"]
