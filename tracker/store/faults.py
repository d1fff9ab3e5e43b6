"""What the database complains of, said in one sentence with a remedy."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy.exc import DBAPIError

from tracker.errors import StoreError

_LOOK = "the file is unchanged; look at its rights and those of its folder"
_SAID = {
    "SQLITE_BUSY": ("another tracker is writing to {path}; nothing was written", "try again in a moment"),
    "SQLITE_LOCKED": ("another tracker is writing to {path}; nothing was written", "try again in a moment"),
    "SQLITE_READONLY": ("{path} or its folder cannot be written, which even reading needs", _LOOK),
    "SQLITE_CANTOPEN": ("{path} cannot be opened", _LOOK),
    "SQLITE_PERM": ("{path} cannot be opened", _LOOK),
    "SQLITE_AUTH": ("{path} cannot be opened", _LOOK),
    "SQLITE_FULL": (
        "the disk is full; nothing was written to {path}",
        "make room and give the command again",
    ),
    "SQLITE_IOERR": (
        "the disk refused to read or write {path}; nothing was written",
        "look whether the disk is full or failing, then give the command again",
    ),
    "SQLITE_NOTADB": (
        "{path} is not an SQLite database",
        "name the tracker's database with --db, or make a new one with 'tracker new'",
    ),
    "SQLITE_CORRUPT": ("{path} is damaged", "put back a copy of the file from before"),
    "SQLITE_CONSTRAINT": (
        "{path} refuses a row: {reason}; nothing was written",
        "put the value named right and give the command again",
    ),
}


@contextmanager
def said_plainly(path: Path) -> Iterator[None]:
    """Turn what the database at ``path`` raises inside the block into a sentence.

    Raises
    ------
    StoreError
        In place of any database error; other errors pass as they are.
    """
    try:
        yield
    except DBAPIError as error:
        raise _sentence(path, error.orig or error) from error
    except sqlite3.Error as error:
        raise _sentence(path, error) from error


def _sentence(path: Path, error: BaseException) -> StoreError:
    name = getattr(error, "sqlite_errorname", "")
    for start, (message, hint) in _SAID.items():
        if name.startswith(start):
            return StoreError(message.format(path=path, reason=_reason(error)), hint=hint)
    return StoreError(f"{path}: the database says '{error}'; nothing was written", hint=_LOOK)


def _reason(error: BaseException) -> str:
    """The constraint's own sentence, without the database's preamble."""
    text = str(error)
    if text.startswith("FOREIGN KEY"):
        return "it names something that is not there, or something still names what was to go"
    return text.removeprefix("CHECK constraint failed: ")
