"""What a try-out changes of a supplier's calendar holds only from the day it is decided."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date

from tracker.plan.calendars import calendars_of
from tracker.plan.model import Closure, Plan, Supplier
from tracker.plan.workdays import Calendar


def as_it_was_up_to(day: date, before: Plan, after: Plan) -> Plan:
    """The plan ``after`` with each supplier of both at work on the days of ``before`` up to and including ``day``."""
    worked, works = calendars_of(before), calendars_of(after)
    known = before.supplier_by_code
    suppliers = tuple(
        _held(one, list(_differing(worked[one.code], works[one.code], day))) if one.code in known else one
        for one in after.suppliers
    )
    return after if suppliers == after.suppliers else replace(after, suppliers=suppliers)


def _differing(before: Calendar, after: Calendar, day: date) -> Iterator[tuple[date, bool]]:
    """Days up to ``day`` on which the two differ, and whether the one before is at work then."""
    if before is after:
        return
    first = min(before.first, after.first)
    for one in range(first, day.toordinal() + 1):
        at_work = before.is_working(one)
        if at_work != after.is_working(one):
            yield date.fromordinal(one), at_work


def _held(supplier: Supplier, days: list[tuple[date, bool]]) -> Supplier:
    """The supplier at work, or shut, on these days."""
    if not days:
        return supplier
    shut = {day for day, at_work in days if not at_work}
    opens = [day for day in supplier.opens if day not in shut]
    return replace(
        supplier,
        closures=(*supplier.closures, *(Closure(first=day, last=day) for day in sorted(shut))),
        opens=(*opens, *(day for day, at_work in days if at_work)),
    )
