"""The page of a plan workbook to read first: how to fill it in, and what every column means."""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from tracker.render.plan_book_shape import Sheet
from tracker.render.workbook_sheet import put, put_row, set_height, set_page, set_widths
from tracker.render.workbook_styles import HEAD, NOTE, STRONG, TEXT, TITLE

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

_WIDTHS = (17, 15, 19, 84, 42)
_HOW = (
    "Fill the sheets in from left to right: run, supplier, part, job, shipment. The part sheet is for counting pieces; it and the other sheets may stay empty.",
    "Row 1 of each sheet holds the headings; every row below is one entry. Columns with a bold heading are needed.",
    "Select a cell to see what goes there. Blank rows do no harm, columns may stand in any order, and one you do not need may go.",
    "Days have two readings: 12wd is 12 working days of that supplier, 12cd is 12 calendar days.",
    "'12 days' and '3 weeks' are refused, because they can be read both ways: 3 weeks is 15wd or 21cd.",
    "Dates are dates, typed as your spreadsheet takes them (2026-12-04 always works) and shown with their weekday.",
    "Several in one cell are parted by commas.",
    "Then, in a terminal: tracker new makes the database, tracker read plan.xlsx (this file's name) reads it in.",
    "All problems are listed with their cell, and nothing is stored until there are none. Reading again stores what changed.",
    "A row you take out stays in the database until you type: tracker remove CODE",
)
_Cells = tuple[str, str, str, str, str]


def fill_read_me(sheet: "Worksheet", sheets: Sequence[Sheet], title: str) -> None:
    """Write how to begin, then a block a sheet and one of the kinds its rows can be of."""
    put(sheet, 1, 1, f"Plan: {title}" if title else "A plan to fill in", TITLE)
    sheet.row_dimensions[1].height = 26
    for row, text in enumerate(_HOW, start=2):
        put(sheet, row, 1, text, NOTE)
    row = len(_HOW) + 3
    for one in sheets:
        for block in (_columns(one), _kinds(one)):
            for values, styles in block:
                put_row(sheet, row, values, styles)
                set_height(sheet, row, values, _WIDTHS)
                row += 1
            row += 1 if sheet.cell(row - 1, 1).value else 0
    sheet.sheet_view.showGridLines = False
    set_widths(sheet, _WIDTHS)
    set_page(sheet, None, rows="1:1", foot=title)


def _columns(sheet: Sheet) -> Iterator[tuple[_Cells, Sequence[str]]]:
    yield (f"Sheet {sheet.name}", "Column", "Needed", sheet.about, "Such as"), (HEAD,) * len(_WIDTHS)
    for column in sheet.columns:
        needed = "yes" if len(column.needed) == 1 else " or ".join(column.needed)
        cells = (sheet.name, column.key, needed, column.meaning, column.example)
        yield cells, (TEXT, STRONG if needed else TEXT, TEXT, TEXT, TEXT)


def _kinds(sheet: Sheet) -> Iterator[tuple[_Cells, Sequence[str]]]:
    if not sheet.kinds:
        return
    heads = (f"Kinds of {sheet.name}", "Kind", "Needs", "May have", "")
    yield heads, (HEAD,) * len(_WIDTHS)
    for kind, needs, takes in sheet.kinds:
        cells = (sheet.name, kind, ", ".join(needs), ", ".join(takes), "")
        yield cells, (TEXT, STRONG, TEXT, TEXT, TEXT)
