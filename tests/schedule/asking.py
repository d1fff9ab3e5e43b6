"""Ask a small plan for its dates; day 0 is Monday 1 June 2026, the first day of the run.

``shop`` works Monday to Friday: its days off are 5 and 6, 12 and 13, 19 and 20, 26 and 27.
"""

from dataclasses import replace

from tests.build import BENCH, MONDAY, SHOP, day, fact, plan
from tracker.plan.span import Span
from tracker.schedule.forecast import Forecast
from tracker.schedule.holders import what_sets

DAY_0 = MONDAY.toordinal()
LEAVES = replace(SHOP, code="leaves", dates_mean="leaves")
BANK = replace(SHOP, code="bank-3", bank=Span(3, "wd"))
SUPPLIERS = (BENCH, SHOP, LEAVES, BANK)
ORDERED = fact("ordered", "a", 0)
STARTED = fact("started", "a", 1)
PAID = {"a": {"clock": ("order", "payment")}}
TRAVEL = {"a": {"travel": Span(4)}}


def forecast(text, *facts, on=0, **changes):
    return Forecast(plan(text, facts=facts, suppliers=SUPPLIERS, **changes), day(on))


def dates(found, job="a"):
    """First day, last day and evening of arrival, counted from the Monday."""
    lot, times = found.lot_of(job), found.times
    return times.start[lot] - DAY_0, times.finish[lot] - DAY_0, times.arrive[lot] - DAY_0


def arrives(found, job="a"):
    return dates(found, job)[2]


def overdue(found, job="a"):
    return found.times.overdue.get(found.lot_of(job))


def reasons(found, job="a"):
    return {reason.kind for reason in what_sets(found, found.lot_of(job))[1]}
