"""What a terminal shows: lines break where the language lets them."""

from __future__ import annotations

import io

import pytest
from rich.console import Console
from rich.table import Table

from service.cli.telling import Words


@pytest.mark.parametrize("width", range(8, 30))
def test_a_number_and_its_unit_stay_on_one_line(width: int) -> None:
    table = Table(box=None, show_header=False, pad_edge=False)
    table.add_column(overflow="fold", width=width)
    table.add_row(Words("Le fond perdu fait 2,5\u00a0mm\u202f; il faut 3\u00a0mm."))
    screen = Console(file=io.StringIO(), width=width)
    screen.print(table)
    told = screen.file.getvalue()  # type: ignore[attr-defined]
    assert "2,5\u00a0mm\u202f;" in told
    assert "3\u00a0mm." in told
