"""A value of a plan as one cell of a sheet, and back.

Dates and numbers are cells of their own kind, yes or no a word; lists, days and rates stand in their typed
form. What that form or a cell would not give back equal stands as TOML: text in double quotes, a list in
square brackets, a table in braces.
"""

import re
import tomllib
from collections.abc import Mapping
from datetime import date, datetime, time
from decimal import Decimal
from fractions import Fraction
from typing import Any

from tracker.errors import Refused
from tracker.planfile.faults import BadValue, bad, in_quotes
from tracker.planfile.forms import Form
from tracker.planfile.grid import Value

Raw = str | int | bool | Decimal | date | time
CellValue = str | float | date

_LONGEST = 32_767
_EXACT = 10**15
_FIRST_DAY = date(1900, 3, 1)
_CODED = re.compile(r"_(?=x[0-9A-Fa-f]{4}_)")
_UNWRITABLE = re.compile("[^\n\x20-\x7e\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_BROKEN_LINE = re.compile(r"\n *")
_PARTING = re.compile(r"[\s,]*\n[\s,]*")
_NONE = "none"


class Unworked:
    """Stands for a formula that has no result."""


class Absent:
    """Stands for a needed key whose column the sheet lacks, which is told once for the sheet."""


def raw_value(cell: Value) -> Raw | None:
    """What a cell says, whatever a spreadsheet program made of it: blanks around text and midnight are left out.

    Examples
    --------
    >>> raw_value(" boxes "), raw_value(240.0), raw_value(" ")
    ('boxes', 240, None)
    """
    match cell:
        case str():
            return cell.strip() or None
        case float():
            return int(cell) if cell.is_integer() else Decimal(repr(cell))
        case datetime() if cell.time() == time():
            return cell.date()
        case _:
            return cell


def read_cell(form: Form, raw: Raw | Unworked | Absent) -> Any:
    """Read what a cell says in the form its column has.

    Raises
    ------
    BadValue
        If it is not of that form; without a finding for an absent column.
    """
    if isinstance(raw, Absent):
        raise bad("", "")
    if isinstance(raw, Unworked):
        raise bad("is a formula without a result", "type the value itself")
    match form.kind:
        case "text":
            return _read_text(form, _as_text(raw))
        case "date" | "whole" | "number" | "days":
            return form.typed(raw) if isinstance(raw, str) else form.read(raw)
        case "flag":
            return raw if isinstance(raw, bool) else form.typed(_as_text(raw))
        case _:
            return _read_parts(form, _as_text(raw))


def cell_of(form: Form, value: Any) -> CellValue:
    """The cell that :func:`read_cell` reads back to an equal value.

    Raises
    ------
    Refused
        If a text is longer than a cell can be.
    """
    shown = _shown(form, value)
    if not _reads_back(form, shown, value):
        shown = _UNWRITABLE.sub(_escaped, _BROKEN_LINE.sub(" ", form.write(value)))
        shown = _CODED.sub(r"\\u005F", shown)
    if isinstance(shown, str) and len(shown.encode("utf-16-le")) // 2 > _LONGEST:
        raise Refused(
            f"{in_quotes(shown)} is longer than the {_LONGEST} letters a cell can hold",
            hint="write the plan as text instead: tracker write plan.toml",
        )
    return shown


def _read_text(form: Form, text: str) -> Any:
    """Text as it stands, or what a TOML string says; of a few words, whatever their capitals."""
    if text.startswith('"'):
        quoted = _toml(text)
        return form.read(text if quoted is None else quoted)
    return form.read(text.lower() if text.lower() in form.words else text)


def _read_parts(form: Form, text: str) -> Any:
    if text.startswith(("[", "{")):
        value = _toml(text)
        if value is None:
            raise bad(f"{in_quotes(text)} cannot be read", "close its brackets and quotes")
        return form.read(value)
    if not form.listed:
        return form.typed(text)
    return () if text.lower() == _NONE else form.typed(_PARTING.sub(", ", text).strip(" ,"))


def _toml(text: str) -> Any:
    """The value that a text is in TOML, None if it is none."""
    try:
        found: Mapping[str, Any] = tomllib.loads(f"value = {text}", parse_float=Decimal)
    except (ValueError, RecursionError):
        return None
    return found["value"] if len(found) == 1 else None


def _as_text(raw: Raw) -> str:
    match raw:
        case str():
            return raw
        case bool():
            return str(raw).upper()
        case datetime():
            return raw.isoformat(sep=" ")
        case date() | time():
            return raw.isoformat()
        case _:
            return str(raw)


def _shown(form: Form, value: Any) -> CellValue:
    """The cell as one would type it."""
    match form.kind:
        case "text":
            return str(value)
        case "date" if value >= _FIRST_DAY:
            return value  # type: ignore[no-any-return]
        case "whole" if abs(value) < _EXACT:
            return value  # type: ignore[no-any-return]
        case "number" if value == Fraction(repr(float(value))):
            return int(value) if value.denominator == 1 else float(value)
        case _:
            return form.show(value)


def _reads_back(form: Form, shown: CellValue, value: Any) -> bool:
    if isinstance(shown, str) and (_UNWRITABLE.search(shown) or _CODED.search(shown)):
        return False
    raw = raw_value(shown)
    try:
        return raw is not None and bool(read_cell(form, raw) == value)
    except BadValue:
        return False


def _escaped(found: re.Match[str]) -> str:
    return f"\\U{ord(found[0]):08X}"
