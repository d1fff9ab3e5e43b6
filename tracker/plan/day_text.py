"""A day in words, for messages: weekday and whole date, so that nothing is left to guess."""

import re
from datetime import date

_ISO = re.compile(r"\b(\d{4}-\d{2}-\d{2})\b(\.\.)?")


def spelled(text: str) -> str:
    """The text with its ISO dates spelled out.

    Examples
    --------
    >>> spelled("not_before none -> 2026-12-04")
    'not_before none -> Fri 4 Dec 2026'
    >>> spelled("2026-12-24..2027-01-03 year-end break")
    'Thu 24 Dec 2026 to Sun 3 Jan 2027 year-end break'
    """
    return _ISO.sub(_spelled, text)


def _spelled(found: re.Match[str]) -> str:
    try:
        return full_day(date.fromisoformat(found[1])) + (" to " if found[2] else "")
    except ValueError:
        return found[0]


def full_day(day: date) -> str:
    """Weekday, day, month and year.

    Examples
    --------
    >>> full_day(date(2026, 12, 4))
    'Fri 4 Dec 2026'
    """
    return f"{day:%a} {day.day} {day:%b %Y}"
