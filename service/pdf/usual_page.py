"""A small PDF that has what pages usually have, so that measuring it makes ready what measuring needs."""

from __future__ import annotations

import base64
import io
import zlib

import pikepdf
from pikepdf import Array, Dictionary, Name
from PIL import Image

_CONTENT = b"""0.1 0.2 0.3 0 k 0 0 108 90 re f q 1 0 0 1 9 9 cm q 40 0 0 30 9 30 cm /J Do Q q 20 0 0 20 60 9 cm /F Do Q
0 0.2 0.4 0 k 9 9 40 18 re f 0 0 0 1 K 0.5 w 9 5 m 60 5 l S /S cs 0.5 scn 60 40 9 9 re f /G gs
0 0 0 1 k BT 1 0 0 1 9 62 Tm /T 8 Tf 9 TL (warm) Tj T* (and warmer) Tj ET BT /T 7 Tf 9 44 Td (still) Tj ET Q"""
_SAID = {"/Title": "Usual", "/Producer": "usual", "/CreationDate": "D:20260101000000Z"}


def usual_page() -> bytes:
    """90 by 72 points and bleed: text, a JPEG in ASCII, a packed picture with a soft mask, lines, a spot and transparency."""
    jpeg, packed = io.BytesIO(), bytes(range(256)) * 3
    Image.new("CMYK", (64, 48), (40, 80, 20, 0)).save(jpeg, "JPEG")
    ascii85 = base64.a85encode(jpeg.getvalue()) + b"~>"
    with pikepdf.new() as pdf:

        def picture(data: bytes, space: Name, width: int, height: int, **more: object) -> pikepdf.Object:
            keys = {"Type": Name.XObject, "Subtype": Name.Image, "ColorSpace": space, "BitsPerComponent": 8}
            stream = pikepdf.Stream(pdf, data, **keys, Width=width, Height=height, **more)
            return pdf.make_indirect(stream)

        tint = Dictionary(FunctionType=2, Domain=[0, 1], N=1, C0=[0, 0, 0, 0], C1=[0, 0.9, 0.8, 0])
        mask = picture(zlib.compress(packed[:256]), Name.DeviceGray, 16, 16, Filter=Name.FlateDecode)
        page = pdf.add_blank_page(page_size=(108, 90))
        page.TrimBox, page.BleedBox = Array([9, 9, 99, 81]), Array([0, 0, 108, 90])
        page.Resources = Dictionary(
            Font=Dictionary(T=Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name.Helvetica)),
            XObject=Dictionary(
                J=picture(ascii85, Name.DeviceCMYK, 64, 48, Filter=Array([Name.ASCII85Decode, Name.DCTDecode])),
                F=picture(zlib.compress(packed), Name.DeviceRGB, 16, 16, Filter=Name.FlateDecode, SMask=mask),
            ),
            ColorSpace=Dictionary(S=Array([Name.Separation, Name("/Foil"), Name.DeviceCMYK, tint])),
            ExtGState=Dictionary(G=Dictionary(ca=0.5)),
        )
        page.Contents = pdf.make_stream(_CONTENT)
        for key, value in _SAID.items():
            pdf.docinfo[key] = value
        written = io.BytesIO()
        pdf.save(written)
        return written.getvalue()
