"""Dates as people type them, read against a status date and in the direction the verb looks."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from tracker.errors import UsageError
from tracker.plan.day_text import full_day
from tracker.plan.model import DateOrder, Plan

Looking = Literal["back", "forward", "near"]

MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_FULL_MONTHS = (
    "january", "february", "march", "april", "may", "june", "july", "august", "september", "october",
    "november", "december",
)  # fmt: skip
_FULL_DAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_ISO = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})")
_DAY_MONTH = re.compile(r"(\d{1,2})\s*([a-z]+)\.?\s*(\d{4})?")
_MONTH_DAY = re.compile(r"([a-z]+)\.?\s*(\d{1,2})(?:\s+(\d{4}))?")
_NUMBERS = re.compile(r"(\d{1,2})[/.](\d{1,2})(?:[/.](\d{4}))?")
_AHEAD = re.compile(r"\+(\d{1,4})")
_LONGEST = 3
_FEWEST_LETTERS = 3
_LEAP_SEARCH_YEARS = 8
_FAR_AHEAD = 300
_YEARS_BEFORE, _YEARS_AFTER = 2, 10


@dataclass(frozen=True, slots=True, kw_only=True)
class DateReader:
    """Reads typed dates: ``today`` is the status date, ``order`` what the run says of ``4/12``.

    A date without a year never reads back past ``earliest``, the run's start, nor more than ten months ahead;
    a written year lies from two years before the run's start to ten after it. ``facts_look`` says where the days
    of facts lie: ``back``, or in a try-out ``near``.
    """

    today: date
    order: DateOrder | None = None
    earliest: date = date.min
    facts_look: Looking = "back"

    def read(self, words: Sequence[str], place: int, looking: Looking) -> tuple[date, int] | None:
        """Read a date at ``words[place]``, using up to three words, or four where its weekday stands before it.

        Facts look ``back`` (a weekday is the last one, today included), promises ``forward`` (a weekday is
        the next one after today), ``near`` takes the nearer of the two (a weekday is the next one); a written
        year is taken as it stands.

        Returns
        -------
        tuple of date and int, or None
            The date and how many words it took; None when no date stands there.

        Raises
        ------
        UsageError
            If it looks like a date but is impossible or can be read in two ways.
        """
        if place < len(words) and " " in words[place].strip():
            inner = words[place].split()
            whole = self.read(inner, 0, looking)
            return (whole[0], 1) if whole is not None and whole[1] == len(inner) else None
        following = words[place + 1] if place + 1 < len(words) else ""
        dated = following[:1].isdigit() and " " not in following.strip()
        weekday = _beginning(words[place].lower(), _FULL_DAYS) if dated else None
        if weekday is not None:
            found = self._plain(words, place + 1, looking)
            if found is not None:
                return self._on_its_weekday(found[0], weekday, words[place]), found[1] + 1
        return self._plain(words, place, looking)

    def _plain(self, words: Sequence[str], place: int, looking: Looking) -> tuple[date, int] | None:
        """A date without its weekday before it, or a weekday alone."""
        for used in range(min(_LONGEST, len(words) - place), 0, -1):
            text = " ".join(words[place : place + used]).lower()
            found = self._one(text, looking)
            if found is not None:
                return found, used
        return None

    def _on_its_weekday(self, day: date, weekday: int, typed: str) -> date:
        if day.weekday() != weekday:
            raise UsageError(
                f"{full_day(day)} is no {_FULL_DAYS[weekday].capitalize()}",
                hint=f"correct the day, or leave '{typed}' out",
            )
        return day

    def whole(self, text: str, looking: Looking) -> date:
        """Read ``text`` as one date or refuse it with the forms that work."""
        words = text.split()
        found = self.read(words, 0, looking) if words else None
        if found is None or found[1] != len(words):
            raise UsageError(
                f"'{text}' is not a date", hint="write 2026-12-04, 4dec, fri, today or +3 (days from today)"
            )
        return found[0]

    def _one(self, text: str, looking: Looking) -> date | None:
        near = {"today": 0, "tomorrow": 1, "yesterday": -1}
        if text in near:
            return self.today + timedelta(days=near[text])
        if ahead := _AHEAD.fullmatch(text):
            return self.today + timedelta(days=int(ahead[1]))
        weekday = _beginning(text, _FULL_DAYS)
        if weekday is not None:
            return self._weekday(weekday, looking)
        if iso := _ISO.fullmatch(text):
            return self._of_the_run(_date(int(iso[1]), int(iso[2]), int(iso[3]), text), text)
        if numbers := _NUMBERS.fullmatch(text):
            return self._numbers(int(numbers[1]), int(numbers[2]), numbers[3], text, looking)
        return self._named_month(text, looking)

    def _weekday(self, weekday: int, looking: Looking) -> date:
        from dateutil.relativedelta import relativedelta
        from dateutil.relativedelta import weekday as nth

        if looking == "back":
            return self.today + relativedelta(weekday=nth(weekday, -1))
        return self.today + relativedelta(days=1, weekday=nth(weekday, 1))

    def _named_month(self, text: str, looking: Looking) -> date | None:
        if found := _DAY_MONTH.fullmatch(text):
            day, name, year = found.groups()
        elif found := _MONTH_DAY.fullmatch(text):
            name, day, year = found.groups()
        else:
            return None
        month = _month(name)
        return None if month is None else self._in_year(int(day), month, year, text, looking)

    def _numbers(self, first: int, second: int, year: str | None, text: str, looking: Looking) -> date:
        if self.order is None:
            readings = [
                f"{day}{MONTHS[month - 1]}"
                for day, month in ((first, second), (second, first))
                if 1 <= month <= len(MONTHS)
            ]
            raise UsageError(
                f"'{text}' can be read in two ways: {' or '.join(readings) or 'neither is a date'}",
                hint="write the month by name, or say once: tracker set run dates='day first'",
            )
        day, month = (first, second) if self.order == "day first" else (second, first)
        if not 1 <= month <= len(MONTHS):
            raise UsageError(
                f"'{text}' is not a date: the run says {self.order}, and there is no month {month}",
                hint="write the month by name, such as 4dec",
            )
        return self._in_year(day, month, year, text, looking)

    def _in_year(self, day: int, month: int, year: str | None, text: str, looking: Looking) -> date:
        if year is not None:
            return self._of_the_run(_date(int(year), month, day, text), text)
        if looking == "near":
            return self._nearer(day, month, text)
        step = -1 if looking == "back" else 1
        for away in range(_LEAP_SEARCH_YEARS + 1):
            found = _maybe(self.today.year + step * away, month, day)
            if found is not None and (found <= self.today if looking == "back" else found >= self.today):
                return self._not_too_far(found, text, looking)
        raise UsageError(
            f"'{text}' is not a date: that month has no day {day}", hint="check the day of the month"
        )

    def _nearer(self, day: int, month: int, text: str) -> date:
        """The day ahead, or the one past where that is nearer and lies in the run."""
        years = range(self.today.year - 1, self.today.year + 2)
        found = [one for year in years if (one := _maybe(year, month, day)) and one >= self.earliest]
        if not found:
            return self._in_year(day, month, None, text, "forward")
        return min(found, key=lambda one: (abs((one - self.today).days), one < self.today))

    def _not_too_far(self, found: date, text: str, looking: Looking) -> date:
        """Refuse a date without a year that reads back past the run's start, or ten months ahead and more."""
        if looking == "back" and found < self.earliest:
            raise UsageError(
                f"'{text}' looks back to {full_day(found)}, before the run began on {self.earliest}",
                hint=f"a fact lies at or before today, {self.today}; where you do mean that day, write the year: {found};"
                f" where a later one has come, say so: --today {text}",
            )
        if looking == "forward" and (found - self.today).days > _FAR_AHEAD:
            raise UsageError(
                f"'{text}' looks forward to {full_day(found)}, {(found - self.today).days} days from today",
                hint=f"write the year of the day you mean: {_a_year_before(found)} or {found}",
            )
        return found

    def _of_the_run(self, found: date, text: str) -> date:
        """Refuse a written year far from the run's own: it is mostly a number meant as pieces."""
        first = self.earliest.year
        if self.earliest > date.min and not first - _YEARS_BEFORE <= found.year <= first + _YEARS_AFTER:
            raise UsageError(
                f"'{text}' names the year {found.year}, far from this run of {first}",
                hint="check the year; a number of pieces comes before the date",
            )
        return found


def reader_for(plan: Plan, day: date, *, facts_look: Looking = "back") -> DateReader:
    """Reads dates as typed on ``day`` for this run."""
    return DateReader(today=day, order=plan.run.dates, earliest=plan.run.start, facts_look=facts_look)


def _month(name: str) -> int | None:
    place = _beginning(name, _FULL_MONTHS)
    return None if place is None else place + 1


def _beginning(text: str, names: Sequence[str]) -> int | None:
    """The place of the name that ``text`` begins, three letters at least: ``thu``, ``thurs``, ``sept``."""
    if len(text) < _FEWEST_LETTERS:
        return None
    return next((place for place, name in enumerate(names) if name.startswith(text)), None)


def _a_year_before(day: date) -> date:
    return _maybe(day.year - 1, day.month, day.day) or day - timedelta(days=366)


def _maybe(year: int, month: int, day: int) -> date | None:
    try:
        return date(year, month, day)
    except ValueError:
        return None


def _date(year: int, month: int, day: int, text: str) -> date:
    found = _maybe(year, month, day)
    if found is None:
        raise UsageError(f"'{text}' is not a date in the calendar", hint="check day and month")
    return found
