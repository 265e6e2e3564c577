"""Small ICC profiles by hand (ISO 15076-1:2010, 7.2 and 7.3): sound headers and tag tables, and no colour in them."""

from __future__ import annotations

from collections.abc import Mapping


def profile(
    device_class: bytes = b"prtr",
    space: bytes = b"CMYK",
    name: str = "Copperbeck sheetfed",
    tags: Mapping[bytes, bytes] | None = None,
) -> bytes:
    """Version 2.1. An output profile gets empty tables from and to the device."""
    text = name.encode("ascii") + b"\0"
    contents = {b"desc": b"desc" + bytes(4) + len(text).to_bytes(4, "big") + text + bytes(78)}
    if device_class == b"prtr":
        contents |= {b"A2B0": b"mft1" + bytes(44), b"B2A0": b"mft1" + bytes(44)}
    contents |= tags or {}
    start = 128 + 4 + 12 * len(contents)
    table, data = len(contents).to_bytes(4, "big"), b""
    for signature, value in contents.items():
        table += signature + (start + len(data)).to_bytes(4, "big") + len(value).to_bytes(4, "big")
        data += value + bytes(-len(value) % 4)
    size = start + len(data)
    header = size.to_bytes(4, "big") + bytes(4) + b"\x02\x10\0\0" + device_class + space + b"Lab " + bytes(12) + b"acsp"
    return header + bytes(128 - len(header)) + table + data
