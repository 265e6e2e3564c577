"""All rules, in the order in which a result lists them. A new module of rules is imported here and nowhere else."""

from __future__ import annotations

from service.rules import trim  # noqa: F401  (importing declares the rules)
from service.rules.base import RULES

__all__ = ["RULES"]
