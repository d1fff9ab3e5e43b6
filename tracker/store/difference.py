"""Row differences: found between what is stored and what is wished, and written in an order keys allow."""

from collections.abc import Iterable, Sequence

from sqlalchemy import Connection

from tracker.plan.diary import Cell, Row, RowChange
from tracker.store.schema import PLAN_TABLES, key_columns, key_of


def differences(connection: Connection, table: str, wished: Iterable[Row]) -> list[RowChange]:
    """What must change for ``table`` to hold exactly the rows ``wished``, in their order.

    Where the place is not part of the key, rows keep their stored place as far as the order allows, so that
    taking one row out touches no other.
    """
    stored = {key_of(table, row): row for row in stored_rows(connection, table)}
    keys = key_columns(table)
    changes, place = [], -1
    for row in wished:
        before = stored.pop(key_of(table, row), None)
        after = row
        if "place" in row and "place" not in keys:
            place = _next_place(place, before)
            after = {**row, "place": place}
        if before != after:
            changes.append(RowChange(table=table, key=key_of(table, after), before=before, after=after))
    gone = (RowChange(table=table, key=key, before=row, after=None) for key, row in stored.items())
    return [*changes, *gone]


def write(connection: Connection, changes: Sequence[RowChange]) -> None:
    """Make the changes: new rows first, those referred to before those that refer, then removals in reverse."""
    for table in PLAN_TABLES:
        insert(connection, table, [c.after for c in changes if c.table == table and not c.before and c.after])
    for change in changes:
        if change.before and change.after:
            _update(connection, change.table, change.before, change.after)
    for table in reversed(PLAN_TABLES):
        for change in changes:
            if change.table == table and change.before and not change.after:
                _delete(connection, table, change.before)


def insert(connection: Connection, table: str, rows: Sequence[Row]) -> None:
    """Add rows, all with the same columns; a column left out gets the database's default."""
    if rows:
        names = tuple(rows[0])
        marks = ", ".join("?" * len(names))
        sql = f'INSERT INTO "{table}" ({_quoted(names, ", ")}) VALUES ({marks})'
        connection.exec_driver_sql(sql, [tuple(row[name] for name in names) for row in rows])


def stored_rows(
    connection: Connection, table: str, where: str = "", values: tuple[Cell, ...] = ()
) -> list[Row]:
    """The rows of ``table`` as stored, those that meet the SQL condition ``where`` if there is one."""
    sql = f'SELECT * FROM "{table}"' + (f" WHERE {where}" if where else "")
    return [dict(row) for row in connection.exec_driver_sql(sql, values).mappings()]


def row_of(connection: Connection, table: str, row: Row) -> Row | None:
    """The row as stored now that has the key of ``row``."""
    where, values = _where_key(table, row)
    return next(iter(stored_rows(connection, table, where, values)), None)


def _update(connection: Connection, table: str, before: Row, after: Row) -> None:
    changed = [name for name in after if after[name] != before.get(name)]
    where, values = _where_key(table, before)
    sql = f'UPDATE "{table}" SET {_quoted(changed, " = ?, ")} = ? WHERE {where}'
    connection.exec_driver_sql(sql, (*(after[name] for name in changed), *values))


def _delete(connection: Connection, table: str, row: Row) -> None:
    where, values = _where_key(table, row)
    connection.exec_driver_sql(f'DELETE FROM "{table}" WHERE {where}', values)


def _where_key(table: str, row: Row) -> tuple[str, tuple[Cell, ...]]:
    keys = key_columns(table)
    return _quoted(keys, " = ? AND ") + " = ?", tuple(row[key] for key in keys)


def _quoted(names: Iterable[str], between: str) -> str:
    return between.join(f'"{name}"' for name in names)


def _next_place(last: int, before: Row | None) -> int:
    kept = before["place"] if before else None
    return kept if isinstance(kept, int) and kept > last else last + 1
