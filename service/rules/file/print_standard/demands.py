"""Every demand that a program can check, by its id. A new module of demands is imported here and nowhere else."""

from __future__ import annotations

from service.rules.file.print_standard import identity, intent, objects, pages, painting  # noqa: F401  (importing declares them)
from service.rules.file.print_standard.demand import DEMANDS

__all__ = ["DEMANDS"]
