"""Undoing: which entry, what would have to change back, and what rests on it."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from sqlalchemy import Column, Connection

from tracker.errors import Refused
from tracker.plan.diary import Entry, RowChange
from tracker.store.diary import read_changes, read_diary
from tracker.store.difference import row_of, stored_rows
from tracker.store.schema import PLAN_TABLES, TABLES, key_of

MOST_NAMED = 3

_Name = tuple[str, str]


def entry_to_undo(connection: Connection, number: int | None) -> Entry:
    """The entry meant: ``number``, or for None the last that is neither an undo nor undone.

    Raises
    ------
    Refused
        If there is none, or it is undone already.
    """
    diary = read_diary(connection)
    if number is None:
        for entry in reversed(diary):
            if entry.undoes is None and entry.undone_by is None:
                return entry
        raise Refused("there is nothing to undo", hint="see what was entered with 'tracker diary'")
    found = next((entry for entry in diary if entry.number == number), None)
    if found is None:
        known = f"entries run from {diary[0].number} to {diary[-1].number}" if diary else "the diary is empty"
        raise Refused(f"there is no entry {number}; {known}", hint="find its number with 'tracker diary'")
    if found.undone_by is not None:
        hint = f"do it again with 'tracker undo {found.undone_by}'"
        raise Refused(
            f"entry {number} ({found.command}) is already undone by entry {found.undone_by}", hint=hint
        )
    return found


def reverting(connection: Connection, entry: Entry) -> list[RowChange]:
    """The row changes that take ``entry`` back; a row moved in its order since keeps its new place.

    Raises
    ------
    Refused
        If later entries changed the same rows, refer to rows it added, or removed what its old rows refer to.
    """
    changes = read_changes(connection, since=entry.number)
    made = _folded(changes.pop(entry.number, ()))
    back = [_reversed(connection, change) for change in made]
    names = _touched(made) | _children(connection, made) | _lost_parents(connection, back)
    resting = [
        later
        for later in _in_effect_after(connection, entry.number)
        if names & _touched(change for change in changes.get(later.number, ()) if not _only_moved(change))
    ]
    if resting:
        raise _refusal(entry, resting)
    return back


def with_undoer(entry: Entry, undoer: int) -> Entry:
    """The entry as the diary shows it once ``undoer`` has reverted it."""
    return replace(entry, undone_by=undoer)


def _in_effect_after(connection: Connection, number: int) -> Iterator[Entry]:
    """Later entries, less those undone and those that undo a later one: such a pair leaves no trace."""
    for entry in read_diary(connection):
        if entry.number > number and entry.undone_by is None and (entry.undoes or 0) <= number:
            yield entry


def _folded(changes: Iterable[RowChange]) -> list[RowChange]:
    """One change a row: from before the first to after the last; rows that came and went are left out."""
    found: dict[_Name, RowChange] = {}
    for change in changes:
        name = (change.table, change.key)
        earlier = found.get(name)
        found[name] = replace(change, before=earlier.before) if earlier else change
    return [change for change in found.values() if change.before != change.after]


def _reversed(connection: Connection, change: RowChange) -> RowChange:
    """The change back; where a row stays, only the columns the change touched."""
    if change.before is None or change.after is None:
        return replace(change, before=change.after, after=change.before)
    now = row_of(connection, change.table, change.after) or change.after
    old = {name: cell for name, cell in change.before.items() if cell != change.after.get(name)}
    return replace(change, before=now, after={**now, **old})


def _only_moved(change: RowChange) -> bool:
    """Whether nothing but the row's place in the order changed."""
    if change.before is None or change.after is None:
        return False
    return {**change.before, "place": None} == {**change.after, "place": None}


def _touched(changes: Iterable[RowChange]) -> set[_Name]:
    return {(change.table, change.key) for change in changes}


def _children(connection: Connection, made: Sequence[RowChange]) -> set[_Name]:
    """Rows that refer to rows which would go."""
    found: set[_Name] = set()
    for change in made:
        if change.before is None and change.after is not None:
            for table, column, parent in _references():
                if parent.table.name == change.table:
                    rows = stored_rows(connection, table, f'"{column}" = ?', (change.after[parent.name],))
                    found.update((table, key_of(table, row)) for row in rows)
    return found


def _lost_parents(connection: Connection, back: Sequence[RowChange]) -> set[_Name]:
    """Rows that rows brought back would refer to, but which are gone."""
    wanted = {
        (parent.table.name, str(change.after[column]))
        for change in back
        for table, column, parent in _references()
        if change.after is not None and table == change.table and change.after.get(column) is not None
    }
    return {
        (table, code) for table, code in wanted if not stored_rows(connection, table, "code = ?", (code,))
    }


def _references() -> Iterator[tuple[str, str, Column[str]]]:
    """Every reference between plan tables: table, column, and the column referred to (always a code)."""
    for table in PLAN_TABLES:
        for key in TABLES[table].foreign_keys:
            if key.column.table.name in PLAN_TABLES:
                yield table, key.parent.name, key.column


def _refusal(entry: Entry, resting: Sequence[Entry]) -> Refused:
    named = " and ".join(f"entry {later.number} ({later.command})" for later in resting[-MOST_NAMED:])
    if len(resting) > MOST_NAMED:
        named = f"{len(resting) - MOST_NAMED} entries, and last of all {named}"
    verb = "rests" if len(resting) == 1 else "rest"
    first = "it" if len(resting) == 1 else "them, the last one"
    return Refused(
        f"entry {entry.number} ({entry.command}) cannot be undone: {named} {verb} on it",
        hint=f"undo {first} first: 'tracker undo {resting[-1].number}'",
    )
