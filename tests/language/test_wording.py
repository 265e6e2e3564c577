"""Numbers, lists and quotations as a designer reads them."""

from __future__ import annotations

import pytest

from service.language.spoken import speaking
from service.language.wording import (
    after_a_colon,
    area,
    asked_length,
    asked_size,
    clauses,
    first_few,
    inside_a_sentence,
    labelled,
    listed,
    listed_or,
    number,
    page_list,
    pages_counted,
    pages_named,
    ppi_under,
    quoted,
    set_apart,
    size,
    stored_size,
)
from tests.language.mirror import mirrored


@pytest.mark.parametrize(
    ("value", "digits", "text"), [(3.0, 1, "3"), (1.2, 1, "1.2"), (300, 0, "300"), (0, 1, "0"), (53.98, 2, "53.98")]
)
def test_numbers(value: float, digits: int, text: str) -> None:
    assert number(value, digits) == text


def test_a_size_has_a_cross_and_one_unit() -> None:
    assert size(85, 55.5) == "85 × 55.5 mm"


@pytest.mark.parametrize(
    ("numbers", "text"), [((1,), "1"), ((1, 2, 3, 7), "1–3 and 7"), ((3, 1, 3), "1 and 3"), ((1, 3, 5, 6), "1, 3 and 5–6")]
)
def test_page_lists(numbers: tuple[int, ...], text: str) -> None:
    assert page_list(numbers) == text


def test_lists_and_counts() -> None:
    assert listed_or(["4", "8", "12"]) == "4, 8 or 12"
    assert listed([]) == ""
    assert [pages_counted(one) for one in (1, 12)] == ["1 page", "12 pages"]
    assert first_few(list("abcdefg"), 5) == "a, b, c, d, e and 2 more"


@pytest.mark.parametrize(
    ("words", "joined", "chosen"),
    [
        (["Arial", "Impact"], "Arial e Impact", "Arial o Impact"),
        (["Arial", "Optima"], "Arial y Optima", "Arial u Optima"),
        (["7", "8"], "7 y 8", "7 u 8"),
        (["4", "11"], "4 y 11", "4 u 11"),
        (["4", "110"], "4 y 110", "4 o 110"),
        (["agua", "hielo"], "agua y hielo", "agua o hielo"),
        (["papel", "‘imagen’"], "papel e ‘imagen’", "papel o ‘imagen’"),
    ],
)
def test_spanish_says_and_and_or_so_that_they_are_heard(words: list[str], joined: str, chosen: str) -> None:
    """RAE, Ortografía, from memory."""
    with speaking("es"):
        assert (listed(words), listed_or(words)) == (joined, chosen)


def test_words_from_the_file_are_tamed() -> None:
    assert quoted("a\x00b\n c") == "‘a b c’"
    assert len(quoted("x" * 1000)) == 62


def test_letters_that_the_file_does_not_name_are_left_out() -> None:
    """A font without a table of characters shows 'Rye' and tells nothing."""
    assert quoted("\ufffd\ufffd \ufffd\ufffd\ufffd") == "‘…’"
    assert quoted("Γ\ufffd") == "‘Γ…’"
    assert quoted("Rye … bread?") == "‘Rye … bread?’"


@pytest.mark.parametrize(
    ("size_bytes", "said"), [(0, "0 B"), (91_999, "92 kB"), (999_499, "999 kB"), (999_500, "1 MB"), (2_540_000, "2.5 MB")]
)
def test_a_file_size_is_read_at_a_glance(size_bytes: int, said: str) -> None:
    assert stored_size(size_bytes) == said


def test_a_file_size_just_over_its_limit_does_not_read_like_the_limit() -> None:
    sizes = (500, 91_999, 999_500, 20_000_000, 20_010_000)
    assert [stored_size(one, exactly=True) for one in sizes] == ["0.5 kB", "92 kB", "999.5 kB", "20 MB", "20.01 MB"]
    with mirrored():
        assert [stored_size(one) for one in (999, 1_000, 1_250_000)] == ["999⟦ B⟧", "1⟦ kB⟧", "1,2⟦ MB⟧"]


@pytest.mark.parametrize(
    ("value_mm", "text"),
    [(3.175, "3.2 mm (1/8 in)"), (25.4 * 3 / 16, "4.8 mm (3/16 in)"), (88.9, "88.9 mm (3.5 in)"), (3, "3 mm"), (127, "127 mm"),
     (0, "0 mm"), (0.396875, "0.4 mm")],
)
def test_lengths_that_were_set_in_inches_say_so(value_mm: float, text: str) -> None:
    """An inch is 25.4 mm. 127 mm is 5 in too, and reads well as it is; a 64th of an inch is no length that one sets."""
    assert asked_length(value_mm) == text


@pytest.mark.parametrize(
    ("width", "height", "text"),
    [
        (127, 177.8, "127 × 177.8 mm (5 × 7 in)"),
        (148, 210, "148 × 210 mm"),
        (254, 381, "254 × 381 mm"),
        (85.6, 53.98, "85.6 × 54 mm"),
    ],
)
def test_sizes_that_were_set_in_inches_say_so(width: float, height: float, text: str) -> None:
    assert asked_size(width, height) == text


@pytest.mark.parametrize(
    ("ppi", "limit", "text"), [(71.6, 72, "71 ppi"), (149.4, 150, "149 ppi"), (76.2, 200, "76 ppi"), (63.5, 200, "64 ppi")]
)
def test_a_resolution_under_its_limit_never_reads_like_the_limit(ppi: float, limit: float, text: str) -> None:
    assert ppi_under(ppi, limit) == text


@pytest.mark.parametrize(("square_mm", "text"), [(16.4, "16 mm²"), (999, "999 mm²"), (4220.1, "42 cm²")])
def test_large_areas_are_told_in_square_centimetres(square_mm: float, text: str) -> None:
    assert area(square_mm) == text


@pytest.mark.parametrize(("numbers", "text"), [((2,), "page 2"), ((2, 2), "page 2"), ((1, 2, 3), "pages 1–3")])
def test_pages_inside_a_sentence(numbers: tuple[int, ...], text: str) -> None:
    assert pages_named(numbers) == text


def test_clauses_are_joined_and_sentences_stand_one_after_the_other() -> None:
    assert clauses(("it is locked", "it has layers")) == "it is locked; it has layers"
    assert clauses(("Page 1 is locked.", "Page 2 is damaged.")) == "Page 1 is locked. Page 2 is damaged."
    assert clauses(()) == ""


def test_values_are_set_apart_and_labelled_as_the_language_sets_its_marks() -> None:
    """French has a space before a colon and a narrow one before a semicolon (Imprimerie nationale, from memory)."""
    assert labelled("Bleed", set_apart(("2 mm", "5 mm"))) == "Bleed: 2 mm; 5 mm"
    with speaking("fr"):
        assert labelled("Fond perdu", set_apart(("2 mm", "5 mm"))) == "Fond perdu\u00a0: 2 mm\u202f; 5 mm"


@pytest.mark.parametrize(
    ("said", "inside"),
    [
        ("Certaines parties du fichier sont mal formées.", "certaines parties du fichier sont mal formées"),
        ("L’en-tête manque.", "l’en-tête manque"),
        ("À la page 3, le calque manque.", "à la page 3, le calque manque"),
        ("JavaScript est présent.", "JavaScript est présent"),
        ("PDF/X-4 est déclaré.", "PDF/X-4 est déclaré"),
        ("CMJN", "CMJN"),
        ("« Cuivre » manque.", "« Cuivre » manque"),
        ("", ""),
    ],
)
def test_a_french_sentence_goes_on_small_and_formats_keep_their_letters(said: str, inside: str) -> None:
    with speaking("fr"):
        assert inside_a_sentence(said) == inside


def test_a_sentence_after_a_colon_keeps_its_capital_in_german_alone() -> None:
    assert after_a_colon("The file asks for a password.") == "the file asks for a password"
    with speaking("de"):
        assert after_a_colon("Die Datei verlangt ein Kennwort.") == "Die Datei verlangt ein Kennwort"
        assert inside_a_sentence("Die Datei verlangt ein Kennwort.") == "die Datei verlangt ein Kennwort"
    with speaking("fr"):
        assert after_a_colon("Le fichier demande un mot de passe.") == "le fichier demande un mot de passe"
