"""What was found of the file as a whole, in the words of ISO 32000 and ISO 15076-1 (ICC profiles), never whether it is right."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from service.language.sentences import Sentence
from service.pdf.facts.geometry import Box
from service.pdf.facts.unknown import Failure, Unmeasured


@dataclass(frozen=True)
class Encryption:
    """ISO 32000-2:2020, 7.6: what the encryption dictionary says."""

    encrypted: bool
    printing_allowed: bool
    """False where the permissions forbid printing at full quality (7.6.4.2, bits 3 and 12)."""


# --- What it says that it is ------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class MetadataStream:
    """The XMP packet of the catalog (ISO 32000-2:2020, 14.3.2; ISO 16684-1): the properties that print standards ask for."""

    damage: str | None
    """Why the packet cannot be read; its properties are then None."""
    filtered: bool
    """True where the stream is packed: a program that knows no PDF cannot read it."""
    pdfx_version: str | None
    """pdfxid:GTS_PDFXVersion."""
    title: str | None
    create_date: str | None
    modify_date: str | None
    metadata_date: str | None
    document_id: str | None
    version_id: str | None
    rendition_class: str | None
    trapped: str | None


@dataclass(frozen=True)
class Identification:
    """What the file claims to be, and what names it: Info dictionary, XMP, trailer (ISO 32000-2:2020, 14.3 and 14.4)."""

    info_version: str | None
    """GTS_PDFXVersion of the Info dictionary."""
    info_conformance: str | None
    """GTS_PDFXConformance of the Info dictionary."""
    info_title: str | None
    info_creation_date: str | None
    info_modification_date: str | None
    info_trapped: str | None
    """'True', 'False' or 'Unknown'; a value that is no name stands in brackets: '(True)'."""
    has_file_id: bool
    """The trailer has an ID of two strings."""
    metadata: MetadataStream | None
    """None where there is no XMP."""


# --- Colour -----------------------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Profile:
    """An ICC profile of the file (ISO 15076-1:2010, 7.2): what its header says, and what the PDF says of it."""

    key: str
    """Its object's number, '12 0', as in `ColorUse.profile` and `OutputIntent.profile`."""
    damage: str | None
    """Why it cannot be used as a profile; what could still be read is there."""
    device_class: str
    """'prtr' (output), 'mntr' (display), 'scnr' (input), 'spac' …; '' where unknown."""
    space: str
    """'CMYK', 'RGB', 'GRAY', 'Lab' …; '' where unknown."""
    channels: int
    """Of that space; 0 where unknown."""
    declared_channels: int
    """N of the stream's dictionary; 0 where it is missing."""
    version: str
    """'2.1', '4.3'."""
    description: str | None
    digest: str
    """SHA-256 of the unpacked profile, hexadecimal: the same profile, the same digest; '' where it does not unpack."""


@dataclass(frozen=True)
class OutputIntent:
    """ISO 32000-2:2020, 14.11.5: the printing condition that the file was made for."""

    subtype: str
    """'GTS_PDFX', 'GTS_PDFA1' …"""
    identifier: str | None
    """OutputConditionIdentifier."""
    condition: str | None
    """OutputCondition, in words."""
    registry: str | None
    info: str | None
    profile: str | None
    """Key of its DestOutputProfile among the document's profiles; None where there is none."""
    profile_outside: bool
    """It names a profile outside the file (DestOutputProfileRef)."""


# --- What else it holds -----------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class LayerConfiguration:
    """One configuration of optional content (ISO 32000-2:2020, 8.11.4.3)."""

    name: str | None
    automatic: bool
    """It has an AS entry: usage decides by itself what is on."""
    layers_not_in_order: int
    """How many layers its Order leaves out; 0 where it lists all, or there is no Order."""


FeatureKind = Literal[
    "LZW", "JBIG2", "JPEG 2000", "Crypt filter", "data outside the file", "reference to another file", "OPI", "PostScript",
    "alternate image for printing", "transfer function", "halftone", "halftone phase", "rendering intent",
    "transparency group", "separated page", "alternate space", "viewer area", "object stream", "cross-reference stream",
]


@dataclass(frozen=True)
class Feature:
    """Something that the file's objects make use of, wherever it is written (painted or not)."""

    kind: FeatureKind
    detail: str
    """'halftone': 'type 16' or 'named'; 'rendering intent': a name beyond the four standard ones; 'alternate space': ink
    and the space that stands in for it, 'Copper: Lab'; 'viewer area': 'PrintArea: CropBox'; else ''."""
    pages: tuple[int, ...]
    """Pages that lead to it; empty for the document as a whole."""


ActionPlace = Literal["document", "page", "annotation", "form field", "bookmark"]


@dataclass(frozen=True)
class ActiveContent:
    """Something that acts, plays or is carried along instead of being printed (ISO 32000-2:2020, 12.6, 13, 7.11.4)."""

    kind: str
    """The action's type ('JavaScript', 'Launch', 'URI', 'GoTo' …), the annotation's ('Screen', 'RichMedia' …),
    'EmbeddedFile' or 'XFA'."""
    on: ActionPlace
    page: int | None
    box_mm: Box | None
    detail: str
    """Name of an embedded file; else ''."""


@dataclass(frozen=True)
class Linearization:
    """The linearization dictionary against the file (ISO 32000-2:2020, Annex F)."""

    faults: tuple[Sentence, ...]
    """What no longer matches; empty where all that was looked at does."""


@dataclass(frozen=True)
class Document:
    """Facts of the file as a whole."""

    size_bytes: int
    failure: Failure | None
    """Why the file could not be measured at all; None for a file that could."""
    page_count: int | Unmeasured
    version: str | Unmeasured
    """'1.7': header or catalog, the later wins (ISO 32000-2:2020, 7.5.2)."""
    encryption: Encryption | Unmeasured
    damage: tuple[Sentence, ...]
    """What a reader has to repair to open the file."""
    cut_off: bool
    """The end of the file is missing: whatever stood there is lost, and no reader can tell what it was."""
    title: str | None
    creator: str | None
    """The program that the document was laid out in, as it names itself in the Info dictionary."""
    producer: str | None
    identification: Identification | Unmeasured
    output_intents: tuple[OutputIntent, ...] | Unmeasured
    profiles: tuple[Profile, ...] | Unmeasured
    """Those of the output intents and those that visible objects use."""
    layers: tuple[LayerConfiguration, ...] | Unmeasured | None
    """The default configuration first; None where the file has no optional content."""
    features: tuple[Feature, ...] | Unmeasured
    active_content: tuple[ActiveContent, ...] | Unmeasured
    linearization: Linearization | Unmeasured | None
    """None where the file does not start with such a dictionary."""
