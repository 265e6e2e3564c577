"""The printing condition of a print standard, and when its profile has to be in the file."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from service.pdf.facts.geometry import Box
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.painted.colors import ColorUse
from service.pdf.facts.unknown import Unmeasured
from tests.facts import fact
from tests.rules.measured import color, judged, page, without_content
from tests.rules.print_files import INTENT, asks_for, broken, painted, print_file

X_1A, X_3, X_4 = "PDF/X-1a:2003", "PDF/X-3:2003", "PDF/X-4"
REGISTERED: dict[str, Any] = {"output_intents": (replace(INTENT, profile=None),), "profiles": ()}
"""A condition of the registry, its profile not in the file."""

CMYK, ICC = color("cmyk", "fill"), fact(ColorUse, "rgb", "ICCBased (3 channels)", "image", (), 1, (Box(10, 10, 20, 20),))
CONVERTED = painted(CMYK, ICC)
"""A page in CMYK with a picture that only a profile can convert."""


def test_a_condition_of_the_registry_needs_no_description() -> None:
    assert broken(print_file(X_3, output_intents=(replace(INTENT, info=None),)), X_3) == []


def test_a_profile_may_lie_outside_the_file_in_one_edition_alone() -> None:
    outside = replace(INTENT, profile=None, profile_outside=True)
    assert broken(print_file(X_4, output_intents=(outside,), profiles=()), X_4) == ["output-profile"]
    assert broken(print_file("PDF/X-4p", output_intents=(outside,), profiles=()), "PDF/X-4p") == []


def test_a_second_condition_is_looked_at_too() -> None:
    two = print_file(X_4, output_intents=(INTENT, replace(INTENT, profile=None)))
    assert broken(two, X_4) == ["output-intent", "output-profile"]


@pytest.mark.parametrize(
    ("file", "edition", "expected"),
    [
        (print_file(X_3, CONVERTED, **REGISTERED), X_3, ["output-profile"]),
        (print_file(X_3, painted(CMYK), **REGISTERED), X_3, []),
        (print_file(X_1A, CONVERTED, **REGISTERED), X_1A, ["inks-only"]),
    ],
    ids=["a colour to convert", "none", "an edition that takes none"],
)
def test_what_is_converted_needs_the_profile(file: Measurements, edition: str, expected: list[str]) -> None:
    assert broken(file, edition) == expected


def test_a_page_that_nobody_followed_leaves_open_whether_the_profile_is_needed() -> None:
    unseen = without_content(page(), "its content stops")
    rule, findings = judged("file.standard", print_file(X_3, unseen, **REGISTERED), asks_for(X_3))
    assert (rule.outcome, findings) == ("not_measured", ())
    no_pages = replace(print_file(X_3, **REGISTERED), pages=Unmeasured("The page tree is damaged."))
    rule, findings = judged("file.standard", no_pages, asks_for(X_3))
    assert (rule.reason, findings) == ("The page tree is damaged.", ())
