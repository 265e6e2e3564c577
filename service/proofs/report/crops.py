"""Which places of a report's findings are shown in pictures, and what whoever draws them is told."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from service.language.spoken import say
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.unknown import Unmeasured
from service.proofs.picture.crops_brief import CropBrief, CropsBrief, crop_brief
from service.proofs.picture.page_brief import Mark
from service.rules.base import Finding
from service.rules.judgement import JudgedFinding, Judgement

MOST_CROPS = 12
"""Findings that get a picture: the first ones, which weigh most."""


@dataclass(frozen=True)
class CropsPlanned:
    numbers: tuple[int, ...]
    """Of the findings, one for each crop."""
    brief: CropsBrief

    def of(self, pictures: tuple[bytes | None, ...]) -> Mapping[int, bytes]:
        """The pictures that were made, by the findings' numbers."""
        return {number: png for number, png in zip(self.numbers, pictures, strict=True) if png is not None}

    def said_of_missing(self, made: Mapping[int, bytes]) -> str | None:
        """None where every picture was made."""
        if len(made) == len(self.numbers):
            return None
        return say("Some places have no picture, because it could not be made from this file.")


def crop_page(finding: Finding) -> int | None:
    """The page whose picture shows the finding: that of its first place."""
    return finding.places[0].page if finding.places else None


def crops_planned(measurements: Measurements, judgement: Judgement) -> CropsPlanned:
    """One crop a finding."""
    crops: dict[int, CropBrief] = {}
    pages = {} if isinstance(measurements.pages, Unmeasured) else {page.number: page for page in measurements.pages}
    for number, judged in enumerate(judgement.findings, 1):
        shown = crop_page(judged.finding) if len(crops) < MOST_CROPS else None
        page = pages.get(shown) if shown is not None else None
        if page is not None:
            crops[number] = crop_brief(page, _mark(number, judged, page.number))
    return CropsPlanned(tuple(crops), CropsBrief(tuple(crops.values())))


def _mark(number: int, judged: JudgedFinding, page: int) -> Mark:
    return Mark(number, judged.level, tuple(one.box_mm for one in judged.finding.places if one.page == page))
