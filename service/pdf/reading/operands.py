"""Operands of a content stream's operators, as the lexer gives them (see `lexer`)."""

from __future__ import annotations

from service.pdf.reading.lexer import Name, Operand, numbers

Operands = bytes | list[Operand]


def floats(operands: Operands, count: int) -> list[float] | None:
    """The last `count` numbers among the operands; None where there are fewer: the operator is then passed over."""
    found = numbers(operands) if isinstance(operands, bytes) else [one for one in operands if isinstance(one, float)]
    return found[-count:] if len(found) >= count else None


def name_of(operands: Operands) -> str | None:
    """The last name among the operands."""
    names = [one for one in operands if isinstance(one, Name)] if isinstance(operands, list) else []
    return names[-1].decode("utf-8", "replace") if names else None
