"""The quality of a JPEG, from headers written by hand. Against an encoder's own files: tests/outside/test_jpeg.py."""

from __future__ import annotations

import pytest

from service.pdf.content.jpeg import jpeg_quality
from service.pdf.facts.unknown import Unmeasured

START, END = b"\xff\xd8", b"\xff\xd9"


def segment(marker: int, body: bytes) -> bytes:
    return bytes((0xFF, marker)) + (len(body) + 2).to_bytes(2, "big") + body


def table(number: int, *steps: int, wide: bool = False) -> bytes:
    size = 2 if wide else 1
    return bytes((16 * wide + number,)) + b"".join(one.to_bytes(size, "big") for one in steps)


def frame(*table_of_component: int, marker: int = 0xC0) -> bytes:
    components = b"".join(bytes((number, 0x11, one)) for number, one in enumerate(table_of_component, start=1))
    return segment(marker, b"\x08\x00\x10\x00\x10" + bytes((len(table_of_component),)) + components)


def test_tables_of_ones_are_the_finest() -> None:
    assert jpeg_quality(START + segment(0xDB, table(0, *[1] * 64)) + frame(0) + END) == 100


@pytest.mark.parametrize("components", [(0,), (0, 0, 0), (0, 0, 0, 0)])
def test_a_table_of_its_own_is_rated_by_how_coarse_it_is_on_the_whole(components: tuple[int, ...]) -> None:
    """The example table of T.81 K.1 sums to 3,688: steps of 58 are as coarse as it is, which is quality 50."""
    assert jpeg_quality(START + segment(0xDB, table(0, *[58] * 64)) + frame(*components)) == 50
    assert jpeg_quality(START + segment(0xDB, table(0, *[29] * 64)) + frame(*components)) == 75
    assert jpeg_quality(START + segment(0xDB, table(0, *[115] * 64)) + frame(*components)) == 25


def test_steps_of_two_bytes_are_read() -> None:
    assert jpeg_quality(START + segment(0xDB, table(0, *[576] * 64, wide=True)) + frame(0)) == 5


def test_several_tables_in_one_segment_and_fill_bytes_are_read() -> None:
    both = segment(0xDB, table(0, *[1] * 64) + table(1, *[1] * 64))
    assert jpeg_quality(START + b"\xff\xff" + both + b"\x00\x00" + frame(0, 1, 1)) == 100


def test_tables_that_no_component_uses_do_not_count() -> None:
    unused = segment(0xDB, table(3, *[255] * 64))
    assert jpeg_quality(START + segment(0xDB, table(0, *[1] * 64)) + unused + frame(0)) == 100


def test_a_large_profile_before_the_tables_is_passed_over() -> None:
    profile = segment(0xE2, b"\xff\xdb\x00\x43" * 16_000) * 20
    assert jpeg_quality(START + profile + segment(0xDB, table(0, *[1] * 64)) + frame(0)) == 100


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"\xff",
        START,
        START + END,
        START + frame(0),
        START + segment(0xDB, table(0, *[1] * 64)),
        START + segment(0xDB, table(0, *[1] * 63)) + frame(0),
        START + segment(0xDB, table(0, *[1] * 64)) + frame(1),
        START + segment(0xDB, b"") + segment(0xC0, b""),
        START + segment(0xDB, table(0, *[1] * 64)) + b"\xff\xc0\x00\x00",
        b"\xff\xe0" * 100_000,
        b"\x00" * 1_000_000,
        b"\xff" * 1_000_000,
        b"GIF89a" * 100,
    ],
)
def test_a_header_that_cannot_be_read_gives_no_quality(data: bytes) -> None:
    assert isinstance(jpeg_quality(data), Unmeasured)


def test_a_picture_packed_without_loss_has_no_quality() -> None:
    assert isinstance(jpeg_quality(START + segment(0xDB, table(0, *[1] * 64)) + frame(0, marker=0xC3)), Unmeasured)
