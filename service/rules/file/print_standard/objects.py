"""Demands on what the file's objects make use of, beside what they paint: filters, halftones, actions, layers and the like."""

from __future__ import annotations

from collections.abc import Iterator

from service.language.spoken import say, say_many, to_say
from service.language.wording import first_few, on_pages
from service.pdf.facts.document import ActiveContent, Feature, FeatureKind, LayerConfiguration
from service.rules.base import Place
from service.rules.file.print_standard.demand import ALL, X_1A, X_3, X_4, Breach, Edition, Told, demand
from service.rules.seen import fact_of

Features = tuple[Feature, ...]

_TABLE = "a published table that compares PDF and PDF/X-3 (bvdm, Ifra, Ugra)"
_EXPORT = "Export again with the PDF/X setting of your layout program; do not run the file through another program afterwards."


FEATURES = fact_of(lambda document: document.features)


def _with(features: Features, *kinds: FeatureKind) -> list[Feature]:
    return [one for one in features if one.kind in kinds]


def _where(found: str, pages: tuple[int, ...]) -> str:
    """The clause with its pages; what belongs to the file as a whole has none."""
    return say("{on_pages} {found}", on_pages=on_pages(pages), found=found) if pages else found


def _breaches(features: list[Feature], found: str) -> Iterator[Breach]:
    """All of them as one; `found` is the clause without the pages."""
    if features:
        pages = tuple(sorted({number for one in features for number in one.pages}))
        yield Breach(_where(found, pages), pages)


def _details(features: list[Feature]) -> str:
    return first_few(list(dict.fromkeys(one.detail for one in features)))


@demand(
    "filters",
    needs=FEATURES,
    of=ALL,
    source=f"LZW: {_TABLE}; the others from memory, by the PDF version of each part",
    remedy=_EXPORT,
    subject="data is packed only in ways that the standard takes",
)
def filters(features: Features, edition: Edition) -> Iterator[Told]:
    kinds: list[FeatureKind] = ["LZW"]
    if edition not in X_4:
        kinds += ["JPEG 2000", "Crypt filter"]
    if edition in ("PDF/X-1a:2001", "PDF/X-3:2002"):
        kinds.append("JBIG2")
    for kind in kinds:
        named = say("Crypt filter") if kind == "Crypt filter" else kind  # the others are names of their own
        found = say("data is packed in a way that {standard} does not take ({filter})", standard=edition, filter=named)
        yield from _breaches(_with(features, kind), found)


@demand(
    "opi",
    needs=FEATURES,
    of=ALL,
    source=f"{_TABLE}; ISO 32000-2:2020, 14.11.7",
    subject="no picture waits to be replaced (OPI)",
    remedy="Update the links, place the real pictures and export again.",
)
def opi(features: Features, _: Edition) -> Iterator[Told]:
    found = say("a picture is a low-resolution placeholder that the printer would have to replace (OPI)")
    yield from _breaches(_with(features, "OPI"), found)


@demand("postscript", needs=FEATURES, of=ALL, source=_TABLE, subject="no PostScript code is inside", remedy=_EXPORT)
def postscript(features: Features, _: Edition) -> Iterator[Told]:
    yield from _breaches(_with(features, "PostScript"), say("PostScript code stands inside the PDF"))


@demand(
    "transfer-functions",
    needs=FEATURES,
    of=ALL,
    source=f"{_TABLE}; ISO 32000-2:2020, 10.5",
    subject="no transfer functions change the tones",
    remedy="Export again without transfer functions ('remove' in the export settings).",
)
def transfer_functions(features: Features, _: Edition) -> Iterator[Told]:
    functions = _with(features, "transfer function")
    found = say("transfer functions change the tones at the printer's ({names})", names=_details(functions))
    yield from _breaches(functions, found)


@demand(
    "halftones",
    needs=FEATURES,
    of=ALL,
    source="ISO 32000-2:2020, 10.6.5; the demand from memory",
    subject="halftones are of type 1 or 5",
    remedy="Export again without halftone settings; the screen is the printer's business.",
)
def halftones(features: Features, _: Edition) -> Iterator[Told]:
    screens = _with(features, "halftone")
    kinds = first_few(list(dict.fromkeys(_screen(one.detail) for one in screens)))
    yield from _breaches(screens, say("the file brings a halftone screen of its own ({kinds})", kinds=kinds))
    yield from _breaches(_with(features, "halftone phase"), say("the file moves the halftone screen (HTP)"))


def _screen(detail: str) -> str:
    """As it is measured: 'type 6', 'named', 'of no type'."""
    number = detail.removeprefix("type ")
    if number != detail:
        return say("type {number}", number=number)
    return say(_SCREENS[detail]) if detail in _SCREENS else detail


_SCREENS = {"named": to_say("named"), "of no type": to_say("of no type")}


_NO_ACTIONS = frozenset({"EmbeddedFile", "XFA", "Screen", "Movie", "Sound", "3D", "RichMedia", "FileAttachment"})
"""What `ActiveContent.kind` names beside actions. Sound and Movie can be both; as annotations they are told by `annotations`."""


@demand(
    "actions",
    needs=fact_of(lambda document: document.active_content),
    of=ALL,
    source=_TABLE,
    subject="no actions and no scripts",
    remedy="Switch off links, bookmarks, buttons and scripts in the export settings, and export again.",
)
def actions(found: tuple[ActiveContent, ...], _: Edition) -> Iterator[Told]:
    acting = [one for one in found if one.kind not in _NO_ACTIONS]
    if acting:
        pages = tuple(sorted({one.page for one in acting if one.page}))
        places = tuple(Place(one.page, one.box_mm) for one in acting if one.page and one.box_mm)
        kinds = first_few(sorted({one.kind for one in acting}))
        yield Breach(_where(say("it has actions ({kinds})", kinds=kinds), pages), pages, places)


@demand(
    "viewer-areas",
    needs=FEATURES,
    of=ALL,
    source="the manual of a program that writes PDF/X states the rule; ISO 32000-2:2020, 12.2",
    subject="viewing and printing show the MediaBox or the BleedBox",
    remedy=_EXPORT,
)
def viewer_areas(features: Features, _: Edition) -> Iterator[Told]:
    wrong = [one for one in _with(features, "viewer area") if not one.detail.endswith((": MediaBox", ": BleedBox"))]
    yield from _breaches(wrong, say("it asks to be shown or printed cut to another box ({areas})", areas=_details(wrong)))


@demand(
    "alternate-images",
    needs=FEATURES,
    of=ALL,
    source="ISO 32000-2:2020, 8.9.5.4; the demand from memory",
    subject="no picture is exchanged for another in printing",
    remedy=_EXPORT,
)
def alternate_images(features: Features, _: Edition) -> Iterator[Told]:
    exchanged = _with(features, "alternate image for printing")
    yield from _breaches(exchanged, say("a picture is exchanged for another one when it is printed"))


@demand(
    "self-contained",
    needs=FEATURES,
    of=ALL,
    source="ISO 32000-2:2020, 7.3.8.2 and 8.10.4; the demand from memory",
    subject="nothing that prints stands in another file",
    remedy="Embed all placed artwork, and export again.",
)
def self_contained(features: Features, _: Edition) -> Iterator[Told]:
    outside = _with(features, "data outside the file", "reference to another file")
    yield from _breaches(outside, say("something that prints stands in another file"))


@demand(
    "layers",
    needs=fact_of(lambda document: document.layers),
    of=ALL,
    source="ISO 32000-2:2020, 8.11.4 (configurations); the demand from memory",
    subject="no layers; in PDF/X-4 each configuration named, complete and without automatic states",
    remedy="Merge the layers before export, or export again with the PDF/X-4 setting, which describes them properly.",
)
def layers(configurations: tuple[LayerConfiguration, ...] | None, edition: Edition) -> Iterator[Told]:
    if configurations is not None and edition in (*X_1A, *X_3):
        yield Breach(say("it has layers"))
    elif configurations:
        names = [one.name for one in configurations]
        if not all(names) or len(set(names)) < len(names):
            yield Breach(say("the states of its layers are not named, or two have one name"))
        if any(one.automatic for one in configurations):
            yield Breach(say("its layers are switched on and off by themselves (AS)"))
        missing = max(one.layers_not_in_order for one in configurations)
        if missing:
            leaves_out = say_many(
                "its list of layers leaves out {count} layer", "its list of layers leaves out {count} layers", missing
            )
            yield Breach(leaves_out)


@demand(
    "rendering-intents",
    needs=FEATURES,
    of=ALL,
    source="ISO 32000-2:2020, 8.6.5.8; the demand from memory",
    subject="only the four standard rendering intents",
    remedy=_EXPORT,
)
def rendering_intents(features: Features, _: Edition) -> Iterator[Told]:
    intents = _with(features, "rendering intent")
    yield from _breaches(intents, say("it asks for a rendering intent that does not exist ({names})", names=_details(intents)))
