"""The database file: where it is, opening it, and transactions."""

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from sqlalchemy import URL, Connection, Engine, create_engine, event, make_url
from sqlalchemy.exc import ArgumentError
from sqlalchemy.pool import ConnectionPoolEntry, NullPool

from tracker.errors import StoreError
from tracker.store.edit import Transaction
from tracker.store.faults import said_plainly
from tracker.store.migrations import APPLICATION, LATEST, migrate, schema_version

PATIENCE = 5.0
_BEGIN = "begin"


@dataclass(frozen=True, slots=True, kw_only=True)
class Store:
    """An open database; it holds no connection between transactions.

    ``before_change`` is called with ``path`` ahead of a transaction's first diary entry, once it is begun for
    writing and unless the diary is still empty.
    """

    path: Path
    engine: Engine
    before_change: Callable[[Path], None] | None = None


def database_url(text: str) -> URL:
    """The database meant by a path or an SQLite URL such as ``sqlite:///run.sqlite``.

    Raises
    ------
    StoreError
        If it is another kind of database, or names no file.

    Examples
    --------
    >>> database_url("run.sqlite").database, database_url("sqlite:////home/run.sqlite").database
    ('run.sqlite', '/home/run.sqlite')
    """
    if "://" not in text:
        return URL.create("sqlite", database=str(Path(text).expanduser()))
    scheme = text.partition("://")[0]
    remedy = "use a file path or sqlite:///run.sqlite"
    if scheme != "sqlite":
        raise StoreError(f"a database of kind '{scheme}' is not covered yet", hint=remedy)
    try:
        url = make_url(text)
    except ArgumentError as error:
        raise StoreError("the database URL cannot be read", hint=remedy) from error
    if not url.database or url.database == ":memory:" or url.query or url.host:
        raise StoreError("the database URL must name a file and nothing else", hint=remedy)
    return url


def create_store(where: str | Path, *, patience: float = PATIENCE) -> Store:
    """Make a new empty database; on failure no file is left behind.

    Raises
    ------
    StoreError
        If there is a file already, or none can be made there.
    """
    path = _path(where)
    try:
        path.touch(exist_ok=False)
    except FileExistsError as error:
        hint = "name another file with --db; an existing one is never overwritten"
        raise StoreError(f"there is a file at {path} already", hint=hint) from error
    except OSError as error:
        hint = "name a file in a folder that exists and can be written"
        raise StoreError(f"no file can be made at {path}: {error.strerror}", hint=hint) from error
    try:
        with said_plainly(path), closing(sqlite3.connect(path)) as connection:
            connection.execute("PRAGMA journal_mode = WAL")
        _migrate(path, patience)
    except BaseException:
        path.unlink()
        raise
    return Store(path=path, engine=_engine(path, patience))


def open_store(
    where: str | Path, *, patience: float = PATIENCE, before_change: Callable[[Path], None] | None = None
) -> Store:
    """Open an existing database, bringing an older one to the newest schema first.

    ``patience`` is how long to wait for another writer, in seconds. Bringing it to a newer schema is a change,
    too, that ``before_change`` is called ahead of.

    Raises
    ------
    StoreError
        If it is missing, not the tracker's, of a newer schema (it is left untouched), or cannot be brought to
        the newest one.
    """
    path = _path(where)
    if not path.is_file():
        hint = "make one with 'tracker new', or name another with --db"
        raise StoreError(f"there is no database at {path}", hint=hint)
    store = Store(path=path, engine=_engine(path, patience), before_change=before_change)
    with reading(store) as connection:
        version = schema_version(connection)
        mark = connection.exec_driver_sql("PRAGMA application_id").scalar_one()
    if mark != APPLICATION:
        hint = "name the tracker's database with --db, or make a new one with 'tracker new'"
        raise StoreError(f"{path} is not a database of the tracker", hint=hint)
    if version > LATEST:
        message = f"{path} was written by a newer tracker (schema {version}, this one knows {LATEST})"
        raise StoreError(message, hint="upgrade tracker; the file was not changed")
    if version < LATEST:
        _migrate(path, patience, before_change)
    return store


@contextmanager
def reading(store: Store) -> Iterator[Connection]:
    """One consistent view of the database, whatever others write meanwhile."""
    with said_plainly(store.path), store.engine.connect() as connection:
        yield connection


@contextmanager
def writing(store: Store) -> Iterator[Transaction]:
    """All or nothing: leaving the block commits, an error in it takes everything back.

    It is begun for writing before it reads, so no other writer comes between reading and writing.

    Raises
    ------
    StoreError
        If another writer does not finish in time, or the file cannot be written.
    """
    with said_plainly(store.path), _for_writing(store.engine) as connection:
        ahead = partial(store.before_change, store.path) if store.before_change else None
        transaction = Transaction(connection, ahead)
        yield transaction
        transaction.close_entry()


@contextmanager
def _for_writing(engine: Engine) -> Iterator[Connection]:
    with engine.connect().execution_options(**{_BEGIN: "BEGIN IMMEDIATE"}) as connection, connection.begin():
        yield connection


def _path(where: str | Path) -> Path:
    return Path(database_url(str(where)).database or "")


def _migrate(path: Path, patience: float, before_change: Callable[[Path], None] | None = None) -> None:
    with said_plainly(path), _for_writing(_engine(path, patience, keys=False)) as connection:
        if before_change:
            before_change(path)
        migrate(connection, path)


def _engine(path: Path, patience: float, *, keys: bool = True) -> Engine:
    """An engine whose transactions are SQLite's own: the driver begins none behind our back."""
    engine = create_engine(
        URL.create("sqlite", database=str(path)),
        poolclass=NullPool,
        connect_args={"timeout": patience, "isolation_level": None},
    )

    def set_up(connection: sqlite3.Connection, _entry: ConnectionPoolEntry) -> None:
        connection.execute(f"PRAGMA foreign_keys = {int(keys)}")
        connection.execute("PRAGMA synchronous = FULL")

    def begin(connection: Connection) -> None:
        connection.exec_driver_sql(connection.get_execution_options().get(_BEGIN, "BEGIN"))

    event.listen(engine, "connect", set_up)
    event.listen(engine, "begin", begin)
    return engine
