"""What names and dates the file, and its PDF version."""

from __future__ import annotations

import pytest

from service.pdf.facts.unknown import Unmeasured
from tests.rules.measured import judged
from tests.rules.print_files import XMP, asks_for, breaches, broken, feature, identification, print_file

X_1A, X_3, X_4 = "PDF/X-1a:2003", "PDF/X-3:2003", "PDF/X-4"


def test_an_older_standard_looks_for_trapping_in_the_information_dictionary_alone() -> None:
    """XMP says False; only PDF/X-4 looks there."""
    assert broken(print_file(X_3, identification=identification(X_3, info_trapped=None, metadata=XMP)), X_3) == ["trapped"]


@pytest.mark.parametrize(("said", "found"), [(None, "does not say whether"), ("", "does not say whether"), ("Maybe", "Maybe")])
def test_what_a_file_says_of_trapping_is_told(said: str | None, found: str) -> None:
    told = breaches(print_file(X_3, identification=identification(X_3, info_trapped=said)), X_3)
    assert [one["demand"] for one in told] == ["trapped"]
    assert found in told[0]["found"]


def test_a_version_that_two_readers_tell_differently_leaves_the_claim_open() -> None:
    file = print_file(X_4, version=Unmeasured("The header says 1.x."))
    rule, findings = judged("file.standard", file, asks_for(X_4))
    assert (rule.outcome, rule.reason, findings) == ("not_measured", "The header says 1.x.", ())


@pytest.mark.parametrize("kind", ["object stream", "cross-reference stream"])
@pytest.mark.parametrize(("edition", "expected"), [("PDF/X-1a:2001", ["pdf-version"]), (X_1A, ["pdf-version"]), (X_4, [])])
def test_files_are_packed_as_their_version_can(kind: str, edition: str, expected: list[str]) -> None:
    assert broken(print_file(edition, features=(feature(kind, "", ()),)), edition) == expected
