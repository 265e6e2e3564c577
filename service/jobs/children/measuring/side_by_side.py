"""The parts of one file, measured in several children on idle cores, each of which opens the file itself.

* Each child measures a stretch of pages in order and sends each at once. Where a core is idle, another child takes the latter
  half of the longest stretch that is left; the one that had it is ended where that half begins.
* A child that crashes, hangs or asks for too much takes the page along that it was at: the next one goes on behind it.
* A page may take half of the time that is left, while others wait for it; when all time is over, what is left is lost.
* Of a lost page the boxes are measured by themselves, and the rest says why it is not known.
"""

from __future__ import annotations

import logging
import select
import time
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from service.jobs.children import sandbox
from service.jobs.children.failures import TOOK_TOO_LONG
from service.jobs.children.measuring.cores import CORES
from service.jobs.children.measuring.heard import HeardOfStretch, stretches_left
from service.jobs.children.sandbox import LOOK_EVERY_SECONDS, Interrupted, listen_once, listen_to, why_ended
from service.jobs.children.tasks import MEASURING, Limits, Task
from service.pdf.facts.unknown import BeyondLimits, Failure
from service.pdf.question import Stretch

if TYPE_CHECKING:
    from service.pdf.codec import WrittenPage
    from service.pdf.facts.measurements import Measurements
    from service.pdf.facts.parts import DocumentPart
    from service.rules.judgement import Judgements

log = logging.getLogger(__name__)

WORTH_ANOTHER_SECONDS = 0.15
"""Of measuring that would be left for each: a child and another opening of the file cost 20 to 50 ms. Ours, no source."""
USUAL_PAGE_SECONDS = 0.002
"""Taken for true until the first page tells, which may wait for a look at every object: of text it takes 5 ms, blank 0.5 ms."""
BOXES_SECONDS = 10.0
"""For the boxes of pages that were lost. Ours, no source."""

Progress = Callable[[str, int, int], None]


@dataclass(frozen=True)
class Measured:
    measurements: Measurements
    text: str | None
    """The same in JSON, of pages as their children wrote them; None where it is still to be written."""
    judgements: Judgements | None
    """None: still to be made."""
    judgements_told: str | None = None
    """As they came."""


@dataclass(frozen=True)
class Unfinished:
    """What was measured of a file when its measuring was interrupted: the whole, and some of its pages."""

    document: DocumentPart
    pages: Mapping[int, WrittenPage]


class _Child:
    """A running child with its stretch."""

    def __init__(self, task: Task, limits: Limits, heard: HeardOfStretch) -> None:
        self.heard = heard
        self._running = sandbox.SERVER.child(MEASURING, task, limits)
        self.process = self._running.__enter__()
        self.since = time.monotonic()
        """When it began with what it is at."""

    def end(self) -> None:
        self._running.__exit__(None, None, None)


class SideBySide:
    """The measuring of one file."""

    def __init__(
        self,
        task: Task,
        limits: Limits,
        progress: Progress,
        stopped: Callable[[], bool],
        before: Unfinished | None = None,
        endings: ExitStack | None = None,
        tell: Callable[[int, str], None] = lambda *_: None,
    ) -> None:
        """`before`: of the same file, measured for the same question; `endings`: as `check.run` has it; `tell`: gets each page
        as it comes, in JSON, with how many there are.
        """
        self._own_endings = ExitStack()
        self._endings = endings or self._own_endings
        self._task, self._limits, self._progress, self._stopped, self._tell_page = task, limits, progress, stopped, tell
        self._children: list[_Child] = []
        self._waiting: list[Sequence[int]] = []
        """Stretches that no child is at."""
        self._document: DocumentPart | None = before.document if before else None
        self._pages: dict[int, WrittenPage] = dict(before.pages) if before else {}
        self._measured_before = len(self._pages)
        self._lost: dict[int, Failure] = {}
        self._facts_lost: Failure | None = None
        self._began = time.monotonic()
        self._pages_began = self._began
        self._deadline = self._began + limits.seconds

    def measured(self) -> Measured | Failure:
        """Why nothing could be measured, where the file did not even open. Raises `Interrupted`, `SandboxBroken`, OSError."""
        first = HeardOfStretch(from_the_start=True)
        with self._ending_all():
            if self._document is None:
                self._start(self._task, first)
            else:
                self._know(list(self._pages.values()))
                self._waiting += stretches_left(self._document.page_count, self._pages)
                self._employ()
            while self._children:
                failure = self._step()
                if failure:
                    return failure
        whole, text = (first.whole, None) if first.whole else self._put_together()
        return Measured(whole, text, first.judgements, first.judgements_told)

    def unfinished(self) -> Unfinished | None:
        """What an interruption leaves; None where the next run has to begin anew."""
        if self._document is None or not self._document.complete or self._facts_lost:
            return None
        return Unfinished(self._document, dict(self._pages))

    @contextmanager
    def _ending_all(self) -> Iterator[None]:
        try:
            yield
        finally:
            for one in self._children:
                one.end()
            self._children.clear()
            self._own_endings.close()

    def _step(self) -> Failure | None:
        """Hear what the children say until next we have to look around. Why nothing at all can be measured."""
        if self._stopped():
            raise Interrupted
        left = self._deadline - time.monotonic()
        if left <= 0:
            return self._give_up()
        poll, by_descriptor = select.poll(), {one.process.pipe: one for one in self._children}
        for descriptor in by_descriptor:
            poll.register(descriptor, select.POLLIN)
        for descriptor, _ in poll.poll(min(left, LOOK_EVERY_SECONDS) * 1000):
            failure = self._hear(by_descriptor[descriptor])
            if failure:
                return failure
        for one in [one for one in self._children if self._takes_too_long(one)]:
            self._lose(one, TOOK_TOO_LONG)
        self._employ()
        return None

    # --- what a child says ---

    def _hear(self, one: _Child) -> Failure | None:
        heard = one.heard
        ended, why = listen_once(one.process.pipe, heard)
        if heard.document is not None and heard.document is not self._document:
            self._document, one.since = heard.document, time.monotonic()
            self._pages_began = one.since
        if heard.arrived:
            one.since = time.monotonic()
            self._know(heard.arrived)
            heard.arrived.clear()
            self._tell()
        if heard.complete and not heard.error:
            self._children.remove(one)
            one.process.hang_up()
            self._endings.callback(one.end)
        elif ended or heard.error:
            why = why or why_ended(one.process, heard, self._limits)
            if self._document is None:
                return why
            self._lose(one, why)
        return None

    def _know(self, pages: Iterable[WrittenPage]) -> None:
        assert self._document is not None, "pages follow the whole"
        for one in pages:
            self._pages[one.part.page.number] = one
            self._tell_page(self._document.page_count, one.text)

    def _tell(self) -> None:
        if self._document:
            self._progress("pages", len(self._pages) + len(self._lost), self._document.page_count)

    def _dismiss(self, one: _Child) -> None:
        self._children.remove(one)
        one.end()

    # --- what a child cannot do ---

    def _takes_too_long(self, one: _Child) -> bool:
        others_wait = len(one.heard.left) > 1 or bool(self._waiting)
        return others_wait and time.monotonic() - one.since > (self._deadline - one.since) / 2

    def _lose(self, one: _Child, why: Failure) -> None:
        """The child, and what it was at: the facts of the file as a whole, a page, or the judging."""
        left = one.heard.cut(len(one.heard.left))
        if not one.heard.knows_the_whole:
            self._facts_lost = why
        elif left:
            log.warning("page %d was lost: %s", left[0], why.why)
            self._lost[left[0]] = why
            left = left[1:]
        if left:
            self._waiting.append(left)
        self._dismiss(one)
        self._tell()

    def _give_up(self) -> Failure | None:
        """No time is left: what was not measured is lost."""
        if self._document is None:
            return TOOK_TOO_LONG
        if not self._document.complete and self._facts_lost is None:
            self._facts_lost = TOOK_TOO_LONG
        for number in range(1, self._document.page_count + 1):
            if number not in self._pages:
                self._lost.setdefault(number, TOOK_TOO_LONG)
        for one in list(self._children):
            self._dismiss(one)
        return None

    # --- work for idle cores ---

    def _employ(self) -> None:
        share = CORES.share
        while len(self._children) > share:  # another check has begun, and this core is its
            newest = self._children[-1]
            self._waiting.append(newest.heard.cut(len(newest.heard.left)))
            self._dismiss(newest)
        if self._children and not self._waiting and len(self._children) < share:
            longest = max((one.heard for one in self._children), key=lambda heard: len(heard.left))
            half = len(longest.left) // 2
            if half * self._seconds_a_page() > WORTH_ANOTHER_SECONDS and CORES.one_is_idle:
                self._waiting.append(longest.cut(half))
        while self._waiting and len(self._children) < share:
            numbers = self._waiting.pop()
            stretch = Stretch(with_document=False, numbers=tuple(numbers))
            self._start(replace(self._task, stretch=stretch), HeardOfStretch(numbers))

    def _start(self, task: Task, heard: HeardOfStretch) -> None:
        self._children.append(_Child(task, self._limits, heard))

    def _seconds_a_page(self) -> float:
        """What a page has taken one child so far; before there is one, at least so much."""
        taken = (time.monotonic() - self._pages_began) * len(self._children)
        count = len(self._pages) + len(self._lost) - self._measured_before
        return taken / count if count else max(taken, USUAL_PAGE_SECONDS)

    # --- the whole ---

    def _put_together(self) -> tuple[Measurements, str | None]:
        from service.pdf.codec import WrittenPage, page_to_json, put_together_in_json
        from service.pdf.facts.measurements import Measurements
        from service.pdf.facts.parts import lost_page, put_together, without_facts

        assert self._document is not None, "a file that has opened has a part for the whole"
        document = self._document.document
        if self._facts_lost:
            document = without_facts(document, _beyond_limits(self._facts_lost))
        boxes = self._boxes_of_the_lost()
        if isinstance(boxes, Failure):
            return Measurements(document, _beyond_limits(boxes)), None
        lost = [lost_page(one.part, _beyond_limits(self._lost[one.part.page.number])) for one in boxes]
        self._know(WrittenPage(one, page_to_json(one)) for one in lost)
        in_order = [self._pages[number] for number in sorted(self._pages)]
        whole = put_together(document, [one.part for one in in_order])
        return whole, put_together_in_json(whole.document, [one.text for one in in_order])

    def _boxes_of_the_lost(self) -> Sequence[WrittenPage] | Failure:
        """Without them no page is of use: what is on the others would stand on the wrong one."""
        if not self._lost:
            return ()
        numbers = sorted(self._lost)
        heard = HeardOfStretch(numbers)
        stretch = Stretch(with_document=False, numbers=tuple(numbers), boxes_only=True)
        limits = replace(self._limits, seconds=min(self._limits.seconds, BOXES_SECONDS))
        failure = listen_to(MEASURING, replace(self._task, stretch=stretch), limits, heard, self._stopped)
        return failure or heard.arrived


def _beyond_limits(failure: Failure) -> BeyondLimits:
    """Whatever ended a child says nothing against the file."""
    return BeyondLimits(failure.text, failure.values)
