"""One table of a plan as a sheet: headings that stay in sight, rows, and checks on what is typed."""

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

from tracker.render.plan_book_checks import add_checks
from tracker.render.plan_book_shape import Column, Sheet
from tracker.render.workbook_sheet import put_row, set_height, set_page, set_widths
from tracker.render.workbook_styles import DAY, DAY_FORMAT, HEAD, TEXT

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

_FIRST, _ROOM, _SPARE = 2, 499, 200
_LOOKS_ODD = ("=", "+", "-", "@", "'")
_FORMATS = {"date": DAY_FORMAT, "date or flag": DAY_FORMAT, "whole": "0", "number": "General"}
_DAY_WIDTH, _NARROW, _WIDE, _ARROW, _EXAMPLE = 15.5, 7, 40, 3, 16
_HIGHEST = 400
_KEPT_IN_SIGHT = "kind"


def fill_sheet(sheet: "Worksheet", table: Sheet, title: str) -> None:
    """Write headings and rows; rows below them are ready to be typed in, as text where text belongs."""
    columns = table.columns
    put_row(sheet, 1, [column.key for column in columns], [HEAD] * len(columns))
    widths = [_width(column, [row[at] for row in table.rows]) for at, column in enumerate(columns)]
    for row, values in enumerate(table.rows, start=_FIRST):
        for column, value in enumerate(values, start=1):
            _put(sheet, row, column, value)
        set_height(sheet, row, [value if isinstance(value, str) else "" for value in values], widths)
        sheet.row_dimensions[row].height = min(sheet.row_dimensions[row].height or 0, _HIGHEST) or None
    _lay_out(sheet, table, widths)
    set_page(sheet, None, rows="1:1", foot=title)


def _lay_out(sheet: "Worksheet", table: Sheet, widths: Sequence[float]) -> None:
    from openpyxl.styles import Font
    from openpyxl.utils import get_column_letter

    plain = Font(name="Arial", size=10)
    for at, column in enumerate(table.columns, start=1):
        below = sheet.column_dimensions[get_column_letter(at)]
        below.font, below.number_format = plain, _FORMATS.get(column.holds, "@")
        if not column.needed:
            sheet.cell(1, at).font = plain
    set_widths(sheet, widths)
    last = max(_FIRST + _ROOM, _FIRST + len(table.rows) + _SPARE)
    add_checks(sheet, table.columns, _FIRST, last)
    keys = [column.key for column in table.columns]
    kept = keys.index(_KEPT_IN_SIGHT) + 2 if _KEPT_IN_SIGHT in keys else 2
    sheet.freeze_panes = f"{get_column_letter(kept)}{_FIRST}"
    sheet.auto_filter.ref = f"A1:{get_column_letter(len(keys))}{1 + max(1, len(table.rows))}"


def _put(sheet: "Worksheet", row: int, column: int, value: str | float | date | None) -> None:
    """Write a cell exactly as it is: unlike on pages for reading, line breaks and blanks are kept."""
    cell = sheet.cell(row, column)
    cell.style = DAY if isinstance(value, date) else TEXT
    cell.value = value
    if isinstance(value, str):
        cell.data_type = "s"
        cell.number_format = "@"
        cell.quotePrefix = value.startswith(_LOOKS_ODD)


def _width(column: Column, values: Sequence[object]) -> float:
    """As wide as the heading with its filter arrow and the widest line need, within bounds."""
    if column.holds in ("date", "date or flag"):
        return _DAY_WIDTH
    texts = [str(value) for value in values if value is not None]
    lines = [line for text in texts for line in text.splitlines()] or [column.example[:_EXAMPLE]]
    return min(max(_NARROW, len(column.key) + _ARROW, *(len(line) + 1 for line in lines)), _WIDE)
