"""`print-spec keys …` and `audit`: whoever runs the service makes keys, sees them, turns them off, and reads who did what."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from service.__main__ import main
from service.accounts.keys import digest_of
from tests.databases import all_that_is_kept, database_url


@pytest.fixture(autouse=True)
def data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("PRINT_SPEC_DATA", str(tmp_path / "data"))
    monkeypatch.setenv("PRINT_SPEC_DATABASE_URL", database_url(tmp_path / "data"))
    monkeypatch.delenv("PRINT_SPEC_ACCESS", raising=False)
    return tmp_path / "data"


def keys(capsys: pytest.CaptureFixture[str]) -> list[dict[str, Any]]:
    capsys.readouterr()
    assert main(["keys", "list", "--json"]) == 0
    return [json.loads(line) for line in capsys.readouterr().out.splitlines()]


def test_a_key_goes_to_stdout_alone_and_is_kept_as_a_hash(data: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["keys", "make", "bakery", "--scope", "read", "--scope", "edit-sheets", "--note", "[red]till"]) == 0
    shown = capsys.readouterr()
    (key,) = shown.out.split()
    assert key not in shown.err
    assert "PRINT_SPEC_ACCESS=keys" in shown.err
    (row,) = keys(capsys)
    assert (row["key"], row["account"], row["scopes"]) == (key[:12], "bakery", ["read", "edit-sheets"])
    kept = all_that_is_kept(data)
    assert digest_of(key).encode() in kept
    assert key[13:].encode() not in kept
    assert main(["keys", "list"]) == 0
    assert "[red]till" in capsys.readouterr().out


def test_a_key_is_turned_off_by_what_the_list_shows(capsys: pytest.CaptureFixture[str]) -> None:
    main(["keys", "make", "bakery"])
    main(["keys", "make", "bakery"])
    first, second = keys(capsys)
    assert first["scopes"] == ["check", "read"]
    assert main(["keys", "turn-off", first["key"]]) == 0
    assert main(["keys", "turn-off", first["key"]]) == 2
    assert main(["keys", "turn-off", "nonsense"]) == 2
    assert [bool(one["turned_off_at"]) for one in keys(capsys)] == [True, False]
    assert second["turned_off_at"] is None


def test_limits_are_set_shown_and_given_up(capsys: pytest.CaptureFixture[str]) -> None:
    def holds(*arguments: str) -> list[str]:
        assert main(["keys", "limits", "bakery", *arguments]) == 0
        return [line.rpartition(" ")[2] for line in capsys.readouterr().out.splitlines()]

    usual = holds()
    assert usual == ["600", "20,000,000,000", "20,000,000,000", "200"]
    assert holds("--sheets", "5", "--disk", "1 GB") == ["600", "20,000,000,000", "1,000,000,000", "5"]
    assert holds("--sheets", "usual") == ["600", "20,000,000,000", "1,000,000,000", "200"]
    with pytest.raises(SystemExit):
        main(["keys", "limits", "bakery", "--disk", "much"])


def test_the_trail_says_who_did_what(capsys: pytest.CaptureFixture[str]) -> None:
    main(["keys", "make", "bakery"])
    main(["keys", "make", "florist"])
    (made, _) = keys(capsys)
    main(["keys", "turn-off", made["key"]])
    capsys.readouterr()
    assert main(["audit", "--account", "bakery", "--json"]) == 0
    entries = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    assert [(one["did"], one["about"][:8]) for one in entries] == [
        ("key.turned-off", made["key"][4:]),
        ("key.made", made["key"][4:]),
    ]
    assert {one["by"].partition(" (")[0] for one in entries} == {"command line"}
    assert main(["audit", "--most", "1"]) == 0
    assert "key.turned-off" in capsys.readouterr().out


@pytest.mark.parametrize("name", ["Bakery", "a b", "", "-x"])
def test_an_account_has_a_plain_name(name: str, data: Path) -> None:
    assert main(["keys", "make", "--", name]) == 2
    assert not data.exists()


def test_hosts_of_callbacks_are_set_shown_and_given_up(capsys: pytest.CaptureFixture[str]) -> None:
    def told(*arguments: str) -> list[str]:
        assert main(["keys", "callbacks", "bakery", *arguments]) == 0
        return capsys.readouterr().out.splitlines()

    assert told() == ["all that the service calls"]
    hosts = ["hooks.bakery.example", "*.shop.example"]
    assert told("--host", hosts[0].upper(), "--host", hosts[1]) == hosts
    assert told() == hosts
    main(["audit", "--account", "bakery", "--json"])
    assert "callbacks.set" in capsys.readouterr().out
    assert told("--all") == ["all that the service calls"]


@pytest.mark.parametrize("wrong", ["", "https://shop.example", "a.example, b.example", "*"])
def test_what_is_no_host_is_refused(wrong: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main(["keys", "callbacks", "bakery", "--host", wrong])
    assert "one host" in capsys.readouterr().err
