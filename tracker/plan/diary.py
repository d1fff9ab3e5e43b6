"""The diary as frozen values: numbered entries, and the rows each of them changed."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

Cell = str | int | None
Row = Mapping[str, Cell]


@dataclass(frozen=True, slots=True, kw_only=True)
class RowChange:
    """One stored row before and after an entry; ``before`` is None for a new row, ``after`` for a removed one.

    Cells are as stored: dates in ISO form, yes and no as 1 and 0. ``key`` names the row within its table, such
    as ``boxes`` or ``boxes 2``.
    """

    table: str
    key: str
    before: Row | None
    after: Row | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One command that logged or edited something.

    ``at`` is the UTC time in ISO form, ``day`` the entry day (never before the previous entry's). ``undoes`` is
    the entry this one reverts; ``undone_by`` the entry that reverts this one now, None once that one is itself
    undone. ``shipments`` are the shipment dates the command printed, ``printed_for`` the status date it printed them
    for, None where none were printed or that was not kept yet; ``changes`` is filled only when asked for.
    """

    number: int
    at: str
    day: date
    command: str
    undoes: int | None = None
    undone_by: int | None = None
    shipments: tuple[tuple[str, date], ...] = ()
    printed_for: date | None = None
    changes: tuple[RowChange, ...] = ()
