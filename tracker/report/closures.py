"""Closures as cliffs: what must happen by when so that a job is ready before its supplier shuts."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Literal

from tracker.explain.state import promised_day
from tracker.plan.calendars import calendars_of
from tracker.plan.model import Supplier
from tracker.plan.shut import Stretch, stretches
from tracker.report.before_closure import Act, acts_before, ready_a_day_later
from tracker.report.cliffs import LastDays, explained, last_days
from tracker.report.picture import Picture
from tracker.schedule.forecast import Forecast
from tracker.schedule.passes import link_bound
from tracker.schedule.what_if import dates_if_finished

How = Literal["in time", "across", "waits", "after"]


@dataclass(frozen=True, slots=True, kw_only=True)
class ShipmentMove:
    """A shipment's date with the job ready on the last day before they shut, and a day later; ``days`` between."""

    shipment: str
    before: date
    after: date
    days: int


@dataclass(frozen=True, slots=True, kw_only=True)
class DayLater:
    """What acting one day of ours later (or their being ready one of their days later) does.

    The job is then ready on ``ready``, ``days`` calendar days after the last day before they shut.
    """

    ready: date
    days: int
    moves: tuple[ShipmentMove, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ClosureJob:
    """One open job beside one closure.

    ``how``: ready ``in time``, in work ``across`` it, or it ``waits`` for them to open. ``acts`` are what must happen
    by when for it to be ready by ``last_ready``, the last of their days before they shut; ``day_later`` what missing
    the first of them does, for jobs in time. ``too_late`` counts their working days it misses that day by, ``still``
    the calendar days it stands still. ``at_best`` tells that a date it rests on passed without news.
    """

    job: str
    name: str
    state: str
    how: How
    ready: date
    promise: date | None
    at_best: bool
    last_ready: date
    acts: tuple[Act, ...]
    day_later: DayLater | None
    too_late: int
    still: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ClosureRow:
    """One stretch a supplier is shut, first and last day included, its jobs by the day to act.

    ``begin_after`` are open jobs that begin later for reasons of their own.
    """

    supplier: str
    name: str
    inhouse: bool
    first: date
    last: date
    days: int
    why: tuple[str, ...]
    jobs: tuple[ClosureJob, ...]
    begin_after: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class DaysOff:
    """Days off of a supplier with open jobs that are no cliff: single ones, with their weekend."""

    supplier: str
    days: tuple[date, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Closures:
    """Closures that begin by ``until``, by the day to act; ``untouched`` are those no open job can meet.

    ``last_days`` are the holders and near-holders, each with its next cliff, whoever's closure makes it.
    """

    today: date
    until: date
    rows: tuple[ClosureRow, ...]
    untouched: tuple[ClosureRow, ...]
    days_off: tuple[DaysOff, ...]
    last_days: tuple[LastDays, ...]


def closures(picture: Picture, days: int) -> Closures:
    """Every supplier's closures that begin within so many calendar days, or have begun, beside its open jobs.

    A job in time for one closure is left out of those after it.
    """
    today, calendars = picture.forecast.today, calendars_of(picture.plan)
    rows, days_off = [], []
    for supplier in picture.plan.suppliers:
        lots = _to_make(picture, supplier.code)
        single: list[int] = []
        in_time: set[int] = set()
        for stretch in stretches(supplier, calendars[supplier.code], today, today + days):
            if stretch.is_cliff:
                rows.append(_row(picture, supplier, stretch, [lot for lot in lots if lot not in in_time]))
                in_time |= {
                    picture.forecast.network.index[job.job] for job in rows[-1].jobs if job.how == "in time"
                }
            else:
                single += stretch.lost
        if lots and single:
            lost = tuple(date.fromordinal(day) for day in single)
            days_off.append(DaysOff(supplier=supplier.code, days=lost))
    touched = [row for row in rows if row.jobs]
    return Closures(
        today=picture.today,
        until=date.fromordinal(today + days),
        rows=tuple(sorted(touched, key=lambda row: row.jobs[0].acts[0].by)),
        untouched=tuple(row for row in rows if not row.jobs),
        days_off=tuple(days_off),
        last_days=explained(picture, last_days(picture)),
    )


def _to_make(picture: Picture, supplier: str) -> list[int]:
    """The supplier's open jobs that still take working days of theirs."""
    network = picture.forecast.network
    return [
        lot
        for lot, job in enumerate(network.jobs)
        if job.supplier == supplier
        and network.calendar[lot] is not None
        and picture.forecast.is_open(lot)
        and network.progress[lot].made is None
    ]


def _row(picture: Picture, supplier: Supplier, stretch: Stretch, lots: list[int]) -> ClosureRow:
    hows = {lot: _how(picture.forecast, lot, stretch) for lot in lots}
    acts = {lot: acts_before(picture, lot, stretch.first - 1) for lot, how in hows.items() if how != "after"}
    later = _days_later(picture, stretch, {lot: acts[lot] for lot, how in hows.items() if how == "in time"})
    jobs = [_job(picture, lot, stretch, hows[lot], acts[lot], later.get(lot)) for lot in acts]
    return ClosureRow(
        supplier=supplier.code,
        name=supplier.name,
        inhouse=supplier.inhouse,
        first=date.fromordinal(stretch.first),
        last=date.fromordinal(stretch.last),
        days=stretch.days,
        why=stretch.why,
        jobs=tuple(sorted(jobs, key=lambda job: job.acts[0].by)),
        begin_after=tuple(picture.forecast.network.jobs[lot].code for lot in lots if lot not in acts),
    )


def _how(forecast: Forecast, lot: int, stretch: Stretch) -> How:
    if forecast.times.finish[lot] < stretch.first:
        return "in time"
    if forecast.times.start[lot] <= stretch.last:
        return "across"
    return "waits" if _could_begin(forecast, lot) <= stretch.last else "after"


def _could_begin(forecast: Forecast, lot: int) -> int:
    """The day 1 that own bounds and inputs allow, worked or not."""
    network, times = forecast.network, forecast.times
    fixed = network.fixed[lot]
    if fixed is not None:
        return fixed.start
    links = [link for link in network.special[lot] or () if link.kind != "finish-finish"]
    arrivals = (times.arrive[other] + 1 for other in network.plain[lot])
    return max((network.floor[lot], *arrivals, *(link_bound(link, times) for link in links)))


def _days_later(
    picture: Picture, stretch: Stretch, acts: Mapping[int, tuple[Act, ...]]
) -> Mapping[int, DayLater]:
    """For each job in time, exact dates with it ready on the last day before they shut and a day too late."""
    last = stretch.first - 1
    ready = {lot: ready_a_day_later(picture, lot, last, doing) for lot, doing in acts.items()}
    before = dates_if_finished(picture.forecast, dict.fromkeys(acts, last))
    after = dates_if_finished(picture.forecast, ready)
    return {
        lot: DayLater(
            ready=date.fromordinal(day),
            days=day - last,
            moves=tuple(
                ShipmentMove(
                    shipment=code,
                    before=date.fromordinal(was),
                    after=date.fromordinal(after[lot][code]),
                    days=after[lot][code] - was,
                )
                for code, was in before[lot].items()
                if after[lot][code] != was
            ),
        )
        for lot, day in ready.items()
    }


def _job(
    picture: Picture, lot: int, stretch: Stretch, how: How, acts: tuple[Act, ...], later: DayLater | None
) -> ClosureJob:
    forecast = picture.forecast
    job, finish, calendar = (
        forecast.network.jobs[lot],
        forecast.times.finish[lot],
        forecast.network.calendar[lot],
    )
    return ClosureJob(
        job=job.code,
        name=job.name,
        state=picture.standings[job.code].state,
        how=how,
        ready=date.fromordinal(finish),
        promise=promised_day(forecast, job),
        at_best=bool(forecast.times.overdue and forecast.overdue_behind((lot,))),
        last_ready=date.fromordinal(stretch.first - 1),
        acts=acts,
        day_later=later,
        too_late=calendar.count(stretch.first, finish + 1) if calendar and how != "in time" else 0,
        still=_still(forecast, lot, stretch, how),
    )


def _still(forecast: Forecast, lot: int, stretch: Stretch, how: How) -> int:
    """Calendar days of the closure on which the job would otherwise be worked on or begin."""
    if how == "in time" or forecast.times.finish[lot] <= stretch.last:
        return 0
    begins = forecast.times.start[lot] if how == "across" else _could_begin(forecast, lot)
    return stretch.last + 1 - max(stretch.first, begins)
