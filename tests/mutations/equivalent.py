"""Mistakes that nobody could notice, because the module does the same with them; each with the reason."""

from __future__ import annotations

EQUIVALENT: dict[str, dict[str, str]] = {}
"""Module → key of the mutant → why."""
