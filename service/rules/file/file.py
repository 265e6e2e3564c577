"""Rules on the file as a whole: that it opens, that it may be printed, its size and its version."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from service.language.sentences import Sentence
from service.language.spoken import say, say_many
from service.language.wording import after_a_colon, clauses, inside_a_sentence, page_list, reason, stored_size
from service.pdf.facts.document import Document
from service.pdf.facts.measurements import Measurements
from service.pdf.facts.unknown import BeyondLimits, Failure, Unmeasured
from service.rules.base import Finding, Outcome, always, rule
from service.rules.seen import NotMeasured, document_of, everything_of, fact_of, not_measured_on
from service.sheets.model import Block, FileAsked, SpecSheet


@rule(
    "file.readable",
    needs=everything_of,
    asks=always,
    asked_by="always",
    level="must",
    source="ISO 32000-2:2020, 7.5 (file structure)",
    measured={"failure": "broken: no reader can follow it", "damage": "what had to be repaired, a sentence each",
              "reason": "why the pages cannot be read"},
    required={"readable": "true: the file opens as it is and every page can be read to its end"},
)
def file_readable(measurements: Measurements, _: SpecSheet) -> Iterator[Outcome]:
    """The file opens as it is, and every page can be read to its end.

    Why: a printer's software may repair a damaged file in another way than the program on your desk, or drop a page, a
    picture or a font.
    Remedy: export the PDF again from the layout program; do not send a file that a program offers to repair.
    Knows: what a reader has to repair to open the file, and which pages cannot be followed to their end.
    Cannot know: whether a repaired page still looks as it was designed; compare it with your own proof. A file or page that asks
    for more than a check may use is not measured: that is a limit of this service, not a defect.
    """
    failure = measurements.document.failure
    if failure is not None:
        yield _broken(failure) if failure.kind == "broken" else NotMeasured(reason(failure))
        return
    damage, cut_off = measurements.document.damage, measurements.document.cut_off
    if damage:
        told = _told(damage)
        yield Finding(
            message=say("The file is cut off and opens only after repair: {damage}.", damage=told)
            if cut_off
            else say("The file is damaged and opens only after repair: {damage}.", damage=told),
            remedy=say(
                "Export the PDF again from your layout program. Until then compare every page of the proof with your layout."
            ),
            measured={"damage": [one.english for one in damage]},
            required={"readable": True},
            level=None if cut_off else "should",
        )
    yield from _unreadable_pages(measurements)


def damage_first(document: Document) -> str:
    """Opens the remedy of what a damaged file may lack for that reason alone; else empty."""
    if not document.damage:
        return ""
    return say("The file is damaged, and that may be why: export or send it again first.") + " "


def _told(sentences: Sequence[Sentence]) -> str:
    """Sentences as parts of one: 'the table … is damaged; the end of the file is missing; and 2 more'."""
    parts = [inside_a_sentence(reason(one)) for one in sentences[:3]]
    left = len(sentences) - len(parts)
    return clauses([*parts, say_many("and {count} more", "and {count} more", left)] if left else parts)


def _broken(failure: Failure) -> Finding:
    return Finding(
        message=say("The file cannot be read: {reason}.", reason=after_a_colon(reason(failure))),
        remedy=say(
            "Export the PDF again from your layout program and check that it opens before you send it; if it came by e-mail or "
            "download, have it sent again: it may have been cut short on the way."
        ),
        measured={"failure": failure.kind, "reason": failure.why},
        required={"readable": True},
    )


def _unreadable_pages(measurements: Measurements) -> Iterator[Outcome]:
    if isinstance(measurements.pages, Unmeasured):
        yield NotMeasured(reason(measurements.pages))
        return
    groups: dict[Unmeasured, list[int]] = {}
    for page in measurements.pages:
        if isinstance(page.content, Unmeasured):
            groups.setdefault(page.content, []).append(page.number)
    for unknown, numbers in groups.items():
        if isinstance(unknown, BeyondLimits):
            yield not_measured_on(numbers, unknown)
            continue
        yield Finding(
            message=say_many(
                "Page {pages} cannot be read to the end: {reason}.",
                "Pages {pages} cannot be read to the end: {reason}.",
                len(numbers), pages=page_list(numbers), reason=after_a_colon(reason(unknown)),
            ),
            remedy=say_many(
                "Export this page again from your layout program; replace the placed artwork if it fails again.",
                "Export these pages again from your layout program; replace the placed artwork if it fails again.",
                len(numbers),
            ),
            measured={"reason": unknown.why},
            required={"readable": True},
            pages=tuple(numbers),
        )


@dataclass(frozen=True, kw_only=True)
class LockAsked(Block):
    encryption_forbidden: bool
    must_print: bool
    """False for a client preview: nobody prints it."""


def _lock_asked(sheet: SpecSheet) -> LockAsked:
    file = sheet.file or FileAsked()
    return LockAsked(
        level=file.level, note=file.note, encryption_forbidden=file.encryption == "forbidden", must_print=sheet.purpose == "print"
    )


@rule(
    "file.locked",
    needs=document_of,
    asks=_lock_asked,
    asked_by="always (a password, printing forbidden); file.encryption",
    level="must",
    source="ISO 32000-2:2020, 7.6 (encryption; permissions in 7.6.4.2)",
    measured={"opens": "whether it opens without a password", "encrypted": "whether it is encrypted",
              "printing_allowed": "whether its permissions allow printing at full quality"},
    required={"opens": "true: without a password", "encrypted": "false where the sheet forbids encryption",
              "printing_allowed": "true for a file that is to be printed"},
)
def file_locked(document: Document, asked: LockAsked) -> Iterator[Outcome]:
    """The file opens without a password and may be printed.

    Why: a printer cannot place, impose or print a locked file, and will not ask for your password.
    Remedy: in the PDF export settings leave all passwords and permissions of the security page switched off, and export again.
    Knows: what the encryption dictionary of the file says.
    Cannot know: locks that lie outside the file, such as the rights of a shared folder.
    """
    remedy = say("Export the PDF again with all security settings (passwords and permissions) switched off.")
    if document.failure is not None and document.failure.kind == "locked":
        yield Finding(
            message=say("The file is locked: {reason}.", reason=after_a_colon(reason(document.failure))),
            remedy=remedy,
            measured={"opens": False, "encrypted": True},
            required={"opens": True},
            level="must",  # nothing else can be judged, however the sheet feels about its file block
        )
    elif isinstance(document.encryption, Unmeasured):
        yield NotMeasured(reason(document.encryption))
    else:
        encrypted, may_print = document.encryption.encrypted, document.encryption.printing_allowed
        message = _told_restrictions(encrypted and asked.encryption_forbidden, not may_print and asked.must_print)
        if message:
            yield Finding(
                message=message,
                remedy=remedy,
                measured={"opens": True, "encrypted": encrypted, "printing_allowed": may_print},
                required={"encrypted": False} if asked.encryption_forbidden else {"printing_allowed": True},
            )


def _told_restrictions(encrypted: bool, printing_forbidden: bool) -> str | None:
    if encrypted and printing_forbidden:
        return say(
            "The file opens, but it is encrypted (the printer takes no encrypted files) and its permissions forbid printing at "
            "full quality."
        )
    if encrypted:
        return say("The file opens, but it is encrypted (the printer takes no encrypted files).")
    return say("The file opens, but its permissions forbid printing at full quality.") if printing_forbidden else None


@rule(
    "file.size",
    needs=document_of,
    asks=lambda sheet: sheet.file if sheet.file and sheet.file.maximum_size_bytes is not None else None,
    asked_by="file.maximum_size",
    level="must",
    source="common practice, no source; the limit is the printer's",
    measured={"size_bytes": "size of the file"},
    required={"maximum_bytes": "largest size that the printer takes"},
)
def file_size(document: Document, file: FileAsked) -> Iterator[Outcome]:
    """The file is not larger than the printer takes.

    Why: upload forms, mail servers and job folders refuse larger files, often without a word.
    Remedy: place pictures at their printed size and let the export reduce them to the resolution that the printer asks for,
    not below it.
    Knows: the size in bytes.
    Cannot know: whether the printer has another way in for large files. Ask.
    """
    size, limit = document.size_bytes, file.maximum_size_bytes
    if limit is not None and size > limit:
        yield Finding(
            message=say(
                "The file is {size}; at most {most} is asked for.",
                size=stored_size(size, exactly=True),
                most=stored_size(limit, exactly=True),
            ),
            remedy=say(
                "Export again with pictures reduced to the resolution that is asked for (not below it), or ask for another way "
                "to send it."
            ),
            measured={"size_bytes": size},
            required={"maximum_bytes": limit},
        )


@rule(
    "file.version",
    needs=fact_of(lambda document: document.version),
    asks=lambda sheet: sheet.file if sheet.file and (sheet.file.minimum_version or sheet.file.maximum_version) else None,
    asked_by="file.pdf_versions",
    level="must",
    source="ISO 32000-2:2020, 7.5.2 (file header: the later of header and catalog counts)",
    measured={"version": "PDF version of the file"},
    required={"minimum": "oldest version that the printer takes", "maximum": "newest version that the printer takes"},
)
def file_version(version: str, file: FileAsked) -> Iterator[Outcome]:
    """The PDF version is one that the printer takes.

    Why: an older workflow does not know what a newer version may contain (layers, live transparency) and can print it wrongly.
    Remedy: choose the PDF version, or the compatibility, in the export settings.
    Knows: the version in the header and the one in the catalog; the later counts.
    Cannot know: whether the file really uses what the version brought.
    """
    lowest, highest = file.minimum_version, file.maximum_version
    too_old = lowest is not None and _parts(version) < _parts(lowest)
    too_new = highest is not None and _parts(version) > _parts(highest)
    if too_old or too_new:
        yield Finding(
            message=say(
                "The file is PDF {version}; PDF {taken} is asked for.", version=version, taken=_range(lowest, highest)
            ),
            remedy=say(
                "In the export settings choose PDF {version} as version or compatibility, and export again.",
                version=(lowest if too_old else highest) or "",
            ),
            measured={"version": version},
            required={"minimum": lowest, "maximum": highest},
        )


def _parts(version: str) -> tuple[int, ...]:
    """'1.10' is later than '1.7'; numbers, not text, are compared."""
    return tuple(int(part) for part in version.split("."))


def _range(lowest: str | None, highest: str | None) -> str:
    if lowest and highest:
        return lowest if lowest == highest else say("{lowest} to {highest}", lowest=lowest, highest=highest)
    return say("{version} or later", version=lowest) if lowest else say("{version} or earlier", version=highest or "")
