"""Small files that unpack to much, by each filter (ISO 32000-2:2020, 7.4): each is checked, and the server stays small."""

from __future__ import annotations

import struct
import zlib
from collections.abc import Callable, Iterator
from pathlib import Path

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name, Pdf, Stream

from tests.hostile.nightly import hostile_service, is_wrong, nothing_is_left, send
from tests.running import Running, worker_memory_bytes
from tests.sweeps import WHOLE

MOST_SERVER_BYTES = 300 * 10**6
PAINTED = b"/Im Do\n"
HUGE = 60_000


def lzw_of_zeros(count: int) -> bytes:
    """The table's growing codes, each one zero longer than the one before; cleared when it is full."""
    bits = ""
    codes, known, written = [256], 258, 0
    while written < count:
        codes.append(0 if known == 258 else known - 1)
        written += 1 if known == 258 else known - 257
        known += 1
        if known >= 4094:
            codes.append(256)
            known = 258
    code_length, seen = 9, 258
    for code in (*codes, 257):
        bits += f"{code:0{code_length}b}"
        seen = 258 if code == 256 else seen + 1
        code_length = 9 + sum(seen >= edge for edge in (512, 1024, 2048))
    bits += "0" * (-len(bits) % 8)
    return bytes(int(bits[at : at + 8], 2) for at in range(0, len(bits), 8))


ZEROS = 40_000_000
FEWER = ZEROS if WHOLE else ZEROS // 2
"""What lies behind the filter is the same as behind `flate`, and takes most of the time."""
CONTENTS: dict[str, tuple[Callable[[], bytes], list[str]]] = {
    "flate": (lambda: bytes(ZEROS), ["FlateDecode"]),
    "flate twice": (lambda: zlib.compress(bytes(5 * ZEROS)), ["FlateDecode", "FlateDecode"]),
    "run length": (lambda: b"\x81 " * (ZEROS // 128) + b"\x80", ["FlateDecode", "RunLengthDecode"]),
    "lzw": (lambda: lzw_of_zeros(3_000_000), ["FlateDecode", "LZWDecode"]),
    "ascii 85": (lambda: b"z" * (FEWER // 4) + b"~>", ["FlateDecode", "ASCII85Decode"]),
    "ascii hex": (lambda: b"20" * FEWER + b">", ["FlateDecode", "ASCIIHexDecode"]),
}
"""What the first filter, Flate, unpacks to."""
JPEG_HEAD = (
    b"\xff\xd8\xff\xc0" + struct.pack(">HBHHB", 17, 8, HUGE, HUGE, 3) + b"\x01\x11\x00\x02\x11\x00\x03\x11\x00" + b"\xff\xd9"
)
JPX_HEAD = b"\xff\x4f\xff\x51" + struct.pack(
    ">HHIIIIIIIIHBBB", 41, 0, HUGE, HUGE, 0, 0, HUGE, HUGE, 0, 0, 1, 7, 1, 1
)
PICTURES: dict[str, tuple[Callable[[], bytes], str]] = {
    "jpeg": (lambda: JPEG_HEAD, "DCTDecode"),
    "jpeg 2000": (lambda: JPX_HEAD, "JPXDecode"),
    "fax": (lambda: bytes(1000), "CCITTFaxDecode"),
    "jbig2": (lambda: bytes(1000), "JBIG2Decode"),
    "flate picture": (lambda: zlib.compress(bytes(ZEROS)), "FlateDecode"),
}


def bomb(name: str, path: Path) -> bytes:
    with Pdf.new() as pdf:
        page = pdf.add_blank_page(page_size=(258, 173))
        if name in CONTENTS:
            unpacked, filters = CONTENTS[name]
            content = Stream(pdf, b"")
            content.write(zlib.compress(unpacked()), filter=Array([Name(f"/{one}") for one in filters]))
            page.obj.Contents = content
        else:
            data, one = PICTURES[name]
            picture = Stream(pdf, b"", Type=Name.XObject, Subtype=Name.Image, Width=HUGE, Height=HUGE, BitsPerComponent=1)
            picture.ColorSpace = Name.DeviceGray
            picture.write(data(), filter=Name(f"/{one}"))
            page.obj.Resources = Dictionary(XObject=Dictionary(Im=picture))
            page.obj.Contents = Stream(pdf, b"240 0 0 150 9 9 cm " + PAINTED)
        pdf.save(path, compress_streams=False, stream_decode_level=pikepdf.StreamDecodeLevel.none)
    return path.read_bytes()


@pytest.fixture(scope="module")
def service(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Running, Path]]:
    folder = tmp_path_factory.mktemp("bombs")
    with hostile_service(folder) as started:
        yield started, folder


@pytest.mark.parametrize("name", [*CONTENTS, *PICTURES])
def test_a_bomb_is_checked_like_any_file(service: tuple[Running, Path], name: str, tmp_path: Path) -> None:
    running, folder = service
    file = bomb(name, tmp_path / "bomb.pdf")
    assert len(file) < 1_000_000
    assert not is_wrong(send(running, 0, file))
    nothing_is_left(running, folder)
    assert worker_memory_bytes(running) < MOST_SERVER_BYTES
