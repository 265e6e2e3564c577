"""Every operator that the walk follows (ISO 32000-2:2020, Annex A); the others paint nothing that is measured."""

from __future__ import annotations

from service.pdf.walk.objects import OBJECTS
from service.pdf.walk.paths import PATHS
from service.pdf.walk.runs import RUNS
from service.pdf.walk.state import STATE
from service.pdf.walk.text import TEXT
from service.pdf.walk.walker import Handler

HANDLERS: dict[bytes, Handler] = {**STATE, **PATHS, **TEXT, **OBJECTS, **RUNS}
