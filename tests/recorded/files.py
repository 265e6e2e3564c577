"""The reader's files: right ones, and each kind of defect. Names say what is in them."""

from __future__ import annotations

import io
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

import pikepdf
from pikepdf import Array, Dictionary, Name, Pdf, Stream, String
from PIL import ImageCms

from tests.build import PageBuilder, document, drawing, page, separation

CARD, BOOKLET = ("business-card-85x55",), ("booklet-a5-stapled",)


@dataclass(frozen=True)
class Made:
    name: str
    pdf: bytes
    specs: tuple[str, ...] = CARD
    order: str | None = None


def card(bleed: float = 3, slug: float = 0) -> PageBuilder:
    return page(85, 55, bleed, slug).fill(cyan=0.2)


def everything() -> PageBuilder:
    """Pictures, letters and lines, right and wrong, on one card."""
    made = card(slug=8).crop_marks(offset=4)
    made.picture((10, 10, 30, 25), ppi=149).picture((35, 10, 55, 25), ppi=600, color="rgb").picture(
        (60, 10, 80, 25), color="gray"
    )
    made.text("Halyard Lane Bakery", 9, (10, 32)).text("tiny", 3, (10, 36), black=1).text("white", 5, (10, 40), cyan=0)
    made.text("rich", 8, (30, 40), cyan=0.5, magenta=0.5, yellow=0.5, black=1).text("Open", 8, (45, 40), font="Helvetica")
    made.line((10, 44), (60, 44), 0.1, black=1).line((10, 46), (60, 46), 0.3, cyan=0.4, magenta=0.4)
    made.fill((62, 30, 78, 42), cyan=1, magenta=1, yellow=1, black=1).fill((62, 44, 78, 50), spot=("Copper", 0.8))
    return made.text("Lorem ipsum dolor sit amet, consectetur", 7, (10, 50))


def one_card() -> Iterator[tuple[str, PageBuilder]]:
    """A card of one page each, with one thing done to it."""
    yield "right", card().text("Halyard Lane Bakery", 9, (12, 30))
    yield "no-bleed", page(85, 55, 0).fill(cyan=1)
    yield "bleed-not-reached", page(85, 55, 3).fill((0, 0, 85, 55), cyan=1)
    yield "too-much-bleed", card(bleed=8)
    yield "wrong-size", page(90, 58).fill(cyan=1)
    yield "scaled", page(80.75, 52.25).fill(cyan=1)
    yield "upright", page(55, 85).fill(cyan=1)
    yield "no-trim-box", card().without_trim_box()
    yield "no-boxes", card().without_trim_box().without_bleed_box()
    yield "boxes-outside-each-other", card().box("BleedBox", (5, 5, 70, 40)).box("CropBox", (10, 10, 60, 40))
    yield "empty-box", card().box("TrimBox", (5, 5, 5, 5))
    yield "turned", everything().rotated(90)
    yield "lying-down", everything().rotated(270, upright=False)
    yield "user-unit", everything().user_unit(2)
    yield "origin", everything().origin(-300, 120)
    yield "everything", everything()
    yield "near-marks", card(slug=6).crop_marks(offset=1)
    yield (
        "rgb-and-lab",
        card()
        .fill((10, 10, 30, 30), rgb=(1, 0, 0))
        .fill((40, 10, 60, 30), lab=(50, 60, 20))
        .picture((62, 10, 80, 30), color="lab"),
    )
    yield "spots", card().fill((10, 10, 30, 30), spot=("Copper", 1)).fill((40, 10, 60, 30), spot=("Plum", 0.5))
    yield (
        "indexed-and-16-bits",
        card().picture((10, 10, 30, 25), color="indexed").picture((40, 10, 60, 25), bits=16, color="gray"),
    )
    yield "stencils", card().picture((10, 10, 30, 25), 300, stencil=True).picture((40, 10, 60, 25), bits=1, color="gray", ppi=400)
    yield "poor-jpeg", card().picture((0, 0, 80, 50), 300, color="rgb", jpeg_quality=8).picture((5, 5, 20, 20), jpeg_quality=95)
    yield (
        "turned-and-cut-picture",
        card().picture((20, 10, 50, 30), 200, turn=17, clip=(25, 15, 40, 28)).picture((60, 10, 80, 30), pixels=(60, 300)),
    )
    yield "inline-and-soft", card().picture((10, 10, 14, 13), inline=True, color="gray").picture((30, 10, 60, 25), soft_mask=True)
    yield (
        "artwork-in-margin",
        card().text("Halyard Lane", 9, (0.5, 20)).line((1, 1), (84, 1), 1, black=1).fill((82, 30, 85, 40), black=1),
    )
    yield (
        "invisible-letters",
        card().text("seen", 8, (10, 20)).text("unseen", 8, (10, 30), mode=3).text("outline", 9, (10, 40), mode=1),
    )
    yield (
        "guide-copy",
        card().text("Your text here", 8, (10, 20)).text("Max Mustermann", 8, (10, 30)).text("XX.XX.2026", 8, (10, 40)),
    )
    yield "blank", page(85, 55)
    yield (
        "deep-forms",
        card().form(
            drawing(30, 20).form(drawing(10, 10).fill(rgb=(0, 1, 0)).text("in", 5, (1, 8)), (5, 5), 0.5), (20, 10), 2, 30
        ),
    )
    yield (
        "alpha",
        card()
        .resource("ExtGState", "Half", Dictionary(ca=0.5, CA=0.5, BM=Name.Multiply))
        .raw(b"q /Half gs 1 0 0 0 k 40 40 100 60 re f Q"),
    )
    yield (
        "overprint",
        card()
        .resource("ExtGState", "Over", Dictionary(OP=True, op=True, OPM=1))
        .raw(b"q /Over gs 0 0 0 0 k 40 40 100 60 re f 0 0 0 1 k 60 60 50 30 re f Q"),
    )
    yield (
        "varnish",
        card()
        .resource("ExtGState", "Over", Dictionary(OP=True, op=True))
        .resource("ColorSpace", "V", separation("Varnish"))
        .raw(b"q /Over gs /V cs 1 scn 40 40 100 60 re f Q"),
    )
    yield "shading", card().resource("Shading", "Sh", _gradient()).raw(b"q 40 40 150 60 re W n /Sh sh Q")
    yield "device-n", card().resource("ColorSpace", "N", _device_n).raw(b"q /N cs 0.5 0.25 scn 40 40 100 60 re f Q")
    yield "tiling", card().resource("Pattern", "P", _tiling).raw(b"q /Pattern cs /P scn 40 40 150 60 re f Q")
    yield "distorted", card().picture((10, 10, 60, 25), pixels=(100, 100)).picture((62, 10, 80, 40), pixels=(9, 9))
    yield "registration-colour", card().fill((20, 20, 40, 40), spot=("All", 1)).fill((50, 20, 60, 40), spot=("Copper", 0))
    yield "letters-as-drawings", card().resource("Font", "T3", _drawn_letters).raw(b"BT /T3 12 Tf 40 60 Td (aa) Tj ET")
    yield "profiled", card().resource("ColorSpace", "Icc", _screen_colours).raw(b"q /Icc cs 1 0.5 0 scn 40 40 100 60 re f Q")
    yield "broken-content", card().raw(b"q 1 0 0 (unclosed 0 0 1 k ] >> BT /None 9 Tf (x) Tj Do")
    yield "missing-resources", card().raw(b"/Gone Do /Gone gs /Gone cs 1 scn 10 10 50 50 re f")
    yield (
        "annotated",
        card().key(
            "Annots", Array([_link(), Dictionary(Type=Name.Annot, Subtype=Name.Text, Rect=[50, 50, 70, 70], Contents="Ask")])
        ),
    )
    yield (
        "transparency-group",
        card()
        .resource("ExtGState", "Half", Dictionary(ca=0.5))
        .raw(b"/Half gs 40 40 90 60 re f")
        .key("Group", Dictionary(S=Name.Transparency, CS=Name.DeviceRGB)),
    )


def documents() -> Iterator[Made]:
    def of(name: str, change: Callable[[Pdf], object]) -> Made:
        return Made(name, document(everything(), card()).also(change).bytes())

    yield Made("locked", _locked(card().bytes(), "secret"))
    yield Made("restricted", _locked(everything().bytes(), ""))
    yield Made("cut-off", document(everything(), card()).truncated(0.6).bytes())
    yield Made("cut-off-early", document(card()).truncated(40).bytes())
    yield Made(
        "version-1.3",
        document(card().text("One", 9, (12, 30)), card()).version("1.3").info(Title="Card", Trapped="False").bytes(),
    )
    yield Made("version-2.0", document(card(), card()).version("2.0").bytes())
    yield of(
        "javascript", lambda pdf: pdf.Root.__setitem__("/OpenAction", Dictionary(S=Name.JavaScript, JS=String("app.alert(1)")))
    )
    yield of("layers", _layers)
    yield of("print-standard", _print_standard)
    yield of("attached", lambda pdf: pdf.attachments.__setitem__("price.txt", b"12"))
    yield of("form-fields", lambda pdf: pdf.Root.__setitem__("/AcroForm", Dictionary(Fields=Array([]), XFA=String("x"))))
    yield Made("two-sizes", document(card(), page(90, 50).fill(cyan=1), page(55, 85).fill(cyan=1)).bytes())
    yield Made("for-the-web", _for_the_web(document(everything(), card()).bytes()))
    inside = [page(148, 210).fill(yellow=number / 20).text(f"Page {number}", 12, (20, 30)) for number in range(1, 13)]
    yield Made("booklet", document(*inside).bytes(), (*BOOKLET, "booklet-a5-stapled-170gsm"))
    yield Made("booklet-10-pages", document(*inside[:10]).bytes(), BOOKLET)
    yield Made("booklet-mixed", document(*inside[:7], page(296, 210).fill(cyan=0.1)).bytes(), BOOKLET)
    spreads = [page(296, 210).fill(cyan=0.1).text("Halyard Lane", 24, (130, 100)) for _ in range(5)]
    yield Made("spreads", document(page(148, 210).fill(cyan=1), *spreads, page(148, 210).fill(cyan=1)).bytes(), BOOKLET)
    leaf = page(297, 210).fill(yellow=0.1).text("Across the fold", 20, (80, 60)).line((97, 0), (97, 210), 0.5, black=1)
    yield Made("leaflet", document(leaf, page(297, 210).fill(magenta=0.1)).bytes(), ("leaflet-dl-roll-6", "leaflet-dl-zigzag-6"))
    cover = page(302, 210).fill(black=0.3).text("On the spine", 8, (149, 100)).text("Title", 30, (180, 60), spot=("Copper", 1))
    yield Made("cover", document(cover).bytes(), ("book-a5-cover",), '{"inner_pages": 96, "caliper_mm": 0.11}')
    letter = page(210, 297, 0).text("Dear Copperbeck Press", 10, (25, 100)).picture((140, 10, 190, 30), 120, color="rgb")
    yield Made("letterhead", letter.bytes(), ("letterhead-a4", "letterhead-a4-din-5008-b"))
    yield Made("postcard-us", page(152.4, 101.6, 3.175).fill(cyan=1).bytes(), ("postcard-us-4x6", "postcard-a6"))
    yield Made("poster", page(420, 594).fill(cyan=0.5).picture((20, 20, 400, 400), 40).bytes(), ("poster-a2",))
    yield Made(
        "sticker",
        page(60, 60, 3).fill(magenta=0.4).line((0, 0), (60, 0), 0.25, spot=("CutContour", 1)).bytes(),
        ("sticker-round-60",),
    )


def made() -> list[Made]:
    cards = [Made(f"card-{name}", (one if name == "right" else document(one, card())).bytes()) for name, one in one_card()]
    return [*cards, *documents()]


def heavy() -> bytes:
    """Measuring it takes much longer than asking what becomes of it meanwhile."""
    one = card()
    one.content += b"".join(b"q 1 0 0 1 %d %d cm 0 0 9 9 re 0.1 0.2 0.3 0.4 k f Q\n" % (n % 200, n % 130) for n in range(400_000))
    return one.bytes()


def _locked(pdf: bytes, user: str) -> bytes:
    """With a cipher that gives the same bytes each time; without a password for `user` it may be read and not printed."""
    allow = pikepdf.Permissions(print_lowres=False, print_highres=False)
    out = io.BytesIO()
    lock = pikepdf.Encryption(user=user, owner="owner", R=4, aes=False, metadata=False, allow=allow)
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        opened.save(out, encryption=lock, static_id=True)
    return out.getvalue()


def _gradient() -> Dictionary:
    blend = Dictionary(FunctionType=2, Domain=[0, 1], C0=[1, 0, 0, 0], C1=[0, 1, 0, 0.5], N=1)
    return Dictionary(ShadingType=2, ColorSpace=Name.DeviceCMYK, Coords=[40, 40, 190, 40], Function=blend)


def _device_n(pdf: Pdf) -> Any:
    keys = {"/FunctionType": 4, "/Domain": [0, 1, 0, 1], "/Range": [0, 1] * 4}
    tint = pdf.make_indirect(Stream(pdf, b"{ 0 0 }", Dictionary(keys)))
    return Array([Name.DeviceN, Array([Name.Cyan, Name.Copper]), Name.DeviceCMYK, tint])


def _tiling(pdf: Pdf) -> Any:
    keys = Dictionary(PatternType=1, PaintType=1, TilingType=1, BBox=[0, 0, 10, 10], XStep=10, YStep=10, Resources=Dictionary())
    return pdf.make_indirect(Stream(pdf, b"1 0 0 rg 0 0 5 5 re f 0 1 0 0 k 5 5 5 5 re f", keys))


def _drawn_letters(pdf: Pdf) -> Any:
    """A font of Type 3, whose letters are squares."""
    square = pdf.make_indirect(Stream(pdf, b"600 0 0 0 500 500 d1 0 0 500 500 re f"))
    font = Dictionary(Type=Name.Font, Subtype=Name.Type3, FontBBox=[0, 0, 500, 500], FontMatrix=[0.001, 0, 0, 0.001, 0, 0])
    font.CharProcs, font.Resources = Dictionary(a=square), Dictionary()
    font.Encoding = Dictionary(Type=Name.Encoding, Differences=[97, Name.a])
    font.FirstChar, font.LastChar, font.Widths = 97, 97, Array([600])
    return pdf.make_indirect(font)


def _screen_colours(pdf: Pdf) -> Any:
    """SRGB by the library's own profile, without the day on which it was made (ISO 15076-1:2010, 7.2.8)."""
    profile = bytearray(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    profile[24:36] = bytes(12)
    return Array([Name.ICCBased, pdf.make_indirect(Stream(pdf, bytes(profile), Dictionary(N=3)))])


def _for_the_web(pdf: bytes) -> bytes:
    """Linearized."""
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        opened.save(out, linearize=True, deterministic_id=True)
    return out.getvalue()


def _link() -> Dictionary:
    action = Dictionary(S=Name.URI, URI=String("https://halyard-lane.example"))
    return Dictionary(Type=Name.Annot, Subtype=Name.Link, Rect=[20, 20, 60, 40], A=action, F=4)


def _layers(pdf: Pdf) -> None:
    layers = [pdf.make_indirect(Dictionary(Type=Name.OCG, Name=String(name))) for name in ("Die line", "Art")]
    layers[0].Usage = Dictionary(Print=Dictionary(PrintState=Name.ON), View=Dictionary(ViewState=Name.OFF))
    uses = [Dictionary(Event=Name(f"/{way}"), OCGs=Array(layers[:1]), Category=[Name(f"/{way}")]) for way in ("Print", "View")]
    shown = Dictionary(ON=Array(layers[1:]), OFF=Array(layers[:1]), Order=Array(layers), AS=Array(uses))
    pdf.Root.OCProperties = Dictionary(OCGs=Array(layers), D=shown)
    resources = pdf.pages[1].obj.Resources
    resources.Properties = Dictionary(Die=layers[0], Art=layers[1])
    content = pdf.pages[1].Contents.read_bytes()
    content += b"/OC /Die BDC 0 1 0 0 k 30 30 50 50 re f EMC /OC /Art BDC 0 0 1 0 k 90 30 50 50 re f EMC\n"
    pdf.pages[1].obj.Contents = pdf.make_indirect(Stream(pdf, content))


def _print_standard(pdf: Pdf) -> None:
    intent = Dictionary(Type=Name.OutputIntent, S=Name.GTS_PDFX, OutputConditionIdentifier=String("FOGRA51"))
    intent.RegistryName = String("http://www.color.org")
    pdf.Root.OutputIntents = Array([intent])
    pdf.docinfo = pdf.make_indirect(
        Dictionary(GTS_PDFXVersion=String("PDF/X-1a:2003"), Title=String("Card"), Trapped=Name("/False"))
    )
    pdf.docinfo.CreationDate = String("D:20260301120000Z")


def text_pdf(text: str) -> bytes:
    sheet = page(210, 297, 0)
    for number, line in enumerate(text.splitlines()[:50]):
        sheet.text(line[:90], 10, (20, 20 + 5 * number))
    return sheet.bytes()
