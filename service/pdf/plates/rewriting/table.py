"""The handlers of all operators that a rewriting looks at."""

from __future__ import annotations

from service.pdf.plates.rewriting.colors import COLORS
from service.pdf.plates.rewriting.graphics_state import GRAPHICS_STATE
from service.pdf.plates.rewriting.objects import OBJECTS
from service.pdf.plates.rewriting.painting import PAINTING
from service.pdf.plates.rewriting.rewriter import Handler

HANDLERS: dict[bytes, Handler] = {**GRAPHICS_STATE, **COLORS, **PAINTING, **OBJECTS}
