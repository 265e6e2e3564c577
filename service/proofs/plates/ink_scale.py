"""The map of total ink in colours that have an order, with its scale below: pale grey for no ink, deep plum for four full inks.

* One hue, ever darker: lightness falls evenly from `PALEST` to `DARKEST` (CIE 1976 L*) while chroma grows, so that more ink is
  darker for every kind of colour vision, and in a grey copy.
* What is over the sheet's limit of total ink is rust with white stripes: shape as well as colour.
* The scale ends at 400 %, four full inks, on every page alike; more has the last colour.

Ours, computed here; the formulas are those of CIE 15:2004 for L*C*h and IEC 61966-2-1 for sRGB, from memory.
"""

from __future__ import annotations

from functools import cache

import numpy as np
import numpy.typing as npt
from PIL import Image, ImageDraw

from service.pdf.plates.colors.inks import lab_to_rgb
from service.proofs.picture.markers.lettering import LEAST_WIDTH, LINE, MARGIN, TEXT, broken, font, scale_at
from service.proofs.picture.markers.marking import INK, LEVEL_COLORS, MUTED, PAPER, WHITE
from service.proofs.plates.ink_scale_brief import TOTAL_BLACK_PERCENT, ScaleBrief

PALEST, DARKEST = 96.0, 18.0
_MOST_CHROMA, _HUE_DEGREES = 46.0, 335.0
_STRIPE_EVERY, _STRIPE = 7, 3
"""Px at scale 1, measured along a row; so are the next ones."""
_BAR, _TICK = 14.0, 5.0
_TICK_EVERY = 100

Rgb = npt.NDArray[np.uint8]


@cache
def ramp() -> Rgb:
    """(401, 3): the colour of each whole percent."""
    share = np.linspace(0, 1, TOTAL_BLACK_PERCENT + 1)
    chroma, angle = _MOST_CHROMA * np.sqrt(share) * share**0.25, np.radians(_HUE_DEGREES)
    lab = np.stack([PALEST + (DARKEST - PALEST) * share, chroma * np.cos(angle), chroma * np.sin(angle)], axis=1)
    return np.asarray(np.round(lab_to_rgb(lab) * 255), dtype=np.uint8)


def colored(total_percent: npt.NDArray[np.float32], limit_percent: float | None, scale: float) -> Rgb:
    """(rows, columns, 3). A percent is over the limit where it rounds to more."""
    whole = np.clip(np.round(total_percent), 0, TOTAL_BLACK_PERCENT).astype(np.intp)
    shown: Rgb = ramp()[whole]
    if limit_percent is not None:
        over = np.round(total_percent) > limit_percent
        shown[over] = LEVEL_COLORS["must"]
        rows, columns = over.shape
        shown[over & striped(rows, columns, scale)] = WHITE
    return shown


def striped(rows: int, columns: int, scale: float) -> npt.NDArray[np.bool_]:
    """Slanted stripes, one way for all pictures."""
    every, wide = max(2, round(_STRIPE_EVERY * scale)), max(1, round(_STRIPE * scale))
    return np.asarray((np.arange(rows)[:, None] + np.arange(columns)[None, :]) % every < wide)


def with_scale(total_percent: npt.NDArray[np.float32], brief: ScaleBrief, ppi: float) -> Image.Image:
    """The map, and below it the scale."""
    scale = scale_at(ppi)
    shown = Image.fromarray(colored(total_percent, brief.limit_percent, scale))
    over = brief.limit_percent is not None and bool((np.round(total_percent) > brief.limit_percent).any())
    width = max(shown.width, round(LEAST_WIDTH * scale))
    words = [brief.title, *([brief.over if over else brief.none_over] if brief.limit_percent is not None else [])]
    room = width - 2 * MARGIN * scale
    lines = [(line, at == 0) for at, text in enumerate(words) for line in broken(text, room, font(TEXT * scale))]
    height = round((2 * MARGIN + _BAR + _TICK + 2 * LINE + 8) * scale + len(lines) * LINE * scale)
    whole = Image.new("RGB", (width, shown.height + height), PAPER)
    whole.paste(shown, (0, 0))
    draw = ImageDraw.Draw(whole)
    y = shown.height + MARGIN * scale
    for line, first in lines:
        color = INK if first else MUTED
        draw.text((round(MARGIN * scale), round(y + LINE * scale / 2)), line, fill=color, font=font(TEXT * scale), anchor="lm")
        y += LINE * scale
    _bar(whole, draw, brief, round(y + 6 * scale), scale)
    return whole


def _bar(whole: Image.Image, draw: ImageDraw.ImageDraw, brief: ScaleBrief, top: int, scale: float) -> None:
    """The ramp from left to right with its ticks; above them the limit."""
    face = font(TEXT * scale)
    room = round((MARGIN + 14) * scale)  # the last label stands out to the right
    left, right = round(MARGIN * scale), whole.width - room
    tall, tick, thin = round(_BAR * scale), round(_TICK * scale), max(1, round(scale))
    if brief.limit_percent is not None:
        top += round(LINE * scale)
    percents = np.linspace(0, TOTAL_BLACK_PERCENT, right - left, dtype=np.float32)
    whole.paste(Image.fromarray(colored(np.tile(percents, (tall, 1)), brief.limit_percent, scale)), (left, top))
    draw.rectangle((left - thin, top - thin, right + thin - 1, top + tall + thin - 1), outline=INK, width=thin)

    def at(percent: float) -> int:
        return left + round((right - left - 1) * min(percent, TOTAL_BLACK_PERCENT) / TOTAL_BLACK_PERCENT)

    for percent in range(0, TOTAL_BLACK_PERCENT + 1, _TICK_EVERY):
        x = at(percent)
        draw.rectangle((x, top + tall, x + thin - 1, top + tall + tick), fill=INK)
        below = (max(x, left + round(face.getlength("0 %") / 2)), top + tall + tick + round(2 * scale))
        draw.text(below, f"{percent} %", fill=INK, font=face, anchor="mt")
    if brief.limit_percent is not None:
        x = at(brief.limit_percent)
        draw.rectangle((x - thin, top - tick, x + thin - 1, top + tall), fill=INK)
        half = face.getlength(brief.limit) / 2
        middle = min(max(x, left + half), whole.width - MARGIN * scale / 2 - half)
        draw.text((middle, top - tick - round(2 * scale)), brief.limit, fill=INK, font=face, anchor="mb")
