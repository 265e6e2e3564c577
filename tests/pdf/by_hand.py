"""PDFs written object by object, for what no library would write: loops, missing parts, numbers out of bounds."""

from __future__ import annotations

from pathlib import Path

CATALOG = "<</Type/Catalog/Pages 2 0 R>>"
ONE_PAGE = "<</Type/Pages/Kids[3 0 R]/Count 1>>"


def written(*objects: str, trailer: str = "/Root 1 0 R", header: str = "%PDF-1.4") -> bytes:
    """The objects, numbered from 1, with a right cross-reference table (ISO 32000-2:2020, 7.5)."""
    out = f"{header}\n".encode("latin-1")
    offsets = []
    for number, text in enumerate(objects, start=1):
        offsets.append(len(out))
        out += f"{number} 0 obj\n{text}\nendobj\n".encode("latin-1")
    table = "".join(f"{offset:010d} 00000 n \n" for offset in offsets)
    size = len(objects) + 1
    end = f"xref\n0 {size}\n0000000000 65535 f \n{table}trailer\n<</Size {size}{trailer}>>\nstartxref\n{len(out)}\n%%EOF\n"
    return out + end.encode("latin-1")


def page_with(entries: str) -> bytes:
    """One page with these entries; object 4 is free for a value elsewhere: `[0 0 4 0 R 100]`, 4 being 200."""
    return written(CATALOG, ONE_PAGE, f"<</Type/Page/Parent 2 0 R/Resources<<>>{entries}>>", "200")


def pages(*entries: str, kids: str | None = None, count: int | None = None) -> bytes:
    """A page object for each entry, numbered from 3; `kids` and `count` say otherwise than is so."""
    listed = kids if kids is not None else " ".join(f"{number} 0 R" for number in range(3, 3 + len(entries)))
    root = f"<</Type/Pages/Kids[{listed}]/Count {len(entries) if count is None else count}>>"
    return written(CATALOG, root, *(f"<</Type/Page/Parent 2 0 R/Resources<<>>{one}>>" for one in entries))


A_PAGE = "/MediaBox[0 0 200 100]"


def saved(data: bytes, folder: Path, name: str = "file.pdf") -> Path:
    path = folder / name
    path.write_bytes(data)
    return path
