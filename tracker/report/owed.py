"""What we owe a job, by when, and the shipment that waits for it."""

from dataclasses import dataclass
from datetime import date, timedelta

from tracker.plan.calendars import calendars_of
from tracker.plan.workdays import Calendar
from tracker.report.picture import Picture

PRESSES_WITHIN = 14


@dataclass(frozen=True, slots=True, kw_only=True)
class Owed:
    """Conditions we have not given: of the clock, or (``to_leave``) without which a lot may not leave their door.

    ``by`` is the last day to give them so that no shipment moves, ``frees`` the shipment that would move first;
    both are empty where none can. ``presses`` tells those to speak of now: of the clock once it is the job's
    turn, to leave once it is made or ``by`` is within a fortnight; and all that hold a shipment.
    """

    what: tuple[str, ...]
    by: date | None
    frees: str
    to_leave: bool
    presses: bool


def owed_of(picture: Picture, code: str, lot: int) -> tuple[Owed, ...]:
    """What we owe an open job; what it needs to leave counts once its inputs are there, or it holds a shipment."""
    stands = picture.standings[code]
    found = []
    if stands.missing:
        presses = stands.its_turn or code in picture.owed_beginnings
        found.append(_owed(picture, lot, stands.missing, to_leave=False, presses=presses))
    if stands.to_leave and (stands.its_turn or stands.state != "NOT DUE" or code in picture.holds):
        presses = stands.state == "MADE" or code in picture.holds
        found.append(_owed(picture, lot, stands.to_leave, to_leave=True, presses=presses))
    return tuple(found)


def owed_one_by_one(picture: Picture, code: str, lot: int) -> tuple[Owed, ...]:
    """What we owe an open job, each condition apart with its own last day."""
    return tuple(
        _owed(picture, lot, (what,), to_leave=owed.to_leave, presses=owed.presses)
        for owed in owed_of(picture, code, lot)
        for what in owed.what
    )


def _owed(picture: Picture, lot: int, what: tuple[str, ...], *, to_leave: bool, presses: bool) -> Owed:
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
