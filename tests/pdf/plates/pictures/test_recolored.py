"""Pictures on their plates: each kind a few pixels large, compared with arithmetic by hand (ISO 32000-2:2020, 8.9)."""

from __future__ import annotations

import io
import zlib
from collections.abc import Iterator

import numpy as np
import numpy.typing as npt
import pikepdf
import pypdfium2 as pdfium
import pytest
from pikepdf import Array, Dictionary, Name

from service.pdf.content.resources import Resources, Shared
from service.pdf.plates.colors.inks import InkTable, process_by_formula
from service.pdf.plates.pictures.recolored import Pictures, kept_of_file
from service.pdf.reading.lexer import operations
from tests.pdf.plates.picture_files import (
    EVERY_PIXEL,
    PROCESS,
    cmyk,
    device_n,
    jpeg_2000,
    opacity,
    picture,
    plate_stream,
    plates,
    spot,
)

BLACK = "Black"
TWO_PIXELS = np.array([[[255, 0, 51, 102], [0, 204, 0, 0]]], np.uint8)


@pytest.fixture
def pdf() -> Iterator[pikepdf.Pdf]:
    with pikepdf.new() as made:
        yield made


# --- Colour spaces ----------------------------------------------------------------------------------------------------


def test_cmyk_pictures_paint_what_they_say(pdf: pikepdf.Pdf) -> None:
    image = cmyk(pdf, TWO_PIXELS)
    assert plates(image, *PROCESS) == [[[255, 0]], [[0, 204]], [[51, 0]]]
    assert plates(image, BLACK, "Copper") == [[[102, 0]], [[0, 0]]]


def test_gray_pictures_paint_black_alone(pdf: pikepdf.Pdf) -> None:
    image = picture(pdf, bytes((0, 100, 255)), 3, 1, Name.DeviceGray)
    assert plates(image, BLACK) == [[[255, 155, 0]]]


def test_a_picture_without_the_inks_of_a_rendering_is_white_there(pdf: pikepdf.Pdf) -> None:
    stream = plate_stream(picture(pdf, bytes(6), 3, 2, Name.DeviceGray), *PROCESS)
    assert stream.read_bytes() == b"\xff\xff\xff"


def test_duotones_paint_their_own_inks_in_any_order(pdf: pikepdf.Pdf) -> None:
    image = picture(pdf, bytes((10, 20, 30, 40)), 2, 1, device_n("Copper", "Black"))
    assert plates(image, "Black", "Copper") == [[[20, 40]], [[10, 30]]]


def test_a_picture_of_six_inks_keeps_all_of_them(pdf: pikepdf.Pdf) -> None:
    image = picture(pdf, bytes((1, 2, 3, 4, 5, 6)), 1, 1, device_n("Cyan", "Magenta", "Yellow", "Black", "Copper", "Silver"))
    assert plates(image, "Black", "Copper", "Silver") == [[[4]], [[5]], [[6]]]


def test_a_registration_picture_paints_every_ink(pdf: pikepdf.Pdf) -> None:
    assert plates(picture(pdf, bytes((77,)), 1, 1, spot("All")), "Cyan", "Copper") == [[[77]], [[77]]]


def test_a_picture_in_no_ink_paints_nothing(pdf: pikepdf.Pdf) -> None:
    assert plates(picture(pdf, bytes((77,)), 1, 1, spot("None")), "Cyan", "Black") == [[[0]], [[0]]]


def test_rgb_is_converted_and_said_to_be(pdf: pikepdf.Pdf) -> None:
    """10.4.2.4 by hand: 255 − 200 = 55 etc., the least of the complements in black."""
    image = picture(pdf, bytes((200, 100, 50)), 1, 1, Name.DeviceRGB)
    table = InkTable(PROCESS, process_by_formula)
    resources, out, pictures = Resources(None, Shared(pdf)), pikepdf.new(), Pictures()
    pictures.plate_picture(image, resources, table, out, EVERY_PIXEL)
    assert table.converted
    assert plates(image, *PROCESS) == [[[0]], [[100]], [[150]]]
    assert plates(image, BLACK) == [[[55]]]
    later = InkTable((BLACK,), process_by_formula)
    pictures.plate_picture(image, resources, later, out, EVERY_PIXEL)
    assert later.converted  # from the kept picture too


def test_a_default_space_stands_in_for_the_device_space(pdf: pikepdf.Pdf) -> None:
    resources = Dictionary(ColorSpace=Dictionary(DefaultGray=spot("Copper")))
    image = picture(pdf, bytes((9,)), 1, 1, Name.DeviceGray)
    assert plates(image, "Copper", BLACK, resources=resources) == [[[9]], [[0]]]


@pytest.mark.parametrize(("space", "lab"), [(None, (-100, 100)), ((-50, 75), (-50, 75))])
def test_lab_samples_span_the_range_of_the_space(pdf: pikepdf.Pdf, space: tuple[int, int] | None, lab: tuple[int, int]) -> None:
    """Grey in Lab is a* = b* = 0: the byte for it depends on Range (8.9.5.2, Table 88). Tolerance 1 of 255: a byte each way."""
    details = Dictionary(WhitePoint=[0.9642, 1, 0.8249])
    if space:
        details.Range = Array([*space, *space])
    zero = round(-lab[0] / (lab[1] - lab[0]) * 255)
    image = picture(pdf, bytes((0, zero, zero, 255, zero, zero)), 2, 1, Array([Name.Lab, details]))
    (cyan,), (magenta,), (yellow,) = plates(image, *PROCESS)
    assert max(cyan + magenta + yellow) <= 2
    ((dark, light),) = plates(image, BLACK)[0]
    assert (dark, light) == (255, 0)


def test_a_space_that_cannot_be_read_is_not_guessed(pdf: pikepdf.Pdf) -> None:
    with pytest.raises(ValueError, match="cannot be read"):
        plates(picture(pdf, bytes(4), 1, 1, Array([Name("/Unheard"), 1])), BLACK)


@pytest.mark.parametrize("space", [Name.Pattern, Array([Name.Pattern, Name.DeviceCMYK])])
def test_a_picture_in_a_pattern_space_is_refused(pdf: pikepdf.Pdf, space: pikepdf.Object) -> None:
    with pytest.raises(ValueError, match="colour space"):
        plates(picture(pdf, bytes(4), 1, 1, space), BLACK)


# --- Masks ------------------------------------------------------------------------------------------------------------


def test_a_soft_mask_comes_along(pdf: pikepdf.Pdf) -> None:
    soft = picture(pdf, bytes((0, 128, 255)), 3, 1, Name.DeviceGray)
    stream = plate_stream(cmyk(pdf, TWO_PIXELS, SMask=soft), *PROCESS)
    assert opacity(stream) == [[0, 128, 255]]
    assert stream.SMask.ColorSpace == Name.DeviceGray


def test_a_soft_mask_may_be_turned_round_by_its_decode(pdf: pikepdf.Pdf) -> None:
    soft = picture(pdf, bytes((0, 255)), 2, 1, Name.DeviceGray, Decode=Array([1, 0]))
    assert opacity(plate_stream(cmyk(pdf, TWO_PIXELS, SMask=soft), BLACK)) == [[255, 0]]


def test_a_soft_mask_wins_over_a_mask(pdf: pikepdf.Pdf) -> None:
    """11.6.5.2."""
    soft = picture(pdf, bytes((7, 8)), 2, 1, Name.DeviceGray)
    assert opacity(plate_stream(cmyk(pdf, TWO_PIXELS, SMask=soft, Mask=Array([0, 255] * 4)), BLACK)) == [[7, 8]]


def test_an_explicit_mask_leaves_out_where_it_is_1(pdf: pikepdf.Pdf) -> None:
    """8.9.6.3. Four columns of a mask over two of the picture."""
    mask = picture(pdf, b"\x50", 4, 1, None, bits=1, ImageMask=True)
    assert opacity(plate_stream(cmyk(pdf, TWO_PIXELS, Mask=mask), BLACK)) == [[255, 0, 255, 0]]
    mask.Decode = Array([1, 0])
    assert opacity(plate_stream(cmyk(pdf, TWO_PIXELS, Mask=mask), BLACK)) == [[0, 255, 0, 255]]


def test_a_matte_is_unmixed(pdf: pikepdf.Pdf) -> None:
    """11.6.5.2: c = m + (c' − m) / α with α = 102/255 = 0.4. Over white: c' = 0.4 c. Over a matte of
    51 of 255 a mixed 113 was 51 + (113 − 51) / 0.4 = 206.
    """
    soft = picture(pdf, bytes((102, 102)), 2, 1, Name.DeviceGray, Matte=Array([0, 0, 0, 0]))
    mixed = np.array([[[80, 0, 0, 40], [0, 0, 0, 0]]], np.uint8)
    assert plates(cmyk(pdf, mixed, SMask=soft), "Cyan", "Magenta", BLACK) == [[[200, 0]], [[0, 0]], [[100, 0]]]
    soft = picture(pdf, bytes((102, 102)), 2, 1, Name.DeviceGray, Matte=Array([0.2, 0, 0, 0]))
    mixed = np.array([[[113, 0, 0, 0], [51, 0, 0, 0]]], np.uint8)
    assert plates(cmyk(pdf, mixed, SMask=soft), "Cyan") == [[[206, 51]]]


def test_a_colour_key_hides_the_samples_within_it(pdf: pikepdf.Pdf) -> None:
    """8.9.6.4: all components within their limits, compared before Decode."""
    image = cmyk(pdf, TWO_PIXELS, Mask=Array([250, 255, 0, 0, 0, 60, 0, 255]))
    assert opacity(plate_stream(image, BLACK)) == [[0, 255]]
    image.Mask = Array([250, 255, 0, 0, 0, 50, 0, 255])
    assert opacity(plate_stream(image, BLACK)) == [[255, 255]]
    image.Mask, image.Decode = Array([250, 255, 0, 0, 0, 60, 0, 255]), Array([1, 0] * 4)
    assert opacity(plate_stream(image, BLACK)) == [[0, 255]]


def test_a_colour_key_of_an_indexed_picture_is_an_index(pdf: pikepdf.Pdf) -> None:
    space = Array([Name.Indexed, Name.DeviceCMYK, 1, pikepdf.String(bytes((255, 0, 0, 0, 0, 0, 0, 255)))])
    image = picture(pdf, b"\x40", 2, 1, space, bits=1, Mask=Array([1, 1]))
    assert opacity(plate_stream(image, "Cyan")) == [[255, 0]]


def test_samples_that_a_colour_key_hides_have_no_say_beside_them(pdf: pikepdf.Pdf) -> None:
    """Two columns become one: the hidden one's cyan of 255 stays out of the colour, and half is opaque."""
    pixels = np.array([[[255, 0, 0, 0], [100, 0, 0, 0]] * 2] * 2, np.uint8)
    image = cmyk(pdf, pixels, Mask=Array([255, 255, 0, 0, 0, 0, 0, 0]))
    stream = plate_stream(image, "Cyan", need=(2, 2))
    assert opacity(stream) == [[128, 128], [128, 128]]
    ((first, *_), *_) = plates(image, "Cyan", need=(2, 2))[0]
    assert first == pytest.approx(100, abs=1)


def test_opacity_inside_jpeg_2000_is_used_where_the_picture_says_so(pdf: pikepdf.Pdf) -> None:
    """7.4.9, SMaskInData: 0 ignores it, 1 takes it, 2 unmixes the colours as well."""
    data = jpeg_2000(np.array([[[100, 50, 0, 128]] * 4] * 4, np.uint8), "RGBA", num_resolutions=1)
    image = picture(pdf, data, 4, 4, Name.DeviceRGB, Filter=Name.JPXDecode)
    assert "/SMask" not in plate_stream(image, BLACK)
    image.SMaskInData = 1
    assert opacity(plate_stream(image, BLACK))[0] == [128] * 4
    assert plates(image, BLACK)[0][0] == [155] * 4
    image.SMaskInData = 2
    assert plates(image, BLACK)[0][0] == [56] * 4  # 100 / (128/255) = 199; 255 − 199


# --- Stencils ---------------------------------------------------------------------------------------------------------


def test_a_stencil_stays_a_stencil(pdf: pikepdf.Pdf) -> None:
    packed = zlib.compress(b"\xa5\x5a")
    image = picture(pdf, packed, 8, 2, None, bits=1, ImageMask=True, Decode=Array([1, 0]), Filter=Name.FlateDecode)
    stream = plate_stream(image, *PROCESS)
    assert stream.ImageMask == True  # noqa: E712
    assert "/ColorSpace" not in stream
    assert stream.Decode == Array([1, 0])
    assert stream.read_bytes() == b"\xa5\x5a"


# --- Inline -----------------------------------------------------------------------------------------------------------


def inline(pdf: pikepdf.Pdf, content: bytes, *inks: str, resources: object = None) -> pikepdf.Stream:
    (keys, data) = next(operands for _, operands in operations(content))
    table, of = InkTable(inks, process_by_formula), Resources(resources, Shared(pdf))
    return Pictures().inline_plate_picture(keys, data, of, table, pdf, EVERY_PIXEL)


def test_inline_pictures_with_abbreviations(pdf: pikepdf.Pdf) -> None:
    """8.9.7."""
    stream = inline(pdf, b"BI /W 2 /H 1 /BPC 8 /CS /CMYK /F /AHx ID 00FF00330A0B0C0D> EI", "Magenta", "Black")
    pixels = np.frombuffer(stream.read_bytes(), np.uint8).reshape(-1, 3)
    assert pixels.tolist() == [[0, 255 - 0x33, 255], [255 - 0x0B, 255 - 0x0D, 255]]


def test_inline_pictures_with_a_palette_and_a_decode(pdf: pikepdf.Pdf) -> None:
    content = b"BI /W 4 /H 1 /BPC 2 /CS [/I /G 3 <00 40 80 FF>] /D [3 0] ID \x1b EI"
    pixels = np.frombuffer(inline(pdf, content, "Black").read_bytes(), np.uint8).reshape(-1, 3)
    assert pixels[:, 0].tolist() == [0xFF, 0x80, 0x40, 0x00]  # codes 0 1 2 3 read as 3 2 1 0


def test_inline_pictures_in_a_space_of_the_resources(pdf: pikepdf.Pdf) -> None:
    resources = Dictionary(ColorSpace=Dictionary(Cs1=spot("Copper")))
    pixels = inline(pdf, b"BI /W 1 /H 1 /BPC 8 /CS /Cs1 ID \x40 EI", "Copper", resources=resources).read_bytes()
    assert pixels[0] == 255 - 0x40


def test_inline_stencils(pdf: pikepdf.Pdf) -> None:
    stream = inline(pdf, b"BI /W 8 /H 1 /IM true /D [1 0] ID \xa5 EI", "Cyan")
    assert (stream.read_bytes(), stream.Decode) == (b"\xa5", Array([1, 0]))


# --- Kept and made once -----------------------------------------------------------------------------------------------


def test_a_picture_is_decoded_once_for_all_renderings(pdf: pikepdf.Pdf, monkeypatch: pytest.MonkeyPatch) -> None:
    from service.pdf.plates.pictures import recolored as module

    asked: list[object] = []
    decoded = module.decoded
    monkeypatch.setattr(module, "decoded", lambda *given: asked.append(given) or decoded(*given))
    kept = Pictures()
    image = cmyk(pdf, np.full((40, 40, 4), 9, np.uint8))
    plates(image, *PROCESS, need=(10, 10), pictures=kept)
    plates(image, BLACK, need=(9, 10), pictures=kept)
    assert len(asked) == 1
    plates(image, BLACK, need=(20, 20), pictures=kept)  # placed larger elsewhere
    assert len(asked) == 2
    plates(image, BLACK, need=EVERY_PIXEL, pictures=kept)
    plates(image, BLACK, need=(20_000, 20_000), pictures=kept)  # there are no more pixels to be had
    assert len(asked) == 3


def test_a_picture_is_decoded_once_for_all_pages_that_need_it_alike(pdf: pikepdf.Pdf, monkeypatch: pytest.MonkeyPatch) -> None:
    """What one page needs larger changes nothing for another: no page comes out as its neighbours have it."""
    from service.pdf.plates.pictures import recolored as module

    asked: list[object] = []
    decoded = module.decoded
    monkeypatch.setattr(module, "decoded", lambda *given: asked.append(given[2]) or decoded(*given))
    image, of_file = cmyk(pdf, np.full((40, 40, 4), 9, np.uint8)), kept_of_file()
    for need in ((10, 10), (20, 20), (10, 10), (20, 20)):
        plates(image, *PROCESS, need=need, pictures=Pictures(of_file=of_file))
    assert asked == [(10, 10), (20, 20)]


def test_a_picture_painted_twice_is_one_object(pdf: pikepdf.Pdf) -> None:
    image, kept, resources, table = (
        cmyk(pdf, TWO_PIXELS),
        Pictures(),
        Resources(None, Shared(pdf)),
        InkTable(PROCESS, process_by_formula),
    )
    first, second = (kept.plate_picture(image, resources, table, pdf, EVERY_PIXEL).objgen for _ in range(2))
    assert first == second


def test_no_more_is_kept_than_allowed(pdf: pikepdf.Pdf) -> None:
    kept = Pictures(most_kept_bytes=5000)
    for shade in range(10):
        image = cmyk(pdf, np.full((20, 20, 4), shade, np.uint8))  # 1,600 bytes of tints
        assert plates(image, "Cyan", pictures=kept)[0][0][0] == shade
    assert sum(one.size_bytes for one in kept._kept._kept.values()) == 4800


# --- As PDFium paints them --------------------------------------------------------------------------------------------


def painted(stream: pikepdf.Stream, pdf: pikepdf.Pdf, columns: int, rows: int) -> npt.NDArray[np.uint8]:
    """(rows, columns, 3) of a page that the picture fills, a point a pixel."""
    page = pdf.add_blank_page(page_size=(columns, rows))
    page.Resources = Dictionary(XObject=Dictionary(P=stream))
    page.Contents = pikepdf.Stream(pdf, f"{columns} 0 0 {rows} 0 0 cm /P Do".encode())
    file = io.BytesIO()
    pdf.save(file)
    document = pdfium.PdfDocument(file.getvalue())
    try:
        return document[len(document) - 1].render(scale=1, rev_byteorder=True).to_numpy()[:, :, :3].copy()
    finally:
        document.close()


def test_the_renderer_gives_the_tints_back_pixel_by_pixel() -> None:
    pixels = np.random.default_rng(3).integers(0, 256, (30, 40, 4), np.uint8)
    with pikepdf.new() as pdf, pikepdf.new() as out:
        table, resources = InkTable(PROCESS, process_by_formula), Resources(None, Shared(pdf))
        stream = Pictures().plate_picture(cmyk(pdf, pixels), resources, table, out, (40, 30))
        assert np.array_equal(255 - painted(stream, out, 40, 30), pixels[:, :, :3])


def test_the_renderer_mixes_with_the_paper_as_the_mask_says() -> None:
    """Tint × opacity over white; 2 of 255 for rounding twice."""
    random = np.random.default_rng(5)
    pixels, alpha = random.integers(0, 256, (30, 40, 4), np.uint8), random.integers(0, 256, (30, 40), np.uint8)
    with pikepdf.new() as pdf, pikepdf.new() as out:
        image = cmyk(pdf, pixels, SMask=picture(pdf, alpha.tobytes(), 40, 30, Name.DeviceGray))
        table, resources = InkTable(PROCESS, process_by_formula), Resources(None, Shared(pdf))
        found = 255 - painted(Pictures().plate_picture(image, resources, table, out, (40, 30)), out, 40, 30)
        mixed = pixels[:, :, :3] * (alpha[:, :, np.newaxis] / 255)
        assert np.abs(found - mixed).max() <= 2


@pytest.mark.parametrize("need", [(400, 300), (50, 40), (40, 30)])
def test_ink_is_neither_lost_nor_made_on_the_way_to_the_plate(need: tuple[int, int]) -> None:
    """400 × 300 pixels on a plate of 40 × 30, whatever the picture was decoded to; the mean of each area within 3 of 255."""
    pixels = np.random.default_rng(6).integers(0, 256, (300, 400, 4), np.uint8)
    exact = pixels.astype(float).reshape(30, 10, 40, 10, 4).mean(axis=(1, 3))
    with pikepdf.new() as pdf, pikepdf.new() as out:
        table, resources = InkTable(PROCESS, process_by_formula), Resources(None, Shared(pdf))
        found = 255 - painted(Pictures().plate_picture(cmyk(pdf, pixels), resources, table, out, need), out, 40, 30)
    off = np.abs(found - exact[:, :, :3])
    assert off.mean() <= 8 if need == (50, 40) else off.max() <= 3
    assert abs(found.mean() - exact[:, :, :3].mean()) <= 1.5
