"""Writing cells and laying out pages, the same on every sheet."""

import re
from collections.abc import Sequence
from datetime import date
from textwrap import wrap
from typing import TYPE_CHECKING

from tracker.render.words import full_day

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

Value = str | int | date | None

_NOT_IN_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_BLANKS = re.compile("[\t\n\r ]+")
_CODED = re.compile("_(?=x[0-9A-Fa-f]{4}_)")
_LONGEST = 32_000
_LOOKS_LIKE_FORMULA = ("=", "+", "-", "@")
_INCH = 2.54
_LETTERS_PER_DIGIT, _WIDE_LETTER, _WIDEST = 1.3, 0.5, 2
_FIRST_FULL_WIDTH = "\u2e80"
ROW_HEIGHT, LINE_HEIGHT = 16, 13


def clean(text: str) -> str:
    r"""The text on one line, without characters that a workbook cannot hold.

    Examples
    --------
    >>> clean("blast, then\tanodize\x07\r\n")
    'blast, then anodize'
    """
    kept = _BLANKS.sub(" ", _NOT_IN_XML.sub(" ", text)).strip(" ")
    return _CODED.sub("_x005F_", kept)[:_LONGEST]


def put(sheet: "Worksheet", row: int, column: int, value: Value, style: str) -> None:
    """Write one cell (rows and columns count from 1); text stays text, whatever it begins with."""
    cell = sheet.cell(row, column)
    cell.style = style
    if not isinstance(value, str):
        cell.value = value
        return
    text = clean(value)
    if not text:
        return
    cell.value = text
    cell.data_type = "s"
    if text.startswith(_LOOKS_LIKE_FORMULA):
        cell.quotePrefix = True


def put_row(sheet: "Worksheet", row: int, values: Sequence[Value], styles: Sequence[str]) -> None:
    """Write cells from column A on, empty ones included, so that the line under a row is whole."""
    for column, (value, style) in enumerate(zip(values, styles, strict=True), start=1):
        put(sheet, row, column, value, style)


def set_height(sheet: "Worksheet", row: int, values: Sequence[Value], widths: Sequence[float]) -> None:
    """Make the row as high as its texts need when wrapped in columns of these widths (in characters)."""
    cells = zip(values, widths, strict=True)
    lines = max(_lines(clean(text), width) for text, width in cells if isinstance(text, str))
    if lines > 1:
        sheet.row_dimensions[row].height = ROW_HEIGHT + (lines - 1) * LINE_HEIGHT


def _lines(text: str, width: float) -> int:
    """Lines a wrapped text takes, counted with room to spare: a column's width is in digits, letters vary."""
    if len(text) * _WIDEST <= width:
        return 1
    wide = sum(_WIDE_LETTER * letter.isupper() + (letter >= _FIRST_FULL_WIDTH) for letter in text)
    return len(wrap(text, max(1, int(width * _LETTERS_PER_DIGIT * len(text) / (len(text) + wide)))))


def set_widths(sheet: "Worksheet", widths: Sequence[float]) -> None:
    """Set the widths of columns A, B, ... in characters, and the height of rows that have none of their own."""
    from openpyxl.utils import get_column_letter

    for column, width in enumerate(widths, start=1):
        sheet.column_dimensions[get_column_letter(column)].width = width
    sheet.sheet_format.defaultRowHeight = ROW_HEIGHT
    sheet.sheet_format.customHeight = True


def set_page(sheet: "Worksheet", today: date | None, *, rows: str, columns: str = "", foot: str = "") -> None:
    """A4 landscape, one page wide; ``rows`` (such as ``1:2``) and ``columns`` stand on every page.

    At the foot stand the status date, or ``foot`` without one, the sheet's title and the page.
    """
    from openpyxl.worksheet.header_footer import HeaderFooterItem
    from openpyxl.worksheet.page import PageMargins
    from openpyxl.worksheet.properties import PageSetupProperties

    sheet.page_setup.orientation = "landscape"
    sheet.page_setup.paperSize = 9
    sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
    sheet.page_setup.fitToWidth = 1
    sheet.page_setup.fitToHeight = 0
    sheet.page_margins = PageMargins(
        left=1 / _INCH,
        right=1 / _INCH,
        top=1 / _INCH,
        bottom=1.6 / _INCH,
        header=0.5 / _INCH,
        footer=0.7 / _INCH,
    )
    sheet.print_title_rows = rows
    if columns:
        sheet.print_title_cols = columns
    footer = HeaderFooterItem()
    footer.left.text = clean(foot).replace("&", "&&") if today is None else f"Status on {full_day(today)}"
    footer.right.text = "Page &P of &N"
    footer.center.text = sheet.title
    sheet.HeaderFooter.oddFooter = footer
