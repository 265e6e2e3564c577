"""The facts of a file for a report: as a whole, its pages, pictures, fonts and inks. Bounded: a file may hold thousands."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from service.language.first_words import begun_after_colon
from service.language.spoken import say, say_about, say_many, to_say
from service.language.wording import (
    by,
    first_few,
    ink_named,
    listed,
    number,
    on_one_line,
    page_list,
    ppi,
    reason,
    size,
    with_unit,
)
from service.pdf.facts.across_pages import FontAcross, InkAcross, InkKind, fonts_across, inks_across
from service.pdf.facts.document import Document, OutputIntent
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.page import Page
from service.pdf.facts.painted.images import Image
from service.pdf.facts.unknown import Unmeasured
from service.proofs.report.comparisons import stored_size
from service.proofs.report.records import Fact, FactTable

MOST_ROWS = 20
"""Lines of one table: what is worst stands first, and the check's JSON has all."""
LONGEST_WORDS = 120
"""Letters of a name from the file."""

_MOST_RUNS = 12
_TRIM_SOURCES = {
    "trim_box": to_say("TrimBox"),
    "art_box": to_say("ArtBox"),
    "crop_marks": to_say("crop marks"),
    "crop_box": to_say("CropBox"),
    "media_minus_bleed": to_say("sheet less the bleed"),
    "media_box": to_say("MediaBox"),
}
_KINDS = {"contone": to_say("continuous tone"), "bilevel": to_say("1 bit"), "mask": to_say("image mask")}


def words_of_the_file(text: str | None) -> str:
    return on_one_line(text or "", LONGEST_WORDS)


def pages_shown(numbers: Sequence[int]) -> str:
    """As `page_list`, the first ones only where they are many."""
    ordered = sorted(set(numbers))
    runs = 1 + sum(after != before + 1 for before, after in pairwise(ordered))
    return page_list(ordered) if runs <= _MOST_RUNS else first_few([str(one) for one in ordered], _MOST_RUNS)


def file_facts(measurements: Measurements) -> tuple[Fact, ...]:
    return tuple(_facts(measurements))


def file_tables(measurements: Measurements) -> tuple[FactTable, ...]:
    """Empty for a file whose pages could not be measured."""
    pages = measurements.pages
    if isinstance(pages, Unmeasured):
        return ()
    return tuple(table for table in (_pages(pages), _pictures(pages), _fonts(pages), _inks(pages)) if table is not None)


def trimmed_sizes(pages: Sequence[Page]) -> str:
    """'85 × 55 mm', or the sizes of which there are several."""
    return first_few(list(dict.fromkeys(size(page.trim_width_mm, page.trim_height_mm) for page in pages)), 3)


# --- The file as a whole ----------------------------------------------------------------------------------------------


def _facts(measurements: Measurements) -> Iterator[Fact]:
    document = measurements.document
    yield Fact(say("Size of the file"), stored_size(document.size_bytes))
    if document.failure:
        yield Fact(say("Not measured, because"), reason(document.failure.reason))
        return
    yield Fact(say("PDF version"), _or_why(document.version))
    yield Fact(say("Pages of the file"), _or_why(document.page_count))
    yield from _identity(document)
    yield Fact(say("Output intent"), _intents(document))
    if not isinstance(document.encryption, Unmeasured) and document.encryption.encrypted:
        full = document.encryption.printing_allowed
        yield Fact(say("Encrypted"), say("yes; printing allowed") if full else say("yes; printing at full quality forbidden"))
    if not isinstance(measurements.pages, Unmeasured) and (most := _most_ink(measurements.pages)):
        yield Fact(say("Most ink in one place"), most)
    if document.damage:
        yield Fact(say("Repaired to open it"), " ".join(one.said() for one in document.damage[:5]))


def _identity(document: Document) -> Iterator[Fact]:
    claimed = document.identification
    if not isinstance(claimed, Unmeasured):
        xmp = claimed.metadata.pdfx_version if claimed.metadata else None
        versions = dict.fromkeys(words_of_the_file(one) for one in (claimed.info_version, xmp) if one)
        yield Fact(say("Claims the print standard"), listed(versions) if versions else say_about("print standard", "none"))
    for name, value in (
        (say("Title in the file"), document.title),
        (say("Laid out with"), document.creator),
        (say("PDF made by"), document.producer),
    ):
        if value and value.strip():
            yield Fact(name, words_of_the_file(value))


def _intents(document: Document) -> str:
    intents = document.output_intents
    if isinstance(intents, Unmeasured):
        return say("not measured: {reason}", reason=begun_after_colon(reason(intents)))
    return listed(_intent(one) for one in intents[:3]) if intents else say_about("output intent", "none")


def _intent(intent: OutputIntent) -> str:
    named = dict.fromkeys(words_of_the_file(one) for one in (intent.identifier, intent.condition or intent.info) if one)
    return f"{', '.join(named) or say('without a name')} ({words_of_the_file(intent.subtype)})"


def _most_ink(pages: Sequence[Page]) -> str | None:
    known = [(page.ink_max_percent, page.number) for page in pages if not isinstance(page.ink_max_percent, Unmeasured)]
    if not known:
        return None
    most, page = max(known, key=lambda one: (one[0], -one[1]))
    return say("{percent} %, on page {page}", percent=number(most, 0), page=page)


def _or_why(value: str | int | Unmeasured) -> str:
    return say("not measured: {reason}", reason=begun_after_colon(reason(value))) if isinstance(value, Unmeasured) else str(value)


# --- Tables -----------------------------------------------------------------------------------------------------------


def _pages(pages: Sequence[Page]) -> FactTable:
    """Pages that are alike stand together."""
    alike: dict[tuple[str, ...], list[int]] = {}
    for page in pages:
        alike.setdefault(_page(page), []).append(page.number)
    rows = [(pages_shown(numbers), *facts) for facts, numbers in alike.items()]
    sheet, turned = say_about("paper", "Sheet"), say_about("page", "Turned")
    columns = (say("Pages"), say("Trimmed size"), say("Trim found by"), say("Bleed"), sheet, turned)
    return FactTable(say("Pages"), columns, tuple(rows[:MOST_ROWS]), _more(len(rows)))


def _page(page: Page) -> tuple[str, ...]:
    media = page.boxes_mm.media
    turned = f"{page.rotation}°" if page.rotation else say_about("turned", "no")
    return (
        size(page.trim_width_mm, page.trim_height_mm), say(_TRIM_SOURCES[page.trim_source]), _bleed(page),
        size(media.width, media.height), turned,
    )


def _bleed(page: Page) -> str:
    depths = [number(value) for _, value in page.bleed_mm.items()]
    if set(depths) == {"0"}:
        return say_about("bleed", "none")
    if len(set(depths)) == 1:
        return with_unit(depths[0], "mm")
    top, right, bottom, left = depths
    return say("top {top}, right {right}, bottom {bottom}, left {left} mm", top=top, right=right, bottom=bottom, left=left)


def _pictures(pages: Sequence[Page]) -> FactTable | None:
    """Coarsest first."""
    placed = [(page.number, one) for page in pages if not isinstance(page.content, Unmeasured) for one in page.content.images]
    if not placed:
        return None
    rows = [_picture(page, image) for page, image in sorted(placed, key=lambda one: one[1].ppi)[:MOST_ROWS]]
    columns = (say("Page"), say("Resolution"), say("Pixels"), say("Printed at"), say("Colour space"), say("Kept as"))
    return FactTable(say("Pictures, lowest resolution first"), columns, tuple(rows), _more(len(placed)))


def _picture(page: int, image: Image) -> tuple[str, ...]:
    return (
        str(page), ppi(image.ppi), by(str(image.width_px), str(image.height_px)), size(image.box_mm.width, image.box_mm.height),
        say("{space}, {kind}", space=words_of_the_file(image.space), kind=say(_KINDS[image.kind])), _kept_as(image),
    )


def _kept_as(image: Image) -> str:
    if isinstance(image.jpeg_quality, int):
        return say("JPEG, quality about {quality}", quality=image.jpeg_quality)
    return words_of_the_file(image.filter) or say("not compressed")


def _fonts(pages: Sequence[Page]) -> FactTable | None:
    """Those that are missing first."""
    fonts = sorted(fonts_across(pages), key=lambda one: one.embedded)
    if not fonts:
        return None
    rows = [(words_of_the_file(one.name), one.type, _embedded(one), pages_shown(one.pages)) for one in fonts[:MOST_ROWS]]
    columns = (say("Font"), say_about("font", "Type"), say("In the file"), say("Pages"))
    return FactTable(say("Fonts"), columns, tuple(rows), _more(len(fonts)))


def _embedded(font: FontAcross) -> str:
    if not font.embedded:
        return say_about("in the file", "no")
    return say_about("in the file", "yes, the letters in use") if font.subset else say_about("in the file", "yes")


def _inks(pages: Sequence[Page]) -> FactTable | None:
    inks = inks_across(pages)
    if not inks:
        return None
    rows = [
        (words_of_the_file(ink_named(one.name)), _ink_kind(one.kind), _coverage(one), pages_shown(one.pages))
        for one in inks[:MOST_ROWS]
    ]
    columns = (say("Ink"), say_about("ink", "Kind"), say("Coverage of its pages"), say("Pages"))
    return FactTable(say("Inks"), columns, tuple(rows), _more(len(inks)))


def _ink_kind(kind: InkKind) -> str:
    if kind == "registration":
        return say("registration: on every plate")
    return say_about("ink", "process") if kind == "process" else say_about("ink", "spot")


def _coverage(ink: InkAcross) -> str:
    percent = ink.coverage_percent
    return say("not measured") if isinstance(percent, Unmeasured) else with_unit(number(percent), "%")


def _more(count: int) -> str | None:
    left = count - MOST_ROWS
    if left <= 0:
        return None
    return say_many("{count} more is listed in the check's JSON.", "{count} more are listed in the check's JSON.", left)
