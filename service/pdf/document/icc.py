"""ICC profiles: what the header and the description say, and whether the profile can be one (ISO 15076-1:2010, 7.2 and 7.3).

* Bytes 8–11 version, 12–15 device class, 16–19 data colour space, 36–39 'acsp' (7.2).
* The tag table follows the header: a count, then signature, offset and size of each tag, all inside the profile (7.3).
* An output profile for CMYK needs the tables from and to the device, A2B0 and B2A0 (8.4).

It does not convert a colour, and does not look into the tables.
"""

from __future__ import annotations

import hashlib

import pikepdf

from service.language.spoken import to_say
from service.pdf.document.whole import clean
from service.pdf.facts.document import Profile
from service.pdf.reading.reading_errors import READING_ERRORS
from service.pdf.reading.streams import content_bytes

HEADER_BYTES = 128
MOST_TAGS = 1000
"""Real profiles have some twenty. Ours, no source."""

LONGEST_TAG = 100_000
"""Bytes of a description that are looked at. Ours, no source."""

_CHANNELS = {
    "GRAY": 1, "RGB": 3, "Lab": 3, "XYZ": 3, "Luv": 3, "YCbr": 3, "Yxy": 3, "HSV": 3, "HLS": 3, "CMY": 3, "CMYK": 4,
    **{f"{count:X}CLR": count for count in range(2, 16)},
}
"""ISO 15076-1:2010, Table 19: the colour spaces and how many channels they have."""


def profile_of(stream: pikepdf.Stream) -> Profile:
    """The profile in this stream; what is wrong with it is its `damage`."""
    number, generation = stream.objgen
    key = f"{number} {generation}"
    declared = stream.get("/N")
    channels = declared if isinstance(declared, int) and not isinstance(declared, bool) else 0
    try:
        data = content_bytes(stream)
    except READING_ERRORS:
        return Profile(key, to_say("Its data cannot be unpacked."), "", "", 0, channels, "", None, "")
    return read_profile(data, key, channels)


def read_profile(data: bytes, key: str, declared_channels: int) -> Profile:
    space = _signature(data[16:20])
    version = f"{data[8]}.{data[9] >> 4}" if len(data) > 9 else ""
    return Profile(
        key=key,
        damage=_damage(data),
        device_class=_signature(data[12:16]),
        space=space,
        channels=_CHANNELS.get(space, 0),
        declared_channels=declared_channels,
        version=version,
        description=_description(data),
        digest=hashlib.sha256(data).hexdigest(),
    )


def _damage(data: bytes) -> str | None:
    if len(data) < HEADER_BYTES + 4 or data[36:40] != b"acsp":
        return to_say("It is no ICC profile: its header is missing.")
    if int.from_bytes(data[0:4], "big") > len(data):
        return to_say("It is cut off: its header states more bytes than there are.")
    tags = _tags(data)
    if tags is None:
        return to_say("Its list of contents points outside the profile.")
    if _signature(data[12:16]) == "prtr" and _signature(data[16:20]) == "CMYK" and not {b"A2B0", b"B2A0"} <= tags.keys():
        return to_say("The tables that convert to and from the printing inks are missing.")
    return None


def _tags(data: bytes) -> dict[bytes, tuple[int, int]] | None:
    """Signature → where its data starts and ends; None where the table does not fit the profile."""
    count = int.from_bytes(data[HEADER_BYTES : HEADER_BYTES + 4], "big")
    if count > MOST_TAGS or len(data) < HEADER_BYTES + 4 + 12 * count:
        return None
    tags = {}
    for at in range(HEADER_BYTES + 4, HEADER_BYTES + 4 + 12 * count, 12):
        start, size = int.from_bytes(data[at + 4 : at + 8], "big"), int.from_bytes(data[at + 8 : at + 12], "big")
        if start + size > len(data):
            return None
        tags[data[at : at + 4]] = (start, start + size)
    return tags


def _description(data: bytes) -> str | None:
    """Of 'desc': text of its own type in version 2, several languages in version 4, of which the first is taken (10.13)."""
    start, end = (_tags(data) or {}).get(b"desc", (0, 0))
    tag = data[start : min(end, start + LONGEST_TAG)]
    if tag[:4] == b"desc":
        length = int.from_bytes(tag[8:12], "big")
        return clean(tag[12 : 12 + length].split(b"\0")[0].decode("latin-1"))
    if tag[:4] == b"mluc" and int.from_bytes(tag[8:12], "big") > 0:
        length, offset = int.from_bytes(tag[20:24], "big"), int.from_bytes(tag[24:28], "big")
        return clean(tag[offset : offset + length].decode("utf-16-be", "replace"))
    return None


def _signature(raw: bytes) -> str:
    """Four bytes as text, '' where they are none."""
    text = raw.decode("latin-1").strip()
    return text if text.isprintable() and len(raw) == 4 else ""
