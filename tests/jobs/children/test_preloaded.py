"""What the fork server does before it is asked for a child."""

from __future__ import annotations

from service.jobs.children.preloaded import warm_up
from service.language.spoken import LANGUAGES, catalogue
from service.pdf.facts.unknown import Unmeasured


def test_no_child_has_to_read_a_catalogue() -> None:
    catalogue.cache_clear()
    warm_up()
    assert catalogue.cache_info().currsize == len(LANGUAGES)


def test_the_page_that_warms_the_parser_is_measured_to_its_end() -> None:
    measured = warm_up()
    assert measured.document.failure is None
    assert not isinstance(measured.pages, Unmeasured)
    assert not isinstance(measured.pages[0].content, Unmeasured)
    assert not isinstance(measured.pages[0].plates, Unmeasured)
