"""Measuring in parts where one of them goes wrong. It runs in the child process."""

from __future__ import annotations

import os
import time
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from service.pdf.facts.parts import DocumentPart, PagePart, Part
from service.pdf.measure import parts_of
from service.pdf.question import Question, Stretch

BAD = 3
"""The page at which something happens."""


def _before_the_bad_page(path: Path, question: Question, stretch: Stretch) -> Iterator[Part | None]:
    """The parts, and None before the bad page is measured."""
    for part in parts_of(path, question, stretch):
        if isinstance(part, PagePart) and part.page.number == BAD and not stretch.boxes_only:
            yield None
        yield part


def page_aborts(path: Path, question: Question, stretch: Stretch) -> Iterator[Part]:
    for part in _before_the_bad_page(path, question, stretch):
        if part is None:
            os.abort()
        yield part


def page_eats_memory(path: Path, question: Question, stretch: Stretch) -> Iterator[Part]:
    for part in _before_the_bad_page(path, question, stretch):
        if part is None:
            raise MemoryError
        yield part


def page_hangs(path: Path, question: Question, stretch: Stretch) -> Iterator[Part]:
    for part in _before_the_bad_page(path, question, stretch):
        if part is None:
            time.sleep(3600)
            raise AssertionError
        yield part


def page_is_another(path: Path, question: Question, stretch: Stretch) -> Iterator[Part]:
    for part in parts_of(path, question, stretch):
        if isinstance(part, PagePart) and part.page.number == BAD and not stretch.boxes_only:
            yield replace(part, page=replace(part.page, number=1))
        else:
            yield part


def everything_from_there_hangs(path: Path, question: Question, stretch: Stretch) -> Iterator[Part]:
    for part in parts_of(path, question, stretch):
        if isinstance(part, PagePart) and part.page.number >= BAD and not stretch.boxes_only:
            time.sleep(3600)
        yield part


def facts_abort(path: Path, question: Question, stretch: Stretch) -> Iterator[Part]:
    for part in parts_of(path, question, stretch):
        if isinstance(part, DocumentPart) and part.complete:
            os.abort()
        yield part


def facts_hang(path: Path, question: Question, stretch: Stretch) -> Iterator[Part]:
    for part in parts_of(path, question, stretch):
        if isinstance(part, DocumentPart) and part.complete:
            time.sleep(3600)
        yield part


def not_even_boxes(path: Path, question: Question, stretch: Stretch) -> Iterator[Part]:
    for part in parts_of(path, question, stretch):
        if isinstance(part, PagePart) and part.page.number == BAD:
            os.abort()
        yield part


def pages_take_their_time(path: Path, question: Question, stretch: Stretch) -> Iterator[Part]:
    for part in parts_of(path, question, stretch):
        if isinstance(part, PagePart):
            time.sleep(0.05)
        yield part
