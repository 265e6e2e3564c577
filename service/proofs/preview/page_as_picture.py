"""A page as one picture, by PDFium: for pages whose content cannot be rewritten."""

from __future__ import annotations

from math import ceil
from pathlib import Path

import pikepdf
import pypdfium2
import pypdfium2.raw as pdfium_c
from pikepdf import Name, Stream
from PIL import Image

from service.pdf.facts.geometry import POINTS_PER_INCH, Box
from service.proofs.preview.brief import PageShown
from service.proofs.preview.pictures import Fineness, jpeg_of

MOST_PIXELS = 30_000_000


def drawn_page(path: Path, out: pikepdf.Pdf, shown: PageShown, media_pt: Box, fineness: Fineness) -> pikepdf.Object:
    """An image XObject of the trimmed page as it prints; `media_pt` is its MediaBox. Raises PdfiumError."""
    with pypdfium2.PdfDocument(path) as document:
        page = document[shown.number - 1]
        page.set_cropbox(*media_pt)  # its own answer for the MediaBox leaves inherited ones out
        across, down = page.get_size()
        ppi = min(fineness.ppi, (MOST_PIXELS * POINTS_PER_INCH**2 / max(across * down, 1)) ** 0.5)
        picture = page.render(scale=ppi / POINTS_PER_INCH, extra_flags=pdfium_c.FPDF_PRINTING).to_pil().convert("RGB")
    x, y = picture.width / shown.media_mm.width, picture.height / shown.media_mm.height
    left, top = shown.trim_mm.x0 - shown.media_mm.x0, shown.trim_mm.y0 - shown.media_mm.y0
    size = max(ceil(shown.trim_mm.width * x), 1), max(ceil(shown.trim_mm.height * y), 1)
    area = (left * x, top * y, (left + shown.trim_mm.width) * x, (top + shown.trim_mm.height) * y)
    cut = picture.resize(size, Image.Resampling.BICUBIC, box=area)
    made = Stream(out, b"", Type=Name.XObject, Subtype=Name.Image, ColorSpace=Name.DeviceRGB)
    made.write(jpeg_of(cut, fineness.quality), filter=Name.DCTDecode)
    made.Width, made.Height, made.BitsPerComponent = cut.width, cut.height, 8
    return out.make_indirect(made)
