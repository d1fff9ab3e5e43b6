"""What could be decided: each option with the days it gains, and the last day on which deciding it still helps."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date, timedelta

from tracker.plan.day_text import spelled
from tracker.plan.model import Fact, Plan
from tracker.plan.options import Option, decision_on, open_options
from tracker.report.coverage import new_problems
from tracker.report.picture import Picture
from tracker.report.shortages import Shortage, short_shipments
from tracker.schedule.forecast import Forecast

FURTHEST = 200
LOOKED_BEYOND = 7

Tries = Callable[[Plan, date], Plan | str]
"""The plan as it would be were an option decided on a day, or why that cannot be."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Gain:
    """What an option does to a shipment, in calendar days earlier (negative: later); None where a date is missing.

    ``before`` is its date as things stand. A shipment that goes ``short`` by it, for want of pieces that nobody makes
    then, has no ``after``.
    """

    shipment: str
    before: date | None
    after: date | None
    days: int | None
    short: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class AtWorst:
    """What an option gains were promises kept only by the worst day they named.

    ``jobs`` are those with such a promise and its worst day, ``gains`` the open shipments.
    """

    jobs: tuple[tuple[str, date], ...]
    gains: tuple[Gain, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class OptionRow:
    """An open option against the forecast as it stands, in which promises are kept.

    ``words`` are what would be tried, ``spelled`` the same with its days in full. ``now`` is what deciding it today
    does to each open shipment, ``ship_date`` to the last of them, ``shortages`` what does not add up then and did
    before. ``last_day`` is the last day on which deciding it makes any shipment earlier than it stands, ``then`` and
    ``ship_date_then`` what it does on that day; None and nothing where it gains nothing today, or where no last day
    was found: then it helps ``throughout`` the days looked at, or ``trouble`` says what a later day meets. Where it
    cannot be tried at all ``now`` is empty and ``trouble`` says why.
    """

    option: str
    words: str
    spelled: str
    cost: str
    on: date
    now: tuple[Gain, ...] = ()
    ship_date: Gain | None = None
    shortages: tuple[Shortage, ...] = ()
    last_day: date | None = None
    throughout: bool = False
    then: tuple[Gain, ...] = ()
    ship_date_then: Gain | None = None
    at_worst: AtWorst | None = None
    trouble: str = ""

    @property
    def helps(self) -> bool:
        """Whether deciding it today makes any shipment earlier."""
        return _earlier(self.now)


@dataclass(frozen=True, slots=True, kw_only=True)
class DecidedRow:
    """An option about which something was decided: what, and on which day."""

    option: str
    words: str
    spelled: str
    cost: str
    on: date
    decided: date
    decision: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Deciding:
    """The options of a run: open ones, then those decided, both in the order they were kept."""

    today: date
    options: tuple[OptionRow, ...]
    decided: tuple[DecidedRow, ...]


def deciding(picture: Picture, tries: Callable[[Option], Tries], only: str = "") -> Deciding:
    """All options kept up to today, or the one named; ``tries`` gives the way to try an option."""
    plan, today = picture.plan, picture.today
    still_open = (one for one in open_options(plan, today) if only in ("", one.code))
    return Deciding(
        today=today,
        options=tuple(option_row(picture, one, tries(one)) for one in still_open),
        decided=tuple(row for row in _decided_rows(plan, today) if only in ("", row.option)),
    )


def option_row(picture: Picture, option: Option, tries: Tries) -> OptionRow:
    """What one option gains today, and until when."""
    today = picture.today
    row = OptionRow(
        option=option.code, words=option.words, spelled=spelled(option.words), cost=option.cost, on=option.on
    )
    tried = tries(picture.plan, today)
    if isinstance(tried, str):
        return replace(row, trouble=tried)
    then = Forecast(tried, today)
    now = _gains(picture.forecast, then)
    row = replace(row, now=now, ship_date=_ship_date(picture.forecast, then, now))
    row = replace(row, shortages=new_problems(picture, Picture(then)))
    row = replace(row, at_worst=_at_worst(picture, tries, now))
    return _with_last_day(row, picture, tries) if row.helps else row


def _with_last_day(row: OptionRow, picture: Picture, tries: Tries) -> OptionRow:
    """Looked for until the day on which the last of the open shipments would leave, 200 days at most."""
    base, today = picture.forecast, picture.today
    ahead = max(one.before - today for one in row.now if one.before is not None).days
    beyond = today + timedelta(days=min(max(ahead, 0), FURTHEST) + 1)
    found: dict[date, Forecast] = {}
    troubles: list[str] = []

    def helps(day: date) -> bool:
        tried = tries(picture.plan, day)
        if isinstance(tried, str):
            troubles.append(tried)
            return False
        found[day] = Forecast(tried, today)
        gains = _gains(base, found[day])
        return _earlier(gains) and not _costs_more(gains, row.now)

    last = last_helping(helps, today, beyond)
    if troubles:
        return replace(row, trouble=troubles[0])
    if last == today:
        return replace(row, last_day=today, then=row.now, ship_date_then=row.ship_date)
    if last == beyond - timedelta(days=1):
        return replace(row, throughout=True)
    then = _gains(base, found[last])
    return replace(row, last_day=last, then=then, ship_date_then=_ship_date(base, found[last], then))


def last_helping(helps: Callable[[date], bool], first: date, beyond: date) -> date:
    """The last day from ``first``, which helps, to before ``beyond``: found by halving, then looked at once more.

    Deciding later hardly ever makes a shipment earlier again. Equal lots can do that, for a day or two, so the
    seven days after the last one found are all looked at.
    """
    helping, failing = first, beyond
    while (failing - helping).days > 1:
        day = helping + (failing - helping) // 2
        if helps(day):
            helping = day
        else:
            failing = day
    day = failing
    while day < beyond and (day - helping).days <= LOOKED_BEYOND:
        if helps(day):
            helping = day
        day += timedelta(days=1)
    return helping


def _gains(base: Forecast, then: Forecast) -> tuple[Gain, ...]:
    """For each open shipment what its date would be; none for one that goes short."""
    short = short_shipments(then) - short_shipments(base)
    return tuple(
        _gain(code, base.shipment_dates[code], then.shipment_dates.get(code), short=code in short)
        for code in base.open_shipments
    )


def _ship_date(base: Forecast, then: Forecast, gains: tuple[Gain, ...]) -> Gain | None:
    """The last parcel, under the code of the shipment that has it as things stand."""
    last = base.last_shipment
    if last is None:
        return None
    return _gain(last, base.ship_date, then.ship_date, short=any(one.short for one in gains))


def _gain(code: str, before: int | None, after: int | None, *, short: bool) -> Gain:
    after = None if short else after
    return Gain(
        shipment=code,
        before=None if before is None else date.fromordinal(before),
        after=None if after is None else date.fromordinal(after),
        days=None if before is None or after is None else before - after,
        short=short,
    )


def _earlier(gains: tuple[Gain, ...]) -> bool:
    return any(one.days is not None and one.days > 0 for one in gains)


def _costs_more(gains: tuple[Gain, ...], now: tuple[Gain, ...]) -> bool:
    """Whether a shipment goes later than by the option decided now and than as things stand, or short only now."""
    today = {one.shipment: one for one in now}
    return any(
        one.days < min(0, today[one.shipment].days or 0)
        if one.days is not None
        else one.short and not today[one.shipment].short
        for one in gains
    )


def _at_worst(picture: Picture, tries: Tries, now: tuple[Gain, ...]) -> AtWorst | None:
    """What it gains with promises at their worst; None where none named a worst day, or that changes no gain."""
    worst, jobs = _with_worst(picture)
    if not jobs:
        return None
    tried = tries(worst, picture.today)
    if isinstance(tried, str):
        return None
    gains = _gains(Forecast(worst, picture.today), Forecast(tried, picture.today))
    if [one.days for one in gains] == [one.days for one in now]:
        return None
    return AtWorst(jobs=jobs, gains=gains)


def _with_worst(picture: Picture) -> tuple[Plan, tuple[tuple[str, date], ...]]:
    """The plan with the live promise of each open job at the worst day it named, and those days by job."""
    plan = picture.plan
    worst: dict[Fact, date] = {}
    for code, facts in plan.facts_by_job.items():
        lot = picture.forecast.tightest_lot(code)
        promises = [fact for fact in facts if fact.kind == "promised"]
        if promises and promises[-1].worst is not None and lot is not None and picture.forecast.is_open(lot):
            worst[promises[-1]] = promises[-1].worst
    facts = tuple(replace(fact, day=worst[fact]) if fact in worst else fact for fact in plan.facts)
    return replace(plan, facts=facts), tuple((fact.job, day) for fact, day in worst.items())


def _decided_rows(plan: Plan, today: date) -> list[DecidedRow]:
    return [
        DecidedRow(
            option=one.code, words=one.words, spelled=spelled(one.words), cost=one.cost, on=one.on,
            decided=fact.on, decision=fact.note,
        )
        for one in plan.options
        if (fact := decision_on(plan, one.code, today)) is not None
    ]  # fmt: skip
