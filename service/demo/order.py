"""The files of the demo order, the sheet each is sent against, and the verdict that it deserves."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from PIL import Image

from service.demo import brochure
from service.demo.pen import PdfFile, binary_streams, spot
from service.demo.photographs import cmyk, jpeg, photograph
from service.demo.stationery import A4, CARD, card_back, card_front, letterhead, specimen_letter
from service.language.spoken import to_say
from service.pdf.facts.geometry import MM_PER_INCH

BROCHURE_SCENES = ("boule", "baguettes", "buns", "kneading", "lights", "wheat")


@dataclass(frozen=True)
class Sent:
    """One file, sent against one sheet."""

    file: str
    spec: str
    story: str
    """How it came about, for the reader of the results."""
    verdict: str
    rules: tuple[str, ...] = ()
    """Rules that must be broken, at the least."""


ORDER = (
    Sent("card-right.pdf", "business-card-85x55", to_say("Exported as the printer asks."), "conforming"),
    Sent(
        "card-no-bleed.pdf",
        "business-card-85x55",
        to_say("Exported without bleed: the artwork stops at the trim."),
        "nonconforming",
        ("bleed.declared",),
    ),
    Sent(
        "card-rgb-low-resolution.pdf",
        "business-card-85x55",
        to_say("The photograph came from a web page."),
        "nonconforming",
        ("image.resolution", "color.space"),
    ),
    Sent(
        "card-wrong-size.pdf",
        "business-card-85x55",
        to_say("'Fit to page' was on; two special inks, and a font that stayed at home."),
        "nonconforming",
        ("trim.scale", "font.embedded", "color.spots"),
    ),
    Sent(
        "letterhead-guide-copy.pdf",
        "letterhead-a4",
        to_say("The specimen letter is still in it."),
        "nonconforming",
        ("copy.placeholder",),
    ),
    Sent("brochure-12-pages.pdf", "booklet-a5-stapled", to_say("Twelve single pages, as asked."), "conforming"),
    Sent(
        "brochure-as-spreads.pdf",
        "booklet-a5-stapled",
        to_say("The same pages, exported as spreads."),
        "nonconforming",
        ("pages.arrangement",),
    ),
    Sent(
        "brochure-email-preview.pdf",
        "booklet-a5-stapled",
        to_say("The e-mail preview, sent to print by mistake."),
        "nonconforming",
        ("pages.arrangement", "bleed.declared", "image.resolution", "color.space"),
    ),
    Sent("brochure-email-preview.pdf", "client-preview", to_say("The e-mail preview, sent where it belongs."), "conforming"),
)


def make_files(folder: Path, progress: Callable[[str], None]) -> Sequence[Path]:
    """Draws every file of the order into the folder; `progress` hears each name before it is drawn."""
    with binary_streams():
        return _draw_all(folder, progress)


def _draw_all(folder: Path, progress: Callable[[str], None]) -> Sequence[Path]:
    files = []
    for name, make in {
        "card-right.pdf": _card_right,
        "card-no-bleed.pdf": _card_no_bleed,
        "card-rgb-low-resolution.pdf": _card_from_the_web,
        "card-wrong-size.pdf": _card_wrong_size,
        "letterhead-guide-copy.pdf": _letterhead_guide_copy,
    }.items():
        progress(name)
        files.append(make(folder / name))
    progress("brochure-12-pages.pdf")
    pictures = {scene: photograph(scene, *_pixels(*brochure.FULL_BLEED_MM, ppi=300)) for scene in BROCHURE_SCENES}
    print_photos = {scene: jpeg(cmyk(picture), quality=85) for scene, picture in pictures.items()}
    files.append(brochure.as_single_pages(folder / "brochure-12-pages.pdf", print_photos))
    progress("brochure-as-spreads.pdf")
    files.append(brochure.as_spreads(folder / "brochure-as-spreads.pdf", print_photos))
    progress("brochure-email-preview.pdf")
    small = _pixels(*brochure.FULL_BLEED_MM, ppi=110)
    light_photos = {scene: jpeg(picture.resize(small), quality=40) for scene, picture in pictures.items()}
    files.append(brochure.as_spreads(folder / "brochure-email-preview.pdf", light_photos, bleed=0))
    return files


def _pixels(width_mm: float, height_mm: float, ppi: float) -> tuple[int, int]:
    return round(width_mm / MM_PER_INCH * ppi), round(height_mm / MM_PER_INCH * ppi)


def _card_photo(ppi: float) -> Image.Image:
    return photograph("boule", *_pixels(CARD[0] + 6, CARD[1] + 6, ppi))


def _card(path: Path, photo: bytes, bleed: float = 3) -> Path:
    pdf = PdfFile(path, "Business card")
    card_front(pdf.page(*CARD, bleed), photo)
    pdf.end_page()
    card_back(pdf.page(*CARD, bleed))
    pdf.end_page()
    return pdf.save()


def _card_right(path: Path) -> Path:
    return _card(path, jpeg(cmyk(_card_photo(ppi=300)), quality=90))


def _card_no_bleed(path: Path) -> Path:
    return _card(path, jpeg(cmyk(_card_photo(ppi=300)), quality=90), bleed=0)


def _card_from_the_web(path: Path) -> Path:
    return _card(path, jpeg(_card_photo(ppi=120), quality=75))


def _card_wrong_size(path: Path) -> Path:
    pdf = PdfFile(path, "Business card")
    photo = jpeg(cmyk(_card_photo(ppi=330)), quality=90)
    pen = pdf.page(*CARD, scale=0.943)
    card_front(pen, photo, ink=spot("Halyard Copper"), type_face="Helvetica-Bold")
    pen.text("Tidewick", 78, 50, 7, spot("Halyard Foil"), align="right")
    pdf.end_page()
    card_back(pdf.page(*CARD, scale=0.943))
    pdf.end_page()
    return pdf.save()


def _letterhead_guide_copy(path: Path) -> Path:
    pdf = PdfFile(path, "Letterhead")
    pen = pdf.page(*A4)
    letterhead(pen)
    specimen_letter(pen)
    pdf.end_page()
    return pdf.save()
