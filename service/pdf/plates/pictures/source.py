"""What the file says of a picture before any of it is decoded (ISO 32000-2:2020, 8.9.5 to 8.9.7).

An image XObject and an inline image become the same record, so that everything after it has one road.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import pikepdf

from service.pdf.content.color_spaces import GRAY, ColorSpace
from service.pdf.content.image_facts import LONG_FILTERS, inline_image_facts
from service.pdf.content.resources import Resources
from service.pdf.plates.unreadable import Unreadable
from service.pdf.reading.lexer import Operand
from service.pdf.reading.names import name_text

CODECS = frozenset({"DCTDecode", "JPXDecode", "CCITTFaxDecode", "JBIG2Decode"})
_MOST_FILTERS = 8
_LAB_RANGE = (-100.0, 100.0, -100.0, 100.0)
"""8.6.5.4: of a* and b* where the space states none."""
_ICC_LAB_RANGE = (0.0, 100.0, -128.0, 127.0, -128.0, 127.0)


@dataclass(frozen=True)
class Filter:
    name: str
    parameters: Mapping[str, int]
    """Numbers of DecodeParms; true is 1."""
    global_segments: bytes = b""
    """JBIG2Globals (7.4.7)."""


@dataclass(frozen=True)
class PictureSource:
    """One picture as written."""

    width: int
    height: int
    bits: int
    space: ColorSpace | None
    """None: a stencil, or JPEG 2000 data that say themselves."""
    ranges: tuple[tuple[float, float], ...]
    """Of the components that are not 0 to 1: Lab, and Indexed over Lab. Else empty."""
    decode: tuple[float, ...]
    """Empty: the default."""
    filters: tuple[Filter, ...]
    data: bytes
    """As stored."""
    color_key: tuple[int, ...] = ()
    """8.9.6.4: least and most of each component that is masked out, of the samples before Decode."""
    soft_mask: PictureSource | None = None
    explicit_mask: PictureSource | None = None
    matte: tuple[float, ...] = ()
    """Of the soft mask: the colour that the samples are mixed with (11.6.5.2)."""
    alpha_inside: int = 0
    """SMaskInData: 1 opacity, 2 opacity and colours multiplied with it (7.4.9)."""
    stencil: bool = False
    interpolate: bool = False

    @property
    def codec(self) -> Filter | None:
        """The picture coding that the data ends in, None where they are plain samples."""
        return self.filters[-1] if self.filters and self.filters[-1].name in CODECS else None


def picture_source(image: pikepdf.Stream, resources: Resources) -> PictureSource:
    """An image XObject with its masks. Raises Unreadable for one that nobody could paint, and what reading raises."""
    color_key: tuple[int, ...] = ()
    soft_mask = explicit_mask = None
    matte: tuple[float, ...] = ()
    alpha_inside = int(_number(image.get("/SMaskInData")))
    mask, soft = image.get("/Mask"), image.get("/SMask")
    if isinstance(soft, pikepdf.Stream) and not alpha_inside:  # it wins over Mask (11.6.5.2)
        soft_mask, matte = _bare(soft, GRAY, ()), _numbers(soft.get("/Matte"))
    elif isinstance(mask, pikepdf.Stream) and not alpha_inside:
        explicit_mask = _bare(mask, GRAY, ())
    elif isinstance(mask, pikepdf.Array) and not alpha_inside:
        color_key = tuple(int(one) for one in _numbers(mask))
    stencil = _flag(image.get("/ImageMask"))
    written = image.get("/ColorSpace")
    space = resources.space(written) if written is not None and not stencil else None
    ranges = _ranges(written, space) if space is not None else ()
    base = _bare(image, space, ranges)
    if stencil:
        return base
    return PictureSource(
        base.width, base.height, base.bits, space, ranges, base.decode, base.filters, base.data,
        color_key, soft_mask, explicit_mask, matte, alpha_inside, interpolate=base.interpolate,
    )


def _bare(image: pikepdf.Stream, space: ColorSpace | None, ranges: tuple[tuple[float, float], ...]) -> PictureSource:
    """Without masks."""
    filters = _filters(image)
    stencil = _flag(image.get("/ImageMask"))
    bits = 1 if stencil or (filters and filters[-1].name in ("CCITTFaxDecode", "JBIG2Decode")) else None
    return _sized(
        PictureSource(
            int(_number(image.get("/Width"))), int(_number(image.get("/Height"))),
            bits or int(_number(image.get("/BitsPerComponent"))) or 8, space, ranges, _numbers(image.get("/Decode")),
            filters, image.read_raw_bytes(), stencil=stencil, interpolate=_flag(image.get("/Interpolate")),
        )
    )


def inline_source(keys: Mapping[bytes, Operand], data: bytes, resources: Resources) -> PictureSource:
    """BI … ID … EI (8.9.7). Raises Unreadable for one that nobody could paint."""
    facts = inline_image_facts(dict(keys), data, resources)
    if facts is None:
        raise Unreadable("a picture has no size")

    def value(short: bytes, long: bytes) -> Operand:
        return keys.get(short, keys.get(long))

    names, parameters = value(b"F", b"Filter"), value(b"DP", b"DecodeParms")
    listed = names if isinstance(names, list) else [names] if isinstance(names, bytes) else []
    given = parameters if isinstance(parameters, list) else [parameters]
    filters = tuple(
        Filter(_long(one.decode("latin-1")), _inline_numbers(given[at] if at < len(given) else None))
        for at, one in enumerate(listed[:_MOST_FILTERS])
        if isinstance(one, bytes)
    )
    decode = value(b"D", b"Decode")
    numbers = tuple(one for one in decode if isinstance(one, float)) if isinstance(decode, list) else ()
    ranges = _usual_ranges(facts.space) if facts.space is not None else ()
    stencil, interpolate = facts.kind == "mask", value(b"I", b"Interpolate") is True
    return _sized(
        PictureSource(
            facts.width_px, facts.height_px, facts.bits, facts.space, ranges, numbers, filters, data,
            stencil=stencil, interpolate=interpolate,
        )
    )


def _sized(source: PictureSource) -> PictureSource:
    inside = source.codec is not None and source.codec.name in ("DCTDecode", "JPXDecode")  # they bring size and depth
    if not inside and (source.width <= 0 or source.height <= 0):
        raise Unreadable("a picture has no size")
    if not inside and source.bits not in (1, 2, 4, 8, 16):
        raise Unreadable("a picture has {count} bits a component, which no reader knows", count=source.bits)
    return source


def _filters(image: pikepdf.Stream) -> tuple[Filter, ...]:
    names, parameters = image.get("/Filter"), image.get("/DecodeParms")
    listed = list(names) if isinstance(names, pikepdf.Array) else [names] if names is not None else []
    given = list(parameters) if isinstance(parameters, pikepdf.Array) else [parameters]
    if len(listed) > _MOST_FILTERS:
        raise Unreadable("a picture is packed more than {count} times over", count=_MOST_FILTERS)
    return tuple(
        _filter(_long(name_text(one)), given[at] if at < len(given) else None)
        for at, one in enumerate(listed)
        if name_text(one) != "Crypt"  # undone where the data was read
    )


def _filter(name: str, parameters: object) -> Filter:
    if not isinstance(parameters, pikepdf.Dictionary):
        return Filter(name, {})
    segments = parameters.get("/JBIG2Globals")
    numbers = {key[1:]: int(_number(value)) for key, value in parameters.items() if isinstance(value, int | bool)}
    return Filter(name, numbers, segments.read_bytes() if isinstance(segments, pikepdf.Stream) else b"")


def _ranges(written: object, space: ColorSpace) -> tuple[tuple[float, float], ...]:
    """What the components span: L* 0 to 100, a* and b* what the space states (8.6.5.4, 8.6.5.5)."""
    if space.family != "lab":
        return ()
    if space.base is not None and isinstance(written, pikepdf.Array) and len(written) > 1:  # Indexed
        written = written[1]
    details = written[1] if isinstance(written, pikepdf.Array) and len(written) > 1 else None
    stated = _numbers(details.get("/Range")) if isinstance(details, pikepdf.Dictionary | pikepdf.Stream) else ()
    if isinstance(details, pikepdf.Stream):
        limits = stated if len(stated) == 6 else _ICC_LAB_RANGE
    else:
        limits = (0.0, 100.0, *(stated if len(stated) == 4 else _LAB_RANGE))
    return tuple(zip(limits[::2], limits[1::2], strict=True))


def _usual_ranges(space: ColorSpace) -> tuple[tuple[float, float], ...]:
    return ((0.0, 100.0), (-100.0, 100.0), (-100.0, 100.0)) if space.family == "lab" else ()


def _long(name: str) -> str:
    return LONG_FILTERS.get(name, name)


def _inline_numbers(parameters: Operand) -> dict[str, int]:
    if not isinstance(parameters, dict):
        return {}
    return {key.decode("latin-1"): int(one) for key, one in parameters.items() if isinstance(one, float | bool)}


def _number(value: object) -> float:
    try:
        return float(value)  # type: ignore[arg-type]
    except (TypeError, ValueError, OverflowError):
        return 0.0


def _numbers(values: object) -> tuple[float, ...]:
    return tuple(_number(one) for one in values) if isinstance(values, pikepdf.Array | Sequence) else ()


def _flag(value: object) -> bool:
    return bool(value == True)  # noqa: E712
