"""A sheet's filled cells, and the strips of columns in which its tables stand side by side."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from tracker.planfile.grid import Grid, Value
from tracker.sheet.headings import heading_key, roles_of_heading
from tracker.sheet.looks import tidy

Row = Mapping[int, Value]
"""The filled cells of one row by column, both counted from 0, from left to right."""
Block = tuple[int, int, int, int]

_COINCIDE, _ONE_BLANK = 0.9, 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Area:
    """The filled cells of some columns of a sheet, by row; blank rows and columns are simply not there."""

    rows: Mapping[int, Row]
    merged: tuple[Block, ...]

    @property
    def columns(self) -> list[int]:
        """Every column with a filled cell, from the left."""
        return sorted({column for row in self.rows.values() for column in row})

    def within(self, first: int, last: int, rows: Iterable[int] | None = None) -> "Area":
        """The cells of the columns ``first`` to ``last``, both included, of all or some rows."""
        kept = {}
        for at in self.rows if rows is None else rows:
            cells = {column: value for column, value in self.rows[at].items() if first <= column <= last}
            if cells:
                kept[at] = cells
        merged = tuple(one for one in self.merged if first <= one[1] <= last)
        return Area(rows=kept, merged=merged)


def area_of(grid: Grid) -> Area:
    """The filled cells of a sheet, tidied; a formula without a value counts as a number."""
    rows: dict[int, dict[int, Value]] = {}
    for at, values in enumerate(grid.rows):
        cells: dict[int, Value] = {
            column: found for column, value in enumerate(values) if (found := tidy(value)) is not None
        }
        if cells:
            rows[at] = cells
    for at, column in grid.formulas:
        rows.setdefault(at, {})[column] = 0
    ordered = {at: dict(sorted(rows[at].items())) for at in sorted(rows)}
    return Area(rows=ordered, merged=grid.merged)


def strips(area: Area) -> Iterator[Area]:
    """The area cut at its blank columns, from the left.

    One blank column inside a table does not cut it: both sides fill the same rows and no heading of one
    speaks for what a heading of the other holds.
    """
    spans: list[tuple[int, int]] = []
    columns = sorted({*area.columns, *_covered(area)})
    for column in columns:
        gap = column - spans[-1][1] if spans else 0
        if gap == 1 or (gap == _ONE_BLANK and _one_table(area, spans[-1], _run_from(columns, column))):
            spans[-1] = (spans[-1][0], column)
        else:
            spans.append((column, column))
    for first, last in spans:
        if last > first:
            yield area.within(first, last)


def _covered(area: Area) -> set[int]:
    """Columns that only cells merged sideways reach; a title alone in its row joins nothing."""
    return {
        column
        for top, left, _, right in area.merged
        if len(area.rows.get(top, ())) > 1
        for column in range(left, right + 1)
    }


def _run_from(columns: list[int], first: int) -> tuple[int, int]:
    last = first
    while last + 1 in columns:
        last += 1
    return first, last


def _one_table(area: Area, left: tuple[int, int], right: tuple[int, int]) -> bool:
    together = [row for row in area.within(left[0], right[1]).rows.values() if len(row) > 1]
    on_left = {at for at, row in enumerate(together) if any(column <= left[1] for column in row)}
    on_right = {at for at, row in enumerate(together) if any(column >= right[0] for column in row)}
    both = on_left & on_right
    if not both:
        return False
    if right[0] == right[1]:
        return len(both) >= _COINCIDE * len(on_right)
    if len(both) < _COINCIDE * max(len(on_left), len(on_right)):
        return False
    headings = together[min(both)]
    return not _compete(
        [str(headings[column]) for column in headings if column <= left[1]],
        [str(headings[column]) for column in headings if column >= right[0]],
    )


def _compete(left: list[str], right: list[str]) -> bool:
    """Whether two halves of a heading row name the same thing twice."""
    if {heading_key(one) for one in left} & {heading_key(one) for one in right}:
        return True
    return bool(_best_roles(left) & _best_roles(right))


def _best_roles(headings: list[str]) -> set[str]:
    scores = [roles_of_heading(one) for one in headings]
    return {max(found, key=lambda role: found[role]) for found in scores if found}
