"""A plan as a workbook to fill in, or filled in: a page to read first, then one sheet a table."""

from collections.abc import Sequence
from datetime import date
from pathlib import Path

from tracker.render.plan_book_read_me import fill_read_me
from tracker.render.plan_book_shape import Sheet
from tracker.render.plan_book_sheet import fill_sheet
from tracker.render.whole_file import write_whole


def write_plan_sheets(sheets: Sequence[Sheet], path: Path, *, title: str, today: date) -> None:
    """Write the workbook to ``path``, in place of a file that stands there.

    ``title`` stands in its properties and at the foot of each page, ``today`` in the properties.

    Raises
    ------
    Refused
        If the place cannot be written; nothing half written is left.
    """
    from openpyxl import Workbook

    from tracker.render.workbook_file import workbook_bytes
    from tracker.render.workbook_styles import add_styles

    book = Workbook()
    book.remove(book.worksheets[0])
    add_styles(book)
    fill_read_me(book.create_sheet("Read me"), sheets, title)
    for sheet in sheets:
        fill_sheet(book.create_sheet(sheet.name), sheet, title)
    write_whole(workbook_bytes(book, title, today), path)
