"""ICC headers, descriptions and damage."""

from __future__ import annotations

import hashlib

import pytest

from service.pdf.document.icc import read_profile
from tests.pdf.icc_profiles import profile


def test_a_sound_profile() -> None:
    data = profile()
    found = read_profile(data, "7 0", 4)
    assert found.damage is None
    assert (found.device_class, found.space, found.channels, found.declared_channels) == ("prtr", "CMYK", 4, 4)
    assert (found.version, found.description) == ("2.1", "Copperbeck sheetfed")
    assert found.digest == hashlib.sha256(data).hexdigest()


@pytest.mark.parametrize(
    ("space", "channels"), [(b"GRAY", 1), (b"RGB ", 3), (b"Lab ", 3), (b"CMYK", 4), (b"7CLR", 7), (b"FCLR", 15), (b"????", 0)]
)
def test_the_space_says_how_many_channels(space: bytes, channels: int) -> None:
    assert read_profile(profile(b"mntr", space), "1 0", 0).channels == channels


def test_a_description_in_several_languages_gives_the_first() -> None:
    text = "Bäckerei".encode("utf-16-be")
    entry = b"deDE" + len(text).to_bytes(4, "big") + (28).to_bytes(4, "big")
    tag = b"mluc" + bytes(4) + (1).to_bytes(4, "big") + (12).to_bytes(4, "big") + entry + text
    assert read_profile(profile(tags={b"desc": tag}), "1 0", 4).description == "Bäckerei"


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"acsp",
        bytes(200),
        profile()[:-1],
        profile()[:100],
        profile()[:128] + b"\xff\xff\xff\xff" + profile()[132:],
        profile()[:128] + b"\0\0\0\x7f" + profile()[132:],
        profile(b"mntr", b"CMYK")[:12] + b"prtr" + profile(b"mntr", b"CMYK")[16:],
    ],
    ids=["empty", "four bytes", "zeros", "cut by a byte", "cut in the header", "absurd count", "count too high", "no tables"],
)
def test_what_is_no_profile_says_so(data: bytes) -> None:
    assert read_profile(data, "1 0", 4).damage is not None


def test_a_screen_profile_needs_no_tables() -> None:
    assert read_profile(profile(b"mntr", b"RGB "), "1 0", 3).damage is None
