from __future__ import annotations

from tests.api.conftest import caller, card, card_without_bleed, empty_database, kept_on, start

__all__ = ["caller", "card", "card_without_bleed", "empty_database", "kept_on", "start"]
