"""Mistakes that nobody could notice, because the module does the same with them; each with the reason."""

from __future__ import annotations

EQUIVALENT: dict[str, dict[str, str]] = {
    "service/product/with_bleed.py": {
        "bleed_in_size: abs(beside - above) <= EVEN_MM → abs(beside - above) < EVEN_MM": "0.2 mm is no binary number",
    },
    "service/rules/catalogue.py": {
        "_in_order: for rule in DECLARED.values() if rule.module == module → for rule in DECLARED.values()":
            "shows in a process that imports another module first; test_rules_come_in_one_order… starts one",
    },
}
"""Module → key of the mutant → why."""
