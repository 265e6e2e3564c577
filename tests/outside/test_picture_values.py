"""Decoded pictures against two readers: MuPDF's pixels of an image object, and poppler's `pdfimages -tiff`.

Both give the values after Decode. JPEGs whose colours are stored at half the resolution differ at edges, because readers
smooth them differently: there the mean counts. Built pictures have none of that and must agree to the last digit.
"""

from __future__ import annotations

import io
import zlib
from collections import Counter
from pathlib import Path
from typing import Any

import numpy as np
import pikepdf
import pymupdf
import pytest
from pikepdf import Array, Dictionary, Name
from PIL import Image

from service.pdf.content.resources import Resources, Shared
from service.pdf.plates.pictures.codecs import Bytes
from service.pdf.plates.pictures.samples import samples_of
from service.pdf.plates.pictures.source import picture_source
from tests.outside.test_corpus import EVERY
from tests.outside_tools import tool
from tests.pdf.plates.picture_files import EVERY_PIXEL, fax, jpeg, jpeg_2000, lzw, picture, png_rows

RANDOM = np.random.default_rng(11)
NOISE = RANDOM.integers(0, 256, (24, 32, 4), np.uint8)
SMOOTH = np.asarray(Image.fromarray(NOISE[:6, :8]).resize((32, 24), Image.Resampling.BICUBIC))
INVERTED = Array([1, 0] * 4)
MOST_PIXELS = 6_000_000
"""Larger pictures of the folder are left out: the test shall stay quick."""

BUILT: dict[str, tuple[bytes, Any, dict[str, Any]]] = {
    "CMYK JPEG": (jpeg(SMOOTH, "CMYK"), Name.DeviceCMYK, {"Filter": Name.DCTDecode}),
    "CMYK JPEG with Decode": (jpeg(SMOOTH, "CMYK"), Name.DeviceCMYK, {"Filter": Name.DCTDecode, "Decode": INVERTED}),
    "CMYK JPEG without marker": (jpeg(SMOOTH, "CMYK", adobe=False), Name.DeviceCMYK, {"Filter": Name.DCTDecode}),
    "YCCK JPEG": (jpeg(SMOOTH, "CMYK", adobe_transform=2), Name.DeviceCMYK, {"Filter": Name.DCTDecode}),
    "RGB JPEG": (jpeg(SMOOTH[:, :, :3], "RGB"), Name.DeviceRGB, {"Filter": Name.DCTDecode}),
    "RGB JPEG untransformed": (jpeg(SMOOTH[:, :, :3], "RGB", keep_rgb=True), Name.DeviceRGB, {"Filter": Name.DCTDecode}),
    "gray JPEG": (jpeg(SMOOTH[:, :, 0], "L"), Name.DeviceGray, {"Filter": Name.DCTDecode}),
    "CMYK JPEG 2000": (jpeg_2000(NOISE, "CMYK"), Name.DeviceCMYK, {"Filter": Name.JPXDecode}),
    "RGB JPEG 2000": (jpeg_2000(NOISE[:, :, :3], "RGB"), Name.DeviceRGB, {"Filter": Name.JPXDecode}),
    "LZW": (lzw(NOISE.tobytes()), Name.DeviceCMYK, {"Filter": Name.LZWDecode}),
    "PNG predictors": (
        png_rows(NOISE, (4, 3, 2, 1, 0)), Name.DeviceCMYK,
        {"Filter": Name.FlateDecode, "DecodeParms": Dictionary(Predictor=15, Colors=4, Columns=32)},
    ),
    "Decode": (zlib.compress(NOISE.tobytes()), Name.DeviceCMYK, {"Filter": Name.FlateDecode, "Decode": Array([0.2, 0.9] * 4)}),
    "16 bits": (NOISE.tobytes() + NOISE.tobytes(), Name.DeviceCMYK, {"BitsPerComponent": 16}),
    "4 bits": (NOISE.tobytes(), Name.DeviceCMYK, {"BitsPerComponent": 4}),
    "2 bits": (NOISE.tobytes(), Name.DeviceRGB, {"BitsPerComponent": 2}),
    "1 bit": (NOISE.tobytes(), Name.DeviceGray, {"BitsPerComponent": 1}),
    "Group 4": (fax(NOISE[:, :, 0] > 127), Name.DeviceGray, {
        "BitsPerComponent": 1, "Filter": Name.CCITTFaxDecode, "DecodeParms": Dictionary(K=-1, Columns=32, Rows=24),
    }),
    "palette": (bytes(range(256)) * 3, Array([Name.Indexed, Name.DeviceCMYK, 255, pikepdf.String(NOISE.tobytes()[:1024])]), {}),
}


def ours(image: pikepdf.Stream, pdf: pikepdf.Pdf) -> Bytes:
    return samples_of(picture_source(image, Resources(None, Shared(pdf))), EVERY_PIXEL).values


def theirs(document: pymupdf.Document, number: int) -> Bytes:
    pixels = pymupdf.Pixmap(document, number)
    array = np.frombuffer(pixels.samples, np.uint8).reshape(pixels.height, pixels.width, pixels.n)
    return array[:, :, : pixels.n - pixels.alpha]


@pytest.mark.parametrize("kind", [kind for kind in BUILT if kind != "YCCK JPEG"])
def test_built_pictures_are_what_mupdf_reads(kind: str) -> None:
    """1 of 255: palettes and Decode are rounded once more there; 2 for the transformed JPEG.

    It leaves YCCK as it is stored, against 7.4.8; poppler and Ghostscript transform it as we do (below).
    """
    data, space, keys = BUILT[kind]
    with pikepdf.new() as pdf:
        image = picture(pdf, data, 32, 24, space, **keys)
        page = pdf.add_blank_page()
        page.Resources = Dictionary(XObject=Dictionary(P=image))
        file = io.BytesIO()
        pdf.save(file)
    with pikepdf.open(file) as pdf, pymupdf.open("pdf", file.getvalue()) as reader:
        image = pdf.pages[0].Resources.XObject.P
        found, expected = ours(image, pdf).astype(int), theirs(reader, image.objgen[0])
    assert found.shape == expected.shape
    assert np.abs(found - expected).max() <= (2 if kind == "RGB JPEG" else 1)


@pytest.mark.parametrize("kind", ["CMYK JPEG", "YCCK JPEG", "LZW", "PNG predictors"])
def test_cmyk_pictures_are_what_poppler_writes(kind: str, tmp_path: Path) -> None:
    """`pdfimages -tiff` writes CMYK as it is. 1 of 255."""
    data, space, keys = BUILT[kind]
    with pikepdf.new() as pdf:
        image = picture(pdf, data, 32, 24, space, **keys)
        page = pdf.add_blank_page()
        page.Resources = Dictionary(XObject=Dictionary(P=image))
        page.Contents = pikepdf.Stream(pdf, b"9 0 0 9 0 0 cm /P Do")
        pdf.save(tmp_path / "file.pdf")
        tool("pdfimages")("-tiff", tmp_path / "file.pdf", tmp_path / "out")
        found = ours(image, pdf).astype(int)
    with Image.open(tmp_path / "out-000.tif") as written:
        assert written.mode == "CMYK"
        assert np.abs(found - np.asarray(written)).max() <= 1


def test_ycck_is_what_ghostscript_prints(tmp_path: Path) -> None:
    """A flat colour, so that only the transformation counts. 1 of 255."""
    stored = np.array([[[120, 100, 150, 60]] * 16] * 16, np.uint8)
    with pikepdf.new() as pdf:
        image = picture(pdf, jpeg(stored, "CMYK", adobe_transform=2), 16, 16, Name.DeviceCMYK, Filter=Name.DCTDecode)
        page = pdf.add_blank_page(page_size=(16, 16))
        page.Resources = Dictionary(XObject=Dictionary(P=image))
        page.Contents = pikepdf.Stream(pdf, b"16 0 0 16 0 0 cm /P Do")
        pdf.save(tmp_path / "file.pdf")
        out = tmp_path / "out.tif"
        tool("gs")(
            "-q", "-dNOPAUSE", "-dBATCH", "-dSAFER", "-sDEVICE=tiff32nc", "-r72", f"-sOutputFile={out}", tmp_path / "file.pdf"
        )
        found = ours(image, pdf)[8, 8].astype(int)
    with Image.open(out) as printed:
        assert np.abs(found - np.asarray(printed)[8, 8]).max() <= 1


@pytest.mark.skipif(not EVERY, reason="no folder of other people's PDFs; set PRINT_SPEC_CORPUS")
def test_pictures_of_other_programs_are_what_mupdf_reads() -> None:
    """All but JPEG within 1 of 255, JPEG within 1.5 in the mean. What is left: JBIG2 of a kind that MuPDF does not decode
    (three pictures of one test file; poppler and PDFium read them as we do), and a JPEG whose dictionary states another size.
    """
    pymupdf.TOOLS.mupdf_display_errors(False)
    counts: Counter[str] = Counter()
    for path in EVERY:
        try:
            with pikepdf.open(path) as pdf, pymupdf.open(path) as reader:
                for image in [one for one in pdf.objects if _is_picture(one)][:25]:
                    counts[_compared(image, pdf, reader)] += 1
        except (pikepdf.PdfError, pikepdf.PasswordError, pymupdf.FileDataError, ValueError):
            counts["unreadable file"] += 1
    compared = sum(number for kind, number in counts.items() if kind.startswith(("agrees", "differs")))
    assert compared > 50, counts
    assert counts["refused"] == 0, counts
    assert sum(number for kind, number in counts.items() if kind.startswith("differs")) <= 4, counts


def _is_picture(one: object) -> bool:
    if not isinstance(one, pikepdf.Stream) or one.get("/Subtype") != Name.Image or one.get("/ImageMask"):
        return False
    return 0 < int(one.get("/Width", 0)) * int(one.get("/Height", 0)) < MOST_PIXELS


def _compared(image: pikepdf.Stream, pdf: pikepdf.Pdf, reader: pymupdf.Document) -> str:
    try:
        expected = theirs(reader, image.objgen[0])
    except pymupdf.mupdf.FzErrorBase:
        return "not read by MuPDF"
    try:
        found = ours(image, pdf).astype(int)
    except ValueError:
        return "refused"
    if found.shape != expected.shape:
        return "differs in shape"
    off = np.abs(found - expected)
    is_jpeg = "DCTDecode" in str(image.get("/Filter"))
    return ("agrees" if (off.mean() <= 1.5 if is_jpeg else off.max() <= 1) else "differs") + (": JPEG" if is_jpeg else "")
