"""Lots of one job passed on before the whole quantity is done: sublots in a line of two or three steps.

Source for the formula: lecture on lot streaming; C. N. Potts and K. R. Baker 1989; K. R. Baker and D. Trietsch,
Principles of Sequencing and Scheduling (part read in a stored text, part from memory; confirmed by a
simulated flow shop for 24 combinations). Its minutes are days here, its machines steps at our own bench.
"""

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise, product

import pytest

from tests.build import BENCH, MONDAY
from tests.build import plan as plain_plan
from tracker.plan.model import Job, Plan, Run, Shipment
from tracker.plan.parts import Content, Make, Part, Take
from tracker.plan.span import DayRate, parse_lead
from tracker.schedule.forecast import Forecast
from tracker.schedule.holders import holding, what_sets
from tracker.schedule.what_if import drags

PUBLISHED = {1: 30, 2: 20, 5: 14, 10: 12}


def line(quantity, lots, days_each, **changes):
    """Steps at a rate, each taking what the one before makes; the last goes into the one shipment."""
    jobs = []
    for n, days in enumerate(days_each):
        taken = (Take(part=f"part-{n - 1}"),) if n else ()
        rate = DayRate(per_day=1 / Fraction(days))
        job = Job(code=f"step-{n}", supplier="bench", lead=rate, quantity=quantity, lots=lots, takes=taken)
        jobs.append(replace(job, makes=(Make(part=f"part-{n}"),), **changes))
    last = f"part-{len(jobs) - 1}"
    return Plan(
        run=Run(code="run-1", quantity=quantity, start=MONDAY),
        suppliers=(BENCH,),
        parts=tuple(Part(code=f"part-{n}") for n in range(len(jobs))),
        jobs=tuple(jobs),
        shipments=(
            Shipment(code="wave-1", quantity=quantity, contents=(Content(part=last, quantity=quantity),)),
        ),
    )


def days_taken(plan):
    """Days from the run's start to the evening on which the shipment is whole."""
    return Forecast(plan, MONDAY).shipment_dates["wave-1"] - MONDAY.toordinal() + 1


@pytest.mark.parametrize("lots", PUBLISHED)
def test_ten_units_in_three_steps_take_the_published_time(lots):
    assert days_taken(line(10, lots, (1, 1, 1))) == PUBLISHED[lots]


def _whole_days():
    each = (Fraction(1, 2), 1, 2, 3)
    for steps in (2, 3):
        for quantity, days in product((2, 4, 6, 12), product(each, repeat=steps)):
            for lots in (n for n in range(1, quantity + 1) if quantity % n == 0):
                if all((Fraction(quantity, lots) * one).denominator == 1 for one in days):
                    yield quantity, lots, days


@pytest.mark.parametrize("steps", [2, 3])
def test_equal_sublots_of_whole_days_take_the_time_of_the_formula(steps):
    """(Q/s)(sum p + (s - 1) max p) for s equal lots of Q pieces that take p days each at every step."""
    cases = [case for case in _whole_days() if len(case[2]) == steps]
    assert len(cases) > 100
    for quantity, lots, days in cases:
        expected = Fraction(quantity, lots) * (sum(days) + (lots - 1) * max(days))
        assert days_taken(line(quantity, lots, days)) == expected, (quantity, lots, days)


@pytest.mark.parametrize("days", list(product((Fraction(1, 2), 1, 3), repeat=3)))
def test_one_lot_takes_as_long_as_jobs_that_wait_for_each_other(days):
    whole = [-(-7 * one // 1) for one in days]
    waiting = plain_plan(
        " ".join(f"step-{n}:{d}" for n, d in enumerate(whole)) + " | step-0>step-1 step-1>step-2"
    )
    assert days_taken(line(7, 1, days)) == days_taken(line(7, None, days)) == days_taken(waiting)


@pytest.mark.parametrize("days", list(product((Fraction(1, 3), Fraction(2, 5), 1, Fraction(5, 2)), repeat=2)))
def test_cutting_every_lot_again_never_ends_later(days):
    """Also where lots end within a day: fractions are carried inside a job, and a lot moves on in the evening."""
    for quantity in range(1, 25):
        divisors = [n for n in range(1, quantity + 1) if quantity % n == 0]
        taken = {lots: days_taken(line(quantity, lots, days)) for lots in divisors}
        for fewer, more in product(divisors, repeat=2):
            if more % fewer == 0:
                assert taken[more] <= taken[fewer], (quantity, fewer, more)


def ends(plan, job):
    forecast = Forecast(plan, MONDAY)
    return [forecast.times.finish[lot] - MONDAY.toordinal() + 1 for lot in forecast.lots_of(job)]


def test_fractions_of_a_day_are_carried_from_lot_to_lot():
    """Four lots of two and a half days take ten days, not twelve."""
    assert ends(line(20, 4, (Fraction(1, 2),)), "step-0") == [3, 5, 8, 10]


def test_equal_lots_end_at_the_rounded_up_share_of_the_quantity():
    assert ends(line(10, 4, (1,)), "step-0") == [3, 5, 8, 10]
    assert ends(line(10, 3, (1,)), "step-0") == [4, 7, 10]


def test_lots_of_sizes_given_come_in_that_order():
    assert ends(line(10, (5, 2, 3), (1,)), "step-0") == [5, 7, 10]


def test_there_is_one_set_up_for_all_lots():
    rate = DayRate(setup=2, per_day=Fraction(2))
    assert ends(line(20, 4, (1,), lead=rate), "step-0") == [5, 7, 10, 12]


def test_lots_of_a_lead_time_are_worked_side_by_side_unless_it_is_one_by_one():
    lead = parse_lead("3cd")
    assert ends(line(9, 3, (1,), lead=lead), "step-0") == [3, 3, 3]
    assert ends(line(9, 3, (1,), lead=lead, one_by_one=True), "step-0") == [3, 6, 9]


def test_lots_that_follow_the_shipments_come_shipment_by_shipment_and_spares_with_the_last():
    plan = line(12, "shipments", (1,))
    contents = [("wave-1", 3), ("wave-2", 7)]
    waves = tuple(
        Shipment(code=code, quantity=n, contents=(Content(part="part-0", quantity=n),))
        for code, n in contents
    )
    plan = replace(plan, shipments=waves)
    assert ends(plan, "step-0") == [3, 12]
    spares = replace(
        plan, parts=(Part(code="part-0", spares=1),), jobs=(replace(plan.jobs[0], quantity=None),)
    )
    assert ends(spares, "step-0") == [3, 11]
    assert [b - a for a, b in pairwise([0, *ends(spares, "step-0")])] == [3, 8]


@pytest.mark.parametrize(("lots", "days"), [(1, 10), (2, 5), (5, 2), (10, 1)])
def test_a_step_costs_what_it_adds_to_the_line(lots, days):
    """By the formula three equal steps take Q/s days more than two, as the middle one then takes no time."""
    forecast = Forecast(line(10, lots, (1, 1, 1)), MONDAY)
    for step in ("step-0", "step-1", "step-2"):
        assert drags(forecast, forecast.lot_of(step)) == {"wave-1": days}


def test_the_slowest_step_holds_the_shipment_with_all_its_lots_and_the_others_with_one():
    forecast = Forecast(line(10, 5, (1, 3, 1)), MONDAY)
    spare = {
        step: [forecast.slack(lot).spare_days for lot in forecast.lots_of(step)]
        for step in ("step-0", "step-1", "step-2")
    }
    assert spare == {"step-0": [0, 4, 8, 12, 16], "step-1": [0, 0, 0, 0, 0], "step-2": [16, 12, 8, 4, 0]}
    assert holding(forecast, "wave-1").path == ("step-0", "step-1", "step-2")


def test_a_lot_is_set_by_the_lot_before_it_or_by_its_pieces_whichever_comes_later():
    forecast = Forecast(line(10, 5, (1, 3, 1)), MONDAY)
    first, slow, last = (forecast.lots_of(step) for step in ("step-0", "step-1", "step-2"))
    sets = {lot: what_sets(forecast, lot)[0] for lot in (*first, *slow, *last)}
    assert [sets[lot] for lot in slow] == [(first[0],), *((lot,) for lot in slow[:-1])]
    assert [sets[lot] for lot in last] == [(lot,) for lot in slow]
    assert [sets[lot] for lot in first[1:]] == [(lot,) for lot in first[:-1]]
