"""Builds small PDFs for tests, whose truth is worked out here and not by the code under test.

    page(85, 55, bleed=3).fill(cyan=1).picture(ppi=149, at=(10, 10, 40, 30)).text("Open", size=8, at=(12, 45)).save(path)

* Everything is in millimetres from the top-left corner of the trim, y downwards: `at=(x0, y0, x1, y1)` is a box by its
  corners, `at=(x, y)` a point (for text: the start of the baseline). So -3 is the bleed edge.
* A page starts *right*: TrimBox, BleedBox, MediaBox = bleed (plus `slug`), Vera embedded. Each method paints or breaks one thing.
* Colours are keywords: `cyan= magenta= yellow= black=` (0–1), `gray=`, `rgb=(r, g, b)`, `lab=(l, a, b)`, `spot=("Copper", 0.8)`.
* `rotated`, `user_unit` and `origin` only change how the page is written; unless said otherwise it looks the same on paper.
* `resource` and `raw` put in anything else; raw content is in points from the bottom-left of the media.
"""

from __future__ import annotations

import io
from collections.abc import Callable
from math import cos, radians, sin
from pathlib import Path
from typing import Any, Self

import pikepdf
from pikepdf import Array, Dictionary, Name, Pdf, Stream

from tests.build_objects import BASE_14, LAB, POINTS_PER_MM, not_embedded, samples, separation, text_width, vera, written

__all__ = ["BASE_14", "POINTS_PER_MM", "Drawing", "PageBuilder", "document", "drawing", "page", "separation", "text_width"]

Box = tuple[float, float, float, float]
Six = tuple[float, float, float, float, float, float]
Value = pikepdf.Object | Callable[[Pdf], Any]
"""An object, or what makes it once the PDF is there (streams and indirect objects belong to a PDF)."""
IDENTITY: Six = (1, 0, 0, 1, 0, 0)


class Drawing:
    """Something painted, with its own resources: the base of a page, or a form of its own (see `drawing`)."""

    def __init__(self, width: float, height: float, margin: float = 0) -> None:
        self.width, self.height = width, height
        self.margin = margin
        """Room around the trim, mm: bleed and slug."""
        self.content = bytearray()
        self.resources: dict[tuple[str, str], Value] = {}

    # --- painting ---

    def fill(self, at: Box | None = None, **color: Any) -> Self:
        """A filled rectangle; without `at` all there is, the bleed included."""
        box = at or self.everything
        return self.raw(b"q", self._color(color), self._rectangle(box), b"f Q")

    def line(self, start: tuple[float, float], end: tuple[float, float], width_pt: float, **color: Any) -> Self:
        points = b"%s m %s l S Q" % (self._point(*start), self._point(*end))
        return self.raw(b"q", self._color(color, stroke=True), b"%.4f w" % width_pt, points)

    def text(
        self, string: str, size: float, at: tuple[float, float], font: str = "Vera", mode: int = 0, turn: float = 0, **color: Any
    ) -> Self:
        """`font`: 'Vera' is embedded; one of `BASE_14` is not. `mode`: the text rendering mode. `turn`: counter-clockwise."""
        self.resources["/Font", f"/{font}"] = vera if font == "Vera" else not_embedded(font)
        shown = string.encode("cp1252").replace(b"\\", rb"\\").replace(b"(", rb"\(").replace(b")", rb"\)")
        matrix = _turned(turn, *(self._x(at[0]), self._y(at[1])))
        return self.raw(
            b"q", self._color(color or {"black": 1}), b"BT /%s %.4f Tf %d Tr" % (font.encode(), size, mode),
            b"%s Tm (%s) Tj ET Q" % (_six(matrix), shown),
        )

    def picture(
        self,
        at: Box,
        ppi: float = 300,
        pixels: tuple[int, int] | None = None,
        color: str = "cmyk",
        bits: int = 8,
        jpeg_quality: int | None = None,
        stencil: bool = False,
        soft_mask: bool = False,
        inline: bool = False,
        turn: float = 0,
        clip: Box | None = None,
    ) -> Self:
        """An image that fills the box, of `pixels`, else of as many as `ppi` gives there (rounded to whole pixels).

        `color`: cmyk, gray, rgb, lab, indexed (over rgb) or a spot's name. `turn`: about the box's bottom-left corner,
        counter-clockwise. `clip`: the part of the page that stays.
        """
        x0, y0, x1, y1 = at
        columns, rows = pixels or (round((x1 - x0) / 25.4 * ppi), round((y1 - y0) / 25.4 * ppi))
        keys, data = samples(columns, rows, color, 1 if stencil else bits, jpeg_quality, stencil)
        size = (x1 - x0) * POINTS_PER_MM, (y1 - y0) * POINTS_PER_MM
        place = b"%s cm" % _six(_after((size[0], 0, 0, size[1], 0, 0), _turned(turn, self._x(x0), self._y(y1))))
        cut = self._rectangle(clip) + b" W n" if clip else b""
        paint = self._color({"black": 1}) if stencil else b""
        if inline:
            names = b" ".join(b"%s %s" % (key.encode(), written(value)) for key, value in keys.items())
            return self.raw(b"q", cut, paint, place, b"BI %s ID " % names + data, b"EI Q")
        name = self._free("/XObject", "Picture")

        def make(pdf: Pdf) -> Any:
            stream = Stream(pdf, data, **{"Type": Name.XObject, "Subtype": Name.Image})
            for key, value in keys.items():
                stream[key] = value
            if soft_mask:
                mask, mask_data = samples(columns, rows, "gray", 8, None, False)
                stream.SMask = pdf.make_indirect(Stream(pdf, mask_data, Dictionary(mask | {"/Subtype": Name.Image})))
            return pdf.make_indirect(stream)

        self.resources["/XObject", name] = make
        return self.raw(b"q", cut, paint, place, b"%s Do Q" % name.encode())

    def form(self, drawing: Drawing, at: tuple[float, float], scale: float = 1, turn: float = 0) -> Self:
        """The drawing as a form XObject, its top-left corner at `at`; `scale` is the form's /Matrix, the rest the page's `cm`.

        `turn`: counter-clockwise about the form's bottom-left corner, before `at` is applied.
        """
        name = self._free("/XObject", "Form")

        def make(pdf: Pdf) -> Any:
            stream = Stream(pdf, bytes(drawing.content))
            stream.Type, stream.Subtype = Name.XObject, Name.Form
            stream.BBox = Array([0, 0, drawing.width * POINTS_PER_MM, drawing.height * POINTS_PER_MM])
            stream.Matrix = Array([scale, 0, 0, scale, 0, 0])
            stream.Resources = drawing.resource_dictionary(pdf)
            return pdf.make_indirect(stream)

        self.resources["/XObject", name] = make
        corner = self._x(at[0]), self._y(at[1] + drawing.height * scale)
        return self.raw(b"q %s cm %s Do Q" % (_six(_turned(turn, *corner)), name.encode()))

    def raw(self, *content: bytes) -> Self:
        """Content operators as they are, in points from the bottom-left corner."""
        self.content += b" ".join(content) + b"\n"
        return self

    def resource(self, category: str, name: str, value: Value) -> Self:
        """`resource("ExtGState", "Over", Dictionary(OP=True))`; for a stream give a function of the Pdf."""
        self.resources[f"/{category}", f"/{name}"] = value
        return self

    # --- how it is written ---

    @property
    def everything(self) -> Box:
        return (-self.margin, -self.margin, self.width + self.margin, self.height + self.margin)

    def resource_dictionary(self, pdf: Pdf) -> Dictionary:
        made = Dictionary()
        for (category, name), value in self.resources.items():
            if category not in made:
                made[category] = Dictionary()
            made[category][name] = value(pdf) if callable(value) else value
        return made

    def _x(self, x: float) -> float:
        return (self.margin + x) * POINTS_PER_MM

    def _y(self, y: float) -> float:
        return (self.margin + self.height - y) * POINTS_PER_MM

    def _point(self, x: float, y: float) -> bytes:
        return b"%.4f %.4f" % (self._x(x), self._y(y))

    def _rectangle(self, box: Box) -> bytes:
        x0, y0, x1, y1 = box
        return b"%s %.4f %.4f re" % (self._point(x0, y1), (x1 - x0) * POINTS_PER_MM, (y1 - y0) * POINTS_PER_MM)

    def _free(self, category: str, stem: str) -> str:
        taken = sum(key[0] == category for key in self.resources)
        return f"/{stem}{taken + 1}"

    def _color(self, color: dict[str, Any], stroke: bool = False) -> bytes:
        """The operators that set the colour."""
        kinds = color.keys()
        if "spot" in kinds or "lab" in kinds:
            name = "Lab" if "lab" in kinds else color["spot"][0].replace(" ", "")
            self.resources["/ColorSpace", f"/{name}"] = LAB if "lab" in kinds else separation(color["spot"][0])
            values = color["lab"] if "lab" in kinds else (color["spot"][1],)
            operators = b"/%s CS %s SCN" if stroke else b"/%s cs %s scn"
            return operators % (name.encode(), _numbers(values))
        if "rgb" in kinds:
            return _numbers(color["rgb"]) + (b" RG" if stroke else b" rg")
        if "gray" in kinds:
            return _numbers((color["gray"],)) + (b" G" if stroke else b" g")
        if unknown := kinds - {"cyan", "magenta", "yellow", "black"}:
            raise TypeError(f"no such colour: {unknown}")
        return _numbers([color.get(ink, 0) for ink in ("cyan", "magenta", "yellow", "black")]) + (b" K" if stroke else b" k")


class PageBuilder(Drawing):
    def __init__(self, width: float, height: float, bleed: float, slug: float) -> None:
        super().__init__(width, height, bleed + slug)
        self.bleed = bleed
        self.boxes: dict[str, Box | None] = {"TrimBox": (0, 0, width, height), "BleedBox": _around(width, height, bleed)}
        self.keys: dict[str, Value] = {}
        self._rotation, self._upright, self._unit, self._origin = 0, True, 1.0, (0.0, 0.0)

    def fill(self, at: Box | None = None, **color: Any) -> Self:
        """A filled rectangle; without `at` the whole bleed."""
        return super().fill(at or _around(self.width, self.height, self.bleed), **color)

    def without_trim_box(self) -> Self:
        return self.box("TrimBox", None)

    def without_bleed_box(self) -> Self:
        return self.box("BleedBox", None)

    def box(self, name: str, box: Box | None) -> Self:
        """Any of the five boxes, mm from the trim's top-left; None leaves it out."""
        self.boxes[name] = box
        return self

    def key(self, name: str, value: Value) -> Self:
        """An entry of the page dictionary, written last: it wins."""
        self.keys[f"/{name}"] = value
        return self

    def rotated(self, degrees: int, upright: bool = True) -> Self:
        """Write it with a /Rotate. `upright`: drawn turned the other way, so that it shows as before; else it shows turned."""
        self._rotation, self._upright = degrees, upright
        return self

    def user_unit(self, unit: float) -> Self:
        """Write it in units of `unit`/72 inch: the same size on paper."""
        self._unit = unit
        return self

    def origin(self, x_pt: float, y_pt: float) -> Self:
        """Put the media's bottom-left corner there instead of at 0 0."""
        self._origin = (x_pt, y_pt)
        return self

    def crop_marks(self, offset: float = 3, length: float = 5) -> Self:
        """Eight marks of 0.25 pt in all four inks outside the corners; give the page a slug of offset + length - bleed."""
        ink = {"cyan": 1, "magenta": 1, "yellow": 1, "black": 1}
        near, far = offset, offset + length
        for x, away_x in ((0, -1), (self.width, 1)):
            for y, away_y in ((0, -1), (self.height, 1)):
                self.line((x + away_x * near, y), (x + away_x * far, y), 0.25, **ink)
                self.line((x, y + away_y * near), (x, y + away_y * far), 0.25, **ink)
        return self

    def add_to(self, pdf: Pdf) -> None:
        user_space = self._as_written()
        keys: dict[str, Any] = {"/Type": Name.Page, "/Resources": self.resource_dictionary(pdf)}
        for name, box in ({"MediaBox": self.everything} | self.boxes).items():
            if box is not None:
                keys[f"/{name}"] = Array([round(value, 4) for value in _corners(user_space, self._points(box))])
        content = bytes(self.content) if user_space == IDENTITY else b"q %s cm\n%sQ\n" % (_six(user_space), self.content)
        keys["/Contents"] = pdf.make_indirect(Stream(pdf, content))
        if self._rotation:
            keys["/Rotate"] = self._rotation
        if self._unit != 1:
            keys["/UserUnit"] = self._unit
        keys |= {name: value(pdf) if callable(value) else value for name, value in self.keys.items()}
        pdf.pages.append(pikepdf.Page(pdf.make_indirect(Dictionary(keys))))

    def save(self, path: Path | str) -> Path:
        return document(self).save(path)

    def bytes(self) -> bytes:
        return document(self).bytes()

    def _points(self, box: Box) -> Box:
        x0, y0, x1, y1 = box
        return (self._x(x0), self._y(y1), self._x(x1), self._y(y0))

    def _as_written(self) -> Six:
        """From points of the page as it looks (bottom-left of the media at 0 0) to its user space."""
        x0, y0, x1, y1 = self._points(self.everything)
        width, height = x1 - x0, y1 - y0
        turn: dict[int, Six] = {90: (0, 1, -1, 0, height, 0), 180: (-1, 0, 0, -1, width, height), 270: (0, -1, 1, 0, 0, width)}
        turned = turn.get(self._rotation % 360, IDENTITY) if self._upright else IDENTITY
        return _after(_after(turned, (1 / self._unit, 0, 0, 1 / self._unit, 0, 0)), (1, 0, 0, 1, *self._origin))


class DocumentBuilder:
    def __init__(self, pages: tuple[PageBuilder, ...]) -> None:
        self.pages = pages
        self._info: dict[str, str] = {}
        self._version = "1.6"
        self._encryption: pikepdf.Encryption | None = None
        self._keep: float | int = 1.0
        self._last: list[Callable[[Pdf], object]] = []

    def info(self, **entries: str) -> Self:
        self._info |= entries
        return self

    def version(self, version: str) -> Self:
        self._version = version
        return self

    def encrypted(self, user: str = "", owner: str = "owner", printing: bool = True) -> Self:
        """`user=""` opens without a password and only restricts."""
        allow = pikepdf.Permissions(print_lowres=printing, print_highres=printing)
        self._encryption = pikepdf.Encryption(user=user, owner=owner, allow=allow)
        return self

    def truncated(self, keep: float | int) -> Self:
        """Cut off: a float is the part that stays (0–1), an int so many bytes."""
        self._keep = keep
        return self

    def also(self, change: Callable[[Pdf], object]) -> Self:
        """Anything else, done to the pikepdf.Pdf just before it is saved."""
        self._last.append(change)
        return self

    def bytes(self) -> bytes:
        pdf = Pdf.new()
        for one in self.pages:
            one.add_to(pdf)
        for name, value in self._info.items():
            pdf.docinfo[f"/{name}"] = value
        for change in self._last:
            change(pdf)
        out = io.BytesIO()
        if self._encryption is None:
            pdf.save(out, force_version=self._version, deterministic_id=True)
        else:  # a forced version too old for the encryption would silently leave it out
            pdf.save(out, min_version=self._version, encryption=self._encryption)
        data = out.getvalue()
        return data[: self._keep if isinstance(self._keep, int) else int(len(data) * self._keep)]

    def save(self, path: Path | str) -> Path:
        Path(path).write_bytes(self.bytes())
        return Path(path)


def page(width: float, height: float, bleed: float = 3, slug: float = 0) -> PageBuilder:
    """A right page of that trimmed size; `slug` is room for marks beyond the bleed."""
    return PageBuilder(width, height, bleed, slug)


def drawing(width: float, height: float) -> Drawing:
    """Something to place with `form`; its millimetres count from its own top-left corner."""
    return Drawing(width, height)


def document(*pages: PageBuilder) -> DocumentBuilder:
    return DocumentBuilder(pages)


def _around(width: float, height: float, by: float) -> Box:
    return (-by, -by, width + by, height + by)


def _numbers(values: Any) -> bytes:
    return b" ".join(b"%.4f" % value for value in values)


def _six(matrix: Six) -> bytes:
    return b" ".join(b"%.6f" % value for value in matrix)


def _turned(degrees: float, x: float, y: float) -> Six:
    c, s = cos(radians(degrees)), sin(radians(degrees))
    return (c, s, -s, c, x, y)


def _after(first: Six, second: Six) -> Six:
    a, b, c, d, e, f = first
    p, q, r, s, t, u = second
    return (a * p + b * r, a * q + b * s, c * p + d * r, c * q + d * s, e * p + f * r + t, e * q + f * s + u)


def _corners(matrix: Six, box: Box) -> Box:
    a, b, c, d, e, f = matrix
    points = [(a * x + c * y + e, b * x + d * y + f) for x, y in ((box[0], box[1]), (box[2], box[3]))]
    (x0, y0), (x1, y1) = points
    return (min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1))
