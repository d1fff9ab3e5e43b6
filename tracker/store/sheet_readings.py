"""How a maker's own sheet was read, remembered for its next read; no part of the plan, so not in the diary."""

import json
from collections.abc import Mapping

from sqlalchemy import Connection, delete, insert, select

from tracker.store.edit import Transaction
from tracker.store.schema import TABLES


def remembered(connection: Connection, headings: str) -> Mapping[str, str] | None:
    """What each heading held when a sheet with these ``headings`` was last read; None for a new one."""
    table = TABLES["sheet_reading"].c
    kept = connection.execute(select(table.roles).where(table.headings == headings)).scalar_one_or_none()
    return None if kept is None else json.loads(kept)


def remember(transaction: Transaction, headings: str, roles: Mapping[str, str]) -> None:
    """Keep what each heading holds, ``""`` for one to skip, in place of what was kept before."""
    table = TABLES["sheet_reading"]
    transaction.connection.execute(delete(table).where(table.c.headings == headings))
    transaction.connection.execute(insert(table), {"headings": headings, "roles": json.dumps(dict(roles))})
