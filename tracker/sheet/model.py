"""What was found in a maker's own spreadsheet: tables with headings, and what each column seems to hold."""

from collections.abc import Mapping
from dataclasses import dataclass

from tracker.planfile.grid import Value

ROLES = (
    "item", "code", "supplier", "country", "lead", "after", "quantity", "travel", "not-before", "ordered",
    "promised", "contact", "process", "said", "note",
)  # fmt: skip
"""What a column can hold: ``item`` names the job, ``after`` the items it waits for; ``ordered`` and ``promised`` are dates."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetRow:
    """One row below the headings; ``number`` is as the sheet shows it (from 1), ``cells`` run along the headings."""

    number: int
    cells: tuple[Value, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetTable:
    """A table found on a sheet.

    ``headings`` are trimmed, a merged or two-row heading joined by a blank; ``columns`` gives each heading's
    column in the sheet (from 0); a column without a heading has ``""``. ``heading_row`` is as the sheet shows it
    (from 1), the first of two. Texts are without blanks around them, line breaks inside kept. Blank rows and rows that repeat the headings
    are left out of ``rows``; ``left_out`` are the lines of one cell taken for titles or notes between and below them.
    """

    sheet: str
    heading_row: int
    headings: tuple[str, ...]
    columns: tuple[int, ...]
    rows: tuple[SheetRow, ...]
    left_out: tuple[SheetRow, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Guess:
    """What each column of a table seems to hold, by its place among the headings (from 0).

    ``sure`` tells that every needed role was found by its heading or values alone and nothing competed for it;
    ``doubts`` say why not, one plain sentence each.
    """

    roles: Mapping[int, str]
    sure: bool
    doubts: tuple[str, ...] = ()
