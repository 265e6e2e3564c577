"""What docstrings point at in backticks is there: modules, their names, folders. A name that was changed is changed there too."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

import service

SERVICE = Path(service.__path__[0])
MODULES = sorted(SERVICE.rglob("*.py"))

POINTER = re.compile(r"`([A-Za-z_][\w./]*)(?:\(\))?`")
OURS = re.compile(r"\w*[a-z]\w*[_./]|_[a-z]")
"""Looks like a name of this house: it has an underscore, a dot or a slash. Single words may be PDF's, JSON's, anybody's."""


def names_in(tree: ast.Module) -> Iterator[str]:
    """Every name that the module defines, uses or takes."""
    for node in ast.walk(tree):
        match node:
            case ast.FunctionDef(name=name) | ast.ClassDef(name=name) | ast.arg(arg=name) | ast.Name(id=name):
                yield name
            case ast.Attribute(attr=name) | ast.keyword(arg=str(name)):
                yield name
            case ast.alias(name=name):
                yield from name.split(".")
            case ast.Constant(value=str(text)) if len(text) < 60:
                yield from re.findall(r"\w+", text)  # keys, modules that are loaded by name


def docstrings(tree: ast.Module) -> Iterator[tuple[int, str]]:
    """Of modules, classes, functions and fields, with their lines."""
    for node in ast.walk(tree):
        match node:
            case ast.Expr(value=ast.Constant(value=str(text))):
                yield node.lineno, text


@cache
def trees() -> dict[Path, ast.Module]:
    return {path: ast.parse(path.read_text(encoding="utf-8")) for path in MODULES}


@cache
def names() -> dict[Path, set[str]]:
    return {path: set(names_in(tree)) for path, tree in trees().items()}


@cache
def everywhere() -> set[str]:
    return set().union(*names().values())


BUILD = (SERVICE.parent / "pyproject.toml").read_text(encoding="utf-8")
"""Names folders that only an installed distribution has."""
FOLDERS = {part for path in MODULES for part in path.relative_to(SERVICE).with_suffix("").parts} | {"service", "specs", "tests"}


def resolves(pointer: str) -> bool:
    if "/" in pointer:
        return any((root / pointer).exists() for root in (SERVICE, SERVICE.parent)) or pointer.rstrip("/") in BUILD
    first, *rest = pointer.removeprefix("service.").split(".")
    if pointer != first and (SERVICE / first).is_dir():
        return _is_there(SERVICE, [first, *rest])
    if rest and (owners := [other for other in MODULES if other.stem == first or other.parent.name == first]):
        return all(any(one in names()[owner] or owner.stem == one for owner in owners) for one in rest)
    if first.startswith("_"):
        return any(name.endswith(first) for name in everywhere())
    return all(one in everywhere() or one in FOLDERS for one in (first, *rest))


def _is_there(folder: Path, parts: list[str]) -> bool:
    """Rooms, then a module, then what it defines."""
    while parts and (folder / parts[0]).is_dir():
        folder, parts = folder / parts[0], parts[1:]
    module = folder / f"{parts[0]}.py" if parts else None
    return module is None or (module in names() and set(parts[1:]) <= names()[module])


@pytest.mark.parametrize(
    "pointer", ["pages_wished", "preview_wish.read", "measurements.Nothing", "service.rules.nowhere", "apis/"]
)
def test_a_pointer_to_what_is_not_there_is_noticed(pointer: str) -> None:
    assert not resolves(pointer)


def test_every_pointer_of_a_docstring_resolves() -> None:
    dangling = [
        f"{path.relative_to(SERVICE)}:{line}: `{pointer}`"
        for path, tree in trees().items()
        for line, text in docstrings(tree)
        for pointer in POINTER.findall(text)
        if OURS.match(pointer) and not resolves(pointer)
    ]
    assert dangling == []
