"""What can be done inside a transaction: open a diary entry, save a plan, undo an entry."""

import json
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from datetime import UTC, date, datetime

from sqlalchemy import Connection, func, insert, select, update

from tracker.errors import Refused
from tracker.plan.diary import Entry, RowChange
from tracker.plan.model import Fact, Plan
from tracker.store.diary import read_changes
from tracker.store.difference import differences, stored_rows, write
from tracker.store.difference import insert as insert_rows
from tracker.store.load import fact_entries, has_plan, load_plan
from tracker.store.rows import fact_rows, rows_that_differ
from tracker.store.schema import TABLES
from tracker.store.undo import entry_to_undo, reverting, with_undoer


class Transaction:
    """A transaction begun for writing; made by ``writing``, which commits it or takes it back."""

    def __init__(self, connection: Connection, before_change: Callable[[], None] | None = None) -> None:
        self.connection = connection
        self._before_change = before_change
        self._entry: int | None = None
        self.entry_day: date | None = None
        """The day the entry begun last counts from."""

    def load(self) -> Plan | None:
        """The plan as it stands now, with what this transaction has saved; None before a run is entered."""
        return load_plan(self.connection) if has_plan(self.connection) else None

    @contextmanager
    def step(self) -> Iterator[None]:
        """A part of the transaction that is taken back whole where it fails."""
        open_before = self._entry
        try:
            with self.connection.begin_nested():
                yield
        except BaseException:
            self._entry = open_before
            raise

    def begin_entry(self, command: str, day: date, at: datetime) -> int:
        """Open the next diary entry and close the one before; everything saved from here on belongs to it.

        The entry day is ``day``, or the previous entry's day where that is later. ``at`` is kept in UTC.
        """
        return self._begin(command, day, at, undoes=None)

    def save(self, before: Plan | None, after: Plan) -> None:
        """Store ``after``, where ``before`` is what is stored now; only rows that differ are written.

        Raises
        ------
        Refused
            If facts of ``before`` are missing or changed in ``after`` (only an undo takes a fact back), or no
            entry is open.
        """
        if self._entry is None:
            raise Refused("nothing can be saved outside a diary entry", hint="open an entry first")
        known = before.facts if before else ()
        if after.facts[: len(known)] != known:
            hint = "take a logged fact back with 'tracker undo'"
            raise Refused(
                "facts already logged would change; new ones can only be added at the end", hint=hint
            )
        wished = rows_that_differ(before, after)
        write(
            self.connection,
            [
                change
                for table, rows in wished.items()
                for change in differences(self.connection, table, rows)
            ],
        )
        insert_rows(self.connection, "fact", fact_rows(after.facts[len(known) :], self._entry))

    def no_facts(self, number: int) -> Refused:
        """Why entry ``number`` has no fact to correct; an entry that is missing or undone is refused at once."""
        entry = entry_to_undo(self.connection, number)
        changes = read_changes(self.connection, since=number, corrected="fact").get(number, ())
        corrected = [change.before["entry"] for change in changes if change.before]
        hint = f"change the plan with 'tracker set', or take the entry back: tracker undo {number}"
        if corrected:
            hint = f"fix the entry it corrected: tracker fix {corrected[0]} ..."
        return Refused(f"entry {number} ({entry.command}) logged nothing that could be fixed", hint=hint)

    def correct(self, place: int, fact: Fact) -> None:
        """Put ``fact`` in the place of a logged one; ``place`` counts among the plan's facts, from 0.

        The diary keeps what it said before under the open entry; the entry that logged it stays the same.
        """
        table = TABLES["fact"].c
        ids = self.connection.execute(select(table.id).order_by(table.id)).scalars().all()
        (before,) = stored_rows(self.connection, "fact", "id = ?", (ids[place],))
        (row,) = fact_rows((fact,), int(before["entry"] or 0))
        change = RowChange(table="fact", key=str(ids[place]), before=before, after={**before, **row})
        write(self.connection, [change])

    def corrected_since(self, entry: int) -> bool:
        """Whether any entry after ``entry`` corrected a logged fact."""
        return bool(read_changes(self.connection, since=entry + 1, corrected="fact"))

    def record_dates(self, entry: int, dates: Mapping[str, date], printed_for: date) -> None:
        """Keep on ``entry`` the shipment dates its command printed, by shipment code, and their status date."""
        table = TABLES["entry"]
        shipments = json.dumps({code: day.isoformat() for code, day in dates.items()})
        kept = update(table).where(table.c.number == entry)
        self.connection.execute(kept.values(shipments=shipments, printed_for=printed_for))

    def fact_entries(self) -> list[int]:
        """For each fact, in the order of the plan's facts, the entry that logged it."""
        return fact_entries(self.connection)

    def undo(self, number: int | None, command: str, day: date, at: datetime) -> Entry:
        """Revert entry ``number`` by a new entry and give it back as undone.

        None means the last entry that is neither an undo nor undone. Undoing an undo does its entry again.

        Raises
        ------
        Refused
            If there is no such entry, it is undone already, or later entries rest on it; the message names
            them.
        """
        entry = entry_to_undo(self.connection, number)
        changes = reverting(self.connection, entry)
        undoer = self._begin(command, day, at, undoes=entry.number)
        write(self.connection, changes)
        return with_undoer(entry, undoer)

    def close_entry(self) -> None:
        """Close the open entry, if any; rows are refused until another is opened."""
        if self._entry is not None:
            table = TABLES["entry"]
            self.connection.execute(update(table).where(table.c.number == self._entry).values(is_open=False))
            self._entry = None

    def _begin(self, command: str, day: date, at: datetime, *, undoes: int | None) -> int:
        self.close_entry()
        table = TABLES["entry"]
        last_day = self.connection.execute(select(func.max(table.c.day))).scalar_one()
        if last_day is not None and self._before_change is not None:
            self._before_change()
        self._before_change = None
        self.entry_day = max(day, last_day or day)
        row = {
            "at": at.astimezone(UTC).isoformat(timespec="seconds"),
            "day": self.entry_day,
            "command": command,
            "undoes": undoes,
            "shipments": "{}",
            "is_open": True,
        }
        number: int = self.connection.execute(insert(table).returning(table.c.number), row).scalar_one()
        self._entry = number
        return number
