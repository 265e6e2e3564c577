"""Pictures that look like photographs of a bakery, drawn by rule: no camera, no rights to clear, the same bytes each time.

Soft shapes are drawn small and enlarged; grain is added at full size, so that a picture has as much detail as its pixels.
"""

from __future__ import annotations

import io
import random
from collections.abc import Callable
from functools import lru_cache
from math import ceil, cos, floor, pi, sin
from typing import Any

from PIL import Image, ImageChops, ImageDraw, ImageEnhance, ImageFilter, ImageOps

Color = tuple[int, int, int]

DRAWN_LONG_SIDE = 900
"""Pixels that a scene is drawn at before it is enlarged."""

CRUST: tuple[Color, Color, Color] = ((70, 34, 14), (186, 112, 46), (248, 210, 142))
DOUGH: tuple[Color, Color, Color] = ((150, 120, 88), (224, 204, 172), (252, 244, 226))
OAK: tuple[Color, Color, Color] = ((64, 40, 24), (132, 90, 56), (196, 150, 104))
SLATE: tuple[Color, Color, Color] = ((26, 27, 30), (52, 54, 58), (92, 94, 98))


def photograph(scene: str, width_px: int, height_px: int) -> Image.Image:
    """An RGB picture of one of `SCENES`."""
    scale = DRAWN_LONG_SIDE / max(width_px, height_px)
    graded, chance = _graded(scene, max(64, round(width_px * scale)), max(64, round(height_px * scale)))
    rng = random.Random()
    rng.setstate(chance)
    return _with_grain(graded.resize((width_px, height_px), Image.Resampling.BICUBIC), rng)


@lru_cache(maxsize=1)
def _graded(scene: str, width: int, height: int) -> tuple[Image.Image, tuple[Any, ...]]:
    """And where chance stands after it. Kept, as a picture is often asked for at another resolution next."""
    rng = random.Random(scene)
    drawn = SCENES[scene](width, height, rng)
    return ImageEnhance.Color(ImageEnhance.Brightness(_vignetted(drawn)).enhance(1.18)).enhance(1.15), rng.getstate()


def cmyk(picture: Image.Image) -> Image.Image:
    """Plain conversion with much of the common grey moved to black; the heaviest shadow is 260 % of ink.

    A studio converts through the printer's profile; this is a demo's picture.
    """
    cyan, magenta, yellow = ImageChops.invert(picture).split()
    black = ImageChops.darker(ImageChops.darker(cyan, magenta), yellow).point([round(value * 0.8) for value in range(256)])
    removed = black.point([value // 2 for value in range(256)])
    return Image.merge("CMYK", [*(ImageChops.subtract(ink, removed) for ink in (cyan, magenta, yellow)), black])


def jpeg(picture: Image.Image, quality: int) -> bytes:
    out = io.BytesIO()
    picture.save(out, "JPEG", quality=quality, subsampling=0)
    return out.getvalue()


# --- Light and surfaces -----------------------------------------------------------------------------------------------


def _noise(width: int, height: int, rng: random.Random) -> Image.Image:
    return Image.frombytes("L", (width, height), rng.randbytes(width * height))


def _cloud(width: int, height: int, grain_px: float, rng: random.Random) -> Image.Image:
    """Soft noise whose spots are about `grain_px` wide."""
    small = _noise(max(2, round(width / grain_px)), max(2, round(height / grain_px)), rng)
    return small.resize((width, height), Image.Resampling.BICUBIC)


def _toned(gray: Image.Image, tones: tuple[Color, Color, Color]) -> Image.Image:
    return ImageOps.colorize(ImageOps.autocontrast(gray), tones[0], tones[2], tones[1])


def _with_grain(picture: Image.Image, rng: random.Random) -> Image.Image:
    tile = Image.blend(_noise(256, 256, rng), _noise(256, 256, rng), 0.5)
    grain = Image.new("L", picture.size)
    for x in range(0, picture.width, 256):
        for y in range(0, picture.height, 256):
            grain.paste(tile, (x, y))
    return Image.blend(picture, ImageChops.overlay(picture, Image.merge("RGB", [grain] * 3)), 0.2)


def _vignetted(picture: Image.Image) -> Image.Image:
    light = Image.radial_gradient("L").resize(picture.size).point([round(255 - value * 0.42) for value in range(256)])
    return ImageChops.multiply(picture, Image.merge("RGB", [light] * 3))


def _oak(width: int, height: int, rng: random.Random) -> Image.Image:
    """Boards along the longer side."""
    grain = _noise(round(width / 3), round(height * 40 / 3), rng).resize((width, height), Image.Resampling.BICUBIC)
    streaks = Image.blend(grain, _cloud(width, height, 60, rng), 0.35)
    if width > height:
        streaks = streaks.resize((height, width)).rotate(90, expand=True)
    board = _toned(streaks.filter(ImageFilter.GaussianBlur(0.6)), OAK)
    draw = ImageDraw.Draw(board)
    across, step = (height, height // 4) if width > height else (width, width // 4)
    for edge in range(step, across, step):
        line = (0, edge, width, edge) if width > height else (edge, 0, edge, height)
        draw.line(line, fill=(38, 22, 12), width=3)
    return board


def _slate(width: int, height: int, rng: random.Random) -> Image.Image:
    return _toned(Image.blend(_cloud(width, height, 2, rng), _cloud(width, height, 90, rng), 0.7), SLATE)


def _floured(picture: Image.Image, rng: random.Random, amount: float) -> Image.Image:
    """Flour thrown over it, thicker in drifts. `amount` 0–1."""
    width, height = picture.size
    drift = _cloud(width, height, 160, rng).point(
        [round(255 * max(0.0, value / 255 - 1 + amount) ** 1.2) for value in range(256)]
    )
    specks = _cloud(width, height, 2, rng).point([255 if value > 165 else 110 for value in range(256)])
    return Image.composite(Image.new("RGB", picture.size, (244, 239, 230)), picture, ImageChops.multiply(drift, specks))


# --- Bread ------------------------------------------------------------------------------------------------------------


def _loaf(length: int, breadth: int, cuts: int, rng: random.Random, tones: tuple[Color, Color, Color] = CRUST) -> Image.Image:
    """One loaf lying along x, lit from the top left, with an alpha channel."""
    outline = Image.new("L", (length, breadth), 0)
    ImageDraw.Draw(outline).rounded_rectangle((3, 3, length - 4, breadth - 4), radius=breadth * 0.48, fill=255)
    outline = outline.filter(ImageFilter.GaussianBlur(2.5))
    dome = ImageChops.invert(Image.radial_gradient("L")).resize((round(length * 1.25), round(breadth * 1.25)))
    dome = dome.crop((round(length * 0.2), round(breadth * 0.22), round(length * 1.2), round(breadth * 1.22)))
    skin = Image.blend(_cloud(length, breadth, 5, rng), _cloud(length, breadth, 34, rng), 0.5)
    body = _toned(Image.blend(dome.resize((length, breadth)), skin, 0.2), tones)
    body = _cut(body, cuts, tones)
    body.putalpha(outline)
    return body


def _cut(body: Image.Image, cuts: int, tones: tuple[Color, Color, Color]) -> Image.Image:
    """Slashes that opened in the oven: pale inside, a dark lip below."""
    length, breadth = body.size
    pale, lip = Image.new("L", body.size, 0), Image.new("L", body.size, 0)
    for n in range(cuts):
        middle = length * (n + 0.5) / cuts if cuts > 1 else length * 0.5
        reach, swell = min(breadth * 0.36, length / cuts * 0.5), min(breadth, length / cuts) * 0.05
        points = []
        for step in range(41):
            turn = 2 * pi * step / 40
            along, aside = reach * cos(turn), swell * sin(turn) * (1 - 0.6 * abs(cos(turn)))
            points.append((middle + along * 0.62 + aside, breadth * 0.5 - along * 0.78 + aside))
        ImageDraw.Draw(pale).polygon(points, fill=215)
        ImageDraw.Draw(lip).line([(x + swell * 0.7, y + swell * 0.7) for x, y in points[8:34]], fill=190, width=3)
    body = Image.composite(Image.new("RGB", body.size, tones[0]), body, lip.filter(ImageFilter.GaussianBlur(2)))
    return Image.composite(Image.new("RGB", body.size, (250, 226, 178)), body, pale.filter(ImageFilter.GaussianBlur(1.6)))


def _set_down(scene: Image.Image, thing: Image.Image, middle: tuple[float, float], turn: float = 0) -> None:
    """Put it on the scene with the shadow that the light from the top left throws."""
    thing = thing.rotate(turn, Image.Resampling.BICUBIC, expand=True)
    x, y = round(middle[0] - thing.width / 2), round(middle[1] - thing.height / 2)
    away = max(6, min(thing.size) // 14)
    reach = 3 * away + 6  # of the blur: what lies farther off stays as it is
    left, top = max(0, x + away - reach), max(0, y + away - reach)
    right, bottom = min(scene.width, x + away + thing.width + reach), min(scene.height, y + away + thing.height + reach)
    shadow = Image.new("L", (right - left, bottom - top), 0)
    cast = thing.getchannel("A").point([round(value * 0.72) for value in range(256)])
    shadow.paste(cast, (x + away - left, y + away - top))
    scene.paste((16, 8, 4), (left, top), shadow.filter(ImageFilter.GaussianBlur(away)))
    scene.paste(thing, (x, y), thing)


# --- Scenes -----------------------------------------------------------------------------------------------------------


def _boule(width: int, height: int, rng: random.Random) -> Image.Image:
    scene = _oak(width, height, rng)
    size = round(min(width, height) * 0.74)
    _set_down(scene, _loaf(size, round(size * 0.94), 3, rng), (width * 0.52, height * 0.56), 12)
    return _floured(scene, rng, 0.45)


def _baguettes(width: int, height: int, rng: random.Random) -> Image.Image:
    scene = _oak(width, height, rng)
    length, breadth = round(max(width, height) * 0.92), round(min(width, height) * 0.19)
    lean = 78 if height > width else 14
    for n in range(4):
        share = (n + 0.6) / 4.2
        middle = (width * share, height * (0.46 + 0.04 * n)) if height > width else (width * 0.5, height * share)
        _set_down(scene, _loaf(length, breadth, 6, rng), middle, lean + rng.uniform(-5, 5))
    return _floured(scene, rng, 0.4)


def _buns(width: int, height: int, rng: random.Random) -> Image.Image:
    scene = _slate(width, height, rng)
    across = 3 if height > width else 5
    step = width / across
    for row in range(round(height / step) + 1):
        for column in range(across):
            size = round(step * rng.uniform(0.8, 0.88))
            middle = (step * (column + 0.5 + rng.uniform(-0.03, 0.03)), step * (row + 0.5 + rng.uniform(-0.03, 0.03)))
            _set_down(scene, _loaf(size, round(size * 0.96), 1, rng), middle, rng.uniform(0, 360))
    return _floured(scene, rng, 0.35)


def _kneading(width: int, height: int, rng: random.Random) -> Image.Image:
    scene = _floured(_slate(width, height, rng), rng, 0.85)
    size = round(min(width, height) * 0.5)
    for x, y, share in ((0.36, 0.34, 1.0), (0.68, 0.62, 0.8), (0.3, 0.78, 0.62)):
        _set_down(
            scene,
            _loaf(round(size * share), round(size * share * 0.92), 0, rng, DOUGH),
            (width * x, height * y),
            rng.uniform(-20, 20),
        )
    return _floured(scene, rng, 0.4)


def _lights(width: int, height: int, rng: random.Random) -> Image.Image:
    """The shop window in the evening, out of focus."""
    scene = Image.new("RGB", (width, height), (44, 24, 14))
    for _ in range(70):
        radius, x, y = rng.uniform(0.02, 0.09) * width, rng.uniform(0, width), rng.triangular(0, height, height * 0.35)
        glow = rng.uniform(0.25, 0.8)
        color = (round(255 * glow), round(rng.uniform(150, 205) * glow), round(rng.uniform(60, 120) * glow))
        left, top = max(0, floor(x - radius) - 1), max(0, floor(y - radius) - 1)
        lit = scene.crop((left, top, min(width, ceil(x + radius) + 2), min(height, ceil(y + radius) + 2)))
        spot = Image.new("RGB", lit.size, 0)
        ImageDraw.Draw(spot).ellipse((x - radius - left, y - radius - top, x + radius - left, y + radius - top), fill=color)
        scene.paste(ImageChops.screen(lit, spot), (left, top))
    scene = scene.filter(ImageFilter.GaussianBlur(width / 160))
    counter = _oak(width, round(height * 0.2), rng)
    scene.paste(counter, (0, height - counter.height))
    for n in range(5):
        size = round(width * rng.uniform(0.22, 0.27))
        _set_down(
            scene,
            _loaf(size, round(size * 0.6), 3, rng),
            (width * (n + 0.4) / 4.6, height * 0.79 - size * 0.08),
            rng.uniform(-6, 6),
        )
    return scene


def _wheat(width: int, height: int, rng: random.Random) -> Image.Image:
    """Ripe ears against a low sun; the far ones out of focus."""
    sky = _toned(Image.linear_gradient("L").rotate(180).resize((width, height)), ((150, 84, 28), (232, 168, 76), (255, 232, 178)))
    for blur, count, size in ((9.0, 34, 0.7), (3.0, 22, 0.9), (0.7, 11, 1.25)):
        layer = Image.new("RGBA", (width, height), (190, 132, 52, 0))
        for _ in range(count):
            _ear(ImageDraw.Draw(layer), rng.uniform(-0.05, 1.05) * width, height, rng.uniform(0.3, 0.72) * height, size, rng)
        soft = layer.filter(ImageFilter.GaussianBlur(blur))
        sky.paste(soft.convert("RGB"), (0, 0), layer.getchannel("A").filter(ImageFilter.GaussianBlur(blur)))
    return sky


def _ear(draw: ImageDraw.ImageDraw, foot: float, ground: float, top: float, size: float, rng: random.Random) -> None:
    lean, shade = rng.uniform(-0.16, 0.16), rng.uniform(0.75, 1.1)
    straw, grain = ((round(c * shade) for c in color) for color in ((176, 122, 48), (214, 152, 62)))
    stem, kernel = tuple(straw), tuple(grain)
    head = foot + lean * (ground - top)
    draw.line((foot, ground, head, top), fill=(*stem, 255), width=max(2, round(3 * size)))
    for n in range(11):
        y = top + (n - 9) * 13 * size
        x = head + lean * (top - y)
        for side in (-1, 1):
            middle = x + side * 7 * size
            draw.line((middle, y, middle + side * 16 * size, y - 46 * size), fill=(*stem, 255), width=1)
            draw.ellipse(
                (middle - 6 * size, y - 11 * size, middle + 6 * size, y + 9 * size), fill=(*kernel, 255), outline=(*stem, 255)
            )


SCENES: dict[str, Callable[[int, int, random.Random], Image.Image]] = {
    "boule": _boule,
    "baguettes": _baguettes,
    "buns": _buns,
    "kneading": _kneading,
    "lights": _lights,
    "wheat": _wheat,
}
