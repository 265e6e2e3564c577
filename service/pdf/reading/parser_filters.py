"""Byte filters that the parser undoes: ASCII85, ASCIIHex and the predictors hardly grow, so that no bound is needed."""

from __future__ import annotations

from collections.abc import Mapping

import pikepdf


def undone_by_parser(data: bytes, name: str, parameters: Mapping[str, int]) -> bytes:
    """Raises PdfError where the data are damaged."""
    if not data:  # an empty stream stays empty
        return b""
    with pikepdf.new() as pdf:
        stream = pikepdf.Stream(pdf, data)
        stream.Filter = pikepdf.Name("/" + name)
        if parameters:
            stream.DecodeParms = pikepdf.Dictionary({"/" + key: value for key, value in parameters.items()})
        return stream.read_bytes()
