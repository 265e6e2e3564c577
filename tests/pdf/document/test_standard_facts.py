"""What a file claims, names and carries: one thing put into a right card at a time."""

from __future__ import annotations

import zlib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name, Pdf, Stream, String

from service.pdf.document.xmp import metadata_of
from service.pdf.facts.document import ActiveContent, Document, Feature, LayerConfiguration
from service.pdf.facts.geometry import Box
from service.pdf.facts.unknown import Unmeasured
from service.pdf.measure import measure
from tests.build import PageBuilder, document, page
from tests.pdf.icc_profiles import profile

Change = Callable[[Pdf], object]


def measured(folder: Path, *changes: Change, pages: tuple[PageBuilder, ...] = ()) -> Document:
    built = document(*(pages or (page(85, 55).fill(cyan=1),)))
    for change in changes:
        built = built.also(change)
    return measure(built.save(folder / "card.pdf")).document


def resource(category: str, name: str, make: Change, number: int = 0) -> Change:
    """Put an object into the resources of a page; nothing paints it."""

    def change(pdf: Pdf) -> None:
        resources = pdf.pages[number].obj.Resources
        if category not in resources:
            resources[category] = Dictionary()
        resources[category][name] = pdf.make_indirect(make(pdf))

    return change


def catalog(key: str, make: Change) -> Change:
    return lambda pdf: pdf.Root.__setitem__(key, make(pdf))


def features(found: Document) -> set[tuple[str, str, tuple[int, ...]]]:
    assert not isinstance(found.features, Unmeasured)
    return {(one.kind, one.detail, one.pages) for one in found.features}


def active(found: Document) -> tuple[ActiveContent, ...]:
    assert not isinstance(found.active_content, Unmeasured)
    return found.active_content


def test_a_plain_card_has_none_of_it(tmp_path: Path) -> None:
    found = measured(tmp_path)
    assert (found.output_intents, found.profiles, found.features, found.active_content) == ((), (), (), ())
    assert (found.layers, found.linearization) == (None, None)
    assert not isinstance(found.identification, Unmeasured)
    assert (found.identification.info_version, found.identification.metadata) == (None, None)


# --- What it says of itself -------------------------------------------------------------------------------------------


def test_info_entries(tmp_path: Path) -> None:
    def change(pdf: Pdf) -> None:
        pdf.docinfo["/GTS_PDFXVersion"] = String("PDF/X-1:2001")
        pdf.docinfo["/GTS_PDFXConformance"] = String("PDF/X-1a:2001")
        pdf.docinfo["/ModDate"] = String("D:20260301")
        pdf.docinfo["/Trapped"] = Name("/False")

    found = measured(tmp_path, change).identification
    assert not isinstance(found, Unmeasured)
    assert (found.info_version, found.info_conformance) == ("PDF/X-1:2001", "PDF/X-1a:2001")
    assert (found.info_modification_date, found.info_creation_date, found.info_trapped) == ("D:20260301", None, "False")
    assert found.has_file_id


def test_trapped_as_a_text_is_not_the_name_that_it_must_be(tmp_path: Path) -> None:
    found = measured(tmp_path, lambda pdf: pdf.docinfo.__setitem__("/Trapped", String("True"))).identification
    assert not isinstance(found, Unmeasured)
    assert found.info_trapped == "(True)"


XML = b"""<r:RDF xmlns:r="http://www.w3.org/1999/02/22-rdf-syntax-ns#" xmlns:i="http://www.npes.org/pdfx/ns/id/"><r:Description>
<i:GTS_PDFXVersion>PDF/X-4</i:GTS_PDFXVersion></r:Description></r:RDF>"""


@pytest.mark.parametrize("packed", [False, True])
def test_metadata_is_read_packed_or_not(packed: bool) -> None:
    pdf = Pdf.new()
    pdf.Root.Metadata = pdf.make_indirect(Stream(pdf, XML))
    if packed:
        pdf.Root.Metadata.write(zlib.compress(XML), filter=Name.FlateDecode)
    found = metadata_of(pdf)
    assert found is not None
    assert (found.damage, found.pdfx_version, found.filtered) == (None, "PDF/X-4", packed)


def test_metadata_that_is_no_stream_says_so() -> None:
    pdf = Pdf.new()
    pdf.Root.Metadata = Dictionary()
    assert getattr(metadata_of(pdf), "damage", None) == "It is no stream."


def test_metadata_of_a_file(tmp_path: Path) -> None:
    found = measured(tmp_path, catalog("/Metadata", lambda pdf: pdf.make_indirect(Stream(pdf, XML)))).identification
    assert not isinstance(found, Unmeasured)
    assert found.metadata is not None
    assert found.metadata.pdfx_version == "PDF/X-4"


# --- Output intents and profiles --------------------------------------------------------------------------------------


def intent(data: bytes | None, **entries: Any) -> Change:
    def make(pdf: Pdf) -> Any:
        made = Dictionary(S=Name.GTS_PDFX, OutputConditionIdentifier=String("FOGRA51"), **entries)
        if data is not None:
            made.DestOutputProfile = pdf.make_indirect(Stream(pdf, data, N=4))
        return Array([made])

    return catalog("/OutputIntents", make)


def test_an_output_intent_and_its_profile(tmp_path: Path) -> None:
    found = measured(tmp_path, intent(profile(), RegistryName=String("http://www.color.org"), Info=String("Coated")))
    assert not isinstance(found.output_intents, Unmeasured)
    assert not isinstance(found.profiles, Unmeasured)
    (only,), (its,) = found.output_intents, found.profiles
    assert (only.subtype, only.identifier, only.registry, only.info) == (
        "GTS_PDFX",
        "FOGRA51",
        "http://www.color.org",
        "Coated",
    )
    assert only.profile == its.key
    assert (its.device_class, its.space, its.declared_channels, its.damage) == ("prtr", "CMYK", 4, None)


def test_an_output_intent_without_a_profile(tmp_path: Path) -> None:
    found = measured(tmp_path, intent(None))
    assert not isinstance(found.output_intents, Unmeasured)
    assert found.output_intents[0].profile is None
    assert found.profiles == ()


def test_profiles_of_painted_objects_are_listed_and_others_are_not(tmp_path: Path) -> None:
    def icc(channels: int, data: bytes) -> Change:
        return lambda pdf: Array([Name.ICCBased, pdf.make_indirect(Stream(pdf, data, N=channels))])

    used = page(85, 55).resource("ColorSpace", "Used", icc(3, profile(b"mntr", b"RGB ", "A monitor")))
    used = used.resource("ColorSpace", "Unused", icc(4, profile())).raw(b"/Used cs 1 0 0 sc 0 0 50 50 re f")
    found = measured(tmp_path, pages=(used,))
    assert not isinstance(found.profiles, Unmeasured)
    assert [one.description for one in found.profiles] == ["A monitor"]


# --- Features ---------------------------------------------------------------------------------------------------------


def form(content: bytes = b"", **keys: Any) -> Change:
    return lambda pdf: Stream(pdf, content, Type=Name.XObject, Subtype=Name.Form, BBox=Array([0, 0, 9, 9]), **keys)


def image(**keys: Any) -> Change:
    return lambda pdf: Stream(
        pdf,
        b"\0",
        Type=Name.XObject,
        Subtype=Name.Image,
        Width=1,
        Height=1,
        ColorSpace=Name.DeviceGray,
        BitsPerComponent=8,
        **keys,
    )


def state(**keys: Any) -> Change:
    return lambda pdf: Dictionary(Type=Name.ExtGState, **{  # type: ignore[misc]
        key: value(pdf) if callable(value) else value for key, value in keys.items()
    })


def packed(name: Name) -> Change:
    def make(pdf: Pdf) -> Any:
        stream = Stream(pdf, b"", Type=Name.XObject, Subtype=Name.Image, Width=1, Height=1)
        stream.write(b"\x80\x0b\x60\x50\x22\x0c\x0c\x85\x01", filter=Array([name, Name.DCTDecode]))  # saving leaves DCT alone
        return stream

    return make


GROUP = Dictionary(S=Name.Transparency)

FEATURES: dict[str, tuple[Change, tuple[str, str]]] = {
    "LZW": (resource("/XObject", "/Odd", packed(Name.LZWDecode)), ("LZW", "")),
    "JBIG2": (resource("/XObject", "/Odd", packed(Name.JBIG2Decode)), ("JBIG2", "")),
    "JPEG 2000": (resource("/XObject", "/Odd", packed(Name.JPXDecode)), ("JPEG 2000", "")),
    "data elsewhere": (resource("/XObject", "/Odd", image(F=String("picture.jpg"))), ("data outside the file", "")),
    "reference": (
        resource("/XObject", "/Odd", form(Ref=Dictionary(F=String("a.pdf"), Page=0))), ("reference to another file", "")),
    "OPI": (resource("/XObject", "/Odd", form(OPI=Dictionary())), ("OPI", "")),
    "PostScript XObject": (
        resource("/XObject", "/Odd", lambda pdf: Stream(pdf, b"", Subtype=Name.PS)), ("PostScript", "")),
    "PS operator": (resource("/XObject", "/Odd", form(b"(x) PS")), ("PostScript", "")),
    "alternate": (
        resource("/XObject", "/Odd", image(Alternates=Array([Dictionary(DefaultForPrinting=True)]))),
        ("alternate image for printing", "")),
    "TR": (resource("/ExtGState", "/Odd", state(TR=Name.Identity)), ("transfer function", "TR")),
    "TR2": (resource("/ExtGState", "/Odd", state(TR2=Name.Identity)), ("transfer function", "TR2")),
    "halftone": (resource("/ExtGState", "/Odd", state(HT=Dictionary(HalftoneType=6))), ("halftone", "type 6")),
    "named halftone": (
        resource("/ExtGState", "/Odd", state(HT=Dictionary(HalftoneType=1, HalftoneName=String("Fine")))), ("halftone", "named")),
    "halftone phase": (resource("/ExtGState", "/Odd", state(HTP=Array([0, 0]))), ("halftone phase", "")),
    "RI": (resource("/ExtGState", "/Odd", state(RI=Name.Vivid)), ("rendering intent", "Vivid")),
    "Intent of a picture": (resource("/XObject", "/Odd", image(Intent=Name.Vivid)), ("rendering intent", "Vivid")),
    "ri operator": (resource("/XObject", "/Odd", form(b"/Vivid ri")), ("rendering intent", "Vivid")),
    "inline LZW": (
        resource("/XObject", "/Odd", form(b"BI /W 1 /H 1 /CS /G /BPC 8 /F [/A85 /LZW] ID J,g]g3$]7K!!~> EI")), ("LZW", "")),
    "group": (resource("/XObject", "/Odd", form(Group=GROUP)), ("transparency group", "")),
    "separated": (
        lambda pdf: pdf.pages[0].obj.__setitem__("/SeparationInfo", Dictionary(DeviceColorant=Name.Cyan)),
        ("separated page", "")),
    "Lab for a spot": (
        resource("/ColorSpace", "/Odd", lambda pdf: Array([
            Name.Separation, Name.Copper, Array([Name.Lab, Dictionary(WhitePoint=Array([1, 1, 1]))]),
            pdf.make_indirect(Dictionary(FunctionType=2))])),
        ("alternate space", "Copper: Lab")),
}


@pytest.mark.parametrize("case", FEATURES)
def test_a_feature_is_found_with_its_page(case: str, tmp_path: Path) -> None:
    change, expected = FEATURES[case]
    assert features(measured(tmp_path, change)) == {(*expected, (1,))}


NO_FEATURES: dict[str, Change] = {
    "TR2 by default": resource("/ExtGState", "/Odd", state(TR2=Name.Default)),
    "TR of a soft mask": resource("/ExtGState", "/Odd", state(SMask=lambda pdf: Dictionary(
        S=Name.Luminosity, TR=Name.Identity, G=pdf.make_indirect(Stream(pdf, b"", Subtype=Name.Form))))),
    "halftone type 5": resource("/ExtGState", "/Odd", state(HT=Dictionary(HalftoneType=5, Default=Dictionary(HalftoneType=1)))),
    "a standard intent": resource("/ExtGState", "/Odd", state(RI=Name.Perceptual)),
    "a standard intent set by ri": resource("/XObject", "/Odd", form(b"/Saturation ri")),
    "an alternate for the screen": resource("/XObject", "/Odd", image(Alternates=Array([Dictionary(DefaultForPrinting=False)]))),
    "PS as a text": resource("/XObject", "/Odd", form(b"BT (a PS b ri c) Tj ET")),
    "CMYK for a spot": resource("/ColorSpace", "/Odd", lambda pdf: Array([
        Name.Separation, Name.Copper, Name.DeviceCMYK, pdf.make_indirect(Dictionary(FunctionType=2))])),
    "a group of another kind": resource("/XObject", "/Odd", form(Group=Dictionary(S=Name.Other))),
}


@pytest.mark.parametrize("case", NO_FEATURES)
def test_its_neighbour_is_no_feature(case: str, tmp_path: Path) -> None:
    assert features(measured(tmp_path, NO_FEATURES[case])) == set()


def test_a_shared_object_is_told_for_every_page_that_leads_to_it(tmp_path: Path) -> None:
    """Page 1 by its resources, page 3 through a form that holds a form; page 2 only links to page 3."""

    def change(pdf: Pdf) -> None:
        odd = pdf.make_indirect(form(OPI=Dictionary())(pdf))
        inner = pdf.make_indirect(form(Resources=Dictionary(XObject=Dictionary(Odd=odd)))(pdf))
        inner.Resources.XObject.Loop = inner
        pdf.pages[0].obj.Resources.XObject = Dictionary(Odd=odd)
        pdf.pages[2].obj.Resources.XObject = Dictionary(Inner=inner)
        link = Dictionary(Type=Name.Annot, Subtype=Name.Link, Rect=Array([0, 0, 9, 9]), Dest=Array([pdf.pages[2].obj, Name.Fit]))
        action = Dictionary(S=Name.GoTo, D=Array([pdf.pages[2].obj, Name.Fit]))
        link.A = action
        pdf.pages[1].obj.Annots = Array([link])

    three = (page(85, 55).fill(cyan=1), page(85, 55).fill(cyan=1), page(85, 55).fill(cyan=1))
    assert features(measured(tmp_path, change, pages=three)) == {("OPI", "", (1, 3))}


def test_inherited_resources_are_looked_at(tmp_path: Path) -> None:
    def change(pdf: Pdf) -> None:
        del pdf.pages[0].obj["/Resources"]
        pdf.Root.Pages.Resources = Dictionary(XObject=Dictionary(Odd=pdf.make_indirect(form(OPI=Dictionary())(pdf))))

    assert features(measured(tmp_path, change)) == {("OPI", "", (1,))}


def test_viewer_areas_belong_to_the_document(tmp_path: Path) -> None:
    preferences = Dictionary(PrintArea=Name.CropBox, ViewArea=Name.BleedBox, FitWindow=True)
    assert features(measured(tmp_path, catalog("/ViewerPreferences", lambda _: preferences))) == {
        ("viewer area", "PrintArea: CropBox", ()),
        ("viewer area", "ViewArea: BleedBox", ()),
    }


@pytest.mark.parametrize(("mode", "kinds"), [
    (pikepdf.ObjectStreamMode.generate, {"object stream", "cross-reference stream"}),
    (pikepdf.ObjectStreamMode.disable, set()),
])
def test_packed_objects_are_seen(mode: pikepdf.ObjectStreamMode, kinds: set[str], tmp_path: Path) -> None:
    with pikepdf.open(document(page(85, 55).fill(cyan=1)).save(tmp_path / "plain.pdf")) as pdf:
        pdf.save(tmp_path / "packed.pdf", object_stream_mode=mode)
    found = measure(tmp_path / "packed.pdf").document.features
    assert not isinstance(found, Unmeasured)
    assert {one.kind for one in found} == kinds
    assert all(isinstance(one, Feature) and one.pages == () for one in found)


# --- Layers -----------------------------------------------------------------------------------------------------------


def test_configurations_of_layers(tmp_path: Path) -> None:
    def make(pdf: Pdf) -> Any:
        one, two = (pdf.make_indirect(Dictionary(Type=Name.OCG, Name=String(name))) for name in ("Crease", "Text"))
        first = Dictionary(Name=String("Print"), Order=Array([Array([String("All"), one]), two]))
        other = Dictionary(Order=Array([one]), AS=Array([]))
        return Dictionary(OCGs=Array([one, two]), D=first, Configs=Array([other, Dictionary(Name=String("Plain"))]))

    assert measured(tmp_path, catalog("/OCProperties", make)).layers == (
        LayerConfiguration("Print", automatic=False, layers_not_in_order=0),
        LayerConfiguration(None, automatic=True, layers_not_in_order=1),
        LayerConfiguration("Plain", automatic=False, layers_not_in_order=0),
    )


# --- Active content ---------------------------------------------------------------------------------------------------


SCRIPT = Dictionary(S=Name.JavaScript, JS=String("app.alert(1)"))


def annotated(**keys: Any) -> Change:
    """An annotation whose place on the paper is 10 to 30 mm across and 5 to 15 mm down."""
    mm = 72 / 25.4
    rectangle = Array([(3 + 10) * mm, (3 + 55 - 15) * mm, (3 + 30) * mm, (3 + 55 - 5) * mm])

    def change(pdf: Pdf) -> None:
        made = Dictionary(**{"Type": Name.Annot, "Subtype": Name.Link, "Rect": rectangle, **keys})
        pdf.pages[0].obj.Annots = Array([pdf.make_indirect(made)])

    return change


@pytest.mark.parametrize(
    ("change", "kind", "on"),
    [
        (catalog("/OpenAction", lambda _: SCRIPT), "JavaScript", "document"),
        (catalog("/AA", lambda _: Dictionary(WP=SCRIPT)), "JavaScript", "document"),
        (catalog("/Names", lambda _: Dictionary(JavaScript=Dictionary(Names=Array([String("a"), SCRIPT])))),
         "JavaScript", "document"),
        (catalog("/AcroForm", lambda _: Dictionary(XFA=String("<x/>"))), "XFA", "document"),
        (catalog("/AcroForm", lambda _: Dictionary(Fields=Array([Dictionary(T=String("t"), AA=Dictionary(K=SCRIPT))]))),
         "JavaScript", "form field"),
        (catalog("/Outlines", lambda _: Dictionary(First=Dictionary(A=Dictionary(S=Name.Launch)))), "Launch", "bookmark"),
        (lambda pdf: pdf.pages[0].obj.__setitem__("/AA", Dictionary(O=SCRIPT)), "JavaScript", "page"),
    ],
)
def test_an_action_is_found_where_it_hides(change: Change, kind: str, on: str, tmp_path: Path) -> None:
    assert [(one.kind, one.on) for one in active(measured(tmp_path, change))] == [(kind, on)]


def test_an_action_of_an_annotation_has_its_place_on_the_paper(tmp_path: Path) -> None:
    (only,) = active(measured(tmp_path, annotated(A=Dictionary(S=Name.Launch, F=String("x.exe")))))
    assert (only.kind, only.on, only.page) == ("Launch", "annotation", 1)
    assert only.box_mm is not None
    assert only.box_mm == pytest.approx(Box(10, 5, 30, 15), abs=0.01)


def test_actions_that_follow_others_are_found_and_may_go_in_circles(tmp_path: Path) -> None:
    def change(pdf: Pdf) -> None:
        first = pdf.make_indirect(Dictionary(S=Name.URI, URI=String("http://127.0.0.1/")))
        first.Next = Array([Dictionary(S=Name.SubmitForm), first])
        pdf.Root.OpenAction = first

    assert {one.kind for one in active(measured(tmp_path, change))} == {"URI", "SubmitForm"}


def test_a_page_to_open_at_is_no_action(tmp_path: Path) -> None:
    found = measured(tmp_path, lambda pdf: pdf.Root.__setitem__("/OpenAction", Array([pdf.pages[0].obj, Name.Fit])))
    assert active(found) == ()


def test_files_inside_are_named(tmp_path: Path) -> None:
    def change(pdf: Pdf) -> None:
        pdf.attachments["prices.txt"] = b"rye 4.20"

    assert [(one.kind, one.detail) for one in active(measured(tmp_path, change))] == [("EmbeddedFile", "prices.txt")]


@pytest.mark.parametrize("kind", ["Screen", "Movie", "Sound", "3D", "RichMedia", "FileAttachment"])
def test_annotations_that_play_or_carry_something(kind: str, tmp_path: Path) -> None:
    found = active(measured(tmp_path, annotated(Subtype=Name(f"/{kind}"))))
    assert [(one.kind, one.on, one.page) for one in found] == [(kind, "annotation", 1)]


def test_a_name_tree_in_a_circle_ends(tmp_path: Path) -> None:
    def change(pdf: Pdf) -> None:
        tree = pdf.make_indirect(Dictionary(Names=Array([String("a"), SCRIPT])))
        tree.Kids = Array([tree])
        pdf.Root.Names = Dictionary(JavaScript=tree)

    assert [one.kind for one in active(measured(tmp_path, change))] == ["JavaScript"]


# --- Damage -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("key", ["/OutputIntents", "/OCProperties", "/Names", "/AcroForm", "/Outlines",
                                 "/ViewerPreferences", "/OpenAction", "/AA"])
@pytest.mark.parametrize("value", ["7", "(x)", "[7 (x) <</S 7>>]", "<</First 3/D 4/JavaScript [1]/Fields <<>>/OCGs 7>>"])
def test_a_part_of_the_wrong_kind_harms_nothing(key: str, value: str, tmp_path: Path) -> None:
    found = measured(tmp_path, catalog(key, lambda _: pikepdf.Object.parse(value.encode())))
    assert found.failure is None
    assert not isinstance(found.features, Unmeasured)
