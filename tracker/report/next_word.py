"""When backers must hear from us again, and since when they have not."""

from dataclasses import dataclass
from datetime import date, timedelta

from tracker.plan.model import Plan

WORD_WITHIN = timedelta(days=14)
_FRIDAY = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class NextWord:
    """The day of the last word (None: there was none), the day by which one is due, and the one to announce.

    ``overdue`` counts the calendar days since ``due``. ``following`` is the Friday of the week after today's: never
    more than a fortnight after a word given today.
    """

    last: date | None
    due: date | None
    overdue: int
    following: date


def next_word(plan: Plan, today: date) -> NextWord:
    """Backers hear from us at least every fortnight, also when nothing has changed."""
    told = (one.on for shipment in plan.shipments for one in plan.told_of(shipment, today))
    last = max(told, default=None)
    due = last + WORD_WITHIN if last else None
    return NextWord(
        last=last,
        due=due,
        overdue=max(0, (today - due).days) if due else 0,
        following=today + timedelta(days=7 - today.weekday() + _FRIDAY),
    )
