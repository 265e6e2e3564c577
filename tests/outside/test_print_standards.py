"""PDF/X files that other programs wrote: WeasyPrint's and Ghostscript's are true as they come; each demand broken in them alone
makes the claim false.

WeasyPrint writes PDF/X-1a:2003, PDF/X-3:2003 and PDF/X-4 (seen in version 70); Ghostscript 10.00 writes PDF/X-3:2002 and leaves
the XMP packet out. The CMYK profile is the one that comes with Ghostscript.
"""

from __future__ import annotations

import io
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name, Pdf, Stream, String
from PIL import ImageCms

from service.pdf.document.icc import read_profile
from service.pdf.measure import measure
from service.rules.file.print_standard.demands import DEMANDS
from service.sheets.model import FileAsked, SpecSheet
from tests.outside_tools import drawing_package, profile, tool
from tests.pdf.icc_profiles import profile as small_profile
from tests.rules.measured import judged

EDITIONS = {"pdf/x-1a": "PDF/X-1a:2003", "pdf/x-3": "PDF/X-3:2003", "pdf/x-4": "PDF/X-4"}


@pytest.fixture(scope="module")
def weasyprinted() -> Callable[[str], bytes]:
    """A card of two pages with type, a rule and a background that bleeds, in each variant."""
    made: dict[str, bytes] = {}

    def make(variant: str) -> bytes:
        if variant not in made:
            inks = profile("default_cmyk").as_uri()
            source = f"""<title>Card</title><style>
            @color-profile device-cmyk {{ src: url({inks}); components: cyan, magenta, yellow, black }}
            @page {{ size: 85mm 55mm; margin: 6mm; bleed: 3mm; background: device-cmyk(0.1 0 0.2 0) }}
            body {{ font-family: DejaVu Sans, sans-serif; color: device-cmyk(0 0 0 1) }}
            h1 {{ border-bottom: 1pt solid device-cmyk(0 0.6 1 0); break-after: page }}
            </style><h1>Halyard Lane Bakery</h1><p>Rye, spelt and barley</p>"""
            written = drawing_package("weasyprint").HTML(string=source).write_pdf(pdf_variant=variant)
            assert isinstance(written, bytes)
            made[variant] = written
        return made[variant]

    return make


def broken_demands(path: Path, standard: str) -> set[str] | None:
    """None where the rule is met; an unmeasured rule fails the test."""
    rule, findings = judged("file.standard", measure(path), SpecSheet(file=FileAsked(standards=(standard,))))
    if rule.outcome == "met":
        return None
    assert rule.outcome == "not_met", rule.reason
    listed: Any = findings[0].finding.measured["broken"]
    return {one["demand"] for one in listed}


@pytest.mark.parametrize("variant", EDITIONS)
def test_what_weasyprint_writes_is_what_it_claims(variant: str, weasyprinted: Callable[[str], bytes], tmp_path: Path) -> None:
    path = tmp_path / "card.pdf"
    path.write_bytes(weasyprinted(variant))
    for name in (EDITIONS[variant], EDITIONS[variant].split(":")[0]):
        assert broken_demands(path, name) is None
    other = "PDF/X-4" if variant != "pdf/x-4" else "PDF/X-3"
    assert broken_demands(path, other) == set()  # no such claim


def test_what_ghostscript_writes_is_what_it_claims(tmp_path: Path) -> None:
    path = ghostscript_file(tmp_path)
    assert broken_demands(path, "PDF/X-3") is None
    with pikepdf.open(path, allow_overwriting_input=True) as pdf:
        del pdf.docinfo["/Trapped"]
        pdf.save(path, fix_metadata_version=False)
    assert broken_demands(path, "PDF/X-3:2002") == {"trapped"}


def ghostscript_file(folder: Path) -> Path:
    icc = profile("default_cmyk")
    (folder / "x.ps").write_text(f"""%!
[ /GTS_PDFXVersion (PDF/X-3:2002) /Title (Card) /Trapped /False /DOCINFO pdfmark
[ /_objdef {{icc}} /type /stream /OBJ pdfmark
[ {{icc}} << /N 4 >> /PUT pdfmark
[ {{icc}} ({icc}) (r) file /PUT pdfmark
[ /_objdef {{intent}} /type /dict /OBJ pdfmark
[ {{intent}} << /Type /OutputIntent /S /GTS_PDFX /OutputConditionIdentifier (CGATS TR 001) /Info (none)
  /RegistryName (http://www.color.org) /DestOutputProfile {{icc}} >> /PUT pdfmark
[ {{Catalog}} << /OutputIntents [ {{intent}} ] >> /PUT pdfmark
<< /PageSize [255 170] >> setpagedevice
0 0 0 1 setcmykcolor /Helvetica findfont 12 scalefont setfont 20 20 moveto (Halyard Lane) show
1 0 0 0 setcmykcolor 40 40 100 50 rectfill showpage
""")
    path = folder / "gs.pdf"
    try:
        tool("gs")(
            "-q", "-dBATCH", "-dNOPAUSE", "-dPDFX", "-sDEVICE=pdfwrite", "-sColorConversionStrategy=CMYK",
            f"--permit-file-read={icc}", f"-sOutputFile={path}", folder / "x.ps",
        )
    except subprocess.CalledProcessError as error:
        pytest.fail(error.stderr.decode() or error.stdout.decode())
    return path


# --- Each demand broken alone -----------------------------------------------------------------------------------------


def intent(pdf: Pdf) -> Any:
    return pdf.Root.OutputIntents[0]


def first_page(pdf: Pdf) -> Any:
    return pdf.pages[0].obj


def painting(content: bytes, **resources: Any) -> Callable[[Pdf], None]:
    """Paint something more on the first page, with these resources beside its own."""

    def change(pdf: Pdf) -> None:
        page = first_page(pdf)
        for category, entries in resources.items():
            if f"/{category}" not in page.Resources:
                page.Resources[f"/{category}"] = Dictionary()
            for name, make in entries.items():
                page.Resources[f"/{category}"][f"/{name}"] = make(pdf)
        pdf.pages[0].contents_add(b"q " + content + b" Q")

    return change


def xmp_without(name: bytes) -> Callable[[Pdf], None]:
    """Rename a property, so that nobody finds it."""

    def change(pdf: Pdf) -> None:
        data = pdf.Root.Metadata.read_bytes()
        assert name in data
        pdf.Root.Metadata = pdf.make_indirect(Stream(pdf, data.replace(name, b"x" + name), Type=Name.Metadata, Subtype=Name.XML))

    return change


def new_profile(data: bytes, channels: int = 4) -> Callable[[Pdf], None]:
    def change(pdf: Pdf) -> None:
        intent(pdf).DestOutputProfile = pdf.make_indirect(Stream(pdf, data, N=channels))

    return change


def note(pdf: Pdf) -> None:
    made = Dictionary(Type=Name.Annot, Subtype=Name.Text, Rect=Array([20, 20, 40, 40]), Contents=String("Darker?"))
    first_page(pdf).Annots = Array([pdf.make_indirect(made)])


def layers(**default: Any) -> Callable[[Pdf], None]:
    def change(pdf: Pdf) -> None:
        layer = pdf.make_indirect(Dictionary(Type=Name.OCG, Name=String("Prices")))
        pdf.Root.OCProperties = Dictionary(OCGs=Array([layer]), D=Dictionary(**default))

    return change


def font_not_embedded(_: Pdf) -> Any:
    return Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name.Helvetica)


def picture(**keys: Any) -> Callable[[Pdf], Any]:
    def make(pdf: Pdf) -> Any:
        right = {"Type": Name.XObject, "Subtype": Name.Image, "Width": 1, "Height": 1, "BitsPerComponent": 8}
        return pdf.make_indirect(Stream(pdf, b"\0", **right, ColorSpace=Name.DeviceGray, **keys))

    return make


def state(**keys: Any) -> Callable[[Pdf], Any]:
    return lambda _: Dictionary(Type=Name.ExtGState, **keys)


def copper_over_lab(pdf: Pdf) -> Any:
    function = Dictionary(FunctionType=2, Domain=Array([0, 1]), N=1, C0=Array([100, 0, 0]), C1=Array([50, 30, 40]))
    white = Dictionary(WhitePoint=Array([0.96, 1, 0.82]))
    return Array([Name.Separation, Name.Copper, Array([Name.Lab, white]), pdf.make_indirect(function)])


def own_profile(pdf: Pdf) -> Any:
    return Array([Name.ICCBased, intent(pdf).DestOutputProfile])


SQUARE = b"30 30 20 20 re f"

NEGATIVES: list[tuple[str, str, Callable[[Pdf], object]]] = [
    ("title-and-dates", "pdf/x-1a", lambda pdf: pdf.docinfo.__delitem__("/ModDate")),
    ("title-and-dates", "pdf/x-3", lambda pdf: pdf.docinfo.__delitem__("/Title")),
    ("xmp-properties", "pdf/x-4", xmp_without(b"RenditionClass")),
    ("trapped", "pdf/x-3", lambda pdf: pdf.docinfo.__delitem__("/Trapped")),
    ("output-intent", "pdf/x-1a", lambda pdf: pdf.Root.__delitem__("/OutputIntents")),
    ("output-intent", "pdf/x-4", lambda pdf: pdf.Root.OutputIntents.append(Dictionary(intent(pdf)))),
    ("output-condition", "pdf/x-4", lambda pdf: intent(pdf).__delitem__("/OutputConditionIdentifier")),
    ("output-info", "pdf/x-4", lambda pdf: intent(pdf).__delitem__("/Info")),
    ("output-profile", "pdf/x-4", lambda pdf: intent(pdf).__delitem__("/DestOutputProfile")),
    ("output-profile", "pdf/x-1a", lambda pdf: intent(pdf).__delitem__("/DestOutputProfile")),
    ("output-profile-kind", "pdf/x-1a", new_profile(small_profile(b"mntr", b"RGB "), 3)),
    ("output-profile-kind", "pdf/x-4", new_profile(b"no profile")),
    ("output-profile-kind", "pdf/x-3", new_profile(small_profile(), 3)),
    ("trim-box", "pdf/x-4", lambda pdf: first_page(pdf).__delitem__("/TrimBox")),
    ("trim-box", "pdf/x-1a", lambda pdf: first_page(pdf).__setitem__("/ArtBox", Array([10, 10, 50, 50]))),
    ("box-nesting", "pdf/x-3", lambda pdf: first_page(pdf).__setitem__("/BleedBox", Array([20, 20, 100, 100]))),
    ("annotations", "pdf/x-4", note),
    ("separated-pages", "pdf/x-3", lambda pdf: first_page(pdf).__setitem__("/SeparationInfo", Dictionary())),
    ("inks-only", "pdf/x-1a", painting(b"1 0 0 rg " + SQUARE)),
    ("inks-only", "pdf/x-1a", painting(b"/Own cs 1 0 0 0 sc " + SQUARE, ColorSpace={"Own": own_profile})),
    ("spot-substitutes", "pdf/x-1a", painting(b"/Spot cs 1 sc " + SQUARE, ColorSpace={"Spot": copper_over_lab})),
    ("device-colors", "pdf/x-4", painting(b"1 0 0 rg " + SQUARE)),
    ("device-colors", "pdf/x-3", painting(b"1 0 0 RG 9 9 m 50 50 l S")),
    ("profile-twice", "pdf/x-4", painting(b"/Own cs 1 0 0 0 sc " + SQUARE, ColorSpace={"Own": own_profile})),
    ("transparency", "pdf/x-1a", painting(b"/Half gs " + SQUARE, ExtGState={"Half": state(ca=0.5)})),
    ("transparency", "pdf/x-3", painting(b"/Multiply gs " + SQUARE, ExtGState={"Multiply": state(BM=Name.Multiply)})),
    ("transparency", "pdf/x-3", lambda pdf: first_page(pdf).__setitem__("/Group", Dictionary(S=Name.Transparency))),
    ("fonts", "pdf/x-4", painting(b"BT /Bare 12 Tf 30 30 Td (Rye) Tj ET", Font={"Bare": font_not_embedded})),
    ("filters", "pdf/x-4", painting(b"", XObject={"Odd": picture(Filter=Array([Name.LZWDecode, Name.DCTDecode]))})),
    ("filters", "pdf/x-1a", painting(b"", XObject={"Odd": picture(Filter=Name.JPXDecode)})),
    ("opi", "pdf/x-4", painting(b"", XObject={"Odd": picture(OPI=Dictionary())})),
    ("postscript", "pdf/x-1a", painting(b"(showpage) PS")),
    ("transfer-functions", "pdf/x-4", painting(b"", ExtGState={"Odd": state(TR=Name.Identity)})),
    ("halftones", "pdf/x-3", painting(b"", ExtGState={"Odd": state(HT=Dictionary(HalftoneType=10))})),
    ("actions", "pdf/x-4", lambda pdf: pdf.Root.__setitem__("/OpenAction", Dictionary(S=Name.JavaScript, JS=String("")))),
    ("viewer-areas", "pdf/x-4", lambda pdf: pdf.Root.__setitem__("/ViewerPreferences", Dictionary(PrintClip=Name.ArtBox))),
    ("alternate-images", "pdf/x-3", painting(b"", XObject={
        "Odd": picture(Alternates=Array([Dictionary(DefaultForPrinting=True)]))})),
    ("self-contained", "pdf/x-4", painting(b"", XObject={"Odd": picture(F=String("bread.jpg"))})),
    ("layers", "pdf/x-1a", layers(Name=String("Print"))),
    ("layers", "pdf/x-4", layers()),
    ("layers", "pdf/x-4", layers(Name=String("Print"), AS=Array([]))),
    ("layers", "pdf/x-4", layers(Name=String("Print"), Order=Array([]))),
    ("rendering-intents", "pdf/x-4", painting(b"/Vivid ri")),
]


@pytest.mark.parametrize(("demand", "variant", "change"), NEGATIVES, ids=[f"{one[0]} {one[1]}" for one in NEGATIVES])
def test_one_demand_broken_with_care_makes_the_claim_false(
    demand: str, variant: str, change: Callable[[Pdf], object], weasyprinted: Callable[[str], bytes], tmp_path: Path
) -> None:
    path = tmp_path / "card.pdf"
    with pikepdf.open(io.BytesIO(weasyprinted(variant))) as pdf:
        change(pdf)
        pdf.save(path, fix_metadata_version=False)
    assert broken_demands(path, EDITIONS[variant]) == {demand}


@pytest.mark.parametrize("variant", EDITIONS)
def test_saving_anew_breaks_nothing_by_itself(variant: str, weasyprinted: Callable[[str], bytes], tmp_path: Path) -> None:
    """Or the tests above would prove less than they say."""
    with pikepdf.open(io.BytesIO(weasyprinted(variant))) as pdf:
        pdf.save(tmp_path / "card.pdf", fix_metadata_version=False)
    assert broken_demands(tmp_path / "card.pdf", EDITIONS[variant]) is None


@pytest.mark.parametrize(
    ("save", "broken"),
    [
        ({"force_version": "1.7"}, {"pdf-version"}),
        ({"object_stream_mode": pikepdf.ObjectStreamMode.generate}, {"pdf-version"}),
        ({"encryption": pikepdf.Encryption(owner="o")}, {"encryption", "pdf-version"}),
    ],
)
def test_how_a_file_is_saved_can_break_a_demand(
    save: dict[str, Any], broken: set[str], weasyprinted: Callable[[str], bytes], tmp_path: Path
) -> None:
    with pikepdf.open(io.BytesIO(weasyprinted("pdf/x-1a"))) as pdf:
        pdf.save(tmp_path / "card.pdf", **save)
    assert broken_demands(tmp_path / "card.pdf", "PDF/X-1a") == broken


def test_what_these_files_cannot_break_is_named() -> None:
    """Two demands are left to hand-built measurements: saving writes an ID of its own and never packs XMP that was open."""
    here = {demand for demand, _, _ in NEGATIVES} | {"pdf-version", "encryption"}
    assert set(DEMANDS) - here == {"file-id", "xmp-unpacked"}


# --- Profiles against LittleCMS ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["default_cmyk", "ps_cmyk", "default_rgb", "default_gray", "sgray", "lab", "rommrgb"])
def test_profile_headers_are_what_littlecms_reads(name: str) -> None:
    path = profile(name)
    theirs = ImageCms.ImageCmsProfile(io.BytesIO(path.read_bytes())).profile
    ours = read_profile(path.read_bytes(), "1 0", 0)
    assert ours.damage is None
    assert ours.device_class == theirs.device_class.strip()
    assert ours.space == theirs.xcolor_space.strip()
    assert float(ours.version) == pytest.approx(theirs.version, abs=0.05)
    assert (ours.description or "") == (theirs.profile_description or "").strip()
