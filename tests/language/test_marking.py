"""Laws on the source: what people read is written where it is said, and in a form that can be collected."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from service.rules.catalogue import RULES as RULES_BY_ID
from service.rules.file.print_standard.demand import DEMANDS, PARTS
from tests.language.messages import ROOT, SAYING, Text, all_messages, calls, literals, modules

FACTS = ROOT / "service" / "pdf" / "facts" / "document.py"
RULES, PROOFS = ([path for path in modules() if path.is_relative_to(ROOT / "service" / room)] for room in ("rules", "proofs"))
_WORDS = re.compile(r"[^\W\d_] +[^\W\d_]|[^\W\d_]{2,} ")
_DECLARE = {"rule", "demand"}
_FOR_PROGRAMMERS = {"debug", "info", "warning", "error", "exception"}
_COMPARE = {"len", "compile", "fullmatch", "match", "search", "startswith", "removeprefix"}
_DATA = {"measured", "required", "source"}
"""What machines read of a finding and a declaration: English in every language."""
_NOT_SPOKEN = {
    "rules/type/guide_copy.py": "words that are looked for in the file",
    "rules/base.py": "headings of docstrings, and of data",
    "proofs/drawing/svg.py": "a style sheet",
    "proofs/dummy/drawn.py": "the name of a configuration of layers",
    "proofs/picture/printed_page.py": "values that programs read",
    "proofs/preview/watermark.py": "operators",
    "proofs/report/html.py": "a policy for browsers",
    "proofs/report/pdf.py": "mark-up",
}


def place(path: Path) -> str:
    return path.relative_to(ROOT / "service").as_posix()


def tree(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


@pytest.mark.parametrize("path", [one for one in RULES if place(one) not in _NOT_SPOKEN], ids=place)
def test_no_sentence_of_a_rule_escapes_the_catalogues(path: Path) -> None:
    """Words stand only in calls that say or mark them, in declarations, and where machines or programmers alone read them."""
    allowed = {*_declared(place(path)), *_vocabulary(tree(path)), *_vocabulary(tree(FACTS))}
    assert [(one.lineno, one.value) for one in _unsaid(tree(path)) if one.value not in allowed] == []


@pytest.mark.parametrize("path", [one for one in PROOFS if place(one) not in _NOT_SPOKEN], ids=place)
def test_no_sentence_of_a_proof_escapes_the_catalogues(path: Path) -> None:
    assert [(one.lineno, one.value) for one in _unsaid(tree(path)) if one.value not in _vocabulary(tree(path))] == []


def _declared(module: str) -> set[str]:
    """What stands in declarations, whose texts may be constants of the module: messages that are collected, and data."""
    data = {demand.source for demand in DEMANDS.values()} | set(PARTS.values())
    for rule in RULES_BY_ID.values():
        data |= {rule.source, *rule.measured.values(), *rule.required.values()}
    return data | {text.one for text in all_messages() if text.where == f"service/{module}"}


def _unsaid(node: ast.AST) -> Iterator[ast.Constant]:
    for child in ast.iter_child_nodes(node):
        if isinstance(child, ast.Constant) and isinstance(child.value, str) and _WORDS.search(child.value):
            yield child
        elif not _may_hold_words(child):
            yield from _unsaid(child)


def _may_hold_words(node: ast.AST) -> bool:
    if isinstance(node, ast.Raise | ast.Assert) or (isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)):
        return True  # docstrings; those of attributes as well
    if isinstance(node, ast.keyword):
        return node.arg in _DATA
    return isinstance(node, ast.Call) and _called(node) in {*SAYING, *_DECLARE, *_FOR_PROGRAMMERS, *_COMPARE}


def _called(call: ast.Call) -> str:
    return call.func.id if isinstance(call.func, ast.Name) else call.func.attr if isinstance(call.func, ast.Attribute) else ""


def _vocabulary(module: ast.Module) -> set[object]:
    """Words that a program compares: closed lists of values, keys of tables, what stands beside '=='."""
    found: list[ast.expr | None] = []
    for node in ast.walk(module):
        if isinstance(node, ast.Dict):
            found += node.keys
        elif isinstance(node, ast.Compare):
            found += [node.left, *node.comparators]
        elif isinstance(node, ast.Subscript) and isinstance(node.value, ast.Name) and node.value.id == "Literal":
            found.append(node.slice)
    return {one.value for outer in found if outer for one in ast.walk(outer) if isinstance(one, ast.Constant)}


# --- In the form of the collection ------------------------------------------------------------------------------------

_HANDS_ON = {
    "language/sentences.py",
    "pdf/codec.py",
    "pdf/facts/unknown.py",
    "pdf/plates/rewriting/rewriter.py",
    "pdf/walk/walker.py",
}
"""Modules that make these functions, or read from JSON what others said."""


@pytest.mark.parametrize("path", [one for one in modules() if place(one) not in _HANDS_ON], ids=place)
def test_what_is_said_can_be_collected(path: Path) -> None:
    """A text is a literal; or a name, or an entry of a table, whose texts were marked with `to_say`."""
    for call, name in calls(path):
        if name == "to_say":
            assert literals(call, name), f"line {call.lineno}"
        for at in SAYING[name]:
            given = call.args[at]
            assert not isinstance(given, ast.JoinedStr | ast.BinOp), f"line {call.lineno}: a value is part of the text"


def test_values_inside_of_calls_are_collected_too(tmp_path: Path) -> None:
    (tmp_path / "service").mkdir()
    (tmp_path / "service" / "room.py").write_text(
        'say("{a} and {b}", a=say("one "\n "thing"), b=say_many("{count} page", "{count} pages", 3))\n'
        'say_about("side", "left")\nfailed("broken", "It is {what}.", what=1)\nsay(marked)\nother("not said")\n'
    )
    where = "service/room.py"
    assert [one for one in all_messages(tmp_path) if one.where == where] == [
        Text("{a} and {b}", where=where),
        Text("one thing", where=where),
        Text("{count} page", "{count} pages", where=where),
        Text("left", subject="side", where=where),
        Text("It is {what}.", where=where),
    ]


def test_templates_and_scripts_are_collected(tmp_path: Path) -> None:
    templates, scripts = tmp_path / "service" / "web" / "templates", tmp_path / "service" / "web" / "static"
    templates.mkdir(parents=True)
    scripts.mkdir()
    (templates / "page.html").write_text(
        "{% if all %}{{ say('Page {n}', n=say('one')) }}{% endif %}{{ say_many('{count} ink', '{count} inks', 2) }}"
    )
    (scripts / "page.js").write_text(
        'import { say, sayMany } from "./texts.js";\nsay("It\'s {size}.", { size: say("small") });\n'
        'sayMany("{count} file", "{count} files", n);\n  // say("not")\nfunction say(text) {}\nthis.say("no");\n'
        'say(`long ` + "text");\n'
    )
    (scripts / "alone.js").write_text('say("key");')
    found = {(one.one, one.many) for one in all_messages(tmp_path) if one.where.startswith("service/web/")}
    assert found == {
        ("Page {n}", None), ("one", None), ("{count} ink", "{count} inks"),
        ("It's {size}.", None), ("small", None), ("long text", None), ("{count} file", "{count} files"),
    }
