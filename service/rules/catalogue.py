"""All rules, in the order in which a result lists them: that of the modules below, and within a module that of its rules."""

from __future__ import annotations

from importlib import import_module

from service.language.spoken import say
from service.rules.base import DECLARED, Rule

_MODULES = (
    *("file.file", "file.file_standard", "file.file_output_intent", "file.file_active_content", "file.file_linearized",
      "file.file_parts"),
    *("pages.pages", "pages.pages_uniform", "pages.pages_blank", "pages.pages_orientation", "pages.pages_rotation",
      "pages.pages_boxes"),
    *("edges.trim", "edges.trim_shown", "edges.trim_boxes", "edges.bleed", "edges.bleed_reach", "edges.bleed_excess"),
    *("edges.margins.margin", "edges.margins.margin_artwork", "edges.margins.margin_outline", "edges.margins.margin_frame",
      "edges.margins.margin_keyline", "edges.margins.margin_folds", "edges.marks"),
    *("image.image", "image.image_excess", "image.image_compression", "image.image_distorted", "image.image_proxy",
      "image.image_jpeg"),
    *("color.color", "color.color_profile", "color.color_spots", "color.color_registration", "color.color_icc"),
    *("ink.ink_total", "ink.ink_overprint", "ink.ink_empty_plate", "ink.ink_tints"),
    *("type.text", "type.text_black", "type.font", "type.font_asked", "type.line", "type.copy",
      "type.copy_keep_clear", "type.copy_trial"),
    *("pages.layer", "pages.page", "color.transparency"),
    *("make_up.fold", "make_up.spine", "make_up.spine_height", "make_up.finish", "pages.preview"),
)
"""A new module of rules gets its place here, and nowhere else."""


def _in_order() -> dict[str, Rule]:
    """Importing a module declares its rules, whoever imports it first."""
    modules = [import_module(f"service.rules.{name}").__name__ for name in _MODULES]
    return {rule.id: rule for module in modules for rule in DECLARED.values() if rule.module == module}


RULES: dict[str, Rule] = _in_order()
"""Every rule by its id: those that a sheet may name under `levels`."""


def claim_of(rule_id: str) -> str:
    """What the rule claims of a right file; its id where this version does not have it."""
    rule = RULES.get(rule_id)
    return say(rule.title) if rule else rule_id
