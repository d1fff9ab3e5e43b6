"""How much of a move a closure makes: the same move worked out with a supplier at work through it."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date

from tracker.plan.calendars import calendars_of
from tracker.plan.model import Plan
from tracker.plan.shut import Stretch, stretches
from tracker.schedule.forecast import Forecast
from tracker.schedule.holders import holding

Opened = Callable[[Plan], Plan]
"""Makes of a plan the same plan with one supplier at work through one closure."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ClosureShare:
    """One closure, first and last day included, and the calendar days of a move that it makes.

    With the supplier at work through it, the shipment would move ``days`` less.
    """

    supplier: str
    first: date
    last: date
    why: tuple[str, ...]
    days: int


def closure_share(
    plan: Plan,
    suppliers: Iterable[str],
    first: int,
    last: int,
    days: int,
    days_without: Callable[[Opened], int | None],
) -> ClosureShare | None:
    """The closure that makes most of a move of ``days``, of those these suppliers meet from ``first`` to ``last``.

    ``days_without`` works the same move out on plans as ``Opened`` changes them; None where it has no answer.
    Returns None where no closure makes a day of it.
    """
    found = [
        ClosureShare(
            supplier=code,
            first=date.fromordinal(stretch.first),
            last=date.fromordinal(stretch.last),
            why=stretch.why,
            days=days - without,
        )
        for code, stretch in _met(plan, suppliers, first, last)
        if (without := days_without(_opener(code, stretch))) is not None and without < days
    ]
    return max(found, key=lambda share: (share.days, -share.first.toordinal(), share.supplier), default=None)


def share_of_move(before: Forecast, after: Forecast, shipment: str) -> ClosureShare | None:
    """The closure that makes most of a shipment's move to a later day; None for one that moves none or earlier.

    Closures are those that jobs on the holding chains of either end meet.
    """
    was, now = before.shipment_dates.get(shipment), after.shipment_dates.get(shipment)
    if was is None or now is None or now <= was:
        return None

    def days_without(opened: Opened) -> int | None:
        ends = [
            Forecast(opened(one.plan), date.fromordinal(one.today)).shipment_dates.get(shipment)
            for one in (before, after)
        ]
        return None if ends[0] is None or ends[1] is None else ends[1] - ends[0]

    chains = [held for one in (before, after) if (held := holding(one, shipment)) is not None]
    suppliers = {
        after.plan.job_by_code[job].supplier
        for held in chains
        for job in held.jobs
        if job in after.plan.job_by_code
    }
    first = min(before.today, after.today)
    return closure_share(after.plan, sorted(suppliers), first, now, now - was, days_without)


def _met(plan: Plan, suppliers: Iterable[str], first: int, last: int) -> Iterator[tuple[str, Stretch]]:
    calendars = calendars_of(plan)
    for code in suppliers:
        supplier = plan.supplier_by_code.get(code)
        if supplier is not None:
            for stretch in stretches(supplier, calendars[code], first, last):
                if stretch.is_cliff:
                    yield code, stretch


def _opener(code: str, stretch: Stretch) -> Opened:
    days = tuple(date.fromordinal(day) for day in stretch.lost)

    def opened(plan: Plan) -> Plan:
        suppliers = (
            replace(one, opens=(*one.opens, *days)) if one.code == code else one for one in plan.suppliers
        )
        return replace(plan, suppliers=tuple(suppliers))

    return opened
