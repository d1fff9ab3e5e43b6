"""The last days on which holders and near-holders are harmless, and the cliffs ahead of them."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from itertools import chain, pairwise

from tracker.explain.closure_share import ClosureShare
from tracker.explain.step_share import StepShares
from tracker.plan.workdays import Calendar
from tracker.report.near import NEAR_DAYS
from tracker.report.next_day import LaterCost
from tracker.report.picture import Picture
from tracker.schedule.forecast import Slack
from tracker.schedule.what_if import dates_by_finish

CLIFF = 7
"""Calendar days that one day costs a shipment, from which on it is called a cliff."""
AHEAD = 60
"""Own days past the last harmless one that are looked at for a cliff."""

Dates = Mapping[str, int]
DatesOn = Callable[[int, int], Dates]


@dataclass(frozen=True, slots=True, kw_only=True)
class CliffCost:
    """A shipment's date on the last day before a cliff and on the next own day, ``days`` calendar days later.

    ``closure`` is the one that makes most of them, where it was looked for and there is one.
    """

    shipment: str
    before: date
    after: date
    days: int
    closure: ClosureShare | None


@dataclass(frozen=True, slots=True, kw_only=True)
class NextCliff:
    """Being ready on ``next_day``, the own day after ``last``, costs a shipment seven calendar days or more.

    ``costs`` has what that one own day costs each shipment it moves.
    """

    last: date
    next_day: date
    costs: tuple[CliffCost, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LastDays:
    """One open job that holds a shipment or has few spare days, and how long it may take.

    ``costs`` has what being ready one own day past ``harmless_until`` costs each shipment it moves; ``cliff`` the first
    cliff from there on, None for none as far as was looked. Goods ``on_their_way`` are ready when they are here.
    ``at_best`` tells that a date passed without news, so that the shipments' dates are at best.
    """

    job: str
    name: str
    supplier: str
    state: str
    ready: date
    on_their_way: bool
    holds: tuple[str, ...]
    at_best: bool
    harmless_until: date
    costs: tuple[LaterCost, ...]
    cliff: NextCliff | None


def last_days(picture: Picture, within: int | None = None) -> tuple[LastDays, ...]:
    """Holders and near-holders by their last harmless day, with the next cliff up to 60 own days past it.

    ``within`` looks no more calendar days past the present finish, though always at the first own day that costs. No
    closures are named yet: ``explained`` does.
    """
    dates = dates_by_finish(picture.forecast)
    rows = [_row(picture, lot, slack, dates, within) for lot, slack in _holders_and_near(picture)]
    return tuple(sorted(rows, key=lambda row: (row.harmless_until, row.job)))


def explained(picture: Picture, rows: Sequence[LastDays]) -> tuple[LastDays, ...]:
    """The same with the closure that makes most of what each cliff costs the shipment it moves most."""
    shares = StepShares(picture.forecast)
    return tuple(row if row.cliff is None else _explained(shares, row, row.cliff) for row in rows)


def _explained(shares: StepShares, row: LastDays, cliff: NextCliff) -> LastDays:
    worst = max(cliff.costs, key=lambda cost: cost.days)
    lot = shares.forecast.tightest_lot(row.job)
    if lot is None:
        return row
    closure = shares.of(lot, worst.shipment, cliff.last.toordinal(), cliff.next_day.toordinal())
    costs = tuple(replace(cost, closure=closure) if cost is worst else cost for cost in cliff.costs)
    return replace(row, cliff=replace(cliff, costs=costs))


def _holders_and_near(picture: Picture) -> Iterator[tuple[int, Slack]]:
    """Open jobs that hold a shipment or have few spare days, by their tightest lot."""
    for job in picture.plan.jobs:
        lot = picture.forecast.tightest_lot(job.code)
        slack = None if lot is None else picture.forecast.slack(lot)
        if lot is None or slack is None:
            continue
        if job.code in picture.holds or slack.spare_days <= NEAR_DAYS:
            yield lot, slack


def _row(picture: Picture, lot: int, slack: Slack, dates: DatesOn, within: int | None) -> LastDays:
    forecast = picture.forecast
    job, finish = forecast.network.jobs[lot], forecast.times.finish[lot]
    days = _own_days(forecast.network.calendar[lot], slack.late_finish)
    first, second = next(days), next(days)
    now, then = dates(lot, first), dates(lot, second)
    costs = _costs(now, then)
    steps = chain(((slack.harmless_until, now), (second, then)), ((day, dates(lot, day)) for day in days))
    until = None if within is None else max(slack.harmless_until, finish + within)
    return LastDays(
        job=job.code,
        name=job.name,
        supplier=job.supplier,
        state=picture.standings[job.code].state,
        ready=date.fromordinal(finish),
        on_their_way=forecast.progress(lot).left is not None,
        holds=picture.holds.get(job.code, ()),
        at_best=any(picture.at_best[cost.shipment] for cost in costs),
        harmless_until=date.fromordinal(slack.harmless_until),
        costs=tuple(
            LaterCost(day=date.fromordinal(second), shipment=cost.shipment, days=cost.days) for cost in costs
        ),
        cliff=_first_cliff(steps, until),
    )


def _own_days(calendar: Calendar | None, late: int) -> Iterator[int]:
    """The latest day that is harmless, and the own days after it that are looked at."""
    day = late
    yield day
    for _ in range(AHEAD):
        day = calendar.add(day, 1) if calendar else day + 1
        yield day


def _first_cliff(steps: Iterable[tuple[int, Dates]], until: int | None) -> NextCliff | None:
    """The first two days next to each other that give a shipment's date a cliff apart, the first by ``until``."""
    for (last, here), (day, later) in pairwise(steps):
        if until is not None and last > until:
            return None
        costs = _costs(here, later)
        if any(cost.days >= CLIFF for cost in costs):
            return NextCliff(last=date.fromordinal(last), next_day=date.fromordinal(day), costs=costs)
    return None


def _costs(here: Dates, later: Dates) -> tuple[CliffCost, ...]:
    return tuple(
        CliffCost(
            shipment=code,
            before=date.fromordinal(here[code]),
            after=date.fromordinal(day),
            days=day - here[code],
            closure=None,
        )
        for code, day in later.items()
        if day > here[code]
    )
