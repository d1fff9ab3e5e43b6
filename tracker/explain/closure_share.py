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
    return _largest(days, _met(plan, suppliers, first, last), days_without)


def share_of_move(before: Forecast, after: Forecast, shipment: str) -> ClosureShare | None:
    """The closure that makes most of a shipment's move to a later day; None for one that moves none or earlier.

    Only closures that work on the later chain meets can make a day of it.
    """
    was, now = before.shipment_dates.get(shipment), after.shipment_dates.get(shipment)
    held = holding(after, shipment)
    if was is None or now is None or now <= was or held is None:
        return None
    days = now - was

    def days_without(opened: Opened) -> int | None:
        then = _date_on(opened, after, shipment)
        if then is None or then >= now:
            return days
        first = _date_on(opened, before, shipment)
        return None if first is None else then - first

    return _largest(days, _met_by(after, held.jobs), days_without)


def _date_on(opened: Opened, forecast: Forecast, shipment: str) -> int | None:
    today = date.fromordinal(forecast.today)
    return Forecast(opened(forecast.plan), today).shipment_dates.get(shipment)


def _largest(
    days: int, met: Iterable[tuple[str, Stretch]], days_without: Callable[[Opened], int | None]
) -> ClosureShare | None:
    found = [
        ClosureShare(
            supplier=code,
            first=date.fromordinal(stretch.first),
            last=date.fromordinal(stretch.last),
            why=stretch.why,
            days=days - without,
        )
        for code, stretch in met
        if (without := days_without(_opener(code, stretch))) is not None and without < days
    ]
    return max(found, key=lambda share: (share.days, -share.first.toordinal(), share.supplier), default=None)


def _met_by(forecast: Forecast, jobs: Iterable[str]) -> Iterator[tuple[str, Stretch]]:
    """The closures that these jobs wait or work through, from their inputs' arrival until they have arrived."""
    times = forecast.times
    spans: dict[str, list[tuple[int, int]]] = {}
    for code in jobs:
        for lot in forecast.lots_of(code):
            inputs = [times.arrive[other] + 1 for other in forecast.waits_for(lot)]
            begins = min(max(inputs, default=forecast.today), times.start[lot])
            spans.setdefault(forecast.network.jobs[lot].supplier, []).append((begins, times.arrive[lot]))
    for supplier, worked in sorted(spans.items()):
        first, last = min(begins for begins, _ in worked), max(ends for _, ends in worked)
        for code, stretch in _met(forecast.plan, (supplier,), first, last):
            if any(begins <= stretch.last and stretch.first <= ends for begins, ends in worked):
                yield code, stretch


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
