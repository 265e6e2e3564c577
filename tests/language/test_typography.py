"""How each language sets its texts. The expected ones are written out with escapes, so that a space is seen for what it is."""

from __future__ import annotations

import pytest

from service.language.spoken import LANGUAGES, Language, catalogue, say, speaking
from service.language.typography import typeset
from service.language.wording import millimetres, number, ppi, size, stored_size


@pytest.mark.parametrize(
    ("language", "plain", "set_as"),
    [
        ("en", "Send either 'file' or 'check'.", "Send either ‘file’ or ‘check’."),
        ("en", "the printer's own proof, and printers' intakes", "the printer’s own proof, and printers’ intakes"),
        ("en", "('fit to page' isn't on)", "(‘fit to page’ isn’t on)"),
        ("en", "{name}'s ink '{ink}'", "{name}’s ink ‘{ink}’"),
        ("en", "3 mm; at most 300 %", "3 mm; at most 300 %"),
        ("de", "Senden Sie 'file' oder 'check'.", "Senden Sie „file“ oder „check“."),
        ("de", "{count} mm und 100 %, {width} pt stark", "{count}\u00a0mm und 100\u00a0%, {width}\u00a0pt stark"),
        ("de", "148 × 210 mm, 15 mm², 130 g/m²", "148\u00a0×\u00a0210\u00a0mm, 15\u00a0mm², 130\u00a0g/m²"),
        ("de", "Seite 3 meint: 2 in; {inches} in", "Seite 3 meint: 2\u00a0in; {inches}\u00a0in"),
        ("de", "{pages} in {spaces}", "{pages} in {spaces}"),
        ("fr", "Le fichier : {reason} ; lequel ?", "Le fichier\u00a0: {reason}\u202f; lequel\u202f?"),
        ("fr", "Envoyez 'file' ou « check »", "Envoyez «\u00a0file\u00a0» ou «\u00a0check\u00a0»"),
        ("fr", "l'imprimeur n’a pas {size} ko", "l’imprimeur n’a pas {size}\u00a0ko"),
        ("fr", "ses 1 024 premiers octets", "ses 1\u202f024 premiers octets"),
        ("fr", "à 300 ppp, 12 m", "à 300\u00a0ppp, 12\u00a0m"),
        ("es", "¿Quería decir 'bleed'? Mide 3 mm al 100 %", "¿Quería decir «bleed»? Mide 3\u00a0mm al 100\u00a0%"),
        ("es", "sus primeros 1 024 bytes", "sus primeros 1\u202f024 bytes"),
        ("de", "um -3 mm (-1)", "um −3\u00a0mm (−1)"),
    ],
)
def test_a_plain_text_is_set(language: str, plain: str, set_as: str) -> None:
    assert typeset(plain, language) == set_as
    assert typeset(set_as, language) == set_as, "what is set stays as it is"


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize(
    "code",
    ["ISO 32000-2:2020, 10.4.2.4", "GET /v1/specs", "https://shop.example:443/a?b=c;d", "bleed.minimum_mm", "--pages 1-3",
     "If-Match", "Prefer: respond-async", "%PDF-", "{pages}"],
)
def test_addresses_ids_and_code_stay_as_they_are(language: Language, code: str) -> None:
    assert typeset(code, language) == code


@pytest.mark.parametrize("language", LANGUAGES)
def test_what_is_put_into_a_text_is_not_set(language: Language) -> None:
    """A file may be called anything, a key is typed as it is shown."""
    with speaking(language):
        name = "it's 'mine' 3 mm : -2 ?.pdf"
        assert name in say("{told} (page {page})", told=name, page=3)


def test_an_example_to_type_keeps_its_plain_spaces() -> None:
    assert typeset("eine Länge wie '3 mm' oder 3 mm", "de") == "eine Länge wie „3 mm“ oder 3\u00a0mm"
    assert typeset("'a : b' : c", "fr") == "«\u00a0a : b\u00a0»\u00a0: c"


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_catalogue_of_a_language_is_set(language: Language) -> None:
    said = catalogue(language).gettext("Send either 'file' or 'check'.")
    assert "'" not in said
    assert "file" in said


def test_measures_and_numbers_are_set_in_each_language() -> None:
    said: dict[str, list[str]] = {}
    for language in LANGUAGES:
        with speaking(language):
            said[language] = [
                millimetres(-1.5), size(85.5, 55), ppi(71.6), stored_size(20_010_000, exactly=True), number(12345.6), number(1200)
            ]
    assert said["en"] == ["−1.5 mm", "85.5 × 55 mm", "72 ppi", "20.01 MB", "12,345.6", "1200"]
    assert said["de"] == ["−1,5\u00a0mm", "85,5\u00a0×\u00a055\u00a0mm", "72\u00a0ppi", "20,01\u00a0MB", "12.345,6", "1200"]
    assert said["es"] == ["−1,5\u00a0mm", "85,5\u00a0×\u00a055\u00a0mm", "72\u00a0ppp", "20,01\u00a0MB", "12\u202f345,6", "1200"]
    assert said["fr"] == ["−1,5\u00a0mm", "85,5\u00a0×\u00a055\u00a0mm", "72\u00a0ppp", "20,01\u00a0Mo", "12\u202f345,6", "1200"]


def test_long_counts_are_parted_and_pages_are_not() -> None:
    with speaking("de"):
        assert say("{told} (page {page})", told="x", page=1200).count("1200") == 1
        assert "12.000" in say("{count} more", count=12_000)
