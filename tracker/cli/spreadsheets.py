"""Reading spreadsheet files into grids of plain values, and refusing what only looks like one."""

import io
import re
import warnings
from collections.abc import Iterable, Iterator
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any
from zipfile import BadZipFile, ZipFile

from tracker.cli.separated_text import text_grid
from tracker.errors import Refused, UsageError
from tracker.planfile.grid import Grid, Value

if TYPE_CHECKING:
    from openpyxl import Workbook

BOOK_ENDINGS = (".xlsx", ".xlsm")
TEXT_ENDINGS = (".csv", ".tsv")
OTHER_ENDINGS = (".xls", ".xlsb", ".ods", ".fods", ".numbers")
"""Spreadsheets that cannot be read here but can be saved in a form that can."""

_ZIP, _OLE = b"PK\x03\x04", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_LOCKED = "EncryptedPackage".encode("utf-16-le")
_MERGED = re.compile(rb"<(?:\w+:)?mergeCell\s[^>]*?\bref\s*=\s*[\"']([A-Z]+)(\d+):([A-Z]+)(\d+)[\"']")
_FORMULA = re.compile(rb"<(?:\w+:)?f[\s/>]")
_SAVE_AS = "open it in a spreadsheet program, save it as .xlsx or .csv and read that file"


def read_grids(path: Path) -> tuple[Grid, ...]:
    """Every sheet of an .xlsx or .xlsm file, hidden ones too, or the one of a .csv or .tsv file.

    A text file's cells stay text (empty ones are None) and its sheet is called by the file's name. Dates
    without a time of day are plain dates; rows end at their last filled cell, sheets at their last filled row.

    Raises
    ------
    UsageError
        If there is no such file, it is a folder, or its ending names no spreadsheet.
    Refused
        If the file cannot be read: empty, damaged, behind a password, another kind than its ending says.
    """
    if not path.exists():
        raise UsageError(f"there is no file {path}", hint="check the name, and the folder you are in")
    if path.is_dir():
        raise UsageError(f"{path} is a folder", hint="name the spreadsheet file in it")
    ending = path.suffix.lower()
    if ending in OTHER_ENDINGS:
        raise UsageError(f"{path} is a {ending} file, which cannot be read as it is", hint=_SAVE_AS)
    if ending not in BOOK_ENDINGS + TEXT_ENDINGS:
        raise UsageError(
            f"{path} is no spreadsheet: its name ends in none of .xlsx, .xlsm, .csv, .tsv", hint=_SAVE_AS
        )
    content = _content(path)
    _refuse_wrong_kind(path, content)
    if ending in TEXT_ENDINGS:
        return (text_grid(content, path),)
    return _book_grids(content, path)


def _content(path: Path) -> bytes:
    try:
        content = path.read_bytes()
    except OSError as error:
        raise Refused(
            f"{path} cannot be read: {error.strerror or error}",
            hint="close it elsewhere, or copy it to a folder of yours and read the copy",
        ) from None
    if not content.strip():
        raise Refused(f"{path} is empty", hint="save the spreadsheet again and read that file")
    return content


def _refuse_wrong_kind(path: Path, content: bytes) -> None:
    """Tell by the first bytes what a file is that its ending does not say."""
    is_book = path.suffix.lower() in BOOK_ENDINGS
    if content.startswith(_OLE) and is_book and _LOCKED in content:
        raise Refused(
            f"{path} is behind a password", hint="open it, save a copy without the password and read that"
        )
    if content.startswith(_OLE):
        raise Refused(f"{path} is an old .xls file under another name", hint=_SAVE_AS)
    if is_book and not content.startswith(_ZIP):
        hint = "if it is text, rename it to end in .csv; else save the spreadsheet again as .xlsx"
        raise Refused(f"{path} is not an .xlsx file, whatever its name says", hint=hint)
    if not is_book and content.startswith(_ZIP):
        raise Refused(
            f"{path} is not a text file but a packed one",
            hint="if it is a spreadsheet, rename it to end in .xlsx",
        )


def _book_grids(content: bytes, path: Path) -> tuple[Grid, ...]:
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            return tuple(_read_book(content))
    except Exception:  # noqa: BLE001 - a damaged file can make the reader fail in any way
        raise _damaged(content, path) from None


def _damaged(content: bytes, path: Path) -> Refused:
    try:
        with ZipFile(io.BytesIO(content)) as archive:
            if any(name in archive.namelist() for name in ("mimetype", "word/document.xml")):
                return Refused(f"{path} is another kind of document, renamed", hint=_SAVE_AS)
    except BadZipFile:
        pass
    return Refused(
        f"{path} is damaged: its sheets cannot be read", hint="save the spreadsheet again and read that file"
    )


def _read_book(content: bytes) -> Iterator[Grid]:
    from openpyxl.reader.excel import ExcelReader

    reader = ExcelReader(io.BytesIO(content), read_only=True, data_only=True, keep_links=False)
    reader.read()
    parts = {sheet.name: rel.target for sheet, rel in reader.parser.find_sheets()}
    formulas: Workbook | None = None
    for sheet in reader.wb.worksheets:
        raw = reader.archive.read(parts[sheet.title])
        unworked: frozenset[tuple[int, int]] = frozenset()
        if _FORMULA.search(raw):
            formulas = formulas or _with_formulas(content)
            unworked = frozenset(_unworked(_cells(sheet), _cells(formulas[sheet.title])))
        rows = _trimmed(tuple(_value(cell.value) for cell in row) for row in _cells(sheet))
        yield Grid(sheet=sheet.title, rows=rows, merged=tuple(_merged(raw)), formulas=unworked)


def _with_formulas(content: bytes) -> "Workbook":
    from openpyxl import load_workbook

    return load_workbook(io.BytesIO(content), read_only=True, data_only=False, keep_links=False)


def _cells(sheet: Any) -> Iterator[tuple[Any, ...]]:
    """The rows of a streamed sheet, whatever size it claims to have."""
    sheet.reset_dimensions()
    return iter(sheet.iter_rows())


def _unworked(
    values: Iterator[tuple[Any, ...]], formulas: Iterator[tuple[Any, ...]]
) -> Iterator[tuple[int, int]]:
    """The cells with a formula and no value; a formula that gave an empty text was worked out."""
    for at, (row, with_formulas) in enumerate(zip(values, formulas, strict=True)):
        for column, (cell, formula) in enumerate(zip(row, with_formulas, strict=True)):
            if formula.data_type == "f" and cell.value is None and cell.data_type != "str":
                yield at, column


def _merged(raw: bytes) -> Iterator[tuple[int, int, int, int]]:
    from openpyxl.utils import column_index_from_string

    for first, top, last, bottom in _MERGED.findall(raw):
        left, right = column_index_from_string(first.decode()), column_index_from_string(last.decode())
        yield int(top) - 1, left - 1, int(bottom) - 1, right - 1


def _trimmed(rows: Iterable[tuple[Value, ...]]) -> tuple[tuple[Value, ...], ...]:
    kept: list[tuple[Value, ...]] = []
    last = 0
    for at, row in enumerate(rows, start=1):
        width = len(row)
        while width and row[width - 1] is None:
            width -= 1
        kept.append(row[:width])
        if width:
            last = at
    return tuple(kept[:last])


def _value(value: Any) -> Value:
    """A cell's value as a grid holds it: midnight is no time of day, a duration is text."""
    if isinstance(value, datetime) and value.time() == time():
        return value.date()
    if isinstance(value, timedelta):
        return str(value)
    if value is None or isinstance(value, str | int | float | date | time):
        return value
    return str(value)
