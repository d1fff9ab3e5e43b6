"""How much of a move a closure makes: the move less the same move with the supplier at work."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from tests.schedule.random_plans import START, random_plan
from tracker.explain.closure_share import closure_share, share_of_move
from tracker.plan.model import Closure, Fact, Job, Link, Plan, Run, Shipment, Supplier
from tracker.plan.span import Lead
from tracker.schedule.forecast import Forecast

MONDAY = date(2026, 3, 2)
BREAK = Closure(first=date(2026, 3, 16), last=date(2026, 3, 27), why="spring break")


def plan_with(closures=(BREAK,), promised=date(2026, 3, 6), also=()):
    lead = Lead(3, 3, 3, "wd")
    return Plan(
        run=Run(code="run-1", quantity=10, start=MONDAY),
        suppliers=(
            Supplier(code="mill", closures=also),
            Supplier(code="bench", inhouse=True, closures=closures),
        ),
        jobs=(
            Job(code="housing", supplier="mill", lead=lead),
            Job(code="pack", supplier="bench", lead=lead, after=(Link(job="housing"),)),
        ),
        shipments=(Shipment(code="wave-1", quantity=10, after=("pack",)),),
        facts=(Fact(on=MONDAY, logged=MONDAY, kind="promised", job="housing", day=promised),),
    )


def share(before, after):
    return share_of_move(Forecast(before, MONDAY), Forecast(after, MONDAY), "wave-1")


def test_a_move_over_a_closure_is_its_days_less_those_without_it():
    """Packed by Wed 11 March; in on Fri 13 it is packed on Wed 1 April, on Wed 18 March were the bench open."""
    found = share(plan_with(), plan_with(promised=date(2026, 3, 13)))
    assert (found.supplier, found.why) == ("bench", ("spring break",))
    assert (found.first, found.last) == (date(2026, 3, 14), date(2026, 3, 29))
    assert found.days == 21 - 7


def test_a_move_that_no_closure_touches_has_no_share():
    assert share(plan_with(promised=date(2026, 3, 2)), plan_with(promised=date(2026, 3, 4))) is None


def test_a_move_to_an_earlier_day_has_no_share():
    assert share(plan_with(promised=date(2026, 3, 13)), plan_with()) is None


def test_a_closure_of_somebody_who_is_done_by_then_has_no_share():
    later = plan_with(closures=(), also=(BREAK,), promised=date(2026, 3, 13))
    assert share(plan_with(closures=(), also=(BREAK,)), later) is None


def test_of_two_closures_the_one_that_makes_more_is_named():
    """Promised for Mon 16 they are shut until Fri 20; ready on Mon 23, the bench is shut for two weeks then."""
    mine = Closure(first=date(2026, 3, 24), last=date(2026, 4, 10), why="stock count")
    theirs = Closure(first=date(2026, 3, 16), last=date(2026, 3, 20))
    before = plan_with(closures=(mine,), also=(theirs,))
    found = share(before, plan_with(closures=(mine,), also=(theirs,), promised=date(2026, 3, 23)))
    assert (found.supplier, found.why) == ("bench", ("stock count",))


def test_the_closure_is_sought_among_the_suppliers_and_days_named():
    def without(opened):
        changed = opened(plan_with()).supplier_by_code["bench"]
        return 2 if changed.opens else 9

    assert (
        closure_share(
            plan_with(), ["bench"], BREAK.first.toordinal(), BREAK.last.toordinal(), 9, without
        ).days
        == 7
    )
    assert (
        closure_share(plan_with(), ["mill"], BREAK.first.toordinal(), BREAK.last.toordinal(), 9, without)
        is None
    )
    assert (
        closure_share(plan_with(), ["bench"], MONDAY.toordinal(), MONDAY.toordinal() + 5, 9, without) is None
    )


@pytest.mark.parametrize("seed", range(150))
def test_no_closure_off_the_chain_would_have_made_more_of_it(seed):
    """Against every closure of every supplier, one after the other, each worked out in full."""
    plan, today = random_plan(seed)
    job = plan.jobs[seed % len(plan.jobs)]
    longer = replace(job, lead=Lead(*(3 * [20 + seed % 9]), job.lead.unit))
    later = replace(plan, jobs=tuple(longer if one is job else one for one in plan.jobs))
    before, after = Forecast(plan, today), Forecast(later, today)
    for code, now in after.shipment_dates.items():
        was = before.shipment_dates[code]
        if was is None or now is None or now <= was:
            continue
        found = share_of_move(before, after, code)

        def days_without(opened, code=code):
            ends = [Forecast(opened(one), today).shipment_dates[code] for one in (plan, later)]
            return None if None in ends else ends[1] - ends[0]

        first = min(today, START - timedelta(days=10)).toordinal()
        best = closure_share(later, list(plan.supplier_by_code), first, now + 90, now - was, days_without)
        assert (found and found.days) == (best and best.days)
