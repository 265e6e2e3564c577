"""What a rule gets to see, and who tells of the rest."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

import service.rules
from service.pdf.facts.unknown import Unmeasured
from service.rules.base import Outcome
from service.rules.seen import (
    NotMeasured,
    Seen,
    Unseen,
    both,
    contents_of,
    document_of,
    everything_of,
    fact_of,
    knowing_gaps,
    looking,
    pages_of,
    part_of_pages,
    plates_of,
)
from tests.rules.measured import document, page, without_content

BROKEN = NotMeasured("Page 2: its content stops in the middle of a picture")
MIXED = document(page(), without_content(page()), page())
UNREADABLE = replace(document(page()), pages=Unmeasured("The file stops."))

pages_with_annotations = part_of_pages(lambda page: page.annotations)


def test_pages_are_all_seen_or_none() -> None:
    assert pages_of(MIXED) == Seen(MIXED.pages)
    assert pages_of(UNREADABLE) == Unseen((NotMeasured("The file stops."),))
    assert pages_of(document()) == Seen(())


def test_pages_whose_content_is_known_are_handed_on_and_the_others_told() -> None:
    seen = contents_of(MIXED)
    assert isinstance(seen, Seen)
    assert [one.number for one, _ in seen.known] == [1, 3]
    assert seen.missing == (BROKEN,)


def test_where_no_page_is_left_nothing_is_seen() -> None:
    assert contents_of(document(without_content(page()))) == Unseen((replace(BROKEN, why=BROKEN.why.replace("2", "1")),))
    assert contents_of(UNREADABLE) == Unseen((NotMeasured("The file stops."),))
    assert contents_of(document()) == Seen(())


def test_pages_that_lack_a_part_for_one_reason_are_told_together() -> None:
    bare = replace(without_content(page()), plates=Unmeasured("Too large."), annotations=Unmeasured("Lost."))
    twice = document(page(), bare, bare)
    assert len(contents_of(twice).missing) == 1
    assert plates_of(twice).missing == (NotMeasured("Pages 2–3: Too large."),)
    assert pages_with_annotations(twice).missing == (NotMeasured("Pages 2–3: Lost."),)


def test_a_fact_of_the_file_is_seen_though_it_be_none() -> None:
    layers = fact_of(lambda document: document.layers)
    assert layers(document(page())) == Seen(None)
    assert layers(document(page(), layers=Unmeasured("A circle."))) == Unseen((NotMeasured("A circle."),))
    assert document_of(MIXED) == Seen(MIXED.document)
    assert everything_of(MIXED) == Seen(MIXED)


def test_of_two_needs_neither_is_seen_without_the_other() -> None:
    needs = both(contents_of, fact_of(lambda document: document.version))
    seen = needs(MIXED)
    assert isinstance(seen, Seen)
    assert seen.known[1] == "1.6"
    assert seen.missing == (BROKEN,)
    without_version = replace(MIXED, document=replace(MIXED.document, version=Unmeasured("No header.")))
    assert needs(without_version) == Unseen((BROKEN, NotMeasured("No header.")))
    assert both(fact_of(lambda document: document.version), contents_of)(without_version) == Unseen(
        (NotMeasured("No header."), BROKEN)
    )


def test_a_rule_may_be_told_that_something_is_missing() -> None:
    seen = knowing_gaps(contents_of)(MIXED)
    assert isinstance(seen, Seen)
    assert seen.known.missing == seen.missing == (BROKEN,)
    assert isinstance(knowing_gaps(contents_of)(UNREADABLE), Unseen)


def test_what_is_missing_is_told_before_the_rule_runs_and_alone_where_nothing_is_seen() -> None:
    def count(pages: object, _: object) -> Iterator[Outcome]:
        yield NotMeasured(f"ran on {len(pages)}")  # type: ignore[arg-type]

    assert list(looking(contents_of, count, MIXED, None)) == [BROKEN, NotMeasured("ran on 2")]
    assert list(looking(contents_of, count, UNREADABLE, None)) == [NotMeasured("The file stops.")]


MODULES_OF_RULES = [
    path
    for path in sorted(Path(service.rules.__path__[0]).glob("*/**/*.py"))
    if path.name not in ("__init__.py", "file_standard.py")
]


@pytest.mark.parametrize("path", MODULES_OF_RULES, ids=lambda path: path.stem)
def test_no_rule_sorts_out_what_was_not_measured(path: Path) -> None:
    """It says so itself only of what it alone can tell."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "isinstance":
            assert "NotMeasured" not in ast.unparse(node.args[1]), f"line {node.lineno}"
