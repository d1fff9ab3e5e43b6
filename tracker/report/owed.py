"""What we owe a job, by when, and the shipment that waits for it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from tracker.explain.open_lots import counted_lot, open_lots
from tracker.explain.state import lot_standing
from tracker.plan.calendars import calendars_of
from tracker.plan.workdays import Calendar
from tracker.report.picture import Picture

PRESSES_WITHIN = 14


@dataclass(frozen=True, slots=True, kw_only=True)
class Owed:
    """Conditions we have not given: of the clock, or (``to_leave``) without which a lot may not leave their door.

    ``by`` is the last day to give them so that no shipment moves, ``frees`` the shipment that would move first;
    both are empty where none can. ``presses`` tells those to speak of now: of the clock once it is the job's
    turn, to leave once it is made or ``by`` is within a fortnight; and all that hold a shipment. ``again`` counts
    the pieces of a re-run for a shortage.
    """

    what: tuple[str, ...]
    by: date | None
    frees: str
    to_leave: bool
    presses: bool
    again: int | None = None


def owed_of(picture: Picture, code: str) -> tuple[Owed, ...]:
    """What we owe an open job; what it needs to leave counts once its inputs are there, or it holds a shipment."""
    return tuple(owed for _, owed in owed_by_lot(picture, code))


def owed_by_lot(picture: Picture, code: str) -> tuple[tuple[int, Owed], ...]:
    """What we owe an open job, each with the lot that needs it first; a re-run has its own order."""
    lots = open_lots(picture.forecast, code)
    again = [lot for lot in lots if _is_rerun(picture, lot)]
    groups = ([lot for lot in lots if lot not in again], again)
    return tuple(one for group in groups for one in _first_owed(picture, code, group))


def _first_owed(picture: Picture, code: str, lots: Sequence[int]) -> Iterator[tuple[int, Owed]]:
    """What lots ordered together are owed: of each thing the one with the soonest last day."""
    found = [(lot, owed) for lot in lots for owed in _owed_of_one(picture, code, lot)]
    for key in dict.fromkeys((owed.what, owed.to_leave) for _, owed in found):
        alike = [(lot, owed) for lot, owed in found if (owed.what, owed.to_leave) == key]
        lot, first = min(alike, key=lambda one: one[1].by or date.max)
        yield lot, replace(first, presses=any(owed.presses for _, owed in alike))


def _owed_of_one(picture: Picture, code: str, lot: int) -> Iterator[Owed]:
    alone = len(picture.forecast.lots_of(code)) == 1
    stands = picture.standings[code] if alone else lot_standing(picture.forecast, lot)
    if stands.missing:
        presses = stands.its_turn or code in picture.owed_beginnings
        owed = owed_of_lot(picture, lot, stands.missing, to_leave=False, presses=presses)
        again = counted_lot(picture.forecast, lot) if _is_rerun(picture, lot) else None
        yield owed if again is None else replace(owed, again=again.pieces)
    if stands.to_leave and (stands.its_turn or stands.state != "NOT DUE" or code in picture.holds):
        presses = stands.state == "MADE" or code in picture.holds
        yield owed_of_lot(picture, lot, stands.to_leave, to_leave=True, presses=presses)


def _is_rerun(picture: Picture, place: int) -> bool:
    lot = counted_lot(picture.forecast, place)
    return lot is not None and lot.kind == "rerun"


def owed_one_by_one(picture: Picture, code: str) -> tuple[tuple[int, Owed], ...]:
    """What we owe an open job, each condition apart with its own last day, and the lot that needs it first."""
    found = []
    for lot, owed in owed_by_lot(picture, code):
        for what in owed.what:
            apart = owed_of_lot(picture, lot, (what,), to_leave=owed.to_leave, presses=owed.presses)
            found.append((lot, replace(apart, again=owed.again if what == "order" else None)))
    return tuple(found)


def owed_of_lot(picture: Picture, lot: int, what: tuple[str, ...], *, to_leave: bool, presses: bool) -> Owed:
    """What we owe one lot, the last day of ours to give it, and the shipment that frees."""
    by = _give_by(picture, lot, what, to_leave=to_leave)
    soon = to_leave and by is not None and by <= picture.today + timedelta(days=PRESSES_WITHIN)
    limits = picture.forecast.limits_by_shipment
    frees = "" if by is None else min(limits, key=lambda code: limits[code].finish[lot], default="")
    return Owed(what=what, by=by, frees=frees, to_leave=to_leave, presses=presses or soon)


def _give_by(picture: Picture, lot: int, what: tuple[str, ...], *, to_leave: bool) -> date | None:
    """The last day of ours to give what is missing; a payment is sent its bank days before it must count.

    The clock must be complete the day before the latest day 1, a condition to leave by the evening of the latest
    departure.
    """
    forecast = picture.forecast
    slack, latest = forecast.slack(lot), forecast.latest_day1(lot)
    if slack is None:
        return None
    by = slack.late_finish if to_leave or latest is None else latest - 1
    return last_day_to_give(picture, lot, what, by)


def last_day_to_give(picture: Picture, lot: int, what: tuple[str, ...], by: int) -> date:
    """Our last working day to give what must count on day ``by``; money is sent its bank days before."""
    forecast = picture.forecast
    supplier = picture.plan.supplier_by_code[forecast.network.jobs[lot].supplier]
    if {"payment", "balance"} & set(what) and supplier.bank.days:
        calendar = forecast.network.own_calendar[lot]
        by = (
            by - supplier.bank.days
            if supplier.bank.unit == "cd"
            else calendar.latest_before_adding(by, supplier.bank.days)
        )
    return date.fromordinal(_worked_by_us(picture, by))


def _worked_by_us(picture: Picture, by: int) -> int:
    """The last day up to ``by`` that our own bench works; ``by`` itself where that has passed or there is none."""
    ours = our_calendar(picture)
    worked = by if ours is None else ours.snap_back(by)
    return worked if worked >= picture.forecast.today else by


def our_calendar(picture: Picture) -> Calendar | None:
    """The days our own bench works, the first in the plan where there are several; None without one."""
    own = next((one.code for one in picture.plan.suppliers if one.inhouse), None)
    return None if own is None else calendars_of(picture.plan)[own]


def listed(names: tuple[str, ...]) -> str:
    """Names joined in words.

    Examples
    --------
    >>> listed(("order", "payment", "proof"))
    'order, payment and proof'
    """
    return " and ".join(part for part in (", ".join(names[:-1]), *names[-1:]) if part)


def owed_text(owed: Owed) -> str:
    """What is owed in words; the order of a re-run with its pieces.

    Examples
    --------
    >>> owed_text(Owed(what=("order", "payment"), by=None, frees="", to_leave=False, presses=True, again=4))
    'order for 4 more and payment'
    """
    more = f"order for {owed.again} more"
    return listed(tuple(more if one == "order" and owed.again else one for one in owed.what))
