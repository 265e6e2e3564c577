"""How much accounts have used of their quotas. It lies in the database because processes and machines share it; a library with a
store of its own would be one more thing to run beside it.
"""

from __future__ import annotations

from contextlib import nullcontext
from typing import Any

from sqlalchemy import Engine, case, or_, select
from sqlalchemy.dialects import postgresql, sqlite

from service.accounts.limits import Policy, Standing
from service.store.accounts.rows import UsageRow
from service.store.database import waiting_briefly


class Usage:
    def __init__(self, engine: Engine) -> None:
        self._engine = engine

    def spend(
        self, owner: str, policy: Policy, amount: int, epoch_seconds: float, *, soon: bool = False
    ) -> Standing | None:
        """None where it would be more than the quota: then nothing is spent. One statement, so that two at once both count.

        `soon`: raises DatabaseAway where others write for longer than whoever is counted is to be kept waiting.
        """
        if amount > policy.quota:
            return None
        began = policy.window(epoch_seconds)
        fresh = _insert(self._engine)(UsageRow).values(owner=owner, counted=policy.counted, began=began, used=amount)
        in_this = case((UsageRow.began == began, UsageRow.used), else_=0)
        spent = fresh.on_conflict_do_update(
            index_elements=[UsageRow.owner, UsageRow.counted],
            set_={"began": began, "used": in_this + amount},
            where=or_(UsageRow.began != began, UsageRow.used + amount <= policy.quota),
        ).returning(UsageRow.used)
        with self._engine.begin() as connection, waiting_briefly(connection) if soon else nullcontext():
            used = connection.scalar(spent)
        return None if used is None else Standing(policy, max(0, policy.quota - used), policy.seconds_left(epoch_seconds))

    def standing(self, owner: str, policy: Policy, epoch_seconds: float) -> Standing:
        began = policy.window(epoch_seconds)
        mine = (UsageRow.owner == owner, UsageRow.counted == policy.counted, UsageRow.began == began)
        with self._engine.connect() as connection:
            used = connection.scalar(select(UsageRow.used).where(*mine)) or 0
        return Standing(policy, max(0, policy.quota - used), policy.seconds_left(epoch_seconds))


def _insert(engine: Engine) -> Any:
    """The two databases say 'or else update' in the same words, but SQLAlchemy keeps them apart."""
    return postgresql.insert if engine.dialect.name == "postgresql" else sqlite.insert
