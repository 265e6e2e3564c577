"""The bakery's card and letterhead."""

from __future__ import annotations

from reportlab.lib.colors import CMYKColor

from service.demo.pen import BLACK, BOLD, BUTTER, COCOA, CREAM, CRUST, ITALIC, REGULAR, Pen

CARD = (85.0, 55.0)
A4 = (210.0, 297.0)


def card_front(pen: Pen, photo: bytes, ink: CMYKColor = BUTTER, type_face: str = BOLD) -> None:
    """The loaf to every edge, the name in a band on the left."""
    pen.picture(photo, pen.with_bleed)
    x0, y0, _, y1 = pen.with_bleed
    pen.area((x0, y0, 41, y1), COCOA)
    pen.wheat(22, 24.5, 14, ink)
    pen.text("Halyard Lane", 22, 33, 11, CREAM, type_face, align="middle")
    pen.text("BAKERY", 22, 38, 6.5, ink, REGULAR if type_face == BOLD else type_face, spacing=2.6, align="middle")
    pen.rule(14, 41.5, 30, ink, 0.5)
    pen.text("Bread, and no hurry", 22, 46, 6, CREAM, ITALIC, align="middle")


def card_back(pen: Pen) -> None:
    pen.area(pen.with_bleed, CREAM)
    x0, _, x1, y1 = pen.with_bleed
    pen.area((x0, 49, x1, y1), CRUST)
    pen.wheat(74, 22, 14, CRUST)
    pen.text("Maren Oake", 8, 13, 11, COCOA, BOLD)
    pen.text("Baker and owner", 8, 18, 7, CRUST, ITALIC)
    for n, line in enumerate(
        ("14 Halyard Lane, Tidewick", "Orders before noon, ready next morning", "bread@halyard-lane.example")
    ):
        pen.text(line, 8, 30 + 4 * n, 7, BLACK)
    pen.text("Tuesday to Saturday  7–14", 8, 44.5, 7, COCOA, BOLD)


def letterhead(pen: Pen) -> None:
    x0, y0, x1, y1 = pen.with_bleed
    pen.area((x0, y0, x1, 9), COCOA)
    pen.area((x0, 9, x1, 10.2), BUTTER)
    pen.wheat(27, 31, 15, CRUST)
    pen.text("Halyard Lane Bakery", 36, 24, 18, COCOA, BOLD)
    pen.text("Bread, and no hurry", 36, 30, 9, CRUST, ITALIC)
    pen.area((x0, 284, x1, y1), CREAM)
    line = "14 Halyard Lane, Tidewick    bread@halyard-lane.example    Tuesday to Saturday 7–14"
    pen.text(line, 105, 291, 7.5, COCOA, align="middle")


def specimen_letter(pen: Pen) -> None:
    """What the designer put in to see how a letter looks, and should have taken out."""
    for n, line in enumerate(("Your name here", "Street and number", "Town")):
        pen.text(line, 25, 58 + 5 * n, 10)
    pen.text("Dear Sir or Madam,", 25, 98, 10)
    y = 108.0
    for paragraph in (
        "Lorem ipsum dolor sit amet, consectetur adipiscing elit, sed do eiusmod tempor incididunt ut labore et dolore magna "
        "aliqua. Ut enim ad minim veniam, quis nostrud exercitation ullamco laboris nisi ut aliquip ex ea commodo consequat.",
        "Duis aute irure dolor in reprehenderit in voluptate velit esse cillum dolore eu fugiat nulla pariatur. Excepteur sint "
        "occaecat cupidatat non proident, sunt in culpa qui officia deserunt mollit anim id est laborum.",
    ):
        y = pen.paragraph(paragraph, 25, y, 160, 10) + 5
    pen.text("Yours faithfully,", 25, y + 5, 10)
