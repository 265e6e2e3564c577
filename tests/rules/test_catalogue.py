"""The declarations: complete, unique, in order, and held by the findings."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

import service.rules
from service.rules.base import DECLARED, Rule, rule
from service.rules.catalogue import RULES
from service.rules.reference import reference
from service.rules.seen import pages_of
from service.sheets.model import SpecSheet
from tests.patience import PATIENCE_SECONDS

DECLARATION: dict[str, Any] = {
    "needs": pages_of,
    "asks": lambda sheet: sheet,
    "asked_by": "always",
    "level": "must",
    "source": "-",
    "measured": {},
    "required": {},
}


def test_no_module_of_rules_is_forgotten() -> None:
    """A rule that is not in the catalogue would never be judged, and nobody would notice."""
    modules = Path(service.rules.__path__[0]).glob("*/**/*.py")
    written = {path.stem for path in modules if re.search(r"^@rule\(", path.read_text(encoding="utf-8"), re.MULTILINE)}
    assert written == {one.module.rpartition(".")[2] for one in RULES.values()}
    assert RULES.keys() == DECLARED.keys()


def test_rules_come_in_one_order_whichever_module_is_imported_first() -> None:
    first = "import service.rules.make_up.finish, service.rules.edges.margins.margin_folds; "
    listed = "from service.rules.catalogue import RULES; print(*RULES)"
    command = [sys.executable, "-c", first + listed]
    told = subprocess.run(command, capture_output=True, text=True, check=True, timeout=PATIENCE_SECONDS)
    assert told.stdout.split() == list(RULES)


@pytest.mark.parametrize("one", RULES.values(), ids=list(RULES))
def test_metadata_is_complete(one: Rule) -> None:
    for text in (one.title, one.why, one.remedy, one.knows, one.cannot_know, one.source, one.asked_by):
        assert text.strip()
    assert one.title.endswith(".")
    assert one.level in ("must", "should")
    assert one.measured
    assert one.required


@pytest.mark.parametrize("one", RULES.values(), ids=lambda one: one.id)
def test_a_rule_lives_in_the_module_of_its_group(one: Rule) -> None:
    """`find service/rules -name 'bleed*'` finds every rule on the bleed."""
    group = one.id.split(".")[0]
    assert f"{one.module.rpartition('.')[2]}_".startswith(f"{group}_")


def test_a_rule_asked_for_by_a_key_is_silent_on_an_empty_sheet() -> None:
    for one in RULES.values():
        assert (one.asks(SpecSheet()) is not None) == one.asked_by.startswith("always"), one.id


OBSERVATIONS = {
    *("file.linearized", "pages.uniform", "pages.blank", "trim.scale", "trim.declared", "image.excess", "image.compression"),
    *("image.distorted", "ink.overprint-black", "ink.empty-plate", "text.inks", "font.type3", "copy.placeholder"),
    *("layer.hidden", "page.annotation", "transparency.space", "preview.legible"),
}
"""What breaks these is an observation where the sheet does not say otherwise; what breaks another rule of the first ones, which
the musts of sheets rest on, is a nonconformity. A new rule says its level in its own test."""

FIRST = (
    *("file.readable", "file.locked", "file.size", "file.version", "file.standard", "file.output-intent", "file.active-content"),
    *("pages.count", "pages.multiple", "pages.arrangement", "pages.orientation", "trim.size", "trim.boxes"),
    *("bleed.declared", "bleed.reach", "bleed.excess", "margin.text", "margin.artwork", "margin.fold", "margin.spine"),
    *("marks.crop", "marks.offset", "image.resolution", "image.resolution-bilevel", "image.proxy"),
    *("color.space", "color.profile", "color.spots", "color.registration", "ink.total", "ink.overprint-white"),
    *("text.size", "font.embedded", "font.damaged", "line.width", "copy.keep-clear", "transparency.live"),
    *("fold.panels", "spine.width", "finish.plate"),
)


def test_what_is_a_must_by_itself_stays_one() -> None:
    assert {rule_id for rule_id in (*FIRST, *OBSERVATIONS) if RULES[rule_id].level == "should"} == OBSERVATIONS


def test_two_rules_cannot_have_one_name() -> None:
    with pytest.raises(ValueError, match="two rules"):
        rule("trim.size", **DECLARATION)(lambda _m, _a: iter(()))


def test_a_rule_without_its_prose_stops_the_import() -> None:
    def silent(_measurements: object, _asked: object) -> object:
        """Title only."""
        return iter(())

    for wordless in (silent, lambda _m, _a: iter(())):
        with pytest.raises(ValueError, match="Why"):
            rule("trim.silent", **DECLARATION)(wordless)  # type: ignore[arg-type]
    assert "trim.silent" not in DECLARED


def test_the_reference_is_plain_data_with_every_key() -> None:
    entries = reference()
    assert json.loads(json.dumps(entries)) == entries
    assert [one["id"] for one in entries] == list(RULES)
    assert {key for one in entries for key in one} == {
        "id", "title", "why", "remedy", "knows", "cannot_know", "source", "level", "asked_by", "measured", "required",
    }
