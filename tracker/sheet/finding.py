"""Finding the tables on a maker's own sheets, among titles, notes, blank rows and printed repeats."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from tracker.planfile.grid import Grid
from tracker.sheet.area import Area, Row, area_of, strips
from tracker.sheet.heading_rows import Headings, is_first_heading, is_next_heading, read_headings
from tracker.sheet.model import SheetRow, SheetTable

_NOTE = re.compile(
    r"\*|†|\(|note\b|notes\b|nb\b|n\.b\.|remark|legend\b|key\b|updated|printed|page\b|seite\b", re.IGNORECASE
)
_SENTENCE_WORDS = 8


@dataclass(slots=True, kw_only=True)
class _Found:
    """A heading and the rows (counted from 0) below it, up to the next table."""

    headings: Headings
    rows: list[int] = field(default_factory=list)
    left_out: list[int] = field(default_factory=list)


def find_tables(grids: Iterable[Grid]) -> tuple[SheetTable, ...]:
    """Every table with headings and at least one row, sheet by sheet, from the top and the left.

    A table has two columns or more. Titles above, notes below, blank rows and printed repeats of the headings are
    not among its rows; rows of totals are. A cell merged over several rows of the table counts for each of them.
    """
    return tuple(table for grid in grids for table in _on_sheet(grid))


def _on_sheet(grid: Grid) -> list[SheetTable]:
    tables = [
        _table(part, found, strip, grid)
        for strip in strips(area_of(grid))
        for found in _scan(strip)
        for part in _side_by_side(strip, found)
    ]
    return sorted(
        (table for table in tables if table.rows), key=lambda table: (table.heading_row, table.columns[0])
    )


def _scan(area: Area) -> list[_Found]:
    """The tables of a strip from the top, each with its rows."""
    order = list(area.rows)
    tables: list[_Found] = []
    at = proper = 0
    while at < len(order):
        row = area.rows[order[at]]
        if tables and tables[-1].headings.repeated_by(row):
            _leave_out_titles(area, tables[-1])
            proper = at
        elif _opens(area, order, at, tables, proper):
            headings = read_headings(area, order, at)
            if tables:
                _leave_out_titles(area, tables[-1], headings.first)
            tables.append(_Found(headings=headings))
            at = proper = order.index(headings.last, at)
        elif tables:
            tables[-1].rows.append(order[at])
            proper = at if len(row) > 1 else proper
        at += 1
    for found in tables:
        _leave_out_notes(area, found)
    return tables


def _opens(area: Area, order: Sequence[int], at: int, tables: Sequence[_Found], proper: int) -> bool:
    """Whether a table begins here; ``proper`` is the place of the last row that filled more than one cell."""
    if not tables:
        return is_first_heading(area, order, at)
    gap = any(below - above > 1 for above, below in pairwise(order[proper : at + 1]))
    return is_next_heading(area, order, at, tables[-1].rows, gap=gap, titled=at - proper > 1)


def _leave_out_titles(area: Area, found: _Found, heading: int | None = None) -> None:
    """Take the lines of one cell above other headings, and those headings' own first row, out of a table's rows."""
    while found.rows and (len(area.rows[found.rows[-1]]) == 1 or found.rows[-1] == heading):
        found.left_out.insert(0, found.rows.pop())


def _leave_out_notes(area: Area, found: _Found) -> None:
    """Take notes below a table out of its rows: lines of one cell after a blank row, or that say they are notes."""
    first = len(found.rows)
    while first and len(area.rows[found.rows[first - 1]]) == 1:
        first -= 1
    above = [found.headings.last, *found.rows]
    parted = next(
        (at for at in range(first, len(found.rows)) if above[at + 1] - above[at] > 1), len(found.rows)
    )
    while parted > first and _is_note(area.rows[found.rows[parted - 1]]):
        parted -= 1
    found.left_out += found.rows[parted:]
    del found.rows[parted:]


def _is_note(row: Row) -> bool:
    text = str(next(iter(row.values())))
    return bool(_NOTE.match(text)) or text.endswith(":") or len(text.split()) > _SENTENCE_WORDS


def _side_by_side(area: Area, found: _Found) -> list[Area]:
    """The parts of a table's rows that blank columns part into tables of their own."""
    headings = found.headings
    first, last = min(headings.names), max(headings.names)
    columns = area.columns
    while first - 1 in columns:
        first -= 1
    while last + 1 in columns:
        last += 1
    lines = [at for at in (headings.first, headings.last) if at in area.rows]
    parts = list(strips(area.within(first, last, dict.fromkeys([*lines, *found.rows]))))
    named = [part for part in parts if len(headings.names.keys() & set(part.columns)) > 1]
    return named or parts[:1]


def _table(area: Area, found: _Found, strip: Area, grid: Grid) -> SheetTable:
    """The table of an area that holds its headings and its rows, in a strip that holds its notes, too."""
    columns = tuple(area.columns)
    rows = {at: dict(area.rows[at]) for at in found.rows if at in area.rows}
    for top, left, bottom, _ in area.merged:
        for at in range(top + 1, bottom + 1):
            if top in rows and at in rows and left in rows[top]:
                rows[at].setdefault(left, rows[top][left])
    return SheetTable(
        sheet=grid.sheet,
        heading_row=found.headings.first + 1,
        headings=tuple(found.headings.names.get(column, "") for column in columns),
        columns=columns,
        rows=tuple(_row(at, cells, columns) for at, cells in rows.items()),
        left_out=tuple(
            _row(at, strip.rows[at], columns) for at in found.left_out if strip.rows[at].keys() & set(columns)
        ),
        unworked=frozenset(
            (at + 1, columns.index(column))
            for at, column in grid.formulas
            if at in rows and column in columns
        ),
    )


def _row(at: int, cells: Row, columns: Sequence[int]) -> SheetRow:
    return SheetRow(number=at + 1, cells=tuple(cells.get(column) for column in columns))
