"""Which mistakes are made, and that the list of those that show nowhere is up to date."""

from __future__ import annotations

import ast

import pytest

from tests.mutations.equivalent import EQUIVALENT
from tests.mutations.mutants import mutants_of, mutated
from tests.mutations.running import ROOT
from tests.mutations.twins import MODULES, answering


def mistakes(source: str) -> set[str]:
    return {one.key for one in mutants_of(source)}


@pytest.mark.parametrize(
    ("source", "expected"),
    [
        ("LEAST = 10", {"10 → 13", "10 → 7"}),
        ("LEAST = 2", {"2 → 3", "2 → 1"}),
        ("LEAST = 0.5", {"0.5 → 0.65", "0.5 → 0.35"}),
        ("a < b", {"a < b → a <= b", "a < b → a >= b"}),
        ("a < b - SLACK", {"a < b - SLACK → a >= b - SLACK", "b - SLACK → b + SLACK"}),
        ("a in b", {"a in b → a not in b"}),
        ("a and b", {"a and b → a", "a and b → b"}),
        ("a or ()", {"a or () → ()"}),
        ("a or Asked()", {"a or Asked() → Asked()"}),
        ("level = 'must'", {"'must' → 'should'"}),
        ("[a for a in b if a]", {"for a in b if a → for a in b"}),
        ("if a:\n    b", {"if a → if True", "if a → if False"}),
        ("a if b else c", {"a if b else c → a", "a if b else c → c"}),
        ("say('{n} marks', n=3)", set()),
        ("found = say('a') if b else None", set()),
        ("Finding(message=a if b else c, level=None)", set()),
        ("def told(a: int) -> str:\n    return 'a' if a > 3 else 'b'", set()),
        ("round(a, 2)", set()),
        ("a[1]", set()),
    ],
)
def test_mistakes_that_somebody_might_make(source: str, expected: set[str]) -> None:
    assert mistakes(source) == {f": {one}" for one in expected}


def test_a_mutant_is_the_module_with_one_mistake() -> None:
    source = "def far(a):\n    return a > 3 and a < 9\n"
    made = [ast.unparse(mutated(source, one.number)) for one in mutants_of(source)]
    assert len(set(made)) == len(made)
    assert "def far(a):\n    return a >= 3 and a < 9" in made
    assert {one.inside for one in mutants_of(source)} == {"far"}


@pytest.mark.parametrize("module", EQUIVALENT)
def test_what_shows_nowhere_is_a_mistake_that_is_made(module: str) -> None:
    made = {one.key for one in mutants_of((ROOT / module).read_text(encoding="utf-8"))}
    assert EQUIVALENT[module].keys() <= made
    assert all(EQUIVALENT[module].values())


def test_every_module_has_tests_that_answer_for_it() -> None:
    assert all(answering(module) for module in MODULES)
