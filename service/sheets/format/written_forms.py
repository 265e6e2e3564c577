"""Regular expressions for values that a sheet writes as text: they accept the same texts as `lengths` reads.

They hold in the dialect of JSON Schema (ECMA-262 with the flag u) and in Python alike. How large a quantity is they cannot say.
"""

from __future__ import annotations

from collections.abc import Iterable

END = r"(?![\s\S])"
"""The very end; a plain `$` lets a line break follow in some dialects."""

_ABOVE = "0*[1-9][0-9]*"
_ANY_DECIMAL = r"(?:[0-9]+(?:\.[0-9]+)?|\.[0-9]+)"
_ANY_FRACTION = f"[0-9]+/{_ABOVE}"
_ANY_MIXED = f"[0-9]+ +[0-9]+/{_ABOVE}"
_ZERO = rf"(?:0+(?:\.0+)?|\.0+|0+/{_ABOVE}|0+ +0+/{_ABOVE})"
_NONZERO = f"(?:(?=[0-9.]*[1-9]){_ANY_DECIMAL}|(?=[0-9]*[1-9]){_ANY_FRACTION}|(?=[0-9 ]*[1-9]){_ANY_MIXED})"

_LOWER_TO_K = "\u212a"
"""The kelvin sign, the one other character whose lowercase is an ASCII letter."""

_FORBIDDEN = r"\x00-\x08\x0b-\x1f\x7f-\x9f\u2028\u2029\ufeff\ufffe\uffff\ud800-\udfff"
"""As in `service.sheets.format.fields`."""


def quantity(units: Iterable[str], *, zero: bool) -> str:
    """A number with one of the units, in any case. `zero`: whether it may be 0."""
    number = rf"(?:\+?{_NONZERO}|[-+]?{_ZERO})" if zero else rf"\+?{_NONZERO}"
    written = "|".join(_in_any_case(unit) for unit in sorted(units, key=len, reverse=True))
    return rf"^\s*{number} *(?:{written})\s*{END}"


def words(longest: int, form: str | None) -> str:
    """Text that is not blank and has no control character; a line break of two characters counts as one."""
    if form is not None:
        return rf"^(?=[\s\S]{{1,{longest}}}{END})(?:{form}){END}"
    return rf"^(?=[\s\S]*\S)(?:\r\n|[^{_FORBIDDEN}]){{1,{longest}}}{END}"


def _in_any_case(unit: str) -> str:
    return "".join(f"[{one}{one.upper()}{_LOWER_TO_K if one == 'k' else ''}]" if one.isalpha() else one for one in unit)
