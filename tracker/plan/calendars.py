"""Each supplier's calendar, from working weekdays, public holidays, closures and extra days."""

from collections.abc import Mapping
from datetime import date
from functools import lru_cache

from tracker.plan.model import Closure, Plan, Supplier
from tracker.plan.workdays import Calendar, parse_workdays


def calendars_of(plan: Plan) -> Mapping[str, Calendar]:
    """One calendar for each supplier code; suppliers with equal days share one, as do forecasts of one process."""
    near = plan.run.start.toordinal()
    return {
        supplier.code: _calendar(
            supplier.workdays, supplier.closures, supplier.opens, _public_days(supplier, plan), near
        )
        for supplier in plan.suppliers
    }


def closure_on(supplier: Supplier, day: int) -> Closure | None:
    """The supplier's own closure that holds ``day``, if any."""
    for closure in supplier.closures:
        if closure.first.toordinal() <= day <= closure.last.toordinal():
            return closure
    return None


@lru_cache(maxsize=128)
def _calendar(
    workdays: str, closures: tuple[Closure, ...], opens: tuple[date, ...], public: tuple[date, ...], near: int
) -> Calendar:
    off = {day.toordinal() for day in public}
    for closure in closures:
        off.update(range(closure.first.toordinal(), closure.last.toordinal() + 1))
    return Calendar(parse_workdays(workdays), off=off, extra=(day.toordinal() for day in opens), near=near)


def _public_days(supplier: Supplier, plan: Plan) -> tuple[date, ...]:
    if not supplier.country:
        return ()
    wanted = (supplier.country, supplier.subdivision)
    return tuple(
        day for kept in plan.holidays if (kept.country, kept.subdivision) == wanted for day in kept.days
    )
