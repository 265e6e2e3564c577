"""JPEG, JPEG 2000, fax coding and JBIG2: the stored values, exactly, and nothing by halves."""

from __future__ import annotations

import io
from collections.abc import Iterator
from typing import Any

import numpy as np
import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name
from PIL import Image, ImageFile

from service.pdf.plates.pictures.codecs import MOST_SCANS
from service.pdf.plates.pictures.codecs import jpeg as decoded_jpeg
from service.pdf.plates.pictures.source import Filter
from tests.pdf.plates.picture_files import (
    cmyk,
    device_n,
    fax,
    jbig2,
    jpeg,
    jpeg_2000,
    opacity,
    picture,
    plate_stream,
    plates,
    spot,
)

FLAT = np.array([[[200, 90, 30, 60]] * 16] * 16, np.uint8)
"""A flat 16 × 16: JPEG at quality 100 gives it back within 1 of 255."""
BITS = np.add.outer(np.arange(40), np.arange(50)) % 7 < 3
"""Slanted stripes; True is black."""


@pytest.fixture
def pdf() -> Iterator[pikepdf.Pdf]:
    with pikepdf.new() as made:
        yield made


def dct(pdf: pikepdf.Pdf, data: bytes, space: Any = Name.DeviceCMYK, **keys: Any) -> pikepdf.Stream:
    return picture(pdf, data, 16, 16, space, Filter=Name.DCTDecode, **keys)


def first(image: pikepdf.Stream, *inks: str) -> list[int]:
    return [plate[0][0] for ink in inks for plate in plates(image, ink)]


ALL_FOUR = ("Cyan", "Magenta", "Yellow", "Black")


# --- JPEG -------------------------------------------------------------------------------------------------------------


def test_cmyk_jpegs_are_taken_as_stored(pdf: pikepdf.Pdf) -> None:
    """7.4.8 knows no inversion: only Decode turns the values round, whatever marker the data have."""
    for data in (jpeg(FLAT, "CMYK"), jpeg(FLAT, "CMYK", adobe=False), jpeg(FLAT, "CMYK", progressive=True)):
        assert first(dct(pdf, data), *ALL_FOUR) == pytest.approx([200, 90, 30, 60], abs=1)
        turned = dct(pdf, data, Decode=Array([1, 0] * 4))
        assert first(turned, *ALL_FOUR) == pytest.approx([55, 165, 225, 195], abs=1)


def ycc_of(red: int, green: int, blue: int) -> tuple[int, int, int]:
    """ITU-T T.871, 7."""
    luma = 0.299 * red + 0.587 * green + 0.114 * blue
    return round(luma), round((blue - luma) / 1.772 + 128), round((red - luma) / 1.402 + 128)


def test_ycck_jpegs(pdf: pikepdf.Pdf) -> None:
    """Three components are the complements of cyan, magenta, yellow as YCbCr (7.4.8, ColorTransform). Tolerance 2 of 255."""
    stored = np.array([[[*ycc_of(255 - 200, 255 - 90, 255 - 30), 60]] * 16] * 16, np.uint8)
    said_by_marker = dct(pdf, jpeg(stored, "CMYK", adobe_transform=2))
    assert first(said_by_marker, *ALL_FOUR) == pytest.approx([200, 90, 30, 60], abs=2)
    said_by_parameter = dct(pdf, jpeg(stored, "CMYK", adobe=False), DecodeParms=Dictionary(ColorTransform=1))
    assert first(said_by_parameter, *ALL_FOUR) == pytest.approx([200, 90, 30, 60], abs=2)
    untransformed = dct(pdf, jpeg(FLAT, "CMYK", adobe_transform=0), DecodeParms=Dictionary(ColorTransform=1))
    assert first(untransformed, *ALL_FOUR) == pytest.approx([200, 90, 30, 60], abs=1)  # the marker wins


def test_three_components_that_are_not_transformed(pdf: pikepdf.Pdf) -> None:
    """ColorTransform 0: RGB as it is. Three inks in one JPEG, so that no conversion blurs the numbers."""
    flat = np.array([[[200, 90, 30]] * 16] * 16, np.uint8)
    space = device_n("Copper", "Silver", "Black")
    plain = dct(pdf, jpeg(flat, "RGB", keep_rgb=True), space)
    assert first(plain, "Copper", "Silver", "Black") == pytest.approx([200, 90, 30], abs=1)
    transformed = dct(pdf, jpeg(flat, "RGB"), space)
    assert first(transformed, "Copper", "Silver", "Black") == pytest.approx([200, 90, 30], abs=2)
    said_not_to_be = dct(pdf, jpeg(flat, "RGB"), space, DecodeParms=Dictionary(ColorTransform=0))
    assert first(said_not_to_be, "Copper", "Silver", "Black") == pytest.approx(ycc_of(200, 90, 30), abs=1)


def test_one_component(pdf: pikepdf.Pdf) -> None:
    data = jpeg(np.full((16, 16), 80, np.uint8), "L")
    assert first(dct(pdf, data, Name.DeviceGray), "Black") == [175]
    assert first(dct(pdf, data, spot("Copper")), "Copper") == [80]


def test_a_jpeg_within_another_filter(pdf: pikepdf.Pdf) -> None:
    data = jpeg(FLAT, "CMYK").hex().encode() + b">"
    image = picture(pdf, data, 16, 16, Name.DeviceCMYK, Filter=Array([Name.ASCIIHexDecode, Name.DCTDecode]))
    assert first(image, "Cyan") == pytest.approx([200], abs=1)


def test_a_large_jpeg_is_decoded_at_the_scale_that_is_needed() -> None:
    pixels = np.repeat(np.repeat(np.arange(0, 256, 4, np.uint8).reshape(8, 8, 1), 16, 0), 16, 1).repeat(4, 2)
    data = jpeg(pixels, "CMYK")  # 128 × 128
    for need, scale in ((128, 1), (65, 1), (64, 2), (40, 2), (17, 4), (16, 8), (2, 8)):
        found = decoded_jpeg(data, Filter("DCTDecode", {}), (need, need))
        assert found.samples.shape == (128 // scale, 128 // scale, 4)
        assert found.scaled == (scale > 1)
        centers = found.samples[8 // scale :: 16 // scale, 8 // scale :: 16 // scale]
        assert np.abs(centers.astype(int) - pixels[8::16, 8::16]).max() <= 3


def test_a_jpeg_that_does_not_fit_its_space_is_refused(pdf: pikepdf.Pdf) -> None:
    with pytest.raises(ValueError, match="4 components, its colour space 3"):
        plates(dct(pdf, jpeg(FLAT, "CMYK"), Name.DeviceRGB), "Cyan")


@pytest.mark.parametrize("share", [0, 0.001, 0.1, 0.5, 0.98])
@pytest.mark.parametrize("lenient", [False, True])
def test_a_jpeg_that_is_cut_off_is_refused(
    pdf: pikepdf.Pdf, share: float, lenient: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Also where another library in the process has asked Pillow to take what there is."""
    monkeypatch.setattr(ImageFile, "LOAD_TRUNCATED_IMAGES", lenient)
    noise = np.random.default_rng(1).integers(0, 256, (64, 64, 4), np.uint8)
    data = jpeg(noise, "CMYK")
    with pytest.raises(ValueError, match="picture"):
        plates(dct(pdf, data[: int(len(data) * share)]), "Cyan")
    assert lenient == ImageFile.LOAD_TRUNCATED_IMAGES


def test_jpegs_that_take_too_much_are_refused_before_decoding(pdf: pikepdf.Pdf) -> None:
    """The size stands in the frame header (T.81, B.2.2): height, then width, behind its length and precision."""

    def resized(data: bytes, marker: bytes, height: int, width: int) -> bytes:
        at = data.find(marker)
        return data[: at + 5] + height.to_bytes(2, "big") + width.to_bytes(2, "big") + data[at + 9 :]

    with pytest.raises(ValueError, match="million pixels"):
        plates(dct(pdf, resized(jpeg(FLAT, "CMYK"), b"\xff\xc0", 65_000, 65_000)), "Cyan")
    with pytest.raises(ValueError, match="more memory"):
        plates(dct(pdf, resized(jpeg(FLAT, "CMYK", progressive=True), b"\xff\xc2", 20_000, 20_000)), "Cyan", need=(10, 10))
    endless = jpeg(FLAT, "CMYK", progressive=True)[:-2] + b"\xff\xda\x00\x08\x01\x01\x00\x00\x3f\x00\x00" * (MOST_SCANS + 1)
    with pytest.raises(ValueError, match="scans"):
        plates(dct(pdf, endless), "Cyan")


# --- JPEG 2000 --------------------------------------------------------------------------------------------------------


def jpx(pdf: pikepdf.Pdf, data: bytes, space: Any = None, **keys: Any) -> pikepdf.Stream:
    return picture(pdf, data, 16, 16, space, Filter=Name.JPXDecode, **keys)


@pytest.mark.parametrize("no_jp2", [False, True], ids=["with boxes", "bare"])
def test_four_components_are_inks_where_the_space_says_so(pdf: pikepdf.Pdf, no_jp2: bool) -> None:
    data = jpeg_2000(FLAT, "RGBA", no_jp2=no_jp2, mct=0)
    assert first(jpx(pdf, data, Name.DeviceCMYK), *ALL_FOUR) == [200, 90, 30, 60]


def test_the_data_may_bring_their_own_space(pdf: pikepdf.Pdf) -> None:
    assert first(jpx(pdf, jpeg_2000(FLAT[:, :, 0], "L")), "Black") == [55]
    assert first(jpx(pdf, jpeg_2000(FLAT, "CMYK")), *ALL_FOUR) == [200, 90, 30, 60]
    assert first(jpx(pdf, jpeg_2000(FLAT[:, :, :3], "RGB")), *ALL_FOUR) == [0, 110, 170, 55]


def test_decode_has_no_say_in_jpeg_2000(pdf: pikepdf.Pdf) -> None:
    """Table 87, Decode."""
    image = jpx(pdf, jpeg_2000(FLAT[:, :, 0], "L"), spot("Copper"), Decode=Array([1, 0]))
    assert first(image, "Copper") == [200]


def test_sixteen_bits_in_jpeg_2000(pdf: pikepdf.Pdf) -> None:
    file = io.BytesIO()
    Image.fromarray(np.full((16, 16), 0x8080, np.uint16)).save(file, "JPEG2000", irreversible=False)
    assert first(jpx(pdf, file.getvalue(), spot("Copper")), "Copper") == [0x80]


def test_jpeg_2000_shrinks_to_averages(pdf: pikepdf.Pdf) -> None:
    """Blocks of 75 % on white: halved by its wavelets, their edges read 100 %."""
    blocks = np.random.default_rng(3).random((32, 32)) > 0.5
    inks = np.kron(blocks, np.full((8, 8), 191)).astype(np.uint8)
    image = jpx(pdf, jpeg_2000(inks, "L"), spot("Copper"))
    found = np.array(plates(image, "Copper", need=(40, 40))[0])
    assert found.shape == (43, 43)
    assert found.max() == 191
    assert abs(found.mean() - inks.mean()) < 1


def test_jpeg_2000_too_large_for_the_memory_is_halved_as_its_levels_allow(
    pdf: pikepdf.Pdf, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("service.pdf.plates.pictures.codecs.MOST_DECODED_SAMPLES", 2 * 4 * 64 * 64)
    data = jpeg_2000(np.tile(FLAT, (16, 16, 1)), "RGBA", num_resolutions=3)
    stream = plate_stream(jpx(pdf, data, Name.DeviceCMYK), "Cyan", need=(40, 40))
    assert (stream.Width, stream.Height) == (64, 64)
    assert set(stream.read_bytes()[::3]) == {55}
    with pytest.raises(ValueError, match="memory"):
        plate_stream(jpx(pdf, data, Name.DeviceCMYK), "Cyan", need=(80, 80))


@pytest.mark.parametrize("kept", [0, 20, 60, 120])
def test_jpeg_2000_that_is_cut_off_is_refused(pdf: pikepdf.Pdf, kept: int) -> None:
    noise = np.random.default_rng(1).integers(0, 256, (64, 64, 3), np.uint8)
    with pytest.raises(ValueError, match="picture"):
        plates(jpx(pdf, jpeg_2000(noise, "RGB")[:kept], Name.DeviceRGB), "Cyan")


def test_jpeg_2000_of_more_components_is_refused_by_name(pdf: pikepdf.Pdf) -> None:
    data = bytearray(jpeg_2000(FLAT, "RGBA", no_jp2=True))
    data[41] = 5
    with pytest.raises(ValueError, match="5 components"):
        plates(jpx(pdf, bytes(data), Name.DeviceCMYK), "Cyan")


# --- One bit ----------------------------------------------------------------------------------------------------------


def one_bit(
    pdf: pikepdf.Pdf, data: bytes, name: str, space: Any = Name.DeviceGray, parms: Any = None, **keys: Any
) -> pikepdf.Stream:
    rows, columns = BITS.shape
    given = {"DecodeParms": parms} if parms is not None else {}
    return picture(pdf, data, columns, rows, space, bits=1, Filter=Name("/" + name), **given, **keys)


def group_4(**more: Any) -> Dictionary:
    return Dictionary(K=-1, Columns=50, Rows=40, **more)


BLACK = (BITS * 255).tolist()
WHITE = (~BITS * 255).tolist()


def test_group_4(pdf: pikepdf.Pdf) -> None:
    """7.4.6: without BlackIs1 black is 0, which DeviceGray paints."""
    assert plates(one_bit(pdf, fax(BITS), "CCITTFaxDecode", parms=group_4()), "Black")[0] == BLACK
    assert plates(one_bit(pdf, fax(BITS), "CCITTFaxDecode", parms=group_4(BlackIs1=True)), "Black")[0] == WHITE
    turned = one_bit(pdf, fax(BITS), "CCITTFaxDecode", parms=group_4(), Decode=Array([1, 0]))
    assert plates(turned, "Black")[0] == WHITE


def test_group_3(pdf: pikepdf.Pdf) -> None:
    data = fax(BITS, "group3")
    assert (
        plates(one_bit(pdf, data, "CCITTFaxDecode", parms=Dictionary(K=0, Columns=50, Rows=40, EndOfLine=True)), "Black")[0]
        == BLACK
    )


def test_jbig2(pdf: pikepdf.Pdf) -> None:
    """7.4.7: black is 0 when the samples come out."""
    assert plates(one_bit(pdf, jbig2(BITS), "JBIG2Decode"), "Black")[0] == BLACK


def test_one_bit_in_a_spot_ink_and_in_a_palette(pdf: pikepdf.Pdf) -> None:
    image = one_bit(pdf, fax(BITS), "CCITTFaxDecode", spot("Copper"), group_4(BlackIs1=True))
    assert plates(image, "Copper")[0] == BLACK
    palette = Array([Name.Indexed, Name.DeviceCMYK, 1, pikepdf.String(bytes((0, 0, 0, 0, 10, 20, 30, 40)))])
    image = one_bit(pdf, fax(BITS), "CCITTFaxDecode", palette, group_4(BlackIs1=True))
    assert plates(image, "Magenta")[0] == (BITS * 20).tolist()


def test_a_one_bit_mask_of_a_picture(pdf: pikepdf.Pdf) -> None:
    mask = one_bit(pdf, jbig2(BITS), "JBIG2Decode", None, ImageMask=True)
    assert opacity(plate_stream(cmyk(pdf, FLAT, Mask=mask), "Cyan")) == BLACK  # 0 paints, 1 is left out


def test_a_colour_key_of_one_bit(pdf: pikepdf.Pdf) -> None:
    image = one_bit(pdf, fax(BITS), "CCITTFaxDecode", parms=group_4(), Mask=Array([1, 1]))
    assert opacity(plate_stream(image, "Black")) == BLACK


def test_stencils_keep_their_coding(pdf: pikepdf.Pdf) -> None:
    stencil = one_bit(pdf, fax(BITS), "CCITTFaxDecode", None, group_4(BlackIs1=True), ImageMask=True)
    stream = plate_stream(stencil, "Cyan")
    assert stream.read_raw_bytes() == fax(BITS)
    assert (stream.Filter, stream.DecodeParms.K, stream.DecodeParms.BlackIs1) == (Name.CCITTFaxDecode, -1, True)


def test_fractions_where_several_fall_together(pdf: pikepdf.Pdf) -> None:
    """Stripes of 3 in 7: by area 109 of 255. Tolerance 3: PDFium's own averaging."""
    bits = np.add.outer(np.arange(700), np.arange(700)) % 7 < 3
    for data, name, parms in (
        (fax(bits), "CCITTFaxDecode", Dictionary(K=-1, Columns=700, Rows=700)),
        (jbig2(bits), "JBIG2Decode", None),
    ):
        keys = {"DecodeParms": parms} if parms is not None else {}
        image = picture(pdf, data, 700, 700, Name.DeviceGray, bits=1, Filter=Name("/" + name), **keys)
        (plate,) = plates(image, "Black", need=(100, 100))
        assert np.array(plate).shape == (100, 100)
        assert np.abs(np.array(plate) - 3 / 7 * 255).max() <= 3


@pytest.mark.parametrize("name", ["CCITTFaxDecode", "JBIG2Decode"])
def test_one_bit_data_that_are_cut_off_are_refused(pdf: pikepdf.Pdf, name: str) -> None:
    data = fax(BITS) if name == "CCITTFaxDecode" else jbig2(BITS)
    parms = group_4() if name == "CCITTFaxDecode" else None
    for kept in (0, len(data) // 2):
        with pytest.raises(ValueError, match="picture"):
            plates(one_bit(pdf, data[:kept], name, parms=parms), "Black")


def test_a_gigapixel_in_some_bytes_is_refused(pdf: pikepdf.Pdf) -> None:
    """One set bit is a white row of Group 4 (ITU-T T.6): 1.2 gigapixels in 4 KB."""
    data = b"\xff" * 4375 + b"\x00\x10\x01"
    for keys in ({"ColorSpace": Name.DeviceGray}, {"ImageMask": True}):
        image = picture(
            pdf,
            data,
            35_000,
            35_000,
            None,
            bits=1,
            Filter=Name.CCITTFaxDecode,
            DecodeParms=Dictionary(K=-1, Columns=35_000),
            **keys,
        )
        with pytest.raises(ValueError, match="1,225 million pixels"):
            plates(image, "Black", need=(100, 100))
