"""Pages with pictures on them, and sheets that ask something of pictures."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from service.pdf.facts.page import Page
from service.pdf.facts.painted.images import Image, StandIn
from service.sheets.model import ImagesAsked, Resolution, SpecSheet
from tests.rules.measured import content, page, picture

ASKED = SpecSheet(images=ImagesAsked(contone=Resolution(minimum_ppi=200, preferred_ppi=300)))
LIMITED = SpecSheet(images=ImagesAsked(contone=Resolution(preferred_ppi=300, maximum_ppi=400)))
LINE_ART = SpecSheet(images=ImagesAsked(bilevel=Resolution(minimum_ppi=600, preferred_ppi=1200)))
SILENT = SpecSheet()


def with_pictures(*pictures: Image, stand_ins: Iterable[StandIn] = ()) -> Page:
    return page(content=replace(content(images=pictures), stand_ins=tuple(stand_ins)))


def one(**changes: object) -> Page:
    return with_pictures(replace(picture(), **changes))  # type: ignore[arg-type]
