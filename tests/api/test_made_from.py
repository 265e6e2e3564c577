"""Tests take an application over from one another, with other settings: sound as long as those are not read when it is made."""

from __future__ import annotations

from dataclasses import fields, replace
from pathlib import Path
from typing import Any

from service import create_app
from service.settings import Settings, read_settings
from service.wiring import make_parts
from tests.api.conftest import MADE_FROM

READ: set[str] = set()


class Watched(Settings):
    def __getattribute__(self, name: str) -> Any:
        READ.add(name)
        return super().__getattribute__(name)


def test_an_application_is_made_from_these_settings_alone(tmp_path: Path) -> None:
    settings = read_settings({"PRINT_SPEC_DATA": str(tmp_path)})
    parts = make_parts(settings)
    try:
        watched = Watched(**{one.name: getattr(settings, one.name) for one in fields(Settings)})
        parts = replace(parts, settings=watched)
        READ.clear()
        create_app(parts=parts).test_client()
        assert READ & {one.name for one in fields(Settings)} == set(MADE_FROM)
    finally:
        parts.close()
