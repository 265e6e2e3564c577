"""`print-spec serve`: where it does not start."""

from __future__ import annotations

import pytest

from service.__main__ import main
from service.accounts.this_machine import is_this_machine, named_in


@pytest.mark.parametrize(("host", "is_it"), [
    ("127.0.0.1", True), ("127.0.0.53", True), ("::1", True), ("localhost", True), ("0.0.0.0", False), ("::", False),
    ("", False), ("192.168.1.20", False), ("print.example", False), ("::ffff:192.168.1.20", False),
])  # fmt: skip
def test_which_addresses_are_this_machine_alone(host: str, is_it: bool) -> None:
    assert is_this_machine(host) is is_it


@pytest.mark.parametrize(("header", "host"), [
    ("127.0.0.1:8000", "127.0.0.1"), ("[::1]:8000", "::1"), ("LOCALHOST", "localhost"), ("print.example:80", "print.example"),
    ("", ""), ("[::1", "::1"), ("::1", ""),
])  # fmt: skip
def test_the_host_that_a_request_names(header: str, host: str) -> None:
    assert named_in(header) == host


def test_without_keys_it_listens_nowhere_else_unless_it_is_told_to(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    served: list[str] = []
    monkeypatch.setattr("service.serving.serve", lambda host, *_: served.append(host))
    monkeypatch.delenv("PRINT_SPEC_ACCESS", raising=False)
    assert main(["serve", "--host", "0.0.0.0"]) == 2
    assert served == []
    told = capsys.readouterr().err
    assert "PRINT_SPEC_ACCESS=keys" in told
    assert "PRINT_SPEC_ACCESS=open-anywhere" in told
    assert main(["serve"]) == 0
    for access in ("keys", "open-anywhere"):
        monkeypatch.setenv("PRINT_SPEC_ACCESS", access)
        assert main(["serve", "--host", "0.0.0.0"]) == 0
    assert served == ["127.0.0.1", "0.0.0.0", "0.0.0.0"]
