"""Dates to accept on the telephone: the latest that moves no shipment, and what later ones cost."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from tracker.plan.model import DatesMean, Supplier
from tracker.report.jobs import JobRow
from tracker.report.next_day import LaterCost, next_day_costs
from tracker.report.picture import Picture
from tracker.schedule.network import arrival

DAYS_LATER = (1, 5)


@dataclass(frozen=True, slots=True, kw_only=True)
class LaterDate:
    """A date they might name, ``own_days`` of their days after the latest we can accept, and what it costs.

    ``calendar_days`` counts from the latest we can accept: many where a closure lies between. ``working`` is False
    for jobs that run, or travel, on calendar days. ``costs`` has the shipments that move, in calendar days.
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
    """The latest date that moves no shipment, in the supplier's own way of counting; None where none can move."""
    lot = picture.forecast.lot_of(row.code)
    if row.late_finish is None or row.harmless_until is None or lot is None:
        return None
    if supplier.dates_mean == "leaves" and not row.left:
        return Latest(day=row.harmless_until, means="leaves")
    day = arrival(picture.forecast.network, lot, row.late_finish.toordinal())
    return Latest(day=date.fromordinal(day), means="in hand")


def later_dates(picture: Picture, latest: Mapping[str, Latest]) -> Mapping[str, tuple[LaterDate, ...]]:
    """By job, the dates one own day and a working week after the latest we can accept."""
    index = picture.forecast.network.index
    found: dict[str, tuple[LaterDate, ...]] = dict.fromkeys(latest, ())
    for own_days in DAYS_LATER:
        costs = next_day_costs(picture, [index[code] for code in latest], own_days)
        for code, last in latest.items():
            if costs.get(index[code]):
                later = _later_date(picture, index[code], last, own_days, costs[index[code]])
                found[code] = (*found[code], later)
    return found


def _later_date(
    picture: Picture, lot: int, last: Latest, own_days: int, costs: tuple[LaterCost, ...]
) -> LaterDate:
    network, day = picture.forecast.network, costs[0].day
    if last.means == "in hand":
        day = date.fromordinal(arrival(network, lot, day.toordinal()))
    return LaterDate(
        own_days=own_days,
        working=network.calendar[lot] is not None,
        day=day,
        calendar_days=(day - last.day).days,
        costs={cost.shipment: cost.days for cost in costs},
    )
