"""What reading a damaged or hostile PDF may raise, by name, so that nothing of our own hides behind it."""

from __future__ import annotations

import pikepdf

READING_ERRORS = (
    pikepdf.PdfError,
    pikepdf.PasswordError,
    pikepdf.DataDecodingError,
    pikepdf.DependencyError,
    pikepdf.DeletedObjectError,
    pikepdf.ForeignObjectError,
    ValueError,  # with UnicodeDecodeError: a name that is not UTF-8
    TypeError,  # an object of another type than the key asks for
    KeyError,
    IndexError,
    AttributeError,
    ArithmeticError,  # numbers beyond what a float or a Decimal holds
    RuntimeError,  # qpdf's own, and loops too deep
)
"""For the boundary around one page or one file. Memory and time limits are the sandbox's business."""
