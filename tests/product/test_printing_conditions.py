"""Printing conditions by the names that people use."""

from __future__ import annotations

import pytest

from service.product.printing_conditions import same_condition


@pytest.mark.parametrize(
    "names",
    [
        ("FOGRA39", "FOGRA39L", "ISO Coated v2", "ISOcoated_v2_eci.icc", "isocoated v2 300 eci", "Coated FOGRA39"),
        ("FOGRA51", "PSO Coated v3", "PSOcoated_v3"),
        ("CGATS TR 006", "CGATS TR006", "GRACoL2006_Coated1v2.icc", "GRACoL 2006"),
        ("My own press", "my_own-press"),
    ],
)
def test_names_that_mean_one_condition(names: tuple[str, ...]) -> None:
    assert len({same_condition(name) for name in names}) == 1


def test_conditions_of_other_papers_stay_apart() -> None:
    names = ("FOGRA39", "PSO Coated v3", "PSO Uncoated v3", "ISO Uncoated", "GRACoL 2006", "SWOP 2006 Coated 3", "IFRA26", "")
    assert len({same_condition(name) for name in names}) == len(names)
