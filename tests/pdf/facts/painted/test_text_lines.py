"""Runs joined to lines."""

from __future__ import annotations

from dataclasses import replace

from service.pdf.facts.geometry import Box
from service.pdf.facts.painted.text import TextRun
from service.pdf.facts.painted.text_lines import lines_of
from tests.rules.measured import PT_MM, run

EM = 10 * PT_MM


def letters(words: str, *, x: float = 10, y: float = 10) -> list[TextRun]:
    """Each letter shown on its own, half an em apart; blanks are gaps, as tight typesetting programs write them."""
    return [run(letter, x=x + at * EM / 2, y=y) for at, letter in enumerate(words) if letter != " "]


def texts(runs: list[TextRun]) -> list[str]:
    return [line.text for line in lines_of(runs)]


def test_single_letters_make_words_and_gaps_make_blanks() -> None:
    assert texts(letters("Your name here")) == ["Your name here"]


def test_a_line_comes_together_in_any_order_of_painting() -> None:
    assert texts(list(reversed(letters("fresh bread")))) == ["fresh bread"]


def test_lines_keep_apart_and_stand_from_top_to_bottom() -> None:
    assert texts([run("second", y=16), run("first", y=10)]) == ["first", "second"]


def test_columns_keep_apart() -> None:
    assert texts([run("left", x=10), run("right", x=60)]) == ["left", "right"]


def test_kerning_does_not_cut_a_word() -> None:
    first = run("Wa", x=10)
    assert texts([first, run("ter", x=first.box_mm.x1 + 0.1 * EM)]) == ["Water"]


def test_a_raised_sign_stays_in_its_line() -> None:
    first = run("No", x=10)
    raised = replace(run("o", size_pt=6), box_mm=Box(first.box_mm.x1, 10, first.box_mm.x1 + 1, 10 + 6 * PT_MM))
    assert texts([first, raised]) == ["Noo"]


def test_text_that_nobody_sees_is_not_read() -> None:
    assert texts([run("seen"), run("hidden", y=30, visible=False)]) == ["seen"]


def test_the_box_goes_around_the_whole_line() -> None:
    (line,) = lines_of([run("ab", x=10), run("cd", x=10 + 1.2 * EM)])
    assert line.box_mm == Box(10, 10, 10 + 2.2 * EM, 10 + EM)


def test_a_large_initial_does_not_mix_the_lines_beside_it() -> None:
    """Words on their own, in two lines below the middle of the initial, which stands at 17.06 mm."""
    first = [run(word, x=x, y=16) for word, x in (("Your", 30), ("text", 38), ("here", 46))]
    second = [run(word, x=x, y=20) for word, x in (("and", 34), ("our", 42), ("bread", 50))]
    assert "Your text here" in texts([run("O", size_pt=40), *first, *second])


def test_a_drop_shadow_is_not_part_of_the_line() -> None:
    assert texts([run("Your name here", x=10), run("Your name here", x=10.3)]) == ["Your name here", "Your name here"]
