"""Lots worked one after another: moments within a working day, so that fractions of a day are carried.

A moment is ``day * ticks + used`` with ``used`` ticks of that day gone, from 1 to all of them; the start of a
day is the evening before it. ``ticks`` is how many steps a day of one job has.
"""

from dataclasses import dataclass
from fractions import Fraction
from math import lcm

from tracker.plan.model import Job
from tracker.plan.span import DayRate, Lead
from tracker.plan.workdays import Calendar


@dataclass(frozen=True, slots=True)
class Flow:
    """A lot's place in a sequence: steps to a day, steps it takes, and the lot worked before it."""

    ticks: int
    length: int
    before: int | None


def ticks_of(job: Job) -> int:
    """Steps to a working day that make every piece of the job, and its set-up, a whole number of them."""
    lead = job.lead
    if isinstance(lead, Lead):
        return 1
    if isinstance(lead, DayRate):
        return lead.per_day.numerator
    return lcm(_each(job).denominator, _setup(job).denominator)


def length_of(job: Job, pieces: int, *, sets_up: bool) -> int:
    """Steps that a lot of so many pieces takes; a lead time is the same for any number."""
    lead = job.lead
    if isinstance(lead, Lead):
        return lead.planned
    ticks = ticks_of(job)
    return int(ticks * (_each(job) * pieces + (_setup(job) if sets_up else 0)))


def _each(job: Job) -> Fraction:
    """Working days a piece takes."""
    lead = job.lead
    if isinstance(lead, Lead):
        return Fraction(0)
    if isinstance(lead, DayRate):
        return 1 / lead.per_day
    return lead.minutes_each / (60 * lead.machines * lead.hours_per_day)


def _setup(job: Job) -> Fraction:
    """Working days the set-up takes."""
    lead = job.lead
    if isinstance(lead, Lead):
        return Fraction(0)
    return Fraction(lead.setup) if isinstance(lead, DayRate) else lead.setup_h / lead.hours_per_day


def evening(day: int, ticks: int) -> int:
    """The moment at the end of a day."""
    return (day + 1) * ticks


def day_of(moment: int, ticks: int) -> int:
    """The day in whose evening what ends at this moment is ready."""
    return (moment - 1) // ticks


def _position(moment: int, ticks: int, calendar: Calendar) -> int:
    """Steps worked from the calendar's beginning up to a moment."""
    day = day_of(moment, ticks)
    if calendar.is_working(day):
        return calendar.index(day) * ticks + moment - day * ticks
    return calendar.index(day + 1) * ticks


def advance(moment: int, length: int, ticks: int, calendar: Calendar | None) -> tuple[int, int]:
    """The day on which work of a length begins from a moment, and the moment it ends."""
    if calendar is None:
        return moment // ticks, moment + length
    start = _position(moment, ticks, calendar)
    end = start + length
    place = (end - 1) // ticks if length else start // ticks
    prepared = calendar.first
    last = calendar.at(place)
    if calendar.first != prepared:
        return advance(moment, length, ticks, calendar)
    first = calendar.at(start // ticks)
    return first, last * ticks + end - place * ticks if length else moment


def retreat(moment: int, length: int, ticks: int, calendar: Calendar | None) -> int:
    """The latest moment at which work of a length can begin and end by a moment."""
    if calendar is None:
        return moment - length
    begin = _position(moment, ticks, calendar) - length
    return calendar.at(begin // ticks) * ticks + begin % ticks
