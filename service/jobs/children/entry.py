"""Where a child begins: in a function that is named, so that whoever starts the child need not load what it runs."""

from __future__ import annotations

from collections.abc import Callable
from importlib import import_module
from typing import cast

from service.jobs.children.tasks import Limits


def begin(main: str, task: object, limits: Limits, out: int, *heard: int) -> None:
    """`out`: the descriptor that the child answers through; `heard`: another that it hears more through."""
    function_named(main)(task, limits, out, *heard)


def function_named(name: str) -> Callable[..., object]:
    """'module:function'."""
    module, _, function = name.partition(":")
    return cast(Callable[..., object], getattr(import_module(module), function))
