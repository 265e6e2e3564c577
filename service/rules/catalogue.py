"""All rules, in the order in which a result lists them. A new module of rules is imported here and nowhere else."""

from __future__ import annotations

from service.language.spoken import say
from service.rules.base import DECLARED, Rule
from service.rules.color import color, color_profile, color_registration, color_spots, transparency  # noqa: F401  (importing declares the rules, here and below)
from service.rules.edges import bleed, bleed_reach, margin, margin_folds, marks, trim, trim_boxes  # noqa: F401
from service.rules.file import file, file_active_content, file_linearized, file_output_intent, file_standard  # noqa: F401
from service.rules.image import image, image_compression, image_distorted, image_excess, image_proxy  # noqa: F401
from service.rules.ink import ink, ink_plates  # noqa: F401
from service.rules.make_up import finish, fold, spine  # noqa: F401
from service.rules.pages import layer, page, pages, pages_blank, pages_uniform, preview  # noqa: F401
from service.rules.type import copy, font, line, text  # noqa: F401

RULE_IDS: tuple[str, ...] = (
    "file.readable", "file.locked", "file.size", "file.version", "file.standard", "file.output-intent",
    "file.active-content", "file.linearized",
    "pages.count", "pages.multiple", "pages.arrangement", "pages.uniform", "pages.blank", "pages.orientation",
    "trim.size", "trim.scale", "trim.declared", "trim.boxes",
    "bleed.declared", "bleed.reach", "bleed.excess",
    "margin.text", "margin.artwork", "margin.fold", "margin.spine",
    "marks.crop", "marks.offset",
    "image.resolution", "image.resolution-bilevel", "image.excess", "image.compression", "image.distorted", "image.proxy",
    "color.space", "color.profile", "color.spots", "color.registration",
    "ink.total", "ink.overprint-white", "ink.overprint-black", "ink.empty-plate",
    "text.size", "text.inks", "font.embedded", "font.type3", "font.damaged", "line.width",
    "copy.placeholder", "copy.keep-clear", "layer.hidden", "page.annotation",
    "transparency.live", "transparency.space",
    "fold.panels", "spine.width", "finish.plate", "preview.legible",
)  # fmt: skip
"""Every rule that a sheet may name under `levels`."""

RULES: dict[str, Rule] = {rule_id: DECLARED[rule_id] for rule_id in RULE_IDS}
"""The declared rules in that order."""

_unlisted = sorted(DECLARED.keys() - set(RULE_IDS))
if _unlisted:
    raise ValueError(f"declared, but without a place in RULE_IDS: {', '.join(_unlisted)}")

__all__ = ["RULES", "RULE_IDS"]


def claim_of(rule_id: str) -> str:
    """What the rule claims of a right file; its id where this version does not have it."""
    rule = RULES.get(rule_id)
    return say(rule.title) if rule else rule_id
