"""Dates to accept on the telephone: the latest that moves no shipment, and what later ones cost."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from tracker.plan.model import DatesMean, Supplier
from tracker.plan.workdays import Calendar
from tracker.report.jobs import JobRow
from tracker.report.next_day import LaterCost, costs_if_here, next_day_costs
from tracker.report.owed import our_calendar
from tracker.report.picture import Picture
from tracker.schedule.network import arrival
from tracker.schedule.what_if import gains_if_arrived

DAYS_LATER = (1, 5)


@dataclass(frozen=True, slots=True, kw_only=True)
class LaterDate:
    """A date they might name, ``own_days`` after the latest we can accept, and what it costs.

    ``own_days`` are their days where dates mean leaving, days our own bench is open where they mean in hand.
    ``calendar_days`` counts from the latest we can accept: many where a closure lies between. ``working`` is False
    where all days count: the job runs on calendar days, or we have no bench of our own. ``costs`` has the shipments
    that move, in calendar days.
    """

    own_days: int
    working: bool
    day: date
    calendar_days: int
    costs: Mapping[str, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class Latest:
    """The latest date to accept and how it counts: leaving their door, or in hand."""

    day: date
    means: DatesMean


def latest_to_accept(picture: Picture, supplier: Supplier, row: JobRow) -> Latest | None:
    """The latest date that moves no shipment: a day of theirs to leave, or a day our own bench is open to be here.

    Never before today; None where no shipment can move.
    """
    lot = picture.forecast.tightest_lot(row.code)
    if row.late_finish is None or row.harmless_until is None or lot is None:
        return None
    if supplier.dates_mean == "leaves" and not row.left:
        return Latest(day=row.harmless_until, means="leaves")
    ours = our_calendar(picture)
    day = _harmless_arrival(picture, lot, row.late_finish.toordinal(), ours)
    if ours is not None:
        day = max(ours.snap_back(day), picture.forecast.today)
    return Latest(day=date.fromordinal(day), means="in hand")


def _harmless_arrival(picture: Picture, lot: int, late_finish: int, ours: Calendar | None) -> int:
    """The last evening, or one after which we are shut, to be here that moves no shipment.

    Travel in working days skips evenings on which what is here by other means would still be in time.
    """
    network = picture.forecast.network
    first, beyond = arrival(network, lot, late_finish), arrival(network, lot, late_finish + 1)
    days = (day for day in range(beyond - 1, first, -1) if ours is None or ours.is_working(day))
    return next((day for day in days if not _moves(picture, lot, day)), first)


def _moves(picture: Picture, lot: int, day: int) -> bool:
    return any(gain < 0 for gain in gains_if_arrived(picture.forecast, {lot: day}).values())


def later_dates(picture: Picture, latest: Mapping[str, Latest]) -> Mapping[str, tuple[LaterDate, ...]]:
    """By job, the dates one day and five days after the latest we can accept, counted as that is."""
    tightest = {code: picture.forecast.tightest_lot(code) for code in latest}
    index = {code: lot for code, lot in tightest.items() if lot is not None}
    lots = {index[code]: last for code, last in latest.items()}
    found: dict[str, tuple[LaterDate, ...]] = dict.fromkeys(latest, ())
    for own_days in DAYS_LATER:
        costs = _costs(picture, lots, own_days)
        for code, last in latest.items():
            if costs.get(index[code]):
                later = _later_date(picture, index[code], last, own_days, costs[index[code]])
                found[code] = (*found[code], later)
    return found


def _costs(
    picture: Picture, lots: Mapping[int, Latest], own_days: int
) -> Mapping[int, tuple[LaterCost, ...]]:
    """What so many days later cost: of being ready where dates mean leaving, else of being here."""
    ours = our_calendar(picture)
    leaving = [lot for lot, last in lots.items() if last.means == "leaves"]
    here = {lot: last.day.toordinal() for lot, last in lots.items() if last.means == "in hand"}
    days = {lot: ours.add(day, own_days) if ours else day + own_days for lot, day in here.items()}
    return {**next_day_costs(picture, leaving, own_days), **costs_if_here(picture, days)}


def _later_date(
    picture: Picture, lot: int, last: Latest, own_days: int, costs: tuple[LaterCost, ...]
) -> LaterDate:
    day = costs[0].day
    calendar = our_calendar(picture) if last.means == "in hand" else picture.forecast.network.calendar[lot]
    return LaterDate(
        own_days=own_days,
        working=calendar is not None,
        day=day,
        calendar_days=(day - last.day).days,
        costs={cost.shipment: cost.days for cost in costs},
    )
