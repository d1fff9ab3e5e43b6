"""Single cells of a maker's sheet as text, as a number of pieces, or as a date."""

import re
from dataclasses import dataclass
from datetime import date, datetime

from tracker.errors import Problem, UsageError
from tracker.plan.day_text import full_day
from tracker.plan.known import MOST_PIECES
from tracker.planfile.faults import BadValue, bad, in_quotes
from tracker.planfile.grid import Value, column_letters
from tracker.sheet.model import SheetRow, SheetTable
from tracker.words.dates import MONTHS, DateReader, Looking

NOTHING = frozenset({"", "-", "--", "\u2013", "\u2014", "/", "none", "n/a", "n.a.", "na", "nil", "nothing"})
_ERROR = re.compile(r"#(?:REF!|N/A|VALUE!|DIV/0!|NAME\?|NUM!|NULL!|SPILL!|CALC!|FIELD!|GETTING_DATA)|Err:\d+")
NOT_YET = NOTHING | {"?", "tbc", "tbd", "tba", "no", "not yet", "open", "unknown"}
_DITTO = frozenset({'"', "''", "″", "”", "ditto", "same", "as above", "same as above"})
_YES = frozenset({"x", "y", "yes", "ok", "done", "✓", "✔", "true"})
_GROUPED = re.compile(r"\d{1,3}(?:[.,' \u00a0\u202f\u2019]\d{3})+")
_PIECES = re.compile(
    r"(?:qty\.?|x)? *([\d.,'\u2019 \u00a0\u202f]*\d)"
    r"\s*(?:x|pcs?|pieces?|off|nos?|ea|each|sets?|kits?|units?|boards?|boxes|st|stk|stück|stücke|pi[eè]ces?|pz|pezzi|uds?"
    r"|unidades|stuks?)?\.?",
    re.IGNORECASE,
)
_WEEKDAY = re.compile(r"(mon|tue|wed|thu|fri|sat|sun)[a-z]*\.?,? +(?=\S*\d)", re.IGNORECASE)
_ORDINAL = re.compile(r"(?<=\d)(?:st|nd|rd|th)\b", re.IGNORECASE)
_SHORT_YEAR = re.compile(r"(\d{1,2}[/. -]+(?:\d{1,2}|[a-z]+)[/. -]+)(\d{2})", re.IGNORECASE)
_MOVING = re.compile(
    r"\+.*|(?:next |this )?(?:today|tomorrow|yesterday|mon|tue|wed|thu|fri|sat|sun)[a-z]*", re.IGNORECASE
)
_MONTH_OR_DAY = re.compile(r"[a-z]+ *[23]\d", re.IGNORECASE)
_YEAR_FIRST = re.compile(r"(\d{4})[/.](\d{1,2})[/.](\d{1,2})")
_IN_DIGITS = re.compile(r"(\d{1,2})[/.](\d{1,2})[/.](\d{4})")
_LONGEST_NUMBER = 20
_WRITE = "write the date, such as 2026-12-04 or 4 dec 2026"


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where a row stands, in the words people find it by."""

    source: str
    table: SheetTable
    row: SheetRow

    @property
    def short(self) -> str:
        """``sheet Jobs, row 9``."""
        return f"sheet {self.table.sheet}, row {self.row.number}"

    def __str__(self) -> str:
        """``jobs.xlsx, sheet Jobs, row 9``."""
        return f"{self.source}, {self.short}"

    def column(self, index: int) -> str:
        """``column F (Lead)``, by the place of the column among the headings."""
        heading = " ".join(self.table.headings[index].split())
        return f"column {column_letters(self.table.columns[index])}" + (f" ({heading})" if heading else "")


def text_of(value: Value) -> str:
    """A cell's words on their lines, blanks around them dropped; a whole number without its point.

    Examples
    --------
    >>> text_of(7.0), text_of(" M3  screws ")
    ('7', 'M3 screws')
    """
    if value is None:
        return ""
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    if isinstance(value, date):
        return full_day(value)
    text = str(value)
    if text.isprintable():
        return " ".join(text.split())
    lines = (" ".join(line.split()) for line in text.splitlines())
    return "\n".join(line for line in lines if line)


def is_nothing(value: Value) -> bool:
    """Whether a cell is empty or says that there is nothing: ``-``, ``none``, ``n/a``."""
    return text_of(value).lower() in NOTHING


def error_in(value: Value) -> BadValue | None:
    """What is wrong with a cell whose formula failed in the spreadsheet; None for any other."""
    text = value.strip() if isinstance(value, str) else ""
    if not _ERROR.fullmatch(text):
        return None
    return bad(f"holds the spreadsheet's error {text}", "correct its formula there, or clear the cell")


def is_ditto(value: Value) -> bool:
    """Whether a cell repeats the one above it in words."""
    return text_of(value).lower() in _DITTO


def pieces(value: Value) -> int | None:
    """A number of pieces; None for nothing yet.

    Raises
    ------
    BadValue
        If it is no whole number.

    Examples
    --------
    >>> pieces("250 pcs"), pieces("1,600"), pieces("1.600"), pieces(1600.0)
    (250, 1600, 1600, 1600)
    """
    text = text_of(value)
    if text.lower() in NOT_YET:
        return None
    if isinstance(value, int | float) and not isinstance(value, bool):
        if not float(value).is_integer():
            remedy = "write digits only; a typed 1.600 becomes 1.6 in some spreadsheets: write 1600"
            raise bad(f"{value:g} is not a whole number of pieces", remedy)
        return _not_too_many(int(value))
    found = _PIECES.fullmatch(text) if isinstance(value, str) else None
    digits = found[1].strip() if found else ""
    if digits.isdigit() or _GROUPED.fullmatch(digits):
        return _not_too_many(int(re.sub(r"\D", "", digits)[:_LONGEST_NUMBER]))
    remedy = _number_in(text) if isinstance(value, str) else "write digits only, such as 250"
    raise error_in(value) or bad(f"{in_quotes(text)} is not a whole number of pieces", remedy)


def _not_too_many(count: int) -> int:
    if count > MOST_PIECES:
        raise bad(f"holds more than {MOST_PIECES} pieces", "correct the number")
    return count


def _number_in(text: str) -> str:
    """A remedy that names the numbers a cell holds beside other words."""
    numbers = [int(one) for one in re.findall(r"(?<![\d.,])\d{1,7}(?![\d.,]*\d)", text)]
    if len(numbers) == 1:
        return f"write digits only: {numbers[0]}, if that is what you order"
    if len(numbers) == 2:  # noqa: PLR2004 - such as 250 + 10 spare
        first, second = numbers
        return f"write what you order as one number: {first}, {second} or both together, {first + second}"
    return "write digits only, such as 250"


def day_of(value: Value, reader: DateReader, looking: Looking) -> date | None:
    """A date from a date cell or from words; None for nothing yet.

    Weekdays and counts from today are refused: they would be another day at the next read.

    Raises
    ------
    BadValue
        If it is no date, or can be read in two ways.
    """
    if isinstance(value, datetime):
        return value.date()
    if isinstance(value, date):
        return value
    text = text_of(value)
    if text.lower() in NOT_YET:
        return None
    if error := error_in(value):
        raise error
    if text.lower() in _YES or isinstance(value, bool):
        raise bad(f"{in_quotes(text)} is not a date", "write the day, or leave the cell empty")
    if not isinstance(value, str):
        raise bad(
            f"{in_quotes(text)} is a number, not a date", "make it a date cell, or write it as 2026-12-04"
        )
    return _typed_day(text, reader, looking)


def _typed_day(text: str, reader: DateReader, looking: Looking) -> date:
    weekday = _WEEKDAY.match(text)
    plain = _plain_date(text[weekday.end() :] if weekday else text)
    if _MOVING.fullmatch(plain):
        raise bad(f"{in_quotes(text)} would be another day at the next read", _WRITE)
    if _MONTH_OR_DAY.fullmatch(plain):
        raise bad(f"{in_quotes(text)} can be a day or a whole month of a year", _WRITE)
    try:
        found = reader.whole(_month_named(plain, reader), looking)
    except UsageError as error:
        message = re.sub(r"^'[^']*'", lambda _: in_quotes(text), error.message)
        raise bad(message, error.hint if re.search(r"\d", plain) else _WRITE) from None
    if weekday and f"{found:%a}".lower() != weekday[1].lower():
        raise bad(
            f"{in_quotes(text)} names the wrong weekday: that day is {full_day(found)}",
            "correct one of the two",
        )
    return found


def _month_named(plain: str, reader: DateReader) -> str:
    """A date in digits that only one order of day and month can be, with its month by name."""
    found = _IN_DIGITS.fullmatch(plain)
    if reader.order or not found:
        return plain
    first, second = int(found[1]), int(found[2])
    if first > len(MONTHS) >= second:
        return f"{first} {MONTHS[second - 1]} {found[3]}"
    return f"{second} {MONTHS[first - 1]} {found[3]}" if second > len(MONTHS) >= first else plain


def _plain_date(text: str) -> str:
    """The spellings of dates that sheets have, as the words a date reader knows."""
    plain = _ORDINAL.sub("", " ".join(text.replace(",", " ").split()))
    if found := _YEAR_FIRST.fullmatch(plain):
        return "-".join(found.groups())
    if found := _SHORT_YEAR.fullmatch(plain):
        plain = f"{found[1]}20{found[2]}"
    if re.fullmatch(r"\d{1,2}-\d{1,2}(-\d{4})?", plain):
        return plain.replace("-", "/")
    plain = re.sub(r"(?<=[a-z])[-./ ]+(?=\d)|(?<=\d)[-./ ]+(?=[a-z])", " ", plain, flags=re.IGNORECASE)
    return re.sub(r"[a-z]{4,}", _short_month, plain, flags=re.IGNORECASE)


def _short_month(found: re.Match[str]) -> str:
    """A month by its first three letters, as for ``sept``; another word as it is."""
    short = found[0][:3]
    return short if short.lower() in MONTHS else found[0]


def cell_problem(place: str, error: BadValue) -> tuple[Problem, ...]:
    """What is wrong with a cell, with its place."""
    return tuple(Problem(place=place, found=fault.found, remedy=fault.remedy) for fault in error.faults)
