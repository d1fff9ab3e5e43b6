"""Ordered steps that bring an older database to the schema this program knows.

A step, once released, is never edited; a change of the tables is a new step at the end. All steps a file needs
run in one transaction, so a failing one leaves the file as it was. The diary's triggers are taken away before
the steps and made anew after the last.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import Connection
from sqlalchemy.exc import DBAPIError

from tracker.errors import StoreError
from tracker.store.schema_1 import SCHEMA_1
from tracker.store.schema_2 import SCHEMA_2
from tracker.store.schema_3 import SCHEMA_3
from tracker.store.schema_4 import SCHEMA_4
from tracker.store.triggers import trigger_statements

APPLICATION = 0x7472_6B31
"""Marks an SQLite file as the tracker's own, in the field the format keeps for that."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Migration:
    """One step, to schema ``version`` from the one before."""

    version: int
    apply: Callable[[Connection], None]


def _runs(statements: Sequence[str]) -> Callable[[Connection], None]:
    def apply(connection: Connection) -> None:
        for statement in statements:
            connection.exec_driver_sql(statement)

    return apply


MIGRATIONS = (
    Migration(version=1, apply=_runs(SCHEMA_1)),
    Migration(version=2, apply=_runs(SCHEMA_2)),
    Migration(version=3, apply=_runs(SCHEMA_3)),
    Migration(version=4, apply=_runs(SCHEMA_4)),
)
LATEST = MIGRATIONS[-1].version


def schema_version(connection: Connection) -> int:
    """The schema the file has; 0 for a file without tables."""
    return int(connection.exec_driver_sql("PRAGMA user_version").scalar_one())


def migrate(connection: Connection, path: Path, migrations: Sequence[Migration] = MIGRATIONS) -> None:
    """Take every step the file lacks; the caller's transaction makes it all or nothing.

    The connection must have foreign keys off (a table may be rebuilt under rows that refer to it); they are
    checked at the end.

    Raises
    ------
    StoreError
        If a step fails; the message names it.
    """
    start = schema_version(connection)
    for trigger in connection.exec_driver_sql(
        "SELECT name FROM sqlite_master WHERE type = 'trigger'"
    ).scalars():
        connection.exec_driver_sql(f'DROP TRIGGER "{trigger}"')
    for migration in migrations:
        if migration.version > start:
            _step(connection, path, migration)
    for statement in trigger_statements():
        connection.exec_driver_sql(statement)


def _step(connection: Connection, path: Path, migration: Migration) -> None:
    try:
        migration.apply(connection)
        astray = connection.exec_driver_sql("PRAGMA foreign_key_check").all()
    except Exception as error:
        why = error.orig if isinstance(error, DBAPIError) else error
        raise _failed(path, migration, str(why)) from error
    if astray:
        raise _failed(path, migration, f"rows of '{astray[0][0]}' would refer to nothing")
    connection.exec_driver_sql(f"PRAGMA application_id = {APPLICATION}")
    connection.exec_driver_sql(f"PRAGMA user_version = {migration.version}")


def _failed(path: Path, migration: Migration, why: str) -> StoreError:
    return StoreError(
        f"{path} could not be brought to schema {migration.version}: {why}; the file was left as it was",
        hint="keep the file and go on with the tracker that wrote it",
    )
