"""The laws of the tests: nothing waits without an end, and nothing is held by the clock on the wall."""

from __future__ import annotations

import ast
from functools import cache
from pathlib import Path

TESTS = Path(__file__).parent
RUN_BY_HAND = {"bench", "mutations"}
MODULES = [path for path in sorted(TESTS.rglob("*.py")) if path.relative_to(TESTS).parts[0] not in RUN_BY_HAND]

ENDLESS_WITHOUT_A_TIME = {"acquire", "communicate", "get", "join", "result", "wait"}
"""Of threads, processes, locks and queues, where they are called with nothing."""
ENDLESS_UNLESS_TOLD = {
    *(f"subprocess.{name}" for name in ("run", "call", "check_call", "check_output")),
    *(f"requests.{name}" for name in ("delete", "get", "head", "options", "patch", "post", "put", "request")),
}
CLOCKS = {"perf_counter", "perf_counter_ns", "time", "time_ns"}
"""A test that holds something by them fails on a busy machine. `time.monotonic` is for 'at least so long'."""


@cache
def calls(path: Path) -> list[tuple[ast.Call, str, str]]:
    """Each call of something with a dot: itself, what stands before the dot, what behind it."""
    return [
        (node, node.func.value.id if isinstance(node.func.value, ast.Name) else "", node.func.attr)
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute)
    ]


def endless(call: ast.Call, owner: str, name: str) -> bool:
    if f"{owner}.{name}" in ENDLESS_UNLESS_TOLD:
        return not any(one.arg in ("timeout", None) for one in call.keywords)  # None: `**bare` brings it
    return name in ENDLESS_WITHOUT_A_TIME and not call.args and not call.keywords


def test_every_wait_has_an_end() -> None:
    assert [f"{path.relative_to(TESTS)}:{one[0].lineno}" for path in MODULES for one in calls(path) if endless(*one)] == []


def test_what_something_costs_is_not_read_from_a_clock() -> None:
    found = ((path, call) for path in MODULES for call, owner, name in calls(path) if owner == "time" and name in CLOCKS)
    assert [f"{path.relative_to(TESTS)}:{call.lineno}" for path, call in found] == []
