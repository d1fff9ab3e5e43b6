"""A day in words, for messages: weekday and whole date, so that nothing is left to guess."""

from datetime import date


def full_day(day: date) -> str:
    """Weekday, day, month and year.

    Examples
    --------
    >>> full_day(date(2026, 12, 4))
    'Fri 4 Dec 2026'
    """
    return f"{day:%a} {day.day} {day:%b %Y}"
