"""The plan as the diary rebuilds it, entry by entry, from the rows each entry changed."""

from bisect import bisect
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date
from functools import cache
from typing import Any

from sqlalchemy import Connection

from tracker.plan.diary import Entry, Row, RowChange
from tracker.plan.model import Fact, Job, Plan
from tracker.store.diary import read_diary
from tracker.store.pieces import EMPTY_WHEN_ABSENT, NOT_OF_FACTS, PIECES, Values, order_of
from tracker.store.schema import TABLES


class Replay:
    """Goes through the diary once, forward; pieces of the plan that an entry leaves alone are the same objects.

    Parameters
    ----------
    entries : sequence of Entry
        The whole diary, oldest first, with its row changes.
    """

    def __init__(self, entries: Sequence[Entry]) -> None:
        self.entries = tuple(entries)
        self._gone_through = 0
        self._rows: dict[str, dict[str, Row]] = {table: {} for table in TABLES}
        self._facts: dict[int, Fact] = {}
        self._plan: Plan | None = None
        self._stale = set(PIECES)
        self._stale_jobs: set[str] = set()

    def plan_after(self, count: int) -> Plan | None:
        """The plan as the first ``count`` entries left it; None before a run was entered.

        Counts may only grow from call to call.
        """
        assert count >= self._gone_through  # noqa: S101 - the rows gone through are not kept
        for entry in self.entries[self._gone_through : count]:
            self._go_through(entry)
        self._gone_through = count
        return self._built()

    @property
    def gone_through(self) -> tuple[Entry, ...]:
        """The entries up to where it stands."""
        return self.entries[: self._gone_through]

    def fact_ids(self) -> list[int]:
        """The rows of the plan's facts, in their order, where it stands."""
        return sorted(self._facts)

    def fact_entries(self) -> list[int]:
        """For each fact, in the order of the plan's facts, the entry that logged it."""
        return [int(self._rows["fact"][str(number)]["entry"] or 0) for number in self.fact_ids()]

    def entries_by(self, day: date) -> int:
        """How many entries were made on or before ``day``."""
        return bisect(self.entries, day, key=lambda entry: entry.day)

    def entries_told(self, day: date) -> int:
        """How many entries there were when backers were told something on ``day``: up to the one that logged it.

        All entries made by then where it was only logged later, or read in with a plan.
        """
        told = [place for place, entry in enumerate(self.entries) if entry.day == day and _tells(entry, day)]
        return told[-1] + 1 if told else self.entries_by(day)

    def _go_through(self, entry: Entry) -> None:
        for change in entry.changes:
            self._change(change, self._rows[change.table])
            self._stale.update(_pieces_of(change.table))
            if "jobs" in _pieces_of(change.table):
                rows = (row for row in (change.before, change.after) if row is not None)
                self._stale_jobs.update(_job_of(change.table, row) for row in rows)

    def _change(self, change: RowChange, rows: dict[str, Row]) -> None:
        if change.after is None:
            rows.pop(change.key, None)
        else:
            rows[change.key] = change.after
        if change.table == "fact":
            self._facts.pop(int(change.key), None)
            if change.after is not None:
                self._facts[int(change.key)] = fact_of(change.after)

    def _built(self) -> Plan | None:
        if not self._rows["run"]:
            self._plan, self._stale = None, set(PIECES)
        elif self._stale:
            new = {piece: self._piece(piece) for piece in self._stale}
            self._plan = replace(self._plan, **new) if self._plan else Plan(**new)
            self._stale, self._stale_jobs = set(), set()
        return self._plan

    def _piece(self, piece: str) -> Any:
        if piece == "facts":
            return tuple(self._facts[number] for number in self.fact_ids())
        if piece == "jobs" and self._plan is not None:
            return self._jobs(self._plan)
        return PIECES[piece][0](self._read)

    def _jobs(self, plan: Plan) -> tuple[Job, ...]:
        """The jobs, those built anew that an entry touched."""
        touched = self._stale_jobs

        def read(table: str, without: tuple[str, ...] = ()) -> list[Values]:
            return self._read(table, without, lambda row: _job_of(table, row) in touched)

        made = {job.code: job for job in PIECES["jobs"][0](read)}
        codes = (str(row["code"]) for row in self._in_order("job"))
        return tuple(made.get(code) or plan.job_by_code[code] for code in codes)

    def _in_order(self, table: str) -> list[Row]:
        order = order_of(table)
        return sorted(self._rows[table].values(), key=lambda row: tuple(row[name] for name in order))

    def _read(
        self, table: str, without: tuple[str, ...] = (), wanted: Callable[[Row], bool] = lambda _: True
    ) -> list[Values]:
        return [_values(table, row, (*without, "place")) for row in self._in_order(table) if wanted(row)]


@cache
def _pieces_of(table: str) -> tuple[str, ...]:
    return tuple(piece for piece, (_, tables) in PIECES.items() if table in tables)


def _job_of(table: str, row: Row) -> str:
    return str(row["code"] if table == "job" else row["job"])


def _tells(entry: Entry, day: date) -> bool:
    """Whether the entry logged that something was told on its own day."""
    rows = (change.after for change in entry.changes if change.table == "fact" and change.after is not None)
    return any(row["kind"] == "told" and row["on"] == day.isoformat() for row in rows)


def fact_of(row: Row) -> Fact:
    """The fact that a row kept in the diary stands for."""
    return Fact(**_values("fact", row, NOT_OF_FACTS))


def read_replay(connection: Connection) -> Replay:
    """The whole diary, ready to be gone through."""
    return Replay(read_diary(connection, with_changes=True))


def _values(table: str, row: Row, without: Iterable[str]) -> Values:
    """A row as kept in the diary, as reading its table would give it."""
    return {
        name: made(row.get(name, absent))
        for name, (made, absent) in _cells(table).items()
        if name not in without
    }


@cache
def _cells(table: str) -> Mapping[str, tuple[Callable[[Any], Any], Any]]:
    """For each column how a kept cell becomes a value, and the cell of rows older than the column."""
    return {column.name: (_maker(column), _default(column)) for column in TABLES[table].columns}


def _maker(column: Any) -> Callable[[Any], Any]:
    absent = "" if column.name in EMPTY_WHEN_ABSENT else None
    kind = column.type.python_type
    make = date.fromisoformat if kind is date else bool if kind is bool else (lambda cell: cell)
    return lambda cell: absent if cell is None else make(cell)


def _default(column: Any) -> Any:
    """What the database gives a row that leaves the column out."""
    if column.server_default is None:
        return None
    text = str(column.server_default.arg)
    return text[1:-1] if text.startswith("'") else int(text)
