"""Ranking late jobs one at a time, and pairs that hide each other. Day 0 is Monday 1 June 2026."""

from dataclasses import replace
from datetime import timedelta
from itertools import combinations
from random import Random

import pytest

from tests.build import day, fact, plan
from tests.schedule.random_material import random_material
from tests.schedule.random_plans import random_plan
from tracker.explain.effect import moves
from tracker.explain.hidden_pairs import hidden_pairs
from tracker.explain.late import kept_promise, late_jobs, ship_date_gain
from tracker.plan.model import FirstPlan, PlannedJob, Shipment
from tracker.plan.span import Span
from tracker.schedule.forecast import Forecast
from tracker.schedule.what_if import gains_if_arrived


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
    assert (pair.jobs, pair.ship_date_gain, pair.ship_date_hidden) == (("a", "b"), 3, True)
    assert (pair.gains, pair.hidden) == ({"wave-1": 3}, ("wave-1",))


def test_a_job_with_days_to_spare_may_hide_behind_one_that_gains_by_itself():
    """Back on day 2, a leaves the date to b on day 8, one earlier; with both back, to c on day 5."""
    forecast = late_by_plan("a:10 b:9 c:6 pack:1 | a>pack b>pack c>pack", {"a": 2, "b": 2})
    (pair,) = hidden_pairs(forecast, late_jobs(forecast))
    assert (late_jobs(forecast)[0].ship_date_gain, pair.jobs, pair.ship_date_gain) == (1, ("a", "b"), 4)


def test_of_three_that_hold_a_date_alike_no_two_gain_anything():
    forecast = late_by_plan("a:9 b:9 c:9 pack:1 | a>pack b>pack c>pack", {"a": 2, "b": 2, "c": 2})
    assert hidden_pairs(forecast, late_jobs(forecast)) == ()


def test_two_late_jobs_one_after_the_other_do_not_hide_each_other():
    forecast = late_by_plan("a:10 b:4 | a>b", {"a": 6, "b": 9})
    assert hidden_pairs(forecast, late_jobs(forecast)) == ()


def test_a_pair_may_hide_for_one_shipment_while_the_last_parcel_gains_as_much_alone():
    waves = (
        Shipment(code="one", quantity=5, after=("a", "b")),
        Shipment(code="two", quantity=5, after=("b", "c")),
    )
    forecast = late_by_plan("a:10 b:10 c:20", {"a": 4, "b": 4, "c": 12}, shipments=waves)
    (pair,) = hidden_pairs(forecast, late_jobs(forecast))
    assert (pair.jobs, pair.hidden, pair.ship_date_hidden) == (("a", "b"), ("one",), False)


def test_two_shipments_of_one_day_hide_each_others_late_job_for_the_last_parcel_only():
    waves = (Shipment(code="one", quantity=5, after=("a",)), Shipment(code="two", quantity=5, after=("b",)))
    forecast = late_by_plan("a:10 b:10", {"a": 4, "b": 6}, shipments=waves)
    (pair,) = hidden_pairs(forecast, late_jobs(forecast))
    assert (pair.hidden, pair.ship_date_hidden, pair.ship_date_gain) == ((), True, 3)


def late_everywhere(seed, counted=False):
    """A random plan nobody kept to: each job was to arrive up to 20 days before its forecast."""
    found, now = random_material(seed) if counted else random_plan(seed, jobs=7, special=seed % 2 == 1)
    forecast, rng = Forecast(found, now), Random(seed)
    rows = []
    for job in found.jobs:
        lot = forecast.lot_of(job.code)
        if lot is not None and rng.random() < 0.8:
            on = day(0).fromordinal(forecast.times.arrive[lot]) - timedelta(days=rng.randint(1, 20))
            rows.append(PlannedJob(job=job.code, start=on, finish=on, arrives=on))
    return Forecast(replace(found, first_plan=FirstPlan(jobs=tuple(rows))), now)


def planned(forecast, job):
    row = next(row for row in forecast.plan.first_plan.jobs if row.job == job)
    return forecast.lot_of(job), row.arrives.toordinal()


@pytest.mark.parametrize("counted", [False, True], ids=["jobs", "pieces"])
@pytest.mark.parametrize("seed", range(200))
def test_gains_and_pairs_are_those_of_trying_every_late_job_and_every_two(seed, counted):
    """Against brute force: each job and each two of them, a whole pass for each."""
    forecast = late_everywhere(seed, counted)
    late = late_jobs(forecast)
    expected = {}
    for one in late:
        gained = gains_if_arrived(forecast, dict([planned(forecast, one.job)]))
        assert (one.gains, one.ship_date_gain) == (gained, ship_date_gain(forecast, gained))
    for one, other in combinations(sorted(late, key=lambda row: row.job), 2):
        gained = gains_if_arrived(forecast, dict([planned(forecast, one.job), planned(forecast, other.job)]))
        hidden = tuple(code for code in gained if gained[code] > one.gains[code] + other.gains[code])
        last = ship_date_gain(forecast, gained)
        last_hidden = last > one.ship_date_gain + other.ship_date_gain
        if hidden or last_hidden:
            expected[one.job, other.job] = (gained, hidden, last, last_hidden)
    assert {
        pair.jobs: (pair.gains, pair.hidden, pair.ship_date_gain, pair.ship_date_hidden)
        for pair in hidden_pairs(forecast, late)
    } == expected


def test_random_late_plans_have_pairs_of_every_sort():
    """Else the test above would compare nothing with nothing."""
    found = [
        pair
        for seed in range(200)
        for forecast in (late_everywhere(seed),)
        for pair in hidden_pairs(forecast, late_jobs(forecast))
    ]
    assert len(found) > 50
    assert {bool(pair.hidden) for pair in found} == {pair.ship_date_hidden for pair in found} == {True, False}


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


HELD = "housing:5wd@shop pack:1 | housing>pack"


def promised(on, until, **more):
    return fact("promised", "housing", on, day=until, **more)


def kept(facts, today, text=HELD, **more):
    found = Forecast(plan(text, facts=facts, **more), day(today))
    return kept_promise(found, "housing")


def test_a_promise_that_the_forecast_uses_gains_nothing_by_being_kept():
    """Ordered on Monday 1 June, in hand promised for Friday 12."""
    found = kept([fact("ordered", "housing", 0), promised(1, 11)], 2)
    assert (found.arrives, found.days, found.gains, found.ship_date_gain) == (day(11), 0, {"wave-1": 0}, 0)


def test_a_promise_that_passed_without_news_gains_what_having_come_by_yesterday_would():
    found = kept([fact("ordered", "housing", 0), promised(1, 4)], 9)
    assert (found.arrives, found.days, found.gains) == (day(4), 5, {"wave-1": 1})


def test_a_promise_to_leave_that_passed_is_here_after_its_travel():
    """To leave on Friday 5 June with five days of travel it is here on the 10th; leaving today, the 9th, on the 14th."""
    facts = [fact("ordered", "housing", 0), promised(1, 4, means="leaves")]
    found = kept(facts, 8, jobs={"housing": {"travel": Span(5)}})
    assert (found.arrives, found.days, found.gains) == (day(9), 4, {"wave-1": 4})


def test_a_promise_that_its_inputs_cannot_meet_gains_by_being_kept_against_them():
    """The alloy is there on Tuesday 9 June; five working days after it end on Tuesday 16, day 15."""
    text = "alloy:8 housing:5wd@shop pack:1 | alloy>housing housing>pack"
    found = kept([fact("ordered", "housing", 0), promised(0, 9)], 1, text)
    assert (found.arrives, found.days, found.gains) == (day(9), 6, {"wave-1": 6})


def test_a_paused_job_gains_the_days_it_would_stand_still():
    """Two of five days done by Tuesday 2 June, the other three from Wednesday 10 to Friday 12, day 11."""
    facts = [fact("started", "housing", 0), promised(1, 4), fact("paused", "housing", 2, day=9)]
    found = kept(facts, 3)
    assert (found.arrives, found.days, found.gains) == (day(4), 7, {"wave-1": 7})


def test_a_job_without_a_promise_or_gone_as_promised_has_none_to_keep():
    assert kept([fact("ordered", "housing", 0)], 2) is None
    left = [fact("ordered", "housing", 0), promised(1, 4, means="leaves"), fact("left", "housing", 4)]
    assert kept(left, 5, jobs={"housing": {"travel": Span(5)}}) is None


def test_goods_on_their_way_with_a_day_in_hand_said_before_may_still_keep_it():
    """In hand promised for day 6; gone on day 4 with five days of travel they are forecast for day 9."""
    facts = [fact("ordered", "housing", 0), promised(1, 6), fact("left", "housing", 4)]
    found = kept(facts, 5, jobs={"housing": {"travel": Span(5)}})
    assert (found.arrives, found.days, found.gains) == (day(6), 3, {"wave-1": 3})


@pytest.mark.parametrize("seed", range(200))
def test_keeping_a_promise_never_makes_a_shipment_later_and_gains_no_more_than_its_days(seed):
    forecast = late_everywhere(seed)
    for job in forecast.plan.jobs:
        found = kept_promise(forecast, job.code)
        if found is None:
            continue
        assert all(gain >= 0 for gain in found.gains.values())
        assert found.days > 0 or not any(found.gains.values())
