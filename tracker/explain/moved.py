"""Why shipments moved: the diary gone through step by step, so that what each step did adds up exactly."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from tracker.explain.passing import blame_of_days
from tracker.explain.steps import Blame, Changed, Step, blame_of, steps_of, whole_step
from tracker.plan.model import Plan
from tracker.schedule.forecast import Forecast

Dates = Mapping[str, int | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Effect:
    """What one line does to one shipment; dates are day numbers, ``days`` calendar days later (negative: earlier).

    ``days`` is None where the shipment appears (``before`` is None) or has no date any more (``after`` is None).
    """

    shipment: str
    before: int | None
    after: int | None
    days: int | None
    blame: Blame


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A step of the diary, or (``step`` is None) days that passed with no other change.

    Days passed are those after ``first`` up to ``last``; a step has its entry day in both. ``folded`` counts the
    calendar days by which days passed had moved shipments until the step, entered late, took that back. ``ends``
    are the forecasts before and after.
    """

    step: Step | None
    first: int
    last: int
    effects: tuple[Effect, ...]
    folded: Mapping[str, int]
    ends: tuple[Forecast | None, Forecast | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Recalculated:
    """A date that an entry printed and that comes out differently today, from the same plan on the same day."""

    entry: int
    shipment: str
    printed: int
    now: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Movement:
    """All that moved shipments from one day's start to another's: ``start`` and ``end`` are the dates then."""

    start: Dates
    end: Dates
    lines: tuple[Line, ...]
    recalculated: tuple[Recalculated, ...]

    @property
    def shipments(self) -> tuple[str, ...]:
        """Codes of all shipments there at either end, or that moved between, in plan order at the end."""
        moved = (effect.shipment for line in self.lines for effect in line.effects)
        return tuple(dict.fromkeys((*self.end, *self.start, *moved)))

    def total(self, shipment: str) -> int | None:
        """Calendar days it moved in all; None where it has no date at one end."""
        before, after = self.start.get(shipment), self.end.get(shipment)
        return None if before is None or after is None else after - before


def movement(plan: Plan | None, since: int, entries: Iterable[Changed], until: int) -> Movement:
    """Go from the start of day ``since`` through the entries to the start of day ``until``.

    Before each entry the days up to its entry day pass, with what was known then, those up to the day it happened
    apart where it was entered late; after the last those up to ``until``, which no entry day passes. An entry that moves a shipment is told part
    by part. What one entered late takes back of the days between is taken out of both.
    """
    telling = _Telling(plan, since)
    start = dict(telling.dates)
    for changed in entries:
        step = whole_step(changed)
        day = min(step.entry.day.toordinal(), until)
        telling.let_days_pass(min(day, _happened(step) or day))
        telling.let_days_pass(day)
        telling.take(step)
    telling.let_days_pass(until)
    _fold_late_entries(telling.lines)
    return Movement(
        start=start,
        end=telling.dates,
        lines=tuple(_told(telling.lines, start)),
        recalculated=tuple(telling.recalculated),
    )


@dataclass(slots=True)
class _Draft:
    """A line whose days may still be folded into a later one."""

    step: Step | None
    first: int
    last: int
    days: dict[str, int] = field(default_factory=dict)
    appears: dict[str, int | None] = field(default_factory=dict)
    blames: dict[str, Blame] = field(default_factory=dict)
    folded: dict[str, int] = field(default_factory=dict)
    ends: tuple[Forecast | None, Forecast | None] = (None, None)


class _Telling:
    """The plan and the day as the steps go on, and the dates of the shipments then."""

    def __init__(self, plan: Plan | None, day: int) -> None:
        self.plan = plan
        self.day = day
        self.lines: list[_Draft] = []
        self.recalculated: list[Recalculated] = []
        self._forecast = _forecast(plan, day)
        self.dates: Dates = _dates(self._forecast)
        self._last_known = {code: day for code, day in self.dates.items() if day is not None}

    def let_days_pass(self, day: int) -> None:
        """Nothing changes but the day; one that lies back is left out."""
        if day > self.day:
            line = _Draft(step=None, first=self.day, last=day)
            self.day = day
            self._go_on(line, _forecast(self.plan, day))

    def take(self, whole: Step) -> None:
        """One entry, on the day reached."""
        after = _forecast(whole.plan, self.day) if whole.moves_dates else self._forecast
        parts = tuple(steps_of(whole)) if _dates(after) != self.dates else (whole,)
        for part in parts:
            self.plan = part.plan
            line = _Draft(step=part, first=self.day, last=self.day)
            if part is parts[-1]:
                self._go_on(line, after)
            else:
                self._go_on(line, _forecast(part.plan, self.day) if part.moves_dates else self._forecast)
        self._compare_printed(whole)

    def _go_on(self, line: _Draft, after: Forecast | None) -> None:
        before, self._forecast = self._forecast, after
        line.ends = (before, after)
        if after is not before:
            old, self.dates = self.dates, _dates(after)
            for code in dict.fromkeys((*self.dates, *old)):
                if self.dates.get(code) != old.get(code):
                    self._note(line, code)
        self.lines.append(line)

    def _note(self, line: _Draft, code: str) -> None:
        """A shipment that comes back counts from where it was last seen."""
        now, was = self.dates.get(code), self._last_known.get(code)
        if now is None or was is None:
            line.appears[code] = now
            days = 0
        else:
            days = line.days[code] = now - was
        if now is not None:
            self._last_known[code] = now
        line.blames[code] = (
            blame_of(line.step, days) if line.step is not None else blame_of_days(self._forecast, code)
        )

    def _compare_printed(self, step: Step) -> None:
        entry = step.entry
        if not entry.shipments or entry.printed_for != date.fromordinal(self.day):
            return
        self.recalculated += [
            Recalculated(
                entry=entry.number, shipment=code, printed=printed.toordinal(), now=self.dates.get(code)
            )
            for code, printed in entry.shipments
            if self.dates.get(code) != printed.toordinal()
        ]


def _forecast(plan: Plan | None, day: int) -> Forecast | None:
    return None if plan is None else Forecast(plan, date.fromordinal(day))


def _dates(forecast: Forecast | None) -> Dates:
    return {} if forecast is None else forecast.shipment_dates


def _fold_late_entries(lines: Sequence[_Draft]) -> None:
    """Where a step entered late brings back what days since it happened had cost, take both out."""
    for place, line in enumerate(lines):
        happened = _happened(line.step) if line.step is not None else None
        if happened is None:
            continue
        for code, days in line.days.items():
            to_take = -days
            for earlier in reversed(lines[:place]):
                if to_take <= 0 or earlier.last <= happened:
                    break
                if earlier.step is None:
                    to_take -= _fold(earlier, line, code, to_take, happened)


def _fold(days: _Draft, late: _Draft, code: str, to_take: int, happened: int) -> int:
    """Take up to so many days out of days passed and the late step; give back how many.

    What is left of days that all came after it happened is held by what holds the shipment now that it is known.
    """
    taken = min(to_take, max(0, days.days.get(code, 0)))
    if taken:
        days.days[code] -= taken
        late.days[code] += taken
        late.folded[code] = late.folded.get(code, 0) + taken
        if days.days[code] and days.first >= happened:
            days.blames[code] = blame_of_days(late.ends[1], code)
            days.ends = (days.ends[0], late.ends[1])
    return taken


def _happened(step: Step) -> int | None:
    """The day the facts of a step happened, where that was before it was entered."""
    entered = step.entry.day.toordinal()
    happened = min((fact.on.toordinal() for fact in step.facts), default=entered)
    return happened if happened < entered else None


def _told(lines: Sequence[_Draft], start: Dates) -> Iterator[Line]:
    """The lines, with each shipment's date before and after as the days add up."""
    reached = {code: day for code, day in start.items() if day is not None}
    for line in lines:
        effects = []
        for code, blame in line.blames.items():
            if code in line.appears:
                before, after, days = reached.get(code), line.appears[code], None
            elif line.days[code]:
                days = line.days[code]
                before, after = reached[code], reached[code] + days
            else:
                continue
            if after is not None:
                reached[code] = after
            effects.append(Effect(shipment=code, before=before, after=after, days=days, blame=blame))
        yield Line(
            step=line.step,
            first=line.first,
            last=line.last,
            effects=tuple(effects),
            folded=line.folded,
            ends=line.ends,
        )
