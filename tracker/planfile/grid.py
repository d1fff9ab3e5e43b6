"""A spreadsheet's cells as plain values, whatever kind of file they came from."""

from dataclasses import dataclass
from datetime import date, datetime, time

Value = str | int | float | bool | date | datetime | time | None
_LETTERS = 26


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """One sheet: ``rows[0]`` is row 1 of the sheet, its first value column A; rows may differ in length.

    Text is as typed, blanks around it included; a formula stands for the value last worked out, and
    ``formulas`` names the cells (row, column, both from 0) whose formula has no such value.
    ``merged`` are blocks of cells that were one: first row, first column, last row, last column, from 0 and
    inclusive; only the first cell of a block holds its value.
    """

    sheet: str
    rows: tuple[tuple[Value, ...], ...]
    merged: tuple[tuple[int, int, int, int], ...] = ()
    formulas: frozenset[tuple[int, int]] = frozenset()


def column_letters(column: int) -> str:
    """The letters of a column counted from 0.

    Examples
    --------
    >>> column_letters(0), column_letters(25), column_letters(26)
    ('A', 'Z', 'AA')
    """
    letters = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, _LETTERS)
        letters = chr(ord("A") + rest) + letters
    return letters


def cell_name(row: int, column: int) -> str:
    """The name of a cell, row and column counted from 0.

    Examples
    --------
    >>> cell_name(8, 5)
    'F9'
    """
    return f"{column_letters(column)}{row + 1}"
