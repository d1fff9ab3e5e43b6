"""Reading the diary."""

import json
from collections import defaultdict
from collections.abc import Sequence
from datetime import date

from sqlalchemy import Connection, select

from tracker.plan.diary import Entry, RowChange
from tracker.store.schema import TABLES


def read_diary(connection: Connection, *, with_changes: bool = False) -> tuple[Entry, ...]:
    """Every entry, oldest first; ``with_changes`` adds the rows each one changed, in the order it changed them."""
    entry = TABLES["entry"].c
    columns = (
        entry.number,
        entry.at,
        entry.day,
        entry.command,
        entry.undoes,
        entry.shipments,
        entry.printed_for,
    )
    rows = connection.execute(select(*columns).order_by(entry.number)).all()
    undone = undone_by([(row.number, row.undoes) for row in rows])
    changes = read_changes(connection) if with_changes else {}
    return tuple(
        Entry(
            number=row.number,
            at=row.at,
            day=row.day,
            command=row.command,
            undoes=row.undoes,
            undone_by=undone.get(row.number),
            shipments=tuple((c, date.fromisoformat(d)) for c, d in json.loads(row.shipments).items()),
            printed_for=row.printed_for,
            changes=tuple(changes.get(row.number, ())),
        )
        for row in rows
    )


def read_changes(
    connection: Connection, *, since: int = 1, corrected: str = ""
) -> dict[int, list[RowChange]]:
    """The row changes of each entry from number ``since`` on, in the order they were made.

    ``corrected`` names a table: then only changes of its rows that were there before and after.
    """
    change = TABLES["change"].c
    columns = (change.entry, change.table_name, change.key, change.before, change.after)
    found: defaultdict[int, list[RowChange]] = defaultdict(list)
    wanted = select(*columns).where(change.entry >= since).order_by(change.id)
    if corrected:
        wanted = wanted.where(
            change.table_name == corrected, change.before.is_not(None), change.after.is_not(None)
        )
    for entry, table, key, before, after in connection.execute(wanted):
        found[entry].append(
            RowChange(
                table=table,
                key=key,
                before=json.loads(before) if before else None,
                after=json.loads(after) if after else None,
            )
        )
    return found


def undone_by(entries: Sequence[tuple[int, int | None]]) -> dict[int, int]:
    """For each undone entry, the one that reverts it now: the later an entry, the sooner it is settled."""
    found: dict[int, int] = {}
    for number, undoes in reversed(entries):
        if undoes is not None and number not in found:
            found[undoes] = number
    return found
