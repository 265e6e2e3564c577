from __future__ import annotations

from tests.api.conftest import caller, kept_on, start

__all__ = ["caller", "kept_on", "start"]
