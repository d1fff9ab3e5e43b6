"""Dated copies of the database, each as it stood before that day's first write.

They lie in a folder beside the database that bears its whole file name, so that two databases in one folder keep
theirs apart: ``tracker.sqlite.copies/tracker-2026-11-25.sqlite``. A copy is a database like any other.
"""

import re
import shutil
import sqlite3
from contextlib import closing, suppress
from datetime import date, timedelta
from pathlib import Path

from tracker.errors import StoreError
from tracker.store.database import PATIENCE

KEEP_DAYS = 30


def copies_folder(store_path: Path) -> Path:
    """The folder of the database's copies, beside the file itself where ``store_path`` is a link to it."""
    database = store_path.resolve()
    return database.with_name(f"{database.name}.copies")


def copy_for_day(
    store_path: Path, day: date, *, keep_days: int = KEEP_DAYS, patience: float = PATIENCE
) -> Path | None:
    """Copy what is committed, unless there is a copy of ``day``; then forget those over ``keep_days`` old.

    A transaction of the caller that is begun for writing keeps two commands from copying at once and leaves
    the copy without what it has changed so far. Ages are calendar days: one of exactly ``keep_days`` stays, and
    so does one dated after ``day``. A copy that cannot be deleted is tried again the next day. ``patience`` is
    how long to wait, in seconds, for a program that holds the database even against readers.

    Raises
    ------
    StoreError
        If no copy can be made; nothing half made is left under a copy's name.
    """
    database = store_path.resolve()
    folder = copies_folder(database)
    copy = folder / f"{database.stem}-{day.isoformat()}{database.suffix}"
    try:
        if copy.is_file():
            return None
        folder.mkdir(exist_ok=True)
        _copy_whole(database, copy, patience)
    except (OSError, sqlite3.Error) as error:
        raise StoreError(
            f"the day's copy of the database cannot be made in {folder}: {_reason(error)}",
            hint="put that right, or leave copies out with --no-copy",
        ) from error
    _forget(database, folder, day - timedelta(days=keep_days))
    return copy


def _copy_whole(database: Path, copy: Path, patience: float) -> None:
    """Copy under a passing name, readable to no one but its owner until it is whole, then give it its own."""
    part = copy.with_name(f"{copy.name}.part")
    try:
        part.unlink(missing_ok=True)
        part.touch(mode=0o600, exist_ok=False)
        where = f"{database.as_uri()}?mode=rw"
        with (
            closing(sqlite3.connect(where, uri=True, timeout=patience)) as source,
            closing(sqlite3.connect(part)) as target,
        ):
            target.execute("PRAGMA journal_mode = OFF")
            source.backup(target, progress=_stop_when_busy)
        shutil.copymode(database, part)
        part.replace(copy)
    finally:
        part.unlink(missing_ok=True)


def _stop_when_busy(status: int, _remaining: int, _total: int) -> None:
    """Give up once the patience of the connection is over; the library by itself would try for ever."""
    if status in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
        raise sqlite3.OperationalError("another program holds the database")


def _forget(database: Path, folder: Path, first_kept: date) -> None:
    """Delete copies of earlier days, and parts of such that a crash left; whatever has another name stays."""
    form = re.compile(
        rf"{re.escape(database.stem)}-([0-9]{{4}}-[0-9]{{2}}-[0-9]{{2}}){re.escape(database.suffix)}(\.part)?"
    )
    with suppress(OSError):
        for path in list(folder.iterdir()):
            found = form.fullmatch(path.name)
            if found and _is_before(found[1], first_kept) and path.is_file() and not path.is_symlink():
                with suppress(OSError):
                    path.unlink()


def _is_before(written: str, day: date) -> bool:
    """Whether it is a day of the calendar, and an earlier one."""
    try:
        return date.fromisoformat(written) < day
    except ValueError:
        return False


def _reason(error: OSError | sqlite3.Error) -> str:
    if isinstance(error, FileExistsError):
        return "a file is in the way of that folder"
    return (error.strerror if isinstance(error, OSError) else "") or str(error)
