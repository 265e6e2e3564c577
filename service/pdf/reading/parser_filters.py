"""Byte filters as the parser undoes them: ASCII85, ASCIIHex and the predictors hardly grow, so that no bound is needed."""

from __future__ import annotations

from collections.abc import Mapping

import pikepdf

from service.pdf.reading.ascii85 import whole_groups


def undone_by_parser(data: bytes, name: str, parameters: Mapping[str, int]) -> bytes:
    """Raises PdfError where the data are damaged."""
    if name == "ASCII85Decode" and (found := whole_groups(data)) is not None:
        begun, rest = found
        return begun + _undone(rest, name, {})
    return _undone(data, name, parameters)


def _undone(data: bytes, name: str, parameters: Mapping[str, int]) -> bytes:
    if not data:  # an empty stream stays empty
        return b""
    with pikepdf.new() as pdf:
        stream = pikepdf.Stream(pdf, data)
        stream.Filter = pikepdf.Name("/" + name)
        if parameters:
            stream.DecodeParms = pikepdf.Dictionary({"/" + key: value for key, value in parameters.items()})
        return stream.read_bytes()
