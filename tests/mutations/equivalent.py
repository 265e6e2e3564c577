"""Mistakes that nobody could notice, because the module does the same with them; each with the reason."""

from __future__ import annotations

EQUIVALENT: dict[str, dict[str, str]] = {
    "service/product/with_bleed.py": {
        "bleed_in_size: abs(beside - above) <= EVEN_MM → abs(beside - above) < EVEN_MM": "0.2 mm is no binary number",
    },
    "service/rules/edges/margin.py": {
        f"stands_in: {before} → {before.replace('<', '<=')}": "the area is smaller by the slack: nothing lies on its edge"
        for before in ("box.x0 < inner.x1", "inner.x0 < box.x1", "box.y0 < inner.y1", "inner.y0 < box.y1")
    },
    "service/rules/make_up/finish.py": {
        "_tints_in_pictures: plate.tint_least_percent is not None and (boxes := _of_pictures(page, plate.tinted_boxes_mm)) → "
        "(boxes := _of_pictures(page, plate.tinted_boxes_mm))": "a plate without tints has no regions of them",
        "_of_pictures: () if isinstance(page.content, Unmeasured) else page.content.images → page.content.images":
            "a page that uses the ink has content",
    },
    "service/rules/catalogue.py": {
        "_in_order: for rule in DECLARED.values() if rule.module == module → for rule in DECLARED.values()":
            "shows in a process that imports another module first; test_rules_come_in_one_order… starts one",
    },
}
"""Module → key of the mutant → why."""
