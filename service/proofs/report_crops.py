"""Which places of a report's findings are shown in pictures, and what is asked of whoever draws them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from service.pdf.measurements import Measurements, Unmeasured
from service.proofs.page_picture_asked import Mark
from service.proofs.picture_crops_asked import CropAsked, CropsAsked, crop_asked
from service.rules.judge import JudgedFinding, Judgement

MOST_CROPS = 12
"""Findings that get a picture: the first ones, which weigh most."""


@dataclass(frozen=True)
class CropsPlanned:
    numbers: tuple[int, ...]
    """Of the findings, one for each crop."""
    asked: CropsAsked

    def of(self, pictures: tuple[bytes | None, ...]) -> Mapping[int, bytes]:
        """The pictures that were made, by the findings' numbers."""
        return {number: png for number, png in zip(self.numbers, pictures, strict=True) if png is not None}


def crops_planned(measurements: Measurements, judgement: Judgement) -> CropsPlanned:
    """One crop a finding, on the page of its first place."""
    crops: dict[int, CropAsked] = {}
    pages = {} if isinstance(measurements.pages, Unmeasured) else {page.number: page for page in measurements.pages}
    for number, judged in enumerate(judgement.findings, 1):
        places = judged.finding.places
        page = pages.get(places[0].page) if places and len(crops) < MOST_CROPS else None
        if page is not None:
            crops[number] = crop_asked(page, _mark(number, judged, page.number))
    return CropsPlanned(tuple(crops), CropsAsked(tuple(crops.values())))


def _mark(number: int, judged: JudgedFinding, page: int) -> Mark:
    return Mark(number, judged.level, tuple(one.box_mm for one in judged.finding.places if one.page == page))
