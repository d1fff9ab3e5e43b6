"""The diary: every command that changed something, numbered."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from tracker.plan.diary import Entry


@dataclass(frozen=True, slots=True, kw_only=True)
class DiaryRow:
    """One entry with the shipment dates it printed; ``at`` is UTC."""

    number: int
    at: str
    day: date
    today: date
    command: str
    undoes: int | None
    undone_by: int | None
    shipments: tuple[tuple[str, date], ...]


def diary_rows(entries: Sequence[Entry], today: date, word: str = "") -> tuple[DiaryRow, ...]:
    """Entries newest first; ``word`` keeps those whose command holds it, or whose rows name it as a code.

    Row changes must have been loaded with the entries for the latter.
    """
    return tuple(
        DiaryRow(
            number=entry.number,
            at=entry.at,
            day=entry.day,
            today=today,
            command=entry.command,
            undoes=entry.undoes,
            undone_by=entry.undone_by,
            shipments=tuple(dict(entry.shipments).items()),
        )
        for entry in sorted(entries, key=lambda one: -one.number)
        if not word or word.lower() in entry.command.lower().split() or _names(entry, word.lower())
    )


def entries_by(entries: Sequence[Entry], day: date) -> tuple[Entry, ...]:
    """The entries made by a day, as the diary had them then: what was undone later stands."""
    made = [entry for entry in entries if entry.day <= day]
    last = made[-1].number if made else 0
    return tuple(replace(entry, undone_by=None) if (entry.undone_by or 0) > last else entry for entry in made)


def _names(entry: Entry, code: str) -> bool:
    """Whether any row the entry changed holds ``code`` as a whole value."""
    rows = (row for change in entry.changes for row in (change.before, change.after) if row is not None)
    return any(isinstance(cell, str) and cell.lower() == code for row in rows for cell in row.values())
