from __future__ import annotations

from tests.api.conftest import caller, start

__all__ = ["caller", "start"]
