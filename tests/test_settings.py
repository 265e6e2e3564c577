"""The settings table: what is read, what is refused, and that the code and the table say the same."""

from __future__ import annotations

from dataclasses import fields
from pathlib import Path

import pytest

from service.settings import TABLE, Settings, SettingsRefused, near_misses, read_settings, table


def test_every_field_stands_in_the_table_once() -> None:
    assert [one.field for one in TABLE] == [one.name for one in fields(Settings)]
    assert len({name for name, _, _ in table()}) == len(TABLE)


def test_an_empty_environment_gives_the_documented_defaults(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    settings = read_settings({})
    assert settings.data == tmp_path / "data"
    assert settings.maximum_upload_bytes == 200_000_000
    assert settings.check_memory_bytes == 2 * 2**30
    assert (settings.check_seconds, settings.workers, settings.retention_hours) == (60, 2, 24)
    assert settings.database_url == ""
    assert settings.token_secrets == ()


@pytest.mark.parametrize(
    ("text", "expected"), [("1 kB", 1000), ("1 KiB", 1024), ("1.5MB", 1_500_000), ("2 GiB", 2**31), ("7 B", 7)]
)
def test_sizes_follow_the_standard_prefixes(text: str, expected: int) -> None:
    assert read_settings({"PRINT_SPEC_MAXIMUM_UPLOAD": text}).maximum_upload_bytes == expected


def test_all_mistakes_are_reported_at_once() -> None:
    wrong = {
        "PRINT_SPEC_MAXIMUM_UPLOAD": "200", "PRINT_SPEC_WORKERS": "-1", "PRINT_SPEC_CHECK_SECONDS": "soon",
        "PRINT_SPEC_DATABASE_URL": "checks.db", "PRINT_SPEC_DATA": " ", "PRINT_SPEC_CHECK_MEMORY": "0 MB",
    }
    with pytest.raises(SettingsRefused) as refused:
        read_settings(wrong)
    assert sorted(one.split()[0] for one in refused.value.mistakes) == sorted(wrong)


def test_waiting_may_be_none_at_all() -> None:
    assert read_settings({"PRINT_SPEC_WAIT_SECONDS": "0"}).wait_seconds == 0


def test_secrets_are_a_list_and_never_shown() -> None:
    settings = read_settings({"PRINT_SPEC_TOKEN_SECRET": f" {'a' * 32},{'b' * 40} "})
    assert settings.token_secrets == ("a" * 32, "b" * 40)
    assert "aaaa" not in repr(settings)
    for wrong in ("short-secret", f"{'a' * 32},", f"{'a' * 32},b"):
        with pytest.raises(SettingsRefused) as refused:
            read_settings({"PRINT_SPEC_TOKEN_SECRET": wrong})
        assert wrong not in str(refused.value)
        assert "32 characters" in str(refused.value)


def test_a_misspelled_name_is_noticed_and_a_foreign_one_is_not() -> None:
    found = near_misses({"PRINT_SPEC_WORKER": "3", "PRINT_SPEC_SERVICE_HOST": "10.0.0.1", "HOME": "/", "PRINT_SPEC_WORKERS": "2"})
    assert len(found) == 1
    assert "PRINT_SPEC_WORKERS" in found[0]
