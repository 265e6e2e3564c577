"""What of a page a finding's crop shows: its place with some surroundings, framed, the trim and the bleed drawn as lines."""

from __future__ import annotations

import base64
import io
from dataclasses import dataclass

from PIL import Image, ImageDraw

from service.pdf.facts.geometry import Box
from service.pdf.facts.page import Page
from service.rules.base import Finding, Place
from tests.outside.desk.witnesses import NoWitness, PageWitness

WIDTH_PX, HEIGHT_PX = 330, 260
PLATE_WIDTH_PX, PLATE_HEIGHT_PX = 165, 130
SMALLEST_MM = 10.0
MOST_PLACES = 2
"""Places of a finding that get a crop: the first and the last."""
SPEAKS_OF_INKS = ("ink.", "bleed.", "color.", "text.inks", "finish.", "transparency.", "margin.artwork", "line.", "text.reversed")
DARK = 160
"""Pixels below this count as ink for the measure beside a crop; paler ones may be the edge of a letter."""
FRAME, TRIM, BLEED = (224, 0, 160), (0, 130, 255), (255, 140, 0)


@dataclass(frozen=True)
class Crop:
    title: str
    data_uri: str
    """'' where there is no picture: the title says why."""


def places_shown(finding: Finding) -> list[Place]:
    places = list(finding.places)
    return places if len(places) <= MOST_PLACES else [places[0], places[-1]]


def area_around(place: Box, media: Box) -> Box:
    """A fifth of the place around it, 4 mm at least, `SMALLEST_MM` wide at least, in the shape of a crop, not beyond the media
    by more than 2 mm.
    """
    around = max(4.0, 0.2 * max(place.width, place.height))
    width, height = max(place.width + 2 * around, SMALLEST_MM), max(place.height + 2 * around, SMALLEST_MM)
    width, height = max(width, height * WIDTH_PX / HEIGHT_PX), max(height, width * HEIGHT_PX / WIDTH_PX)
    x, y = (place.x0 + place.x1) / 2, (place.y0 + place.y1) / 2
    area = Box(x - width / 2, y - height / 2, x + width / 2, y + height / 2)
    return area.intersection(media.grown(2.0)) or area


def crops_of(finding: Finding, rule: str, place: Place, page: Page, witness: PageWitness) -> list[Crop]:
    """The whole page, the place by Ghostscript and by MuPDF, and where the rule speaks of inks its plates."""
    media = page.boxes_mm.media
    area = area_around(place.box_mm, media)
    boxes = [one.box_mm for one in finding.places if one.page == place.page]
    crops = []
    for title, shown, size in (("page", media, (150, HEIGHT_PX)), ("Ghostscript", area, (WIDTH_PX, HEIGHT_PX))):
        try:
            told = f"{title}; {_ink_told(place.box_mm, page, witness)}" if title == "Ghostscript" else title
            crops.append(_crop(told, witness.ghostscript(shown), shown, page, boxes, size))
        except NoWitness as why:
            crops.append(Crop(str(why), ""))
    try:
        fine = min(1200.0, WIDTH_PX / max(area.width, 0.1) * 25.4)
        within = area.intersection(media) or area
        crops.append(_crop("MuPDF", witness.mupdf(within, fine), within, page, [], (WIDTH_PX, HEIGHT_PX)))
    except NoWitness as why:
        crops.append(Crop(str(why), ""))
    return crops + (_plates(area, place.box_mm, page, witness) if rule.startswith(SPEAKS_OF_INKS) else [])


def _ink_told(place: Box, page: Page, witness: PageWitness) -> str:
    """How far from each trim edge the dark pixels within the place are: the measure for what ends near an edge on white."""
    dark = witness.ghostscript(place).convert("L").point([255 if value < DARK else 0 for value in range(256)])
    found, trim = dark.getbbox(), page.boxes_mm.trim
    if found is None:
        return "nothing dark in the place"
    across, down = place.width / dark.width, place.height / dark.height
    left, top = place.x0 + found[0] * across, place.y0 + found[1] * down
    right, bottom = place.x0 + found[2] * across, place.y0 + found[3] * down
    sides = (("left", left - trim.x0), ("top", top - trim.y0), ("right", trim.x1 - right), ("bottom", trim.y1 - bottom))
    return "dark ink in the place, mm from the trim: " + ", ".join(f"{side} {distance:.2f}" for side, distance in sides)


def _plates(area: Box, place: Box, page: Page, witness: PageWitness) -> list[Crop]:
    """Plates that are empty in the area are told by their name alone."""
    try:
        plates, inside = witness.plates(area), witness.plates(place)
    except NoWitness as why:
        return [Crop(str(why), "")]
    crops, empty = [], []
    for ink, plate in plates.items():
        most = _darkest(plate)
        if most < 0.5:
            empty.append(ink)
            continue
        darkest = _darkest(inside[ink])
        title = f"{ink}: to {most:.0f} %, in the place {darkest:.0f} %"
        crops.append(_crop(title, plate.convert("RGB"), area, page, [place], (PLATE_WIDTH_PX, PLATE_HEIGHT_PX)))
    return [*crops, *([Crop(f"no ink here: {', '.join(empty)}", "")] if empty else [])]


def _darkest(plate: Image.Image) -> float:
    """Percent of full tint."""
    return 100 - min(plate.tobytes()) / 2.55


def _crop(title: str, picture: Image.Image, area: Box, page: Page, boxes: list[Box], size: tuple[int, int]) -> Crop:
    scale = min(size[0] / picture.width, size[1] / picture.height)
    shown = picture.resize(
        (max(1, round(picture.width * scale)), max(1, round(picture.height * scale))),
        Image.Resampling.NEAREST if scale > 3 else Image.Resampling.LANCZOS,
    )
    pen = ImageDraw.Draw(shown)
    for box, colour in ((page.boxes_mm.trim, TRIM), (page.boxes_mm.bleed, BLEED)):
        pen.rectangle(_px(box, area, shown, 0), outline=colour)
    for box in boxes[:40]:
        pen.rectangle(_px(box, area, shown, 2), outline=FRAME)
    return Crop(title, data_uri(shown))


def _px(box: Box, area: Box, shown: Image.Image, beyond: int) -> tuple[float, float, float, float]:
    across, down = shown.width / area.width, shown.height / area.height
    x0, y0, x1, y1 = box
    edges = (x0 - area.x0) * across, (y0 - area.y0) * down, (x1 - area.x0) * across, (y1 - area.y0) * down
    return edges[0] - beyond, edges[1] - beyond, max(edges[2], edges[0]) + beyond, max(edges[3], edges[1]) + beyond


def data_uri(picture: Image.Image) -> str:
    out = io.BytesIO()
    picture.save(out, "WEBP", quality=82)
    return "data:image/webp;base64," + base64.b64encode(out.getvalue()).decode()
