"""Keys, owners and limits as plain values."""

from __future__ import annotations

import pytest

from service.accounts.callers import ANYBODY, OPEN, SCOPES, is_owner_name
from service.accounts.keys import digest_of, new_key, prefix_in, shown
from service.accounts.limits import Limits, Policy, Wished, policies


def test_a_key_is_long_random_and_known_by_its_prefix_alone() -> None:
    one, other = new_key(), new_key()
    assert one.key != other.key
    assert len(one.key) == len("psk_12345678_") + 43  # 256 bits in base64
    assert one.key not in repr(one)
    assert digest_of(one.key) == one.digest != other.digest
    assert one.key not in (one.digest, one.prefix)
    assert prefix_in(one.key) == prefix_in(one.prefix) == prefix_in(shown(one.prefix)) == one.prefix


@pytest.mark.parametrize("text", ["", "psk_", "psk_1f2e3d4", "1F2E3D4C", "psk_1f2e3d4c_short", "1f2e3d4c "])
def test_what_names_no_key_is_none(text: str) -> None:
    assert prefix_in(text) is None


def test_a_key_that_is_sent_in_any_length_and_letters_has_a_digest() -> None:
    assert len(digest_of("k\udcffey" * 100_000)) == 64


def test_whoever_is_at_the_laptop_may_do_everything_and_nobody_nothing() -> None:
    assert [scope for scope in SCOPES if OPEN.may(scope)] == list(SCOPES)
    assert [scope for scope in SCOPES if ANYBODY.may(scope)] == []
    assert ANYBODY.owner is None


@pytest.mark.parametrize(("name", "right"), [
    ("halyard-lane", True), ("7", True), ("a" * 40, True), ("a" * 41, False), ("", False), ("Bakery", False), ("-a", False),
    ("a-", False), ("a b", False), ("bäckerei", False),
])  # fmt: skip
def test_an_owner_is_named_in_small_letters(name: str, right: bool) -> None:
    assert is_owner_name(name) is right


def test_what_is_set_for_an_account_goes_before_the_settings() -> None:
    usual = Limits(600, 10**9, 10**10, 200)
    assert Wished().over(usual) == usual
    assert Wished(sheets=5).over(usual) == Limits(600, 10**9, 10**10, 5)
    assert policies(usual)["bytes"].quota == 10**9


def test_a_window_begins_and_ends_for_everybody_at_the_same_time() -> None:
    minute = Policy("requests", 10, 60)
    assert (minute.window(119.9), minute.window(120.0)) == (60, 120)
    assert (minute.seconds_left(60.0), minute.seconds_left(119.9), minute.seconds_left(120.0)) == (60, 1, 60)
