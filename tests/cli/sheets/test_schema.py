"""`print-spec sheets schema`."""

from __future__ import annotations

import json

import pytest
from jsonschema import Draft202012Validator

from service.__main__ import main


def test_the_schema_is_printed(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sheets", "schema"]) == 0
    schema = json.loads(capsys.readouterr().out)
    Draft202012Validator.check_schema(schema)
    assert Draft202012Validator(schema).is_valid({"bleed": {"minimum": "3 mm"}})
    assert main(["sheets", "schema", "--stored"]) == 0
    assert not Draft202012Validator(json.loads(capsys.readouterr().out)).is_valid({"bleed": {"minimum": "3 mm"}})
