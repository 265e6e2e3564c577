"""Precision and recall of readings: `python -m tests.sheets.readings_score [seen|unseen] [published FOLDER [KEYS]] [--wrong]`.

A draft and its key are flattened to leaves (path → value, lengths in mm, lists as sets). A leaf is right when the key has the
same path with the same value; lengths are the same within 0.05 mm, everything else exactly. Precision is right / given, recall
is right / expected, over all texts together. A false draft has a leaf that the key does not have. A silent miss is an expected
leaf that was not given and that neither a question, a draft of a product nor a quoted sentence speaks of: a question about this
very key with its sentence, or a sentence that names what the key is about.

The words of published texts are other people's: FOLDER holds them, outside the repository, in files `*.txt` of '=== … ADDRESS',
the text, and a line '---' (or FOLDER is one such file). Their keys are in `readings_published.yaml`, or in KEYS, a file of the
same form; leaves under `may` are right and not expected. Keys of KEYS hold no levels, which are neither right nor wrong there;
`drafts` hold what is one product's own, and are counted apart.
"""

from __future__ import annotations

import re
import sys
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import yaml

from service.sheets.format.lengths import parse_bytes, parse_length_mm, parse_percent, parse_type_pt
from service.sheets.prose.drafts import Reading
from service.sheets.prose.reading import read_prose

HERE = Path(__file__).parent
FOLDERS = {"seen": HERE / "readings_seen", "unseen": HERE / "readings_unseen"}
PUBLISHED = HERE / "readings_published.yaml"
SLACK_MM = 0.05
_SPEAKS_OF = {
    "file": r"pdf|x-|version|size|layer|ebene|calque|[0-9] ?gb\b|mb\b|mo\b|passw|kennw|schl[uü]ss|encrypt|protect",
    "pages": r"page|seite|spread|planche",
    "trim": r"size|trim|format|scale|ma(?:ss|ß)stab|[ée]chelle|gr[oö](?:ss|ß)e|mm|cm|inch|[0-9]\"",
    "bleed": r"bleed|schnitt|perdu|extend|beyond|edge|rand",
    "margin": r"margin|safe|edge|trim|rand|sicher|abstand|marge|bord|inside|away|die",
    "marks": r"mark|crop|zeichen|rep[eè]re|trait|croix",
    "color": r"cmyk|cmjn|rgb|rvb|colou?r|farb|couleur|ink|encr|pantone|spot|%",
    "images": r"dpi|ppi|ppp|resolution|r[eé]solution|aufl[oö]sung",
    "text": r"type|font|text|schrift|police|point|pt\b",
    "lines": r"line|rule|stroke|linie|trait|filet|kontur",
    "fonts": r"font|schrift|police|type|outline|curve|kurve|pfad|courbe|vectoris",
    "finishes": r"cut|die|stanz|layer|foil|varnish|plate|lack|d[ée]coupe",
    "papers": r"paper|papier|stock|coated|couch",
    "transparency": r"transparen",
}
"""What a sentence that is quoted as open must name to speak of a key of the block."""

Leaf = str | float | frozenset[Any]

_IN_MM = ("trim", "bleed", "margin", "marks", "text", "lines", "spine", "folds")
_A_LENGTH = re.compile(r"[0-9] ?(?:mm|cm|in|pt)$")


@dataclass(frozen=True)
class Case:
    name: str
    language: str
    text: str
    media_type: str
    expect: Mapping[str, Any]
    may: Mapping[str, Any] = field(default_factory=dict)
    half: str = ""
    drafts: tuple[Mapping[str, Any], ...] | None = None
    """What is one product's own; None where the key was written without products and with levels."""


@dataclass
class Score:
    right: Counter[str] = field(default_factory=Counter)
    given: Counter[str] = field(default_factory=Counter)
    expected: Counter[str] = field(default_factory=Counter)
    silent: Counter[str] = field(default_factory=Counter)
    of_products: Counter[str] = field(default_factory=Counter)
    """`expected`, `given` and `right` leaves of drafts of single products."""
    differences: list[str] = field(default_factory=list)
    texts: int = 0
    false_drafts: int = 0

    @property
    def precision(self) -> float:
        return self.right.total() / max(1, self.given.total())

    @property
    def recall(self) -> float:
        return self.right.total() / max(1, self.expected.total())


def leaves(document: Mapping[str, Any], path: str = "") -> Iterator[tuple[str, Leaf]]:
    for key, value in document.items():
        here = f"{path}.{key}" if path else key
        if isinstance(value, Mapping):
            yield from leaves(value, here)
        else:
            yield here, _normal(here, value)


def _normal(path: str, value: Any) -> Leaf:
    if isinstance(value, list):
        return frozenset(str(one) if not isinstance(one, dict) else tuple(sorted(map(str, one.items()))) for one in value)
    if isinstance(value, int | float) and not isinstance(value, bool):
        return float(value)
    if path.endswith(("level", "note")) or not isinstance(value, str):
        return str(value)
    if path.startswith(("text.", "lines.")):
        return parse_type_pt(value) * 25.4 / 72
    if path == "file.maximum_size":
        return float(parse_bytes(value))
    if _A_LENGTH.search(value):
        return parse_length_mm(value)
    if value.endswith("%"):
        return parse_percent(value)
    return float(value.split()[0]) if value.endswith(("ppi", "dpi")) else value


def same(path: str, one: Leaf, other: Leaf) -> bool:
    if isinstance(one, float) and isinstance(other, float):
        slack = SLACK_MM if path.split(".")[0] in _IN_MM else 0
        return abs(one - other) <= slack + 1e-9
    return one == other


def texts_in(folder: Path) -> list[Path]:
    return sorted(folder.glob("*.yaml"))


def read_yaml(path: Path) -> Any:
    """By the reader in C, where there is one: a tenth of the time."""
    return yaml.load(path.read_text(encoding="utf-8"), Loader=getattr(yaml, "CSafeLoader", yaml.SafeLoader))


def cases_of(folder: Path) -> Iterator[Case]:
    for path in texts_in(folder):
        case = read_yaml(path)
        media_type = case.get("media_type", "text/plain")
        yield Case(path.stem, case.get("language", "?"), case["text"], media_type, case["expect"] or {})


def published_cases(folder: Path, keys: Path | None = None) -> Iterator[Case]:
    """Those of the list (`readings_published.yaml`, or `keys`) whose words are in the folder or the file."""
    words: dict[str, str] = {}
    for path in sorted(folder.glob("*.txt")) if folder.is_dir() else [folder]:
        for block in re.split(r"(?m)^=== ", path.read_text(encoding="utf-8"))[1:]:
            head, text = block.split("\n", 1)
            words[head.split()[-1]] = re.split(r"(?m)^---$", text, maxsplit=1)[0].strip("\n")
    for entry in read_yaml(keys or PUBLISHED)["texts"]:
        text = words.get(entry["address"])
        if text is None:
            continue
        drafts = None
        if keys or entry.get("keyed_by"):
            drafts = tuple(one["expect"] for one in entry.get("drafts") or ())
        yield Case(
            entry["address"],
            entry["language"],
            text,
            "text/html" if re.search(r"<(?:p|td|li)\b", text) else "text/plain",
            entry["expect"] or {},
            entry.get("may") or {},
            entry.get("half", ""),
            drafts,
        )


def score(folder: Path) -> Score:
    return score_of(cases_of(folder))


def score_of(cases: Iterable[Case]) -> Score:
    total = Score()
    for case in cases:
        _count(total, case, read_prose(case.text, case.media_type))
        total.texts += 1
    return total


def _count(total: Score, case: Case, reading: Reading) -> None:
    given, expected, may = dict(leaves(reading.draft)), dict(leaves(case.expect)), dict(leaves(case.may))
    quotes = {value.path: value.quote for value in reading.values}
    wrong = False
    for path in sorted({*given, *expected}):
        fits = path in given and any(path in key and same(path, given[path], key[path]) for key in (expected, may))
        if path not in expected and (fits or (case.drafts is not None and _is_a_level(path))):
            continue
        total.given[path] += path in given
        total.expected[path] += path in expected
        total.right[path] += fits
        wrong = wrong or (path in given and not fits)
        total.silent[path] += path not in given and not _spoken_of(reading, path)
        if not fits:
            said, key = given.get(path, "nothing"), expected.get(path, "nothing")
            how = f" from {' '.join(quotes.get(path, '').split())!r}" if path in given else _how_missed(reading, path)
            total.differences.append(f"{case.name}: {path}: read {_shown(said)}, key {_shown(key)}{how}")
    total.false_drafts += wrong
    if case.drafts is not None:
        _count_products(total, case, reading)


def _is_a_level(path: str) -> bool:
    return path.endswith("level") or path.startswith("levels.")


def _count_products(total: Score, case: Case, reading: Reading) -> None:
    """Each draft of the key against the draft of a product that has most of it."""
    keys = [dict(leaves(key)) for key in case.drafts or ()]
    left = [{path: one for path, one in leaves(draft.document) if path in draft.own} for draft in reading.drafts[1:]]
    total.of_products["given"] += sum(map(len, left))
    total.of_products["expected"] += sum(map(len, keys))
    for key in keys:
        fits = [sum(path in key and same(path, one, key[path]) for path, one in draft.items()) for draft in left]
        if fits and max(fits) > 0:
            total.of_products["right"] += max(fits)
            left.pop(fits.index(max(fits)))


def _how_missed(reading: Reading, path: str) -> str:
    return " (spoken of as open)" if _spoken_of(reading, path) else " (SILENT)"


def _spoken_of(reading: Reading, path: str) -> bool:
    block = path.split(".")[0]
    quoted = [one.quote for one in reading.not_understood] + [
        one.quote for one in reading.questions if one.quote and one.about.split(".")[0] == block
    ]
    if any(value.path == path for draft in reading.drafts[1:] for value in draft.values):
        return True
    if any(one.quote and one.about == path for one in reading.questions):
        return True
    return any(re.search(_SPEAKS_OF.get(block, "$^"), quote.lower()) for quote in quoted)


def _shown(leaf: Leaf) -> str:
    return ", ".join(sorted(map(str, leaf))) if isinstance(leaf, frozenset) else str(leaf)


def _print(name: str, cases: list[Case], *, wrong: bool) -> None:
    total = score_of(cases)
    print(f"{'key':<34}{'expected':>9}{'given':>7}{'right':>7}{'precision':>11}{'recall':>8}{'silent':>8}")
    for path in sorted({*total.given, *total.expected}):
        given, expected, right = total.given[path], total.expected[path], total.right[path]
        shares = (
            f"{right / given:>11.2f}" if given else f"{'-':>11}",
            f"{right / expected:>8.2f}" if expected else f"{'-':>8}",
        )
        print(f"{path:<34}{expected:>9}{given:>7}{right:>7}{shares[0]}{shares[1]}{total.silent[path]:>8}")
    for language in sorted({case.language for case in cases}):
        print(_line(f"{name} {language}", score_of(case for case in cases if case.language == language)))
    for half in sorted({case.half for case in cases} - {""}):
        print(_line(f"{name} {half}", score_of(case for case in cases if case.half == half)))
    print(_line(name, total))
    if wrong:
        print("\n".join(total.differences))


def _line(name: str, total: Score) -> str:
    return (
        f"{name}: {total.texts} texts, {total.expected.total()} expected, {total.given.total()} given,"
        f" {total.right.total()} right; precision {total.precision:.3f}, recall {total.recall:.3f},"
        f" {total.false_drafts} drafts with a false value,"
        f" {total.silent.total()} silent misses" + (f"; of products {total.of_products}" if total.of_products.total() else "")
    )


def main(arguments: list[str]) -> int:
    wrong = "--wrong" in arguments
    names = [one for one in arguments if not one.startswith("-")] or ["seen"]
    while names:
        name = names.pop(0)
        if name == "published":
            if not names:
                print("The words of published texts are not in the repository: name the folder that holds them.", file=sys.stderr)
                return 2
            folder, keys = Path(names.pop(0)), Path(names.pop(0)) if names and names[0].endswith(".yaml") else None
            _print(name, list(published_cases(folder, keys)), wrong=wrong)
        else:
            _print(name, list(cases_of(FOLDERS[name])), wrong=wrong)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
