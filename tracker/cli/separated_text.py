"""Spreadsheets saved as text: how they are encoded, what separates their cells."""

import codecs
import csv
import io
import re
from collections import Counter
from itertools import islice
from pathlib import Path

from tracker.errors import Refused
from tracker.planfile.grid import Grid

_SEPARATORS = "\t;,|"
_LOOKED_AT = 200
_LONGEST_CELL = 1_000_000
_END = "the end"
_TOLD = re.compile(r"sep=([^\r\n])(?:\r\n|\r|\n)", re.IGNORECASE)
_SAVE_AGAIN = "save the spreadsheet again as .xlsx, or as .csv in UTF-8"
_MARKS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)


def text_grid(content: bytes, path: Path) -> Grid:
    """The one sheet of a text file, called by the file's name; cells stay text, empty ones are None.

    Raises
    ------
    Refused
        If the text holds NUL bytes, no cell at all, or a quotation mark that is never closed.
    """
    text = _decoded(content, path)
    separator = ""
    if told := _TOLD.match(text):
        separator, text = told[1], text[told.end() :]
    rows = [tuple(cell or None for cell in row) for row in _rows(text, separator or _separator(text), path)]
    while rows and not any(rows[-1]):
        rows.pop()
    if not rows:
        raise Refused(
            f"{path} is empty: it has no filled cell", hint="save the spreadsheet again and read that file"
        )
    return Grid(sheet=path.stem, rows=tuple(rows))


def _decoded(content: bytes, path: Path) -> str:
    encodings = [name for mark, name in _MARKS if content.startswith(mark)] or ["utf-8", "cp1252", "latin-1"]
    for encoding in encodings:
        try:
            text = content.decode(encoding)
        except UnicodeDecodeError:
            continue
        if "\0" in text:
            break
        return text
    raise Refused(
        f"{path} is not plain text: it holds NUL bytes or broken characters",
        hint=_SAVE_AGAIN,
    )


def _separator(text: str) -> str:
    """What separates the cells: the sign that cuts the most rows into one and the same number of cells."""
    return max(_SEPARATORS, key=lambda sign: _agreement(text, sign))


def _agreement(text: str, separator: str) -> tuple[int, int]:
    """How many of the first rows have the commonest width of two cells or more, and that width."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator)
    widths: Counter[int] = Counter()
    try:
        widths.update(len(row) for row in islice(reader, _LOOKED_AT) if len(row) > 1)
    except csv.Error:
        return (0, 0)
    if not widths:
        return (0, 0)
    width, rows = max(widths.items(), key=lambda item: (item[1], item[0]))
    return rows, width


def _rows(text: str, separator: str, path: Path) -> list[list[str]]:
    """The cells, quotes honoured; a line put after the last one tells whether a quote swallowed the end."""
    lines = [*io.StringIO(text, newline=""), "\n", _END]
    before = csv.field_size_limit(_LONGEST_CELL)
    reader = csv.reader(lines, delimiter=separator)
    rows: list[list[str]] = []
    ends = ended_before = 0
    try:
        for row in reader:
            if row == [_END]:
                return rows
            rows.append(row)
            ended_before, ends = ends, reader.line_num
    except csv.Error as error:
        raise Refused(f"{path}, line {reader.line_num}: {error}", hint=_SAVE_AGAIN) from None
    finally:
        csv.field_size_limit(before)
    raise Refused(
        f"{path}, line {ended_before + 1}: a quotation mark opens a cell and is never closed",
        hint="close it, or remove it, and read the file again",
    )
