"""The plan as it is stored now, with one select of columns a table."""

from sqlalchemy import Connection, func, select

from tracker.plan.model import Plan
from tracker.store.pieces import EMPTY_WHEN_ABSENT, PIECES, Values, order_of
from tracker.store.schema import TABLES


def has_plan(connection: Connection) -> bool:
    """Whether a run has been entered; a new database has none."""
    return connection.execute(select(TABLES["run"].c.id)).first() is not None


def load_plan(connection: Connection) -> Plan:
    """The whole plan as stored; ``has_plan`` must be true."""

    def stored(table: str, without: tuple[str, ...] = ()) -> list[Values]:
        return _stored(connection, table, without)

    return Plan(**{piece: build(stored) for piece, (build, _) in PIECES.items()})


def fact_entries(connection: Connection) -> list[int]:
    """For each fact, in the order of the plan's facts, the diary entry that logged it."""
    fact = TABLES["fact"]
    return list(connection.execute(select(fact.c.entry).order_by(fact.c.id)).scalars())


def _stored(connection: Connection, table: str, without: tuple[str, ...]) -> list[Values]:
    """The rows of a table in their order, by column name; the place itself is left out.

    An empty table is found so before its select is built, which takes far longer.
    """
    if connection.exec_driver_sql(f'SELECT 1 FROM "{table}" LIMIT 1').first() is None:
        return []
    source = TABLES[table]
    columns = [
        func.coalesce(column, "").label(column.name) if column.name in EMPTY_WHEN_ABSENT else column
        for column in source.columns
        if column.name not in ("place", *without)
    ]
    names = [column.name for column in columns]
    rows = connection.execute(select(*columns).order_by(*(source.c[name] for name in order_of(table)))).all()
    return [dict(zip(names, row, strict=True)) for row in rows]
