"""What the sheet asks of the product's size and make-up, as the rules on size, pages and folds compare with it."""

from __future__ import annotations

from dataclasses import dataclass

from service.sheets.model import Block, PagesAsked, SpecSheet, TrimAsked


@dataclass(frozen=True, kw_only=True)
class SizeAsked(Block):
    """The trim block, and whether the sheet also speaks of pages: only then is a double page more than a wrong size."""

    trim: TrimAsked
    spreads_known: bool
    size_is_judged: bool
    """Whether trim.size is on and tells of pages of another size, so that no other rule need."""


@dataclass(frozen=True, kw_only=True)
class MakeUpAsked(Block):
    """The pages block, and the single page's size where the sheet has it."""

    pages: PagesAsked
    trim: TrimAsked | None


def size_asked(sheet: SpecSheet) -> SizeAsked | None:
    trim = sheet.trim
    if trim is None:
        return None
    return SizeAsked(
        trim=trim, spreads_known=sheet.pages is not None, size_is_judged=size_is_judged(sheet), level=trim.level, note=trim.note
    )


def size_is_judged(sheet: SpecSheet) -> bool:
    return sheet.trim is not None and sheet.levels.get("trim.size") != "off"


def rgb_is_told(sheet: SpecSheet) -> bool:
    """color.space tells of RGB and of Lab."""
    color = sheet.color
    told = color is not None and color.allowed is not None and not {"rgb", "lab"} & set(color.allowed)
    return told and sheet.levels.get("color.space") != "off"


def registration_is_told(sheet: SpecSheet) -> bool:
    """color.registration tells of artwork in every ink."""
    return sheet.levels.get("color.registration") != "off"


def make_up_asked(sheet: SpecSheet) -> MakeUpAsked | None:
    pages = sheet.pages
    return None if pages is None else MakeUpAsked(pages=pages, trim=sheet.trim, level=pages.level, note=pages.note)
