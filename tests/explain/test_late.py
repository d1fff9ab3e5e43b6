"""Ranking late jobs one at a time, and pairs that hide each other. Day 0 is Monday 1 June 2026."""

from dataclasses import replace

from tests.build import day, fact, plan
from tracker.explain.effect import moves
from tracker.explain.late import hidden_pairs, late_jobs
from tracker.plan.model import FirstPlan, PlannedJob, Shipment
from tracker.schedule.forecast import Forecast


def late_by_plan(text, arrivals, *facts, today=0, **more):
    """A forecast whose first plan has the named jobs arrive on the given days."""
    rows = tuple(
        PlannedJob(job=code, start=day(0), finish=day(at), arrives=day(at)) for code, at in arrivals.items()
    )
    return Forecast(replace(plan(text, facts=facts, **more), first_plan=FirstPlan(jobs=rows)), day(today))


def test_a_late_job_gains_what_the_ship_date_would_were_it_alone_on_its_first_day():
    forecast = late_by_plan("a:10 b:4 pack:1 | a>pack b>pack", {"a": 6, "b": 2})
    ranked = late_jobs(forecast)
    assert [(one.job, one.days_late, one.ship_date_gain) for one in ranked] == [("a", 3, 3), ("b", 1, 0)]
    assert ranked[0].gains == {"wave-1": 3}


def test_a_gain_stops_where_the_next_chain_takes_over():
    forecast = late_by_plan("a:10 b:8 pack:1 | a>pack b>pack", {"a": 2})
    assert late_jobs(forecast)[0].ship_date_gain == 2


def test_nothing_not_arrived_counts_as_arrived_before_yesterday_evening():
    forecast = late_by_plan("a:10 pack:1 | a>pack", {"a": 2}, fact("started", "a", 0), today=6)
    assert late_jobs(forecast)[0].ship_date_gain == 4  # arrives day 9, at best the evening of day 5


def test_two_equally_late_jobs_hide_each_other_and_are_named_as_a_pair():
    forecast = late_by_plan("a:10 b:10 pack:1 | a>pack b>pack", {"a": 6, "b": 6})
    ranked = late_jobs(forecast)
    assert [one.ship_date_gain for one in ranked] == [0, 0]
    (pair,) = hidden_pairs(forecast, ranked)
    assert (pair.jobs, pair.ship_date_gain) == (("a", "b"), 3)


def test_jobs_that_do_not_hide_each_other_are_no_pair():
    forecast = late_by_plan("a:10 b:4 pack:1 | a>pack b>pack", {"a": 6, "b": 2})
    assert hidden_pairs(forecast, late_jobs(forecast)) == ()


def test_done_jobs_early_jobs_and_jobs_without_a_first_plan_are_not_late():
    text, done = "a:10 b:4 c:4 pack:1 | a>pack b>pack c>pack", fact("finished", "a", 4)
    assert late_jobs(late_by_plan(text, {"a": 2, "b": 9}, done, today=4)) == ()


def test_a_gain_on_one_wave_is_told_apart_from_the_last_parcel():
    waves = (Shipment(code="one", quantity=5, after=("a",)), Shipment(code="two", quantity=5, after=("b",)))
    forecast = late_by_plan("a:5 b:20", {"a": 1}, shipments=waves)
    (late,) = late_jobs(forecast)
    assert (late.gains, late.ship_date_gain) == ({"one": 3, "two": 0}, 0)


def test_a_move_has_both_dates_and_the_days_between_them():
    before, after = (Forecast(plan(f"a:{lead} pack:1 | a>pack"), day(0)) for lead in (5, 8))
    (move,) = moves(before, after)
    assert (move.shipment, move.days) == ("wave-1", 3)
    assert move.holding.path == ("a", "pack")
    assert moves(after, after) == ()


def test_a_shipment_new_or_gone_has_no_sum_of_days():
    one = Shipment(code="one", quantity=5, after=("a",))
    two = replace(one, code="two")
    before, after = (Forecast(plan("a:5", shipments=(wave,)), day(0)) for wave in (one, two))
    assert [
        (move.shipment, move.before is None, move.after is None, move.days) for move in moves(before, after)
    ] == [
        ("one", False, True, None),
        ("two", True, False, None),
    ]
    assert [move.before for move in moves(None, after)] == [None]
