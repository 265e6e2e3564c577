"""Which tests answer for a module: those of its own name and those of every rule; for what several stand on, those named here."""

from __future__ import annotations

from pathlib import Path

from tests.mutations.running import ROOT

MODULES = sorted(
    path.relative_to(ROOT).as_posix()
    for room in ("rules", "product")
    for path in (ROOT / "service" / room).rglob("*.py")
    if path.name != "__init__.py"
)

_OTHERS = {
    "rules/base": ("test_judge", "test_catalogue"),
    "rules/seen": ("test_seen",),
    "rules/judgement": ("test_judge",),
    "rules/headline": ("test_judge",),
    "rules/reference": ("test_catalogue",),
    "rules/product_asked": (
        *("edges/test_trim", "make_up/test_fold"),
        *("pages/test_pages", "pages/test_pages_uniform", "pages/test_pages_orientation"),
        *("type/test_text", "type/test_line", "ink/test_ink_total"),
    ),
    "rules/sightings": ("type/test_text", "pages/test_page", "pages/test_layer", "color/test_transparency"),
    "rules/edges/margins/margin_artwork": ("edges/margins/test_margin", "edges/test_by_edge"),
    "rules/edges/by_edge": ("edges/test_by_edge",),
    "rules/edges/shown_trim": ("edges/test_trim_shown",),
    "rules/type/raised_signs": ("type/test_text",),
    "rules/type/guide_copy": ("type/test_copy",),
    "rules/file/print_standard": ("file/test_file_standard",),
}


def answering(module: str) -> list[Path]:
    """`module`: service/rules/edges/trim.py."""
    name = module.removeprefix("service/").removesuffix(".py")
    room, _, rest = name.partition("/")
    others = next((tests for place, tests in _OTHERS.items() if name == place or name.startswith(f"{place}/")), None)
    folder, _, stem = rest.rpartition("/")
    twin = f"{folder}/test_{stem}" if folder else f"test_{stem}"
    own = (twin,) if others is None or (ROOT / "tests" / room / f"{twin}.py").exists() else ()
    every = ("test_catalogue",) if room == "rules" else ()
    found = [ROOT / "tests" / room / f"{one}.py" for one in dict.fromkeys((*own, *(others or ()), *every))]
    missing = [path for path in found if not path.exists()]
    assert not missing, f"{module} has no tests of its own: {missing}"
    return found
