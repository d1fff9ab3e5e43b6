"""Which table of a maker's own workbook is meant, and what its columns hold."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from sqlalchemy import Connection

from tracker.cli.session import paper, say
from tracker.errors import Refused, UsageError
from tracker.plan.model import Plan
from tracker.render.words import plural
from tracker.sheet.answers import Answers
from tracker.sheet.guessing import NEEDED, columns_from_words, guess_columns
from tracker.sheet.model import Guess, SheetTable
from tracker.store.sheet_readings import remembered

_TELLING = (*NEEDED, "after")
_FAR = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """A table, what its columns are taken to hold, and what was remembered of an earlier read (None: nothing)."""

    table: SheetTable
    guess: Guess
    known: Mapping[str, str] | None

    @property
    def key(self) -> str:
        """What a sheet is known again by: its headings as they stand, units in brackets too, capitals aside."""
        return " | ".join(" ".join(heading.casefold().split()) for heading in self.table.headings)

    @property
    def roles(self) -> Mapping[str, str]:
        """What each heading holds, ``""`` for one not read; of several alike the one that is read."""
        roles: dict[str, str] = {}
        for at, heading in enumerate(self.table.headings):
            if heading and not roles.get(heading):
                roles[heading] = self.guess.roles.get(at, "")
        return roles


def choose(
    tables: Sequence[SheetTable], answers: Answers, plan: Plan, connection: Connection, source: str
) -> Choice:
    """The table named, the only one, or the one that fits by far the best, with its columns guessed.

    Raises
    ------
    Refused
        If the workbook holds no table.
    UsageError
        If the sheet named is not there, or several tables fit alike.
    """
    if not tables:
        raise Refused(
            f"{source} holds no table with headings",
            hint="give it one row of headings, such as: Item, Supplier, Lead time, Needs, Quantity",
        )
    suppliers = [name for one in plan.suppliers for name in (one.code, one.name) if name]
    choices = [_guessed(table, suppliers, connection) for table in _named(tables, answers.sheet, source)]
    chosen = _best(choices, source)
    if not answers.columns:
        return chosen
    guess = columns_from_words(
        chosen.table, answers.columns, known_suppliers=suppliers, remembered=chosen.known
    )
    return Choice(table=chosen.table, guess=guess, known=chosen.known)


def _guessed(table: SheetTable, suppliers: Collection[str], connection: Connection) -> Choice:
    blank = Choice(table=table, guess=Guess(roles={}, sure=False), known=None)
    known = remembered(connection, blank.key)
    guess = guess_columns(table, known_suppliers=suppliers, remembered=known)
    return Choice(table=table, guess=guess, known=known)


def _named(tables: Sequence[SheetTable], name: str, source: str) -> Sequence[SheetTable]:
    """The tables of the sheet called ``name``, all without one; a number behind it is the row of the headings."""
    if not name:
        return tables
    wanted = name.lower()
    found = [table for table in tables if table.sheet.strip().lower() == wanted]
    if not found:
        wanted, _, row = wanted.rpartition(" ")
        found = [
            table
            for table in tables
            if table.sheet.strip().lower() == wanted and str(table.heading_row) == row
        ]
    if not found:
        raise UsageError(f"{source} has no table on a sheet '{name}'", hint=f"its tables: {_listed(tables)}")
    return found


def _best(choices: Sequence[Choice], source: str) -> Choice:
    ranked = sorted(choices, key=_fit, reverse=True)
    if len(ranked) == 1:
        return ranked[0]
    best, second = ranked[:2]
    if _fit(best) - _fit(second) < _FAR:
        first = best.table
        hint = f"name one, such as: sheet {first.sheet} {first.heading_row}"
        raise UsageError(
            f"{source} has several tables that could be meant: {_listed([one.table for one in ranked])}",
            hint=hint,
        )
    others = [choice.table for choice in ranked[1:]]
    sheet = paper()
    sheet.line(
        f"of {plural(len(ranked), 'table')} {_name(best.table)} fits best; not read: {_listed(others)}"
    )
    say(sheet.text())
    return best


def _fit(choice: Choice) -> int:
    return len(set(_TELLING) & set(choice.guess.roles.values()))


def _listed(tables: Sequence[SheetTable]) -> str:
    return ", ".join(f"{_name(table)} with {plural(len(table.rows), 'row')}" for table in tables)


def _name(table: SheetTable) -> str:
    return f"sheet {table.sheet} (headings in row {table.heading_row})"
