"""The same layouts as HTML, which WeasyPrint and Chromium print; `bleed` and `marks` are WeasyPrint's alone."""

from __future__ import annotations

import base64

from tests.outside.desk.making.words import ADDRESS, BODY, CREAM_RGB, CRUST_RGB, LINES, NAME, SEA_RGB, picture_jpeg


def picture_uri(width_px: int, height_px: int) -> str:
    return "data:image/jpeg;base64," + base64.b64encode(picture_jpeg(width_px, height_px, in_cmyk=False)).decode()


def html(width: float, height: float, style: str, body: str, page: str = "") -> str:
    return (
        f"<!doctype html><html lang=en><meta charset=utf-8><title>{NAME}</title>"
        f"<style>@page{{size:{width}mm {height}mm;margin:0;{page}}}"
        "*{margin:0;padding:0;-webkit-print-color-adjust:exact}body{font-family:'DejaVu Sans'}"
        f".p{{position:relative;width:{width}mm;height:{height}mm;break-after:page;overflow:visible}}"
        f".p:last-child{{break-after:auto}}.a{{position:absolute}}{style}</style>{body}"
    )


def card(page: str = "", room: float = 0) -> str:
    """`room`: bleed drawn as part of the page."""
    body = (
        f"<div class=p style='background:{CREAM_RGB}'>"
        f"<div class=a style='left:{room + 8}mm;top:{room + 10}mm;font:18pt Z003;color:{CRUST_RGB}'>{NAME}</div>"
        f"<div class=a style='left:{room + 8}mm;bottom:{room + 6}mm;font-size:7pt'>{'<br>'.join(ADDRESS[1:])}</div></div>"
    )
    return html(85 + 2 * room, 55 + 2 * room, "", body, f"background:{CREAM_RGB};{page}")


def flyer(page: str = "", reach: float = 0, room: float = 0) -> str:
    """A picture that reaches `reach` beyond the page, or a page with `room` for bleed."""
    photo = picture_uri(1750, 1250)
    body = (
        f"<div class=p><img class=a src='{photo}' style='left:-{reach}mm;top:-{reach}mm;"
        f"width:{148 + 2 * room + 2 * reach}mm;height:{120 + reach + room}mm'>"
        f"<div class=a style='left:{room + 10}mm;top:{room + 20}mm;font:bold 44pt \"URW Gothic\";color:#fff'>Harvest</div>"
        f"<div class=a style='left:{room + 10}mm;top:{room + 130}mm;width:120mm;font-size:10pt'>{'<br>'.join(LINES)}</div>"
        f"<div class=a style='left:{room + 10}mm;bottom:{room + 4}mm;font:30pt Z003;line-height:1'>Freshly baked</div></div>"
    )
    return html(148 + 2 * room, 210 + 2 * room, "", body, page)


def letterhead() -> str:
    body = (
        f"<div class=p><div class=a style='left:20mm;top:15mm;border-bottom:0.3pt solid {SEA_RGB};"
        f"font:20pt \"URW Gothic\"'>{NAME}</div>"
        f"<div class=a style='left:25mm;top:60mm;width:160mm;font-size:11pt'>{BODY}</div>"
        f"<div class=a style='left:20mm;bottom:10mm;font-size:7pt'>{' · '.join(ADDRESS)}"
        " <a href='https://halyard-lane.example/'>halyard-lane.example</a></div></div>"
    )
    return html(210, 297, "", body)


def booklet(page: str = "") -> str:
    pages = "".join(
        f"<div class=p><div class=a style='left:15mm;top:18mm;width:118mm;font:9.5pt C059'>"
        f"<h2>Chapter {number}</h2>{BODY} {BODY}</div>"
        f"<div class=a style='left:70mm;bottom:8mm;font-size:7pt'>{number}</div></div>"
        for number in range(1, 9)
    )
    return html(148, 210, "", pages, page)


def sale() -> str:
    """Shadows, a gradient and a half-clear panel, as pages on the web have them."""
    style = (
        f".s{{left:20mm;top:30mm;width:170mm;height:80mm;border-radius:6mm;box-shadow:0 2mm 5mm #0006;"
        f"background:linear-gradient({CRUST_RGB},{SEA_RGB})}}.t{{left:30mm;top:60mm;color:#fff;font:40pt 'URW Gothic';"
        "text-shadow:0 0 2mm #000}.h{left:20mm;top:130mm;width:80mm;height:40mm;background:#fffa;border:0.2pt solid #888}"
    )
    body = f"<div class=p><div class='a s'></div><div class='a t'>Day-old bread</div><div class='a h'>{LINES[1]}</div></div>"
    return html(210, 297, style, body)
