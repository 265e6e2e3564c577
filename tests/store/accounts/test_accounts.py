"""Keys, quotas, upload tokens and the audit trail in the database, on each engine."""

from __future__ import annotations

from datetime import timedelta
from threading import Barrier, Thread

import pytest
from sqlalchemy import Engine

from service.accounts.limits import Policy, Wished
from service.store.accounts.accounts import Accounts
from service.store.accounts.audit import KEPT, Audit, By
from service.store.accounts.rows import UploadTokenRow
from service.store.accounts.upload_tokens import TokenSpent, UploadTokens, is_spent
from service.store.accounts.usage import Usage
from service.store.checks import Checks, KeyTaken
from service.store.line import Line
from tests.patience import PATIENCE_SECONDS, ended
from tests.store.rows import NOON, row

MINUTE = Policy("requests", 5, 60)
BAKERY = By("bakery", "key 1f2e3d4c")


def test_a_key_is_found_by_its_digest_until_it_is_turned_off(database: Engine) -> None:
    accounts = Accounts(database)
    accounts.make_key("bakery", "d" * 64, "1f2e3d4c", ("check", "read"), "till", "me", NOON)
    accounts.make_key("bakery", "e" * 64, "5e6f7a8b", ("administer",), "", "me", NOON + timedelta(seconds=1))
    accounts.set_limits("bakery", Wished(sheets=5), "me", NOON)
    found = accounts.by_digest("d" * 64, NOON)
    assert found is not None
    assert (found.owner, found.prefix, found.scopes) == ("bakery", "1f2e3d4c", ("check", "read"))
    assert found.wished == Wished(sheets=5)
    assert accounts.turn_off("1f2e3d4c", "me", NOON) == "bakery"
    assert (accounts.by_digest("d" * 64, NOON), accounts.turn_off("1f2e3d4c", "me", NOON)) == (None, None)
    assert [(one.prefix, one.used_at, one.turned_off_at) for one in accounts.all_keys()] == [
        ("1f2e3d4c", NOON, NOON),
        ("5e6f7a8b", None, None),
    ]
    assert (accounts.wished("bakery").sheets, accounts.wished("nobody")) == (5, Wished())


def test_the_day_of_a_keys_last_use_is_noted_once_a_day(database: Engine) -> None:
    accounts = Accounts(database)
    accounts.make_key("bakery", "d" * 64, "1f2e3d4c", (), "", "me", NOON)
    for hours in (0, 3, 24):
        accounts.by_digest("d" * 64, NOON + timedelta(hours=hours))
        (key,) = accounts.all_keys()
        assert key.used_at == NOON + timedelta(hours=24 if hours == 24 else 0)


def test_a_quota_is_spent_and_comes_back_with_the_next_window(database: Engine) -> None:
    usage = Usage(database)
    left = [usage.spend("bakery", MINUTE, 2, 100.0) for _ in range(3)]
    assert [one.left if one else None for one in left] == [3, 1, None]
    assert usage.standing("bakery", MINUTE, 100.0).left == 1
    assert usage.standing("florist", MINUTE, 100.0).left == 5
    again = usage.spend("bakery", MINUTE, 5, 121.0)
    assert again is not None
    assert (again.left, again.seconds_left) == (0, 59)
    assert usage.spend("bakery", MINUTE, 6, 200.0) is None


def test_two_who_spend_at_once_both_count(database: Engine) -> None:
    usage, spent, start = Usage(database), [], Barrier(8)

    def spend() -> None:
        start.wait(PATIENCE_SECONDS)
        spent.append(usage.spend("bakery", MINUTE, 1, 100.0))

    threads = [Thread(target=spend) for _ in range(8)]
    for one in threads:
        one.start()
    for one in threads:
        ended(one)
    assert sorted(one.left for one in spent if one) == [0, 1, 2, 3, 4]
    assert spent.count(None) == 3


def test_a_token_is_used_in_the_transaction_of_its_check(database: Engine) -> None:
    tokens, line, checks = UploadTokens(database), Line(database), Checks(database)
    ends = NOON + timedelta(hours=1)
    tokens.add(UploadTokenRow(id="t", owner="bakery", key_prefix="1f2e3d4c", uses=1, used=0, expires_at=ends), BAKERY, NOON)
    line.join(row("first", idempotency_key="k"), "", 9, 9, "t")
    with pytest.raises(KeyTaken):
        line.join(row("repeat", idempotency_key="k"), "", 9, 9, "t")
    with pytest.raises(TokenSpent):
        line.join(row("second"), "", 9, 9, "t")
    assert checks.get("second", NOON) is None
    found = tokens.get("t", NOON)
    assert found is not None
    assert is_spent(found)
    assert tokens.get("t", ends) is None


def test_a_token_is_taken_back_by_its_owner_alone(database: Engine) -> None:
    tokens, line = UploadTokens(database), Line(database)
    ends = NOON + timedelta(hours=1)
    for name in ("t", "u"):
        tokens.add(UploadTokenRow(id=name, owner="bakery", key_prefix=None, uses=None, used=0, expires_at=ends), BAKERY, NOON)
    assert not tokens.revoke("t", By("florist", "key"), NOON)
    assert tokens.revoke("t", BAKERY, NOON)
    assert not tokens.revoke("t", BAKERY, NOON)
    with pytest.raises(TokenSpent):
        line.join(row("late"), "", 9, 9, "t")
    line.join(row("right"), "", 9, 9, "u")
    tokens.forget_old(ends)
    with pytest.raises(TokenSpent):
        line.join(row("old"), "", 9, 9, "u")


def test_the_trail_is_numbered_kept_apart_and_forgotten_in_time(database: Engine) -> None:
    accounts, audit = Accounts(database), Audit(database)
    for name, prefix in (("bakery", "11111111"), ("florist", "22222222"), ("bakery", "33333333")):
        accounts.make_key(name, prefix * 8, prefix, ("read",), "", "me", NOON)
    mine = audit.entries("bakery", 10)
    assert [(one.did, one.about, one.by) for one in mine] == [
        ("key.made", f"{one} read", "me") for one in ("33333333", "11111111")
    ]
    assert [one.about for one in audit.entries("bakery", 10, before=mine[0].id)] == ["11111111 read"]
    assert (len(audit.entries(None, 10)), len(audit.entries(None, 2))) == (3, 2)
    audit.forget_old(NOON + KEPT)
    assert len(audit.entries(None, 10)) == 3
    audit.forget_old(NOON + KEPT + timedelta(seconds=1))
    assert audit.entries(None, 10) == []


def test_a_check_is_seen_by_its_account_or_by_its_link_and_forgotten_with_a_trace(database: Engine) -> None:
    checks = Checks(database)
    checks.add(row("mine", account="bakery"))
    checks.add(row("shared", account="bakery", by_link=True))
    tried = (("bakery", False, 2), ("florist", True, 1), (None, True, 1), ("florist", False, 0), (None, False, 0))
    for account, by_link, seen in tried:
        found = [checks.visible(one, NOON, account, by_link=by_link) for one in ("mine", "shared")]
        assert len([one for one in found if one]) == seen, (account, by_link)
    assert (checks.kept_bytes("bakery", NOON), checks.kept_bytes("florist", NOON)) == (20, 0)
    checks.forget("mine", BAKERY, NOON)
    checks.forget("shared")
    assert [(one.did, one.about) for one in Audit(database).entries("bakery", 9)] == [("check.deleted", "mine")]
