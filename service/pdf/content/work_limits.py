"""How much drawing a check follows, whoever follows it."""

from __future__ import annotations

from service.language.sentences import sentence

MOST_OPERATORS = 5_000_000
MOST_BYTES = 512_000_000
DEEPEST_NESTING = 24
MOST_SAVED_STATES = 10_000


class TooMuchWork(Exception):
    """The page asks for more than a check may do; the text, a clause, says of what."""

    def __init__(self, text: str, /, **values: int) -> None:
        self.sentence = sentence(text, **values)
        super().__init__(self.sentence.english)


def refuse_saved_states(count: int) -> None:
    if count >= MOST_SAVED_STATES:
        raise TooMuchWork("it saves the drawing state more than {count} times without restoring it", count=MOST_SAVED_STATES)


def refuse_nesting(depth: int) -> None:
    if depth > DEEPEST_NESTING:
        raise TooMuchWork("its drawing is nested more than {count} levels deep", count=DEEPEST_NESTING)


def too_many_operators(most: int) -> TooMuchWork:
    return TooMuchWork("it has more than {count} drawing instructions", count=most)
