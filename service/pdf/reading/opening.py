"""Open a PDF that nobody vouches for, and say in plain sentences what is wrong with it.

* A file that asks for a password is `locked`; one that only restricts use opens (ISO 32000-2:2020, 7.6).
* What a reader repairs to open it (cross-reference table, missing end, lost objects) becomes `damage`, a sentence each.
* A file without a page that can be found is `broken`; one nested more deeply than the reader follows is over our `limits`.

Slips of form that change nothing for any reader are left out of `damage`. Streams are not unpacked here, so damage inside
them shows only when the content is walked. Memory and time are limited by the sandbox around the measuring process.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import pikepdf

from service.language.sentences import Sentence, sentence
from service.pdf.facts.unknown import Failure
from service.pdf.reading.page_tree import look_at_page_tree
from service.pdf.reading.reading_errors import READING_ERRORS

LOST_END = sentence("The end of the file is missing: it looks cut off, as by an upload or a copy that was interrupted.")
REBUILT = sentence("The table that says where things are in the file is damaged and had to be rebuilt.")
LOST_PAGE = sentence("A page that the file names cannot be found; it is left out.")
ENDS_EARLY = sentence("Some packed content ends early; what came after is missing.")
GUESSED = sentence("Some parts of the file are malformed and were read on a best guess.")

NESTED_TOO_DEEP = Sentence("nested too deeply")
"""A limit of the reader, no damage of the file: never among the damage that is told."""

_DAMAGE: tuple[tuple[str, Sentence | None], ...] = (
    # Slips of form without consequence for any reader.
    (r"Resources is missing or invalid|is direct; converting|whitespace seen before xref|object has offset 0", None),
    (r"/Type key should be|not one plus the highest object number|MediaBox is undefined", None),  # the last: told page by page
    # Damage.
    (r"find startxref|unexpected EOF|EOF (?:while|after)|unable to find trailer", LOST_END),
    (r"output may still be valid", ENDS_EARLY),
    (r"file is damaged|xref|cross-reference", REBUILT),
    (r"non-dictionary object; ignoring", LOST_PAGE),
    (r"more than once in the pages tree", sentence("One page object stands in the list of pages more than once.")),
    (
        r"/Length|stream length|endstream|stream keyword",
        sentence("The stated length of some content is wrong and had to be worked out."),
    ),
    (r"duplicated key", sentence("A part of the file states the same property twice; programs may choose differently.")),
    (r"find PDF header", sentence("The line that marks the file as a PDF is missing from its start.")),
    (r"deeply nested|max-nesting|max-stream-filters", NESTED_TOO_DEEP),
    (r"limits error", GUESSED),  # too many errors in one object, or too much in a damaged one
    (
        r"inflate|zlib|LZW|ASCII85|ASCIIHex|run.?length|stream data|filter",
        sentence("Some packed content is damaged and does not unpack."),
    ),
    (r"/Perms|encrypt", sentence("What the file says about its own encryption contradicts itself.")),
)

_FAILURES: tuple[tuple[str, Failure], ...] = (
    (
        r"crypt|password|/Encrypt|Filter.*handler",
        Failure(
            "locked",
            "The file is encrypted in a way that cannot be opened here. Export it again without a password or other protection.",
        ),
    ),
    (r"Loop detected", Failure("broken", "The list of pages runs in a circle and has no end. Export the file again.")),
    (
        r"nested too deeply|too deeply nested",
        Failure(
            "limits",
            "The list of pages is nested more deeply than a check can follow; export the file again, or ask the printer to see "
            "it.",
        ),
    ),
    (
        r"page tree|pages tree|/Pages|/Root|/Kids",
        Failure(
            "broken", "The file has no list of pages that can be found. Check that the upload was complete, or export it again."
        ),
    ),
    (
        r"trailer|startxref|EOF|xref",
        Failure(
            "broken",
            "The file cannot be followed: its end is missing or damaged. Check that the upload was complete, or export it again.",
        ),
    ),
    (
        r"type null|type .* when expecting",
        Failure("broken", "A part without which no page can be found is missing. Export the file again."),
    ),
)

_ASKS_PASSWORD = Failure("locked", "The file asks for a password. Save it without one, and send that.")
_UNFOLLOWABLE = Failure("broken", "The file is too damaged to be followed. Export it again from the layout program.")
_NESTED = Failure(
    "limits",
    "Some parts of the file are nested more deeply than a check can follow; export it again, or ask the printer to see it.",
)
_NO_PAGES = Failure("broken", "The file has no page that can be found. Export it again, and check that the upload was complete.")


@dataclass(frozen=True)
class OpenedPdf:
    """Valid inside the `with` that gave it."""

    path: Path
    pdf: pikepdf.Pdf
    page_count: int
    """Pages that can be found, at least 1."""
    pages_lost: bool
    """True where the file names more: a page or a branch of the tree is gone."""
    without_size: frozenset[int]
    """Numbers of the pages without a MediaBox of the file's own; the library has filled one in."""
    damage: tuple[Sentence, ...]
    rebuilt: bool
    """True where the file had to be searched for its objects: what is missing may have been lost."""


@contextmanager
def opened(path: Path) -> Iterator[OpenedPdf | Failure]:
    """The PDF, or why it cannot be opened. Raises OSError where the file cannot be read from the disk at all."""
    try:
        pdf = pikepdf.open(path, suppress_warnings=True, attempt_recovery=True, inherit_page_attributes=False)
    except READING_ERRORS as error:
        yield failure_of(error, path)
        return
    with pdf:
        yield _look(pdf, path)


def _look(pdf: pikepdf.Pdf, path: Path) -> OpenedPdf | Failure:
    try:
        tree = look_at_page_tree(pdf)  # before `pdf.pages`, which repairs
        page_count = len(pdf.pages)
        warnings = _warnings(pdf, path)
        without_size = tree.without_size | _sizes_filled_in(pdf, warnings)
    except READING_ERRORS as error:
        return failure_of(error, path)
    damage = list(_sentences(warnings))
    if NESTED_TOO_DEEP in damage:  # a page may have been among them: nothing that is counted would be sure
        return _NESTED
    if page_count == 0:
        return _NO_PAGES
    rebuilt = REBUILT in damage or LOST_END in damage
    stated = page_count if tree.stated is None else tree.stated
    pages_lost = tree.lost > 0 or LOST_PAGE in damage or (rebuilt and stated > page_count)
    if stated != page_count:
        damage.insert(0, sentence("The file states a count of {stated} pages and has {count}.", stated=stated, count=page_count))
    return OpenedPdf(path, pdf, page_count, pages_lost, without_size, tuple(damage), rebuilt)


def _sizes_filled_in(pdf: pikepdf.Pdf, warnings: Sequence[str]) -> frozenset[int]:
    """Pages that were given a size before we could look: a file that has to be searched for its objects is repaired at once."""
    found = (re.search(r"object (\d+) (\d+) .*MediaBox is undefined", one) for one in warnings)
    ids = {(int(one[1]), int(one[2])) for one in found if one}
    return frozenset(number for number, page in enumerate(pdf.pages, start=1) if page.obj.objgen in ids) if ids else frozenset()


def failure_of(error: Exception, path: Path) -> Failure:
    """The library's error as a sentence for the reader."""
    if isinstance(error, pikepdf.PasswordError):
        return _ASKS_PASSWORD
    text = str(error).replace(str(path), "")  # a file's name must not be taken for an error
    return next((failure for pattern, failure in _FAILURES if re.search(pattern, text, re.IGNORECASE)), _UNFOLLOWABLE)


def new_damage(opened_pdf: OpenedPdf) -> tuple[Sentence, ...]:
    """What the library has repaired since it was last asked, as sentences for the reader, each once."""
    return tuple(_sentences(_warnings(opened_pdf.pdf, opened_pdf.path)))


def _warnings(pdf: pikepdf.Pdf, path: Path) -> list[str]:
    return [str(one).replace(str(path), "") for one in pdf.get_warnings()]


def _sentences(warnings: Iterable[str]) -> Iterator[Sentence]:
    told: set[Sentence] = set()
    for warning in warnings:
        said = next((one for pattern, one in _DAMAGE if re.search(pattern, warning, re.IGNORECASE)), GUESSED)
        if said is not None and said not in told:
            told.add(said)
            yield said
