"""Millimetres and pixels of one page's plates."""

from __future__ import annotations

from service.pdf.facts.geometry import Box
from service.pdf.plates.areas.regions import Region


class Frame:
    def __init__(self, area: Box, shape: tuple[int, ...]) -> None:
        self.area = area
        self.width, self.height = area.width / shape[1], area.height / shape[0]
        self.pixel_mm2 = self.width * self.height

    def part(self, box: Box) -> tuple[slice, slice]:
        """The pixels whose middles the box covers."""
        rows = self._span(box.y0 - self.area.y0, box.y1 - self.area.y0, self.height)
        return rows, self._span(box.x0 - self.area.x0, box.x1 - self.area.x0, self.width)

    @staticmethod
    def _span(first: float, last: float, pitch: float) -> slice:
        return slice(max(round(first / pitch), 0), max(round(last / pitch), 0))

    def box(self, region: Region, part: tuple[slice, slice]) -> Box:
        """`region` counts from the part's first pixel."""
        rows, columns = part
        x0, x1 = (round(self.area.x0 + (columns.start + at) * self.width, 2) for at in (region.column0, region.column1))
        y0, y1 = (round(self.area.y0 + (rows.start + at) * self.height, 2) for at in (region.row0, region.row1))
        return Box(x0, y0, x1, y1)
