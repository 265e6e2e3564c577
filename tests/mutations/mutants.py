"""Small mistakes that somebody might make in a module, one at a time: what a test of it should notice.

* Numbers grow and shrink by 30 % (whole ones by 1 at least); orders lose or gain their limit and turn round; equality, membership
  and identity turn round; one part of an 'and' or 'or' is left out, a 'not' is dropped.
* A condition always holds, or never: of an `if`, of a choice between two values; the condition of a comprehension is left out.
* 'must' and 'should', True and False, min and max, any and all, plus and minus, times and over change places.

Left alone: what is said (prose is not asserted in this house): `message`, `remedy`, calls that say and what is assigned from
them, functions whose result is text; annotations; indexes; digits to which a number is rounded; on which side of a limit with
slack what lies exactly on it falls; an empty value or record in place of None, which the types demand.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from dataclasses import dataclass

SPOKEN = {"say", "say_many", "say_about", "to_say"}
SAID = {"message", "remedy", "told", "source", "asked_by", "measured", "required", "strict"}
"""Keywords under which words stand, numbers that come from elsewhere, where they are mutated, or a guard against ourselves."""

_LIMITS: dict[type[ast.cmpop], tuple[type[ast.cmpop], type[ast.cmpop]]] = {
    ast.Lt: (ast.LtE, ast.GtE), ast.LtE: (ast.Lt, ast.Gt), ast.Gt: (ast.GtE, ast.LtE), ast.GtE: (ast.Gt, ast.Lt),
}
_OPPOSITES: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Eq: ast.NotEq, ast.NotEq: ast.Eq, ast.In: ast.NotIn, ast.NotIn: ast.In, ast.Is: ast.IsNot, ast.IsNot: ast.Is,
}
_ARITHMETIC: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult,
}
_NAMES = {"min": "max", "max": "min", "any": "all", "all": "any"}
_WORDS = {"must": "should", "should": "must"}


@dataclass(frozen=True)
class Mutant:
    number: int
    """In the order of the module."""
    line: int
    inside: str
    """The function or class that it stands in; '' for the module."""
    before: str
    after: str

    @property
    def key(self) -> str:
        """The same wherever the lines move to."""
        return f"{self.inside}: {self.before} → {self.after}"


def mutants_of(source: str) -> list[Mutant]:
    tree = ast.parse(source)
    return [
        Mutant(number, _line(old), inside, _shown(old), _shown(new))
        for number, (_, _, _, old, new, inside) in enumerate(_sites(tree))
    ]


def _line(node: ast.AST) -> int:
    return node.target.lineno if isinstance(node, ast.comprehension) else node.lineno  # type: ignore[attr-defined, no-any-return]


def _shown(node: ast.AST) -> str:
    return f"if {ast.unparse(node.test)}" if isinstance(node, ast.If) else ast.unparse(node).strip()


def mutated(source: str, number: int) -> ast.Module:
    """The module with one mistake in it."""
    tree = ast.parse(source)
    owner, field, at, _, new, _ = list(_sites(tree))[number]
    if at is None:
        setattr(owner, field, new)
    else:
        getattr(owner, field)[at] = new
    return ast.fix_missing_locations(tree)


Site = tuple[ast.AST, str, int | None, ast.AST, ast.AST, str]
"""Whose, in which field, where in its list; what stands there, what would; inside what."""


def _sites(tree: ast.AST, inside: str = "") -> Iterator[Site]:
    for field, at, child in _children(tree):
        if _is_said(child):
            continue
        for new in _mistakes(child):
            yield tree, field, at, child, ast.copy_location(new, child), inside
        named = isinstance(child, ast.FunctionDef | ast.ClassDef)
        yield from _sites(child, f"{inside}.{child.name}".lstrip(".") if named else inside)  # type: ignore[attr-defined]


def _children(node: ast.AST) -> Iterator[tuple[str, int | None, ast.AST]]:
    for field, value in ast.iter_fields(node):
        if field in ("annotation", "returns", "slice", "type_params"):
            continue
        if isinstance(node, ast.BoolOp) and isinstance(node.op, ast.Or) and field == "values" and _is_empty(node.values[-1]):
            value = node.values[:-1]
        if isinstance(value, list):
            yield from ((field, at, one) for at, one in enumerate(value) if isinstance(one, ast.AST))
        elif isinstance(value, ast.AST):
            yield field, None, value


def _is_said(node: ast.AST) -> bool:
    match node:
        case ast.Call(func=ast.Name(id=name)):
            return _says(node) or name in ("round", "dataclass")
        case ast.keyword(arg=name):
            return name in SAID
        case ast.FunctionDef(returns=ast.AST() as returns):
            return ast.unparse(returns) in ("str", "str | None", "Iterator[str]")
        case ast.Expr(value=ast.Constant()) | ast.Import() | ast.ImportFrom() | ast.Assert():
            return True
        case ast.If(body=body, orelse=orelse):
            return all(isinstance(one, ast.Assign | ast.If | ast.Return) and _is_said(one) for one in (*body, *orelse))
        case ast.Return(value=ast.AST() as value):
            return _says(value)
        case ast.Assign(targets=targets, value=value):
            named = any(isinstance(one, ast.Name) and one.id in SAID for one in targets)
            return named or any(_says(one) for one in ast.walk(value))
        case _:
            return False


def _says(node: ast.AST) -> bool:
    return isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in SPOKEN


def _is_empty(node: ast.AST) -> bool:
    match node:
        case ast.Constant(value=value):
            return not value and value is not False
        case ast.Tuple(elts=[]) | ast.List(elts=[]) | ast.Dict(keys=[]):
            return True
        case ast.Call(func=ast.Name(id=name), args=[], keywords=[]):
            return name[0].isupper()
        case _:
            return False


def _mistakes(node: ast.AST) -> Iterator[ast.AST]:
    match node:
        case ast.Constant(value=bool(value)):
            yield ast.Constant(not value)
        case ast.Constant(value=int() | float() as value):
            yield from (ast.Constant(one) for one in _numbers(value))
        case ast.Constant(value=str(value)) if value in _WORDS:
            yield ast.Constant(_WORDS[value])
        case ast.Compare(left=left, ops=ops, comparators=others):
            for at, op in enumerate(ops):
                turned = _LIMITS.get(type(op)) or (_OPPOSITES[type(op)],)
                if type(op) in _LIMITS and re.search(r"SLACK|WITHIN", ast.unparse(node)):
                    turned = turned[1:]
                yield from (ast.Compare(left, [*ops[:at], one(), *ops[at + 1 :]], others) for one in turned)
        case ast.BoolOp(op=op, values=values):
            for at in range(len(values) - (isinstance(op, ast.Or) and _is_empty(values[-1]))):
                rest = [*values[:at], *values[at + 1 :]]
                yield ast.BoolOp(op, rest) if len(rest) > 1 else rest[0]
        case ast.UnaryOp(op=ast.Not(), operand=operand):
            yield operand
        case ast.BinOp(left=left, op=op, right=right) if type(op) in _ARITHMETIC:
            yield ast.BinOp(left, _ARITHMETIC[type(op)](), right)
        case ast.If(body=body, orelse=orelse):
            yield from (ast.If(ast.Constant(value), body, orelse) for value in (True, False))
        case ast.IfExp(body=body, orelse=orelse):
            yield from (body, orelse)
        case ast.comprehension(target=target, iter=iterated, ifs=[_, *_], is_async=is_async):
            yield ast.comprehension(target, iterated, [], is_async)
        case ast.Name(id=name) if name in _NAMES:
            yield ast.Name(_NAMES[name], ast.Load())
        case ast.Continue():
            yield ast.Break()
        case _:
            return


def _numbers(value: float) -> Iterator[float]:
    if isinstance(value, int):
        yield max(value + 1, round(value * 1.3))
        yield min(value - 1, round(value * 0.7))
    else:
        yield value * 1.3 if value else 0.1
        yield value * 0.7 if value else -0.1
