"""A judgement as text and back, and what is refused on the way."""

from __future__ import annotations

import json

import pytest

from service.jobs.judgement_codec import judgement_from_json, judgement_to_json
from service.pdf.geometry import Box
from service.rules.base import Finding, Place
from service.rules.judge import JudgedFinding, JudgedRule, Judgement

FINDING = Finding(
    message="Page 1 …", remedy="…", measured={"left_mm": 1.2, "names": ["a", None]}, required={"minimum_mm": 3.0}, pages=(1,),
    places=(Place(1, Box(-3, -3, 0, 58)),), preferred=True, level="should",
)  # fmt: skip
JUDGEMENT = Judgement(
    "conforming_with_observations",
    (JudgedFinding("bleed.reach", "should", FINDING, "Ask us."),),
    (JudgedRule("bleed.reach", "not_met", "should"), JudgedRule("trim.size", "not_measured", "must", "No page.")),
)


def test_a_judgement_comes_back_as_it_was() -> None:
    assert judgement_from_json(judgement_to_json(JUDGEMENT)) == JUDGEMENT


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("verdict",), "fine"), (("findings",), {}), (("findings", 0, "level"), "may"), (("findings", 0, "finding"), "x"),
        (("findings", 0, "finding", "pages"), ["1"]), (("findings", 0, "finding", "places", 0, "box_mm"), [1, 2, 3]),
        (("findings", 0, "finding", "message"), None), (("rules", 0, "outcome"), "maybe"), (("rules", 1, "reason"), 5),
    ],
)  # fmt: skip
def test_text_that_is_no_judgement_is_refused(path: tuple[str | int, ...], value: object) -> None:
    document = json.loads(judgement_to_json(JUDGEMENT))
    inner = document
    for step in path[:-1]:
        inner = inner[step]
    inner[path[-1]] = value
    with pytest.raises(ValueError, match=r"."):
        judgement_from_json(json.dumps(document))


@pytest.mark.parametrize("text", ["", "[]", "{}", "null", "[" * 100_000, '{"verdict": []}'])
def test_what_is_no_object_of_ours_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match=r"."):
        judgement_from_json(text)
