"""What the file claims to be, and for which printing condition: Info, XMP, trailer, output intents.

* Info keys and Trapped: ISO 32000-2:2020, 14.3.3. File identifier: 14.4. Output intents: 14.11.5.
* GTS_PDFXVersion and GTS_PDFXConformance are the keys of ISO 15930 (from memory); they are read, not judged.
"""

from __future__ import annotations

from collections.abc import Iterable

import pikepdf

from service.pdf.document.icc import profile_of
from service.pdf.document.whole import clean, info_text, text_string
from service.pdf.document.xmp import metadata_of
from service.pdf.facts.document import Identification, OutputIntent, Profile
from service.pdf.reading.names import name_text

MOST_INTENTS = 20
"""One is usual, a handful occurs. Ours, no source."""


def identification_of(pdf: pikepdf.Pdf) -> Identification:
    """Raises what reading raises."""
    return Identification(
        info_version=info_text(pdf, "/GTS_PDFXVersion"),
        info_conformance=info_text(pdf, "/GTS_PDFXConformance"),
        info_title=info_text(pdf, "/Title"),
        info_creation_date=info_text(pdf, "/CreationDate"),
        info_modification_date=info_text(pdf, "/ModDate"),
        info_trapped=_trapped(pdf),
        has_file_id=_has_id(pdf),
        metadata=metadata_of(pdf),
    )


def _trapped(pdf: pikepdf.Pdf) -> str | None:
    info = pdf.trailer.get("/Info")
    value = info.get("/Trapped") if isinstance(info, pikepdf.Dictionary) else None
    if value is None:
        return None
    return name_text(value) if isinstance(value, pikepdf.Name) else f"({clean(str(value)) or ''})"


def _has_id(pdf: pikepdf.Pdf) -> bool:
    written = pdf.trailer.get("/ID")
    return isinstance(written, pikepdf.Array) and len(written) == 2 and all(isinstance(one, pikepdf.String) for one in written)


def output_intents_of(pdf: pikepdf.Pdf) -> tuple[OutputIntent, ...]:
    """The catalog's, in its order. Raises what reading raises, and ValueError where there are too many."""
    listed = pdf.Root.get("/OutputIntents")
    intents = [one for one in listed if isinstance(one, pikepdf.Dictionary)] if isinstance(listed, pikepdf.Array) else []
    if len(intents) > MOST_INTENTS:
        raise ValueError("more output intents than any file needs")
    return tuple(_intent(one) for one in intents)


def _intent(intent: pikepdf.Dictionary) -> OutputIntent:
    profile = intent.get("/DestOutputProfile")
    return OutputIntent(
        subtype=name_text(intent.get("/S")),
        identifier=_text(intent.get("/OutputConditionIdentifier")),
        condition=_text(intent.get("/OutputCondition")),
        registry=_text(intent.get("/RegistryName")),
        info=_text(intent.get("/Info")),
        profile="{} {}".format(*profile.objgen) if isinstance(profile, pikepdf.Stream) else None,
        profile_outside="/DestOutputProfileRef" in intent,
    )


def _text(value: object) -> str | None:
    return text_string(bytes(value)) if isinstance(value, pikepdf.String) else None


def profiles_of(pdf: pikepdf.Pdf, keys: Iterable[str]) -> tuple[Profile, ...]:
    """The profiles of these object numbers ('12 0'), each once. Raises what reading raises."""
    found = []
    for key in dict.fromkeys(keys):
        number, generation = key.split()
        stream = pdf.get_object(int(number), int(generation))
        if isinstance(stream, pikepdf.Stream):
            found.append(profile_of(stream))
    return tuple(found)
