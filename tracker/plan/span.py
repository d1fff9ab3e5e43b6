"""Counts of days with their unit: lead times, travel, lags and bank days."""

import re
from dataclasses import dataclass, field
from fractions import Fraction
from math import ceil
from typing import Literal

Unit = Literal["wd", "cd"]

_NUMBER = r"(\d{1,9})"
_SPAN = re.compile(rf"{_NUMBER}\s*(wd|cd)")
_LEAD = re.compile(rf"{_NUMBER}(?:\s*\.\.\s*{_NUMBER}|\s*/\s*{_NUMBER}\s*/\s*{_NUMBER})?\s*(wd|cd)")
_BARE = re.compile(rf"{_NUMBER}(?:\s*(?:\.\.|-|to|/)\s*{_NUMBER})?\s*(d|days?|w|wks?|weeks?)?")
_WEEK_WORKDAYS, _WEEK_DAYS = 5, 7
_LONGEST = 3650


class UnclearDaysError(ValueError):
    """A count of days that can be read in two ways or in none; the message spells the readings out."""


@dataclass(frozen=True, slots=True)
class Span:
    """A number of days: working days of one supplier (``wd``) or calendar days (``cd``)."""

    days: int
    unit: Unit = "cd"

    def __str__(self) -> str:
        """The form used in plan files, such as ``4cd``."""
        return f"{self.days}{self.unit}"


NO_DAYS = Span(0)
NO_WORKING_DAYS = Span(0, "wd")


@dataclass(frozen=True, slots=True)
class Lead:
    """A lead time: one value, a range (``likely`` is None) or low / likely / high.

    The start day counts as day 1. ``wd`` counts the supplier's own working days, ``cd`` calendar days that
    may start and end on any day. ``planned`` is what to plan with: the likely value, or the long end of a
    range (the cautious reading).
    """

    low: int
    likely: int | None
    high: int
    unit: Unit
    planned: int = field(init=False, compare=False, repr=False)

    def __post_init__(self) -> None:
        """Settle the days to plan with, once."""
        object.__setattr__(self, "planned", self.high if self.likely is None else self.likely)

    def __str__(self) -> str:
        """The form used in plan files: ``12wd``, ``8..12wd`` or ``8/10/15wd``."""
        if self.likely is None:
            return f"{self.low}..{self.high}{self.unit}"
        if self.low == self.likely == self.high:
            return f"{self.likely}{self.unit}"
        return f"{self.low}/{self.likely}/{self.high}{self.unit}"


@dataclass(frozen=True, slots=True, kw_only=True)
class DayRate:
    """A lead that follows the quantity: set-up working days, then so many pieces a working day."""

    setup: int = 0
    per_day: Fraction

    def days(self, quantity: int) -> int:
        """Whole working days for ``quantity`` pieces, the last begun day counted.

        Examples
        --------
        >>> DayRate(setup=1, per_day=Fraction(12)).days(74)
        8
        """
        return ceil(self.setup + quantity / self.per_day)

    def __str__(self) -> str:
        """In words: ``1wd set-up, then 12 a day``."""
        setup = f"{self.setup}wd set-up, then " if self.setup else ""
        return f"{setup}{_number(self.per_day)} a day"


@dataclass(frozen=True, slots=True, kw_only=True)
class HourRate:
    """A lead from machine time: set-up hours plus minutes a piece, over hours a day and machines."""

    setup_h: Fraction = Fraction(0)
    minutes_each: Fraction
    hours_per_day: Fraction
    machines: int = 1

    def days(self, quantity: int) -> int:
        """Whole working days for ``quantity`` pieces, the last begun day counted.

        The set-up is done once; pieces are shared among the machines.

        Examples
        --------
        >>> HourRate(setup_h=Fraction(6), minutes_each=Fraction(35), hours_per_day=Fraction(14)).days(100)
        5
        """
        hours = self.setup_h + quantity * self.minutes_each / 60 / self.machines
        return ceil(hours / self.hours_per_day)

    def __str__(self) -> str:
        """In words: ``6 h set-up, then 35 minutes each, 14 h a day on 1 machine``."""
        setup = f"{_number(self.setup_h)} h set-up, then " if self.setup_h else ""
        machines = "1 machine" if self.machines == 1 else f"{self.machines} machines"
        each = f"{_number(self.minutes_each)} minutes each"
        return f"{setup}{each}, {_number(self.hours_per_day)} h a day on {machines}"


def parse_span(text: str) -> Span:
    """Read ``4cd`` or ``2wd``, with or without a space before the unit.

    Raises
    ------
    UnclearDaysError
        If the unit is missing or unclear; the message gives the readings.

    Examples
    --------
    >>> parse_span("4 cd")
    Span(days=4, unit='cd')
    """
    found = _SPAN.fullmatch(text.strip())
    if found is None:
        raise UnclearDaysError(_readings(text.strip(), ranges=False))
    return Span(_within_limit(int(found[1]), text), _unit(found[2]))


def parse_lead(text: str) -> Lead:
    """Read a lead time: ``12wd``, ``45cd``, ``8..12wd`` (plans with 12) or ``8/10/15wd`` (plans with 10).

    Raises
    ------
    UnclearDaysError
        If days are bare, weeks, negative, or out of order; the message gives the readings.

    Examples
    --------
    >>> parse_lead("8..12wd").planned, parse_lead("8/10/15 wd").planned
    (12, 10)
    >>> parse_lead("3 weeks")
    Traceback (most recent call last):
        ...
    tracker.plan.span.UnclearDaysError: '3 weeks' can be read in two ways: write 21cd (calendar days) or 15wd (their working days)
    """
    found = _LEAD.fullmatch(text.strip())
    if found is None:
        raise UnclearDaysError(_readings(text.strip(), ranges=True))
    first, last, likely, high, unit = found.groups()
    low = int(first)
    if likely is not None:
        lead = Lead(low, int(likely), int(high), _unit(unit))
    elif last is not None:
        lead = Lead(low, None, int(last), _unit(unit))
    else:
        lead = Lead(low, low, low, _unit(unit))
    _within_limit(lead.high, text)
    if not lead.low <= lead.planned <= lead.high:
        raise UnclearDaysError(f"'{text}' must rise from low to high: write the smallest number first")
    return lead


def _number(value: Fraction) -> str:
    return f"{float(value):g}"


def _unit(text: str) -> Unit:
    return "wd" if text == "wd" else "cd"


def _within_limit(days: int, text: str) -> int:
    if days > _LONGEST:
        raise UnclearDaysError(f"'{text}' is longer than ten years; the limit is {_LONGEST} days")
    return days


def _readings(text: str, *, ranges: bool) -> str:
    bare = _BARE.fullmatch(text.lower())
    if bare is None:
        forms = "12wd, 45cd, 8..12wd or 8/10/15wd" if ranges else "4cd or 2wd"
        why = "is negative" if text.startswith("-") else "is not a number of days"
        return f"'{text}' {why}: write {forms} (wd = their working days, cd = calendar days)"
    weeks = (bare[3] or "d").startswith("w")
    calendar = _rescaled(bare, _WEEK_DAYS if weeks else 1, "cd", ranges=ranges)
    working = _rescaled(bare, _WEEK_WORKDAYS if weeks else 1, "wd", ranges=ranges)
    return f"'{text}' can be read in two ways: write {calendar} (calendar days) or {working} (their working days)"


def _rescaled(bare: re.Match[str], factor: int, unit: Unit, *, ranges: bool) -> str:
    low, high = bare[1], bare[2]
    if high is not None and ranges:
        return f"{int(low) * factor}..{int(high) * factor}{unit}"
    return f"{int(high or low) * factor}{unit}"
