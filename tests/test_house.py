"""The laws of the house, read from the source: who may import what, how long a module may be, where everything is caught."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

SERVICE = Path(__file__).parent.parent / "service"
MODULES = sorted(path for path in SERVICE.rglob("*.py") if "__pycache__" not in path.parts)
ROOMS = {"answers", "api", "cli", "demo", "jobs", "language", "pdf", "product", "proofs", "rules", "sheets", "store", "web"}

PDF_LIBRARIES = {"pikepdf", "pypdfium2", "PIL", "reportlab", "fitz", "pypdf", "pdfminer", "pdfplumber", "fontTools", "typst"}
HTTP_LIBRARIES = {"flask", "flask_smorest", "webargs", "werkzeug"}
WHERE_EVERYTHING_MAY_BE_CAUGHT = ("rules/judge.py", "jobs/")
"""Around a rule, around a worker."""

MOST_LINES = 400
MOST_LINES_OF_A_FUNCTION = 60
"""A function fits on a screen, its docstring aside."""


def place(path: Path) -> str:
    return path.relative_to(SERVICE).as_posix()


def room(path: Path) -> str:
    """'pdf' for service/pdf/reading/opening.py; '' for a module at the top."""
    return path.relative_to(SERVICE).parts[0] if len(path.relative_to(SERVICE).parts) > 1 else ""


def tree(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


def imports(path: Path) -> Iterator[str]:
    """Dotted names of everything imported, inside functions too; `from a import b` gives a.b."""
    for node in ast.walk(tree(path)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{place(path)} imports relatively"
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def libraries(path: Path) -> set[str]:
    return {name.split(".")[0] for name in imports(path)}


def rooms_used(path: Path) -> set[str]:
    return {parts[1] for parts in (name.split(".") for name in imports(path)) if parts[0] == "service" and len(parts) > 1}


def those_in(*rooms: str) -> list[Path]:
    return [path for path in MODULES if room(path) in rooms]


def test_there_is_a_house() -> None:
    assert {"pdf", "rules", "sheets"} <= {room(path) for path in MODULES}


@pytest.mark.parametrize("path", MODULES, ids=place)
def test_libraries_stay_in_their_rooms(path: Path) -> None:
    used = libraries(path)
    if room(path) not in ("pdf", "proofs", "demo"):
        assert not used & PDF_LIBRARIES
    if room(path) not in ("api", "web") and place(path) != "__init__.py":
        assert not used & HTTP_LIBRARIES
    if room(path) != "store":
        assert "sqlalchemy" not in used


@pytest.mark.parametrize("path", those_in("pdf"), ids=place)
def test_measuring_knows_no_sheet_and_no_rule(path: Path) -> None:
    assert rooms_used(path) <= {"pdf", "language"}


@pytest.mark.parametrize("path", those_in("sheets"), ids=place)
def test_sheets_know_no_rule_and_no_http(path: Path) -> None:
    assert rooms_used(path) <= {"sheets", "pdf", "product", "language"}
    assert all(name.startswith("service.pdf.facts.") for name in imports(path) if name.startswith("service.pdf."))


@pytest.mark.parametrize("path", those_in("product"), ids=place)
def test_printed_things_know_records_and_sheets_alone(path: Path) -> None:
    seen = ("service.pdf.facts.", "service.product.", "service.sheets.model.", "service.language.")
    assert all(f"{name}.".startswith(seen) for name in imports(path) if name.startswith("service"))


@pytest.mark.parametrize("path", those_in("proofs"), ids=place)
def test_proofs_show_what_was_judged_and_borrow_no_rule(path: Path) -> None:
    """Geometry that rules and proofs share lies in `product/`."""
    known = {"service.rules.base", "service.rules.catalogue", "service.rules.headline", "service.rules.judge"}
    assert {name.rpartition(".")[0] for name in imports(path) if name.startswith("service.rules.")} <= known


@pytest.mark.parametrize("path", those_in("language"), ids=place)
def test_languages_know_nothing_of_print(path: Path) -> None:
    assert rooms_used(path) <= {"language"}


@pytest.mark.parametrize("path", those_in("rules"), ids=place)
def test_judging_sees_plain_records_and_opens_nothing(path: Path) -> None:
    """No file, no clock, no network, no configuration: only these modules of the standard library."""
    plain = {
        "__future__",
        "abc",
        "bisect",
        "collections",
        "dataclasses",
        "enum",
        "functools",
        "inspect",
        "itertools",
        "logging",
        "math",
        "re",
        "typing",
    }
    assert libraries(path) - {"service"} <= plain
    seen = ("service.pdf.facts.", "service.product.", "service.sheets.model.", "service.rules.", "service.language.")
    assert all(f"{name}.".startswith(seen) for name in imports(path) if name.startswith("service"))
    calls = {node.func.id for node in ast.walk(tree(path)) if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)}
    assert not calls & {"open", "print", "input", "eval", "exec", "__import__"}


@pytest.mark.parametrize("path", those_in("answers", "rules", "store", "jobs", "proofs", "product"), ids=place)
def test_no_arrow_points_back_to_http(path: Path) -> None:
    assert "api" not in rooms_used(path)


@pytest.mark.parametrize("path", MODULES, ids=place)
def test_a_module_is_short_and_has_a_name_of_its_own(path: Path) -> None:
    assert len(path.read_text(encoding="utf-8").splitlines()) <= MOST_LINES
    assert path.stem not in {"utils", "util", "helpers", "helper", "common", "manager", "misc"}


@pytest.mark.parametrize("path", MODULES, ids=place)
def test_a_function_fits_on_a_screen(path: Path) -> None:
    too_long = {node.name: _lines(node) for node in _functions(path) if _lines(node) > MOST_LINES_OF_A_FUNCTION}
    assert not too_long


def _functions(path: Path) -> Iterator[ast.FunctionDef | ast.AsyncFunctionDef]:
    return (node for node in ast.walk(tree(path)) if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef))


def _lines(node: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    """Without decorators and docstring."""
    first = node.body[0]
    has_docstring = isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant) and isinstance(first.value.value, str)
    docstring = (first.end_lineno or 0) - first.lineno + 1 if has_docstring else 0
    return (node.end_lineno or 0) - node.lineno + 1 - docstring


@pytest.mark.parametrize("path", MODULES, ids=place)
def test_everything_is_caught_in_two_places_only(path: Path) -> None:
    if place(path).startswith(WHERE_EVERYTHING_MAY_BE_CAUGHT):
        return
    for node in ast.walk(tree(path)):
        if isinstance(node, ast.ExceptHandler) and not _raises_again(node):
            assert node.type is not None, f"line {node.lineno}: a bare except"
            names = {one.id for one in ast.walk(node.type) if isinstance(one, ast.Name)}
            assert not names & {"Exception", "BaseException"}, f"line {node.lineno}"


def _raises_again(handler: ast.ExceptHandler) -> bool:
    """Cleans up and lets the fault go on: nothing is swallowed."""
    last = handler.body[-1]
    return isinstance(last, ast.Raise) and last.exc is None


@pytest.mark.parametrize("path", [path for path in MODULES if path.read_text(encoding="utf-8").strip()], ids=place)
def test_a_module_says_what_it_is_for(path: Path) -> None:
    assert ast.get_docstring(tree(path))


def test_every_room_is_known() -> None:
    """A new room gets its laws here first."""
    folders = {path.parent.name for path in MODULES if path.parent.parent == SERVICE}
    assert folders <= ROOMS
