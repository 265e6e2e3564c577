"""What takes longest begins first in each process of a run, and nothing is lost on the way."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.running_order import BEGINNINGS, in_order

HERE = Path(__file__).parent
LONG = [f"{name}/test_long.py" for names in BEGINNINGS for name in names]


def test_what_begins_a_process_is_there() -> None:
    assert [name for names in BEGINNINGS for name in names if not (HERE / name).exists()] == []


@pytest.mark.parametrize("processes", [2, 3, 4, 9])
def test_each_test_is_run_once(processes: int) -> None:
    tests = [f"pdf/test_{number}.py" for number in range(100)] + LONG
    assert sorted(in_order(tests, str, processes)) == sorted(tests)


def test_each_process_begins_with_what_takes_long() -> None:
    tests = [f"pdf/test_{number:03}.py" for number in range(100)] + LONG
    dealt = in_order(tests, str, 3)
    size = len(tests) // 3
    assert dealt[0] == "browser/test_long.py"
    assert dealt[size : size + 2] == ["test_readme.py/test_long.py", "chaos/test_long.py"]
    assert dealt[2 * size].startswith(BEGINNINGS[2])
    assert [one for one in dealt if one not in LONG] == tests[:100], "the others stay in their order"


def test_a_room_may_begin_elsewhere_than_the_room_around_it() -> None:
    dealt = in_order(["pdf/test_a.py", "outside/test_a.py", "outside/generated/test_b.py", "pdf/test_b.py"], str, 3)
    assert dealt.index("outside/generated/test_b.py") < dealt.index("outside/test_a.py")


def test_more_long_tests_than_a_part_has_are_all_run() -> None:
    tests = [f"browser/test_{number}.py" for number in range(8)] + ["pdf/test_a.py"]
    assert sorted(in_order(tests, str, 3)) == sorted(tests)
