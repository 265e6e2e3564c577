"""Every message of the service: what is said in Python, in templates and in scripts, and what stands in declarations."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from dataclasses import dataclass, fields, is_dataclass
from functools import cache
from io import BytesIO
from pathlib import Path

from babel.messages.extract import extract_javascript
from jinja2 import Environment
from jinja2.ext import extract_from_ast

from service.answers.problems import PROBLEMS
from service.language import wording
from service.pdf.pages.annotations import LABELS
from service.rules.catalogue import RULES
from service.rules.file.print_standard import demands  # noqa: F401  (importing declares them)
from service.rules.file.print_standard.demand import DEMANDS
from service.sheets.catalogue import base_document, family_files, stored_sheets
from service.sheets.model import SpecSheet

ROOT = Path(__file__).parents[2]

SAYING = {
    "say": (0,), "say_many": (0, 1), "say_about": (0, 1), "to_say": (0,), "sentence": (0,),
    "Unmeasured": (0,), "unmeasured": (0,), "BeyondLimits": (0,), "beyond_limits": (0,), "NotAsked": (0,),
    "Failure": (1,), "failed": (1,),
    "TooMuchWork": (0,), "CannotSeparate": (0,), "Unreadable": (0,), "TooLarge": (0,),
}
"""Function → which of its arguments are texts; of `say_about` the first is the subject."""
_IN_TEMPLATES = ("say", "say_many", "say_about")
_IN_SCRIPTS = {"say": (1,), "sayMany": (1, 2)}
_CALL_IN_PYTHON = re.compile(rf"\b(?:{'|'.join(SAYING)})\s*\(")
_CALL_IN_SCRIPT = re.compile(r"(?<![.#\w])(?<!function )(say|sayMany)\(")
_PROSE = re.compile(r"(?<![.\w])(?<!na_)(?<!jpn_)[a-z]+ [a-z]+|^always$|[:(] ?[a-z]{4,}(?!_)\b")
"""What of the keys of sheets and the numbers of standards is said, and not the same in every language."""
_COMMENT_LINE = re.compile(r"^\s*(?://|/?\*).*$", re.MULTILINE)
LONGEST_CALL = 3000


@dataclass(frozen=True)
class Text:
    one: str
    many: str | None = None
    """Only where the text counts."""
    subject: str | None = None
    """Only of a word that is said about something."""
    where: str = ""
    """The file that says it, from the root of the project."""


@cache
def all_messages(root: Path = ROOT) -> tuple[Text, ...]:
    """Each once, in the order of files and lines, what stands in declarations last."""
    once: dict[tuple[str | None, str], Text] = {}
    for text in (*_of_python(root), *_of_templates(root), *_of_scripts(root), *_of_declarations(), *_of_sheets()):
        known = once.get((text.subject, text.one))
        if known is None or (known.many is None and text.many is not None):
            once[text.subject, text.one] = text
        assert known is None or None in (known.many, text.many) or known.many == text.many, f"two plurals of {text.one!r}"
    return tuple(once.values())


# --- Python -----------------------------------------------------------------------------------------------------------


def modules(root: Path = ROOT) -> list[Path]:
    return sorted(path for path in (root / "service").rglob("*.py") if "__pycache__" not in path.parts)


def calls(path: Path) -> Iterator[tuple[ast.Call, str]]:
    """Every call of a function of `SAYING`, nested ones too, in the order of lines; with the function's name."""
    source = path.read_text(encoding="utf-8")
    if not _CALL_IN_PYTHON.search(source):
        return  # half of the modules say nothing, and reading them takes as long
    found = [
        (node, node.func.id)
        for node in _nodes(ast.parse(source))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in SAYING
    ]
    yield from sorted(found, key=lambda one: (one[0].lineno, one[0].col_offset))


def _nodes(tree: ast.AST) -> Iterator[ast.AST]:
    """As `ast.walk`, in any order, in half of its time: each process of a run reads all modules."""
    left: list[object] = [tree]
    while left:
        node = left.pop()
        if isinstance(node, ast.AST):
            yield node
            left.extend(vars(node).values())
        elif isinstance(node, list):
            left.extend(node)


def literals(call: ast.Call, name: str) -> list[str] | None:
    """The texts of a call; None where it says what was marked elsewhere."""
    given = [call.args[at] for at in SAYING[name] if at < len(call.args)]
    texts = [one.value for one in given if isinstance(one, ast.Constant) and isinstance(one.value, str)]
    return texts if len(texts) == len(SAYING[name]) else None


def _of_python(root: Path) -> Iterator[Text]:
    for path in modules(root):
        for call, name in calls(path):
            texts = literals(call, name)
            if texts:
                yield _text(name, texts, path.relative_to(root).as_posix())


def _text(name: str, texts: list[str], where: str) -> Text:
    if name == "say_about":
        return Text(texts[1], subject=texts[0], where=where)
    return Text(texts[0], texts[1] if len(texts) > 1 else None, where=where)


# --- Templates and scripts ----------------------------------------------------------------------------------------------


def _of_templates(root: Path) -> Iterator[Text]:
    environment = Environment(autoescape=True)
    for path in sorted(root.glob("service/**/templates/**/*.html")):
        tree = environment.parse(path.read_text(encoding="utf-8"))
        for _, name, given in extract_from_ast(tree, _IN_TEMPLATES, babel_style=False):
            texts = [one for one in given if isinstance(one, str)]
            if len(texts) >= len(SAYING[name]):
                yield _text(name, texts[: len(SAYING[name])], path.relative_to(root).as_posix())


def _of_scripts(root: Path) -> Iterator[Text]:
    for path in sorted(root.glob("service/web/static/**/*.js")):
        if "texts.js" not in path.read_text(encoding="utf-8"):
            continue  # it brings its own texts along
        source = _COMMENT_LINE.sub("", path.read_text(encoding="utf-8"))
        for call in _CALL_IN_SCRIPT.finditer(source):  # one by one: Babel leaves out a call inside of another's values
            rest = BytesIO(source[call.start() : call.start() + LONGEST_CALL].encode())
            _, _, given, _ = next(iter(extract_javascript(rest, _IN_SCRIPTS, (), {})), (0, "", None, []))
            texts = [one for one in (given if isinstance(given, tuple) else (given,)) if one]
            count = len(_IN_SCRIPTS[call[1]])
            if len(texts) >= count:
                yield _text("say", texts[:count], path.relative_to(root).as_posix())


# --- Declarations -------------------------------------------------------------------------------------------------------


def _of_declarations() -> Iterator[Text]:
    for rule in RULES.values():
        where = f"{rule.module.replace('.', '/')}.py"
        yield from (Text(one, where=where) for one in (rule.title, rule.why, rule.remedy))
        if _PROSE.search(rule.asked_by):
            yield Text(rule.asked_by, where=where)
    for demand in DEMANDS.values():
        where = f"{demand.look.__module__.replace('.', '/')}.py"
        yield from (Text(one, where=where) for one in (demand.subject, demand.remedy))
    for problem in PROBLEMS.values():
        yield from (Text(one, where="service/answers/problems.py") for one in (problem.title, problem.what_to_do))
    yield from (Text(one, where="service/pdf/pages/annotations.py") for one in dict.fromkeys(LABELS.values()))
    yield from (Text(one, subject="side", where="service/language/wording.py") for one in wording.SIDES)


def _of_sheets() -> Iterator[Text]:
    """What stored sheets say to people; one's own sheets speak the language that they are written in."""
    for sheet in stored_sheets().values():
        for text in dict.fromkeys((sheet.title, sheet.summary, *_notes(sheet), *_names(sheet))):
            if text:
                yield Text(text, where="specs")
        for source in sheet.references:
            yield from (Text(one, where="specs") for one in (source.name, source.about) if _PROSE.search(one))
    titles = ((base_document(file.stem) or {}).get("title") for file in family_files())
    yield from (Text(one, where="specs/families") for one in titles if isinstance(one, str))


def _names(sheet: SpecSheet) -> Iterator[str]:
    """Of areas and of parts."""
    yield from (area.name for area in sheet.keep_clear)
    yield from (part.name for part in (sheet.trim.parts if sheet.trim else ()))


def _notes(value: object) -> Iterator[str]:
    if is_dataclass(value):
        note = getattr(value, "note", None)
        if isinstance(note, str):
            yield note
        for field in fields(value):
            yield from _notes(getattr(value, field.name))
    elif isinstance(value, tuple):
        for one in value:
            yield from _notes(one)
