"""What a reading leaves open, put together by the sentences that it is asked about."""

from __future__ import annotations

import json
import re
from html import unescape
from typing import Any

import pytest

from service.answers.readings import reading_answer
from service.language.spoken import LANGUAGES, Language, speaking
from service.sheets.prose.reading import read_prose
from service.web.writing.left_open import Question, Sentence, answers_taken, left_open, without
from service.web.writing.starts import Read, carried
from tests.api.contract import Caller

SIZE = "Our machine may cut a finished size of 225 x 300 mm."
MAYBE = f"""Our machine cuts text that is nearer than 4 mm to the edge.
{SIZE}"""


def asked(about: str, quote: str | None, value: Any = None, question: str = "Which one holds?") -> dict[str, Any]:
    return {"about": about, "question": question, "quote": quote, "value": value}


def read(text: str) -> tuple[Sentence, ...]:
    return left_open(reading_answer(read_prose(text))["questions"])


def test_a_sentence_is_quoted_once_with_all_that_is_asked_about_it() -> None:
    sentences = read(MAYBE)
    quotes = [one.quote for one in sentences]
    assert len(set(quotes)) == len(quotes)
    size = next(one for one in sentences if one.quote == SIZE)
    assert [(one.block, one.demand, one.asks) for one in size.questions] == [
        ("/trim/width", "Size – Width: 225 mm", ""), ("/trim/height", "Size – Height: 300 mm", ""),
    ]  # fmt: skip
    assert json.loads(size.takes_all) == {"/trim/width": "225 mm", "/trim/height": "300 mm"}


def test_nothing_that_a_reading_asks_gets_lost() -> None:
    questions = reading_answer(read_prose(MAYBE))["questions"]
    shown = [("/" + one["about"].replace(".", "/")) for one in questions]
    assert sorted(shown) == sorted(question.block for one in left_open(questions) for question in one.questions)


def test_the_most_certain_comes_first_and_what_has_no_words_last() -> None:
    sentences = left_open([
        asked("fonts", None),
        asked("bleed.minimum", "3 mm or 5 mm."),
        asked("margin.minimum", "On a card, 4 mm.", "4 mm", "‘Safety margin – At least, on each side: 4 mm’ is on a card?"),
        asked("trim", None),
        asked(
            "color.ink_limit", "310 % at the most.", "310 %",
            "‘Colour and ink – Most ink in one place: 310 %’ can be read here, and not for sure: is it asked of this sheet?",
        ),
    ])  # fmt: skip
    assert [one.quote for one in sentences] == ["310 % at the most.", "On a card, 4 mm.", "3 mm or 5 mm.", ""]
    assert [one.asks for one in sentences[1].questions] == ["… is on a card?"], "the demand itself stands beside it"
    assert sentences[-1].names == ["Fonts", "Size"]


def test_one_doubt_about_several_demands_is_told_once() -> None:
    (sentence,) = left_open([
        asked("trim.width", "85 x 55", "85 mm", "‘Size – Width: 85 mm’ is said of cards: here too?"),
        asked("trim.height", "85 x 55", "55 mm", "‘Size – Height: 55 mm’ is said of cards: here too?"),
    ])  # fmt: skip
    assert [(asks, len(those)) for asks, those in sentence.by_doubt] == [("… is said of cards: here too?", 2)]


def test_two_answers_to_one_question_or_one_that_is_open_are_never_taken_all_at_once() -> None:
    assert left_open([asked("bleed.minimum", "3 or 5", "3 mm"), asked("bleed.minimum", "3 or 5", "5 mm")])[0].takes_all == ""
    assert left_open([asked("bleed.minimum", "3 or 5", "3 mm"), asked("margin", "3 or 5")])[0].takes_all == ""
    assert left_open([asked("bleed.minimum", "3 mm", "3 mm")])[0].takes_all == "", "one has its own button"


@pytest.mark.parametrize("language", LANGUAGES)
def test_what_asks_nothing_more_than_whether_it_is_meant_is_known_in_each_language(language: Language) -> None:
    """The reader's sentence is compared word for word: where its words change, the page would tell each of them at length."""
    with speaking(language):
        questions = [one for sentence in read(MAYBE) if sentence.quote == SIZE for one in sentence.questions]
    assert [(one.asks, "225" in one.demand or "300" in one.demand) for one in questions] == [("", True), ("", True)]


def test_the_level_of_a_rule_is_answered_where_the_form_asks_it() -> None:
    (sentence,) = left_open([asked("levels.image.resolution", "Best 300 ppi.", "should")])
    assert sentence.questions[0].block == "/levels/image.resolution"


def test_what_the_form_carries_along_is_what_was_read() -> None:
    kept = Read({"/bleed/minimum": "3 mm bleed"}, read(MAYBE), ("Lettering in 100% K.",))
    assert carried(kept.kept()) == kept


@pytest.mark.parametrize(
    "sent",
    [
        [["said", [["asks", "no pointer", "", ""]]]], [["said", [["asks", "/bleed/minimum", "{", "Bleed"]]]],
        [["said", []]], [["said", [["asks"]]]], ["said"], [7], [["said", [["asks", "/a", '{"b": 1}', ""]]]],
    ],
)
def test_what_no_form_of_ours_carries_is_left_out(sent: list[Any]) -> None:
    told = carried(json.dumps({"quotes": {}, "open": sent, "missed": []}))
    assert told is not None
    assert told.open == ()


def test_what_is_answered_is_no_longer_open() -> None:
    x, y = Question("", "/x", "1", "X: 1"), Question("", "/y", "2", "Y: 2")
    silent = Sentence("", (Question("?", "/z"),))
    sentences = (Sentence("a", (x, y)), silent)
    assert without(sentences, ["/x"]) == (Sentence("a", (y,)), silent)
    assert without(sentences, ["/x", "/y"]) == (silent,)


@pytest.mark.parametrize(
    ("told", "answers"),
    [
        ('/bleed/minimum="3 mm"', {"/bleed/minimum": ["3 mm"]}),
        ('{"/trim/width": "85 mm", "/color/allowed": ["cmyk"]}', {"/trim/width": ["85 mm"], "/color/allowed": ["cmyk"]}),
        ('{"/trim/width": {}}', {}), ('{"do": "keep"}', {}), ('{"/a": "1", "b": "2"}', {}),
        ("{", {}), ("{}", {}), ("[]", {}), ("x=1", {}),
    ],
)
def test_only_answers_to_questions_of_the_form_are_taken(told: str, answers: dict[str, list[str]]) -> None:
    assert answers_taken(told) == answers


# --- The page ---------------------------------------------------------------------------------------------------------------


def page_of(caller: Caller, **form: str) -> str:
    answer = caller.client.post("/specs/new", data=form)
    assert answer.status_code == 200
    return answer.get_data(as_text=True)


def test_the_page_quotes_each_sentence_once_folds_what_has_no_words_and_takes_all_of_one_over(caller: Caller) -> None:
    raw = page_of(caller, do="read", text=MAYBE)
    section = raw.partition('<section class="read"')[2].partition("</section>")[0]
    assert unescape(section).count(f"<q>{SIZE}</q>") == 1
    assert re.search(r'<details id="nothing-said"><summary>Nothing is said of: [^<]*Bleed', section)
    assert section.index('class="sentences"') < section.index("<details")
    (button,) = {unescape(one) for one in re.findall(r'value="(take:{[^"]+)"', section) if "/trim/width" in unescape(one)}
    (reading,) = re.findall(r'name="reading" value="([^"]*)"', raw)
    after = page_of(caller, do=button, reading=unescape(reading), **{"/bleed/minimum": "3 mm"})
    values = dict(re.findall(r'name="(/[\w/]+)" value="([^"]*)"', after))
    assert [values[name] for name in ("/trim/width", "/trim/height", "/bleed/minimum")] == ["225 mm", "300 mm", "3 mm"]
    assert SIZE not in unescape(after).partition('<section class="read"')[2].partition("</section>")[0]


def test_a_text_that_only_leaves_things_open_is_a_start_too(caller: Caller) -> None:
    """Nothing of it was certain enough for an answer, and all of it can be taken over."""
    assert not any(one["values"] for one in reading_answer(read_prose(MAYBE))["drafts"])
    page = page_of(caller, do="read", text=MAYBE)
    assert "What was read" in page


def test_where_a_text_only_leaves_things_out_they_stand_open(caller: Caller) -> None:
    page = page_of(caller, do="read", text="Bleed 3 mm on all sides.")
    assert '<details id="nothing-said" open>' in page
    assert "<q>" in page.partition('class="questions"')[2]
