"""Judgements as text and back, and what is refused on the way."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import replace

import pytest

from service.jobs.judgement_codec import judgement_from_json, judgements_from_json, judgements_to_json
from service.language.spoken import Language, speaking
from service.pdf.facts.geometry import Box
from service.rules.base import Finding, Place
from service.rules.judgement import JudgedFinding, JudgedRule, Judgement

FINDING = Finding(
    message="Page 1 …", remedy="…", measured={"left_mm": 1.2, "names": ["a", None]}, required={"minimum_mm": 3.0}, pages=(1,),
    places=(Place(1, Box(-3, -3, 0, 58)),), preferred=True, level="should",
)
JUDGEMENT = Judgement(
    "conforming_with_observations",
    (JudgedFinding("bleed.reach", "should", FINDING, "Ask us."),),
    (JudgedRule("bleed.reach", "not_met", "should"), JudgedRule("trim.size", "not_measured", "must", "No page.")),
)


IN_GERMAN = replace(FINDING, message="Seite 1 …")
GERMAN = replace(JUDGEMENT, findings=(replace(JUDGEMENT.findings[0], finding=IN_GERMAN),))
WORDS = {"message": "…", "remedy": "…", "finding_note": None, "note": "…"}
JUDGEMENTS: Mapping[Language, Judgement] = {"en": JUDGEMENT, "de": GERMAN, "fr": JUDGEMENT, "es": JUDGEMENT}


def test_judgements_come_back_as_they_were() -> None:
    assert judgements_from_json(judgements_to_json(JUDGEMENTS)) == JUDGEMENTS


def test_one_judgement_is_that_of_the_spoken_language() -> None:
    text = judgements_to_json(JUDGEMENTS)
    assert judgement_from_json(text) == JUDGEMENT
    with speaking("de"):
        assert judgement_from_json(text) == GERMAN


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("verdict",), "fine"), (("findings",), {}), (("findings", 0, "level"), "may"), (("findings", 0, "finding"), "x"),
        (("findings", 0, "finding", "pages"), ["1"]), (("findings", 0, "finding", "places", 0, "box_mm"), [1, 2, 3]),
        (("findings", 0, "finding", "message"), None), (("rules", 0, "outcome"), "maybe"), (("rules", 1, "reason"), 5),
    ],
)
def test_text_that_is_no_judgement_is_refused(path: tuple[str | int, ...], value: object) -> None:
    with pytest.raises(ValueError, match=r"."):
        judgements_from_json(changed(("en", *path), value))


@pytest.mark.parametrize("language", ["de", "fr", "es"])
@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("findings",), []), (("findings",), {}), (("findings",), [WORDS, WORDS]), (("findings", 0), "x"),
        (("findings", 0, "message"), None), (("findings", 0, "remedy"), 5), (("findings", 0, "note"), None),
        (("findings", 0, "finding_note"), "More."), (("findings", 0, "level"), "must"), (("reasons",), []),
        (("reasons",), ["No page.", "No page."]), (("reasons", 0), None), (("verdict",), "conforming"),
    ],
)
def test_what_does_not_fit_as_words_of_the_english_judgement_is_refused(
    language: str, path: tuple[str | int, ...], value: object
) -> None:
    with pytest.raises(ValueError, match="words"):
        judgements_from_json(changed((language, *path), value))


@pytest.mark.parametrize("languages", [("en", "de"), ("en", "de", "fr", "es", "it"), ("de", "fr")])
def test_judgements_of_other_languages_are_refused(languages: tuple[str, ...]) -> None:
    one = json.loads(judgements_to_json(JUDGEMENTS))["en"]
    with pytest.raises(ValueError, match=r"."):
        judgements_from_json(json.dumps(dict.fromkeys(languages, one)))


def test_one_from_before_a_language_was_spoken_is_told_in_english() -> None:
    older = json.loads(judgements_to_json(JUDGEMENTS))
    del older["es"]
    with speaking("es"):
        assert judgement_from_json(json.dumps(older)) == JUDGEMENTS["en"]
    del older["en"]
    with speaking("es"), pytest.raises(ValueError, match=r"."):
        judgement_from_json(json.dumps(older))


def test_what_was_stored_before_words_were_apart_is_read() -> None:
    """Form 10: a whole judgement in each language."""
    whole = {"en": json.loads(judgements_to_json(JUDGEMENTS))["en"]}
    whole["de"] = json.loads(judgements_to_json({**JUDGEMENTS, "en": GERMAN}))["en"]
    assert judgement_from_json(json.dumps(whole)) == JUDGEMENT
    with speaking("de"):
        assert judgement_from_json(json.dumps(whole)) == GERMAN


def changed(path: tuple[str | int, ...], value: object) -> str:
    document = json.loads(judgements_to_json(JUDGEMENTS))
    inner = document
    for step in path[:-1]:
        inner = inner[step]
    inner[path[-1]] = value
    return json.dumps(document)


@pytest.mark.parametrize("text", ["", "[]", "{}", "null", "[" * 100_000, '{"en": []}', '{"en": {"verdict": []}}'])
def test_what_is_no_object_of_ours_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match=r"."):
        judgements_from_json(text)
    with pytest.raises(ValueError, match=r"."):
        judgement_from_json(text)
