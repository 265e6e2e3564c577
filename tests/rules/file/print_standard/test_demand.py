"""The declaration of a demand."""

from __future__ import annotations

import pytest

from service.rules.file.print_standard.demand import ALL, DEMANDS, demand
from service.rules.seen import document_of


def test_two_demands_cannot_have_one_name() -> None:
    taken = next(iter(DEMANDS))
    before = DEMANDS[taken]
    with pytest.raises(ValueError, match="two demands"):
        demand(taken, needs=document_of, of=ALL, subject="-", remedy="-", source="-")(lambda _facts, _edition: iter(()))
    assert DEMANDS[taken] is before
