"""The laws of the house, read from the source: who may import what, how long a module may be, where everything is caught."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path

from tests.patience import PATIENCE_SECONDS

SERVICE = Path(__file__).parent.parent / "service"
MODULES = sorted(path for path in SERVICE.rglob("*.py") if "__pycache__" not in path.parts)
FOLDERS = sorted({path.parent for path in MODULES})
ROOMS = {
    "accounts", "answers", "api", "cli", "client", "demo", "door", "jobs", "language", "pdf", "product", "proofs", "rules",
    "sheets", "store", "web",
}

PDF_LIBRARIES = {"pikepdf", "pypdfium2", "PIL", "reportlab", "fitz", "pypdf", "pdfminer", "pdfplumber", "fontTools", "typst"}
HTTP_LIBRARIES = {"flask", "flask_smorest", "webargs", "werkzeug"}
WHERE_EVERYTHING_MAY_BE_CAUGHT = {"rules/judge.py", "jobs/checking.py", "jobs/children/child.py"}
"""Around a rule, around a worker, around what runs in a child."""

MOST_LINES = 300
MOST_MODULES = 14
MOST_LINES_OF_A_FUNCTION = 60
"""A function fits on a screen, its docstring aside."""


def place(path: Path) -> str:
    return path.relative_to(SERVICE).as_posix()


def room(path: Path) -> str:
    """'pdf' for service/pdf/opening.py; '' for a module at the top."""
    return path.relative_to(SERVICE).parts[0] if len(path.relative_to(SERVICE).parts) > 1 else ""


@cache
def text(path: Path) -> str:
    return path.read_text(encoding="utf-8")


@cache
def tree(path: Path) -> ast.Module:
    return ast.parse(text(path))


@cache
def nodes(path: Path) -> tuple[ast.AST, ...]:
    return tuple(ast.walk(tree(path)))


@cache
def imports(path: Path) -> tuple[str, ...]:
    """Dotted names, inside functions too; `from a import b` gives a.b, and a relative import begins with a dot."""
    found: list[str] = []
    for node in nodes(path):
        if isinstance(node, ast.Import):
            found += [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            found += [f"{'.' * node.level}{node.module or ''}.{alias.name}" for alias in node.names]
    return tuple(found)


def libraries(path: Path) -> set[str]:
    return {name.split(".")[0] for name in imports(path)}


def rooms_used(path: Path) -> set[str]:
    return {parts[1] for parts in (name.split(".") for name in imports(path)) if parts[0] == "service" and len(parts) > 1}


def those_in(*rooms: str) -> list[Path]:
    found = [path for path in MODULES if room(path) in rooms]
    assert {room(path) for path in found} == set(rooms), "the law is about a room that is not there"
    return found


def offenders(modules: list[Path], law: Callable[[Path], object]) -> dict[str, object]:
    """What breaks the law, by module; all of it at once."""
    found = {place(path): law(path) for path in modules}
    return {name: broken for name, broken in found.items() if broken}


def test_the_client_knows_its_library_and_nothing_of_the_service() -> None:
    assert offenders(those_in("client"), lambda path: rooms_used(path) - {"client"}) == {}
    used = {name for path in those_in("client") for name in libraries(path)}
    assert used - set(sys.stdlib_module_names) == {"requests", "service"}


def test_there_is_a_house() -> None:
    assert {"pdf", "rules", "sheets"} <= {room(path) for path in MODULES}


def test_nothing_is_imported_relatively() -> None:
    assert offenders(MODULES, lambda path: [name for name in imports(path) if name.startswith(".")]) == {}


def test_libraries_stay_in_their_rooms() -> None:
    def strangers(path: Path) -> set[str]:
        not_here: set[str] = set()
        if room(path) not in ("pdf", "proofs", "demo"):
            not_here |= PDF_LIBRARIES
        if room(path) not in ("api", "web") and place(path) != "__init__.py":
            not_here |= HTTP_LIBRARIES
        if room(path) != "store":
            not_here |= {"sqlalchemy"}
        return libraries(path) & not_here

    assert offenders(MODULES, strangers) == {}


def test_answers_and_commands_load_no_http_no_database_and_no_pdf_library() -> None:
    """Whatever they import, and whatever that imports: a child loads such a library, or a command when it runs."""
    names = [f"service.{place(path).removesuffix('.py').replace('/', '.')}" for path in those_in("answers", "cli")]
    script = f"import sys\nfrom importlib import import_module\nfor name in {names}: import_module(name)\nprint(*sys.modules)"
    command = [sys.executable, "-c", script]
    done = subprocess.run(command, check=True, capture_output=True, text=True, timeout=PATIENCE_SECONDS)
    loaded = {name.split(".")[0] for name in done.stdout.split()}
    assert loaded & (HTTP_LIBRARIES | PDF_LIBRARIES | {"sqlalchemy", "numpy", "gunicorn", "requests"}) == set()


def test_measuring_knows_no_sheet_and_no_rule() -> None:
    assert offenders(those_in("pdf"), lambda path: rooms_used(path) - {"pdf", "language"}) == {}


def test_sheets_know_no_rule_and_no_http() -> None:
    assert offenders(those_in("sheets"), lambda path: rooms_used(path) - {"sheets", "pdf", "language"}) == {}
    records = ("service.pdf.facts.", "service.pdf.question.")

    def more_than_records(path: Path) -> list[str]:
        return [name for name in imports(path) if name.startswith("service.pdf.") and not name.startswith(records)]

    assert offenders(those_in("sheets"), more_than_records) == {}


def test_printed_things_know_records_and_sheets_alone() -> None:
    seen = ("service.pdf.facts.", "service.product.", "service.sheets.model.", "service.sheets.variants.", "service.language.")

    def sees_more(path: Path) -> list[str]:
        return [name for name in imports(path) if name.startswith("service") and not f"{name}.".startswith(seen)]

    assert offenders(those_in("product"), sees_more) == {}


def test_languages_know_nothing_of_print() -> None:
    assert offenders(those_in("language"), lambda path: rooms_used(path) - {"language"}) == {}


def test_proofs_show_what_was_judged_and_borrow_no_rule() -> None:
    """Geometry that rules and proofs share lies in `product/`."""
    doors = {"service.rules.base", "service.rules.catalogue", "service.rules.headline", "service.rules.judgement"}

    def borrows(path: Path) -> set[str]:
        return {name.rpartition(".")[0] for name in imports(path) if name.startswith("service.rules.")} - doors

    assert offenders(those_in("proofs"), borrows) == {}


def test_judging_sees_plain_records_and_opens_nothing() -> None:
    """No file, no clock, no network, no configuration: only these modules of the standard library."""
    plain = {
        "__future__",
        "abc",
        "bisect",
        "collections",
        "dataclasses",
        "enum",
        "functools",
        "importlib",
        "inspect",
        "itertools",
        "logging",
        "math",
        "re",
        "typing",
    }
    seen = ("service.pdf.facts.", "service.product.", "service.sheets.model.", "service.rules.", "service.language.")
    opening = {"open", "print", "input", "eval", "exec", "__import__"}

    def sees_more(path: Path) -> list[str]:
        found = sorted(libraries(path) - {"service"} - plain)
        found += [name for name in imports(path) if name.startswith("service") and not f"{name}.".startswith(seen)]
        calls = {node.func.id for node in nodes(path) if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)}
        return found + sorted(calls & opening)

    assert offenders(those_in("rules"), sees_more) == {}


def test_no_arrow_points_back_to_http() -> None:
    below = those_in("answers", "jobs", "product", "proofs", "rules", "store")
    assert offenders(below, lambda path: rooms_used(path) & {"api"}) == {}


def test_a_module_is_short() -> None:
    lines = {place(path): len(text(path).splitlines()) for path in MODULES}
    assert {name: count for name, count in lines.items() if count > MOST_LINES} == {}


def test_a_module_has_a_name_of_its_own() -> None:
    nobody = {"utils", "util", "helpers", "helper", "common", "manager", "misc"}
    assert [place(path) for path in MODULES if path.stem in nobody] == []


def test_a_function_fits_on_a_screen() -> None:
    def too_long(path: Path) -> dict[str, int]:
        return {node.name: _lines(node) for node in _functions(path) if _lines(node) > MOST_LINES_OF_A_FUNCTION}

    assert offenders(MODULES, too_long) == {}


def _functions(path: Path) -> Iterator[ast.FunctionDef | ast.AsyncFunctionDef]:
    return (node for node in nodes(path) if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef))


def _lines(node: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    """Without decorators and docstring."""
    first = node.body[0]
    has_docstring = isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant) and isinstance(first.value.value, str)
    docstring = (first.end_lineno or 0) - first.lineno + 1 if has_docstring else 0
    return (node.end_lineno or 0) - node.lineno + 1 - docstring


def test_everything_is_caught_in_three_places_only() -> None:
    elsewhere = [path for path in MODULES if place(path) not in WHERE_EVERYTHING_MAY_BE_CAUGHT]

    def catches_everything(path: Path) -> list[str]:
        handlers = [node for node in nodes(path) if isinstance(node, ast.ExceptHandler) and not _raises_again(node)]
        all_of_it = [one for one in handlers if one.type is None or _names(one.type) & {"Exception", "BaseException"}]
        return [f"line {one.lineno}" for one in all_of_it]

    assert offenders(elsewhere, catches_everything) == {}


def _names(kind: ast.expr) -> set[str]:
    return {one.id for one in ast.walk(kind) if isinstance(one, ast.Name)}


def _raises_again(handler: ast.ExceptHandler) -> bool:
    """Cleans up and lets the fault go on: nothing is swallowed."""
    last = handler.body[-1]
    return isinstance(last, ast.Raise) and last.exc is None


def test_no_group_of_a_pattern_is_repeated_possessively() -> None:
    """`(?:ab?c)*+` matches too much before Python 3.11.5, and Debian 12 has 3.11.2; `(?>(?:ab?c)*)` is the same and right."""
    repeated = re.compile(r"(?<!\\)\)(?:[*+?]|\{\d*,?\d*\})\+")

    def patterns(path: Path) -> list[str]:
        constants = (node.value for node in nodes(path) if isinstance(node, ast.Constant) and isinstance(node.value, str | bytes))
        written = (one.decode("latin-1") if isinstance(one, bytes) else one for one in constants)
        return [one for one in written if repeated.search(one)]

    assert offenders(MODULES, patterns) == {}


def test_a_module_says_what_it_is_for() -> None:
    assert [place(path) for path in MODULES if text(path).strip() and not ast.get_docstring(tree(path))] == []


def test_every_room_is_known() -> None:
    """A new room gets its laws here first."""
    folders = {path.parent.name for path in MODULES if path.parent.parent == SERVICE}
    assert folders <= ROOMS


def test_no_arrow_runs_in_a_circle() -> None:
    """Modules that import each other, at whatever distance, cannot be read or tested one at a time."""
    names = {_dotted(path): path for path in MODULES}
    needs = {name: {_module_of(one, names) for one in imports(path)} - {name, ""} for name, path in names.items()}
    while free := [name for name, others in needs.items() if not others & needs.keys()]:
        for name in free:
            del needs[name]
    assert sorted(needs) == []


def test_a_room_of_more_than_a_dozen_modules_has_rooms_inside() -> None:
    """A dozen, or two more where they are one list."""
    counts = {folder: sum(1 for path in MODULES if path.parent == folder and path.stem != "__init__") for folder in FOLDERS}
    assert {folder.relative_to(SERVICE).as_posix(): count for folder, count in counts.items() if count > MOST_MODULES} == {}


def _dotted(path: Path) -> str:
    return ".".join(("service", *path.relative_to(SERVICE).with_suffix("").parts)).removesuffix(".__init__")


def _module_of(name: str, names: dict[str, Path]) -> str:
    """The module that an import reaches: `service.pdf.codec.read` is `service.pdf.codec`; '' for what is not ours."""
    while name and name not in names:
        name = name.rpartition(".")[0]
    return name
