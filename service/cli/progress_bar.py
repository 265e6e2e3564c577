"""A progress bar for whoever waits at a terminal."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

from service.cli import telling
from service.jobs.children.measuring.side_by_side import Progress as Told
from service.language.spoken import say


@contextmanager
def progress_bar(what: str) -> Iterator[Told]:
    """On stderr, gone afterwards; yields what hears stage, page and pages."""
    columns = (
        TextColumn("{task.description}", markup=False),
        BarColumn(),
        TextColumn("{task.fields[place]}"),
        TimeElapsedColumn(),
    )
    with Progress(*columns, console=telling.console(stderr=True), transient=True) as progress:
        task = progress.add_task(what, total=None, place="")

        def step(stage: str, page: int, pages: int) -> None:
            place = say("page {page} of {pages}", page=page, pages=pages) if stage == "pages" else stage
            progress.update(task, completed=page, total=pages or None, place=place)

        yield step
