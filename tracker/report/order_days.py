"""The days of an order: by when it must go, what is too late for a date told, what a re-run costs."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from tracker.report.owed import last_day_to_give, our_calendar, owed_of_lot
from tracker.report.picture import Picture
from tracker.schedule.network import FREE, Fixed
from tracker.schedule.reason import Reason
from tracker.schedule.what_if import gains


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderLot:
    """Pieces of one order that move together: the last day to order them, and the shipment that frees."""

    pieces: int
    by: date | None
    frees: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TooLate:
    """An order that comes too late for the day last ``told`` of a shipment: it had to go by ``by``, ``days`` ago."""

    shipment: str
    told: date
    by: date
    days: int


def order_lot(picture: Picture, lot: int, what: tuple[str, ...], pieces: int, *, at_home: bool) -> OrderLot:
    """The last day to order a lot so that no shipment moves; at our own bench the last day to begin it."""
    owed = owed_of_lot(picture, lot, what, to_leave=False, presses=False)
    latest = picture.forecast.latest_day1(lot)
    by = _begun_by(picture, latest) if at_home and owed.by is not None and latest is not None else owed.by
    return OrderLot(pieces=pieces, by=by, frees=owed.frees)


def too_late(picture: Picture, lots: Mapping[int, tuple[str, ...]], *, at_home: bool) -> TooLate | None:
    """The date told that ordering today misses by most, all else on time; ``lots`` with what is to be given."""
    missed = [one for lot, what in lots.items() for one in _missed(picture, lot, what, at_home=at_home)]
    return min(missed, key=lambda one: one.by, default=None)


def _missed(picture: Picture, lot: int, what: tuple[str, ...], *, at_home: bool) -> Iterator[TooLate]:
    plan = picture.plan
    for code, limits in picture.forecast.told_limits.items():
        latest = limits.start[lot]
        if latest == FREE:
            continue
        by = _begun_by(picture, latest) if at_home else last_day_to_give(picture, lot, what, latest - 1)
        if by < picture.today:
            told = plan.days_told(plan.shipment_by_code[code], picture.today)[-1]
            yield TooLate(shipment=code, told=told, by=by, days=(picture.today - by).days)


def _begun_by(picture: Picture, day1: int) -> date:
    """The last day up to ``day1`` that our own bench works."""
    ours = our_calendar(picture)
    return date.fromordinal(day1 if ours is None else ours.snap_back(day1))


def days_saved(picture: Picture, lots: Sequence[int]) -> Mapping[str, int]:
    """Calendar days by which each open shipment would go earlier were these lots here already."""
    network, here = picture.forecast.network, picture.forecast.today - 1
    fixed = list(network.fixed)
    for lot in lots:
        fixed[lot] = Fixed(here, here, here, Reason(kind="done", day=here))
    found = gains(picture.forecast, replace(network, fixed=fixed))
    return {code: days for code, days in found.items() if days > 0}
