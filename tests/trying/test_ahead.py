"""Facts of days to come: what they do is what the rules make of them on their day."""

from dataclasses import replace
from datetime import timedelta

import pytest

from tests.build import BENCH, SHOP, day, fact, plan
from tests.schedule.oracle import Oracle
from tests.schedule.random_material import random_material
from tests.schedule.random_plans import random_plan
from tracker.errors import Refused
from tracker.plan.span import Span
from tracker.schedule.forecast import Forecast
from tracker.trying.reading import read_try

BANK = replace(SHOP, code="bank-3", bank=Span(3, "wd"))
CLOCK = {"a": {"clock": ("order", "payment")}}
SUPPLIERS = (BENCH, SHOP, BANK)


def tried(known, words, today=0, **more):
    return read_try(words.split(), known, day(today), **more).plan


def dates(seen, code="a", today=0):
    """First and last day worked and the evening of arrival, counted from the Monday on which the run begins."""
    forecast = Forecast(seen, day(today))
    lot, times, zero = forecast.lot_of(code), forecast.times, day(0).toordinal()
    return times.start[lot] - zero, times.finish[lot] - zero, times.arrive[lot] - zero


def test_an_order_ahead_makes_the_day_after_day_1():
    assert dates(tried(plan("a:3wd@shop"), "ordered a on 2026-06-09")) == (9, 11, 11)


def test_a_payment_ahead_counts_once_it_is_credited():
    """Sent on Thu 11 June, three working days to Tue 16 June, so day 1 is Wed 17 June."""
    known = plan("a:2wd@bank-3", suppliers=SUPPLIERS, jobs=CLOCK, facts=[fact("ordered", "a", 0)])
    assert dates(tried(known, "paid a on 2026-06-11"))[0] == 16


def test_of_several_conditions_ahead_the_last_one_counts():
    known = plan("a:2wd@shop", jobs=CLOCK)
    assert dates(tried(known, "paid a on 2026-06-10 and ordered a on 2026-06-03"))[0] == 10
    assert dates(tried(known, "paid a on 2026-06-03 and ordered a on 2026-06-10"))[0] == 10


def test_a_promise_given_before_a_payment_ahead_does_not_replace_the_lead():
    known = plan("a:5wd@shop", jobs=CLOCK, facts=[fact("ordered", "a", 0)])
    assert dates(tried(known, "promised a 2026-06-10 and paid a on 2026-06-09"))[2] == 15
    assert dates(tried(known, "promised a 2026-06-10 and paid a"))[2] == 9


def test_what_is_in_ahead_is_here_that_evening_however_long_the_lead():
    known = plan("a:30wd@shop b:1 | a>b", jobs={"a": {"travel": Span(9)}})
    seen = tried(known, "in a on 2026-06-04")
    assert (dates(seen)[2], dates(seen, "b")[0]) == (3, 4)


def test_what_is_finished_ahead_still_travels_and_what_leaves_ahead_does_too():
    known = plan("a:30wd@shop", jobs={"a": {"travel": Span(4)}})
    assert dates(tried(known, "finished a on 2026-06-04"))[2] == 7
    assert dates(tried(known, "left a on 2026-06-04"))[2] == 7


def test_a_start_ahead_is_the_day_work_begins():
    assert dates(tried(plan("a:3wd@shop"), "started a on 2026-06-10")) == (9, 11, 11)


def test_a_balance_ahead_holds_the_leaving_until_then():
    known = plan("a:2wd@shop", jobs={"a": {"leave_when": ("balance",), "travel": Span(1)}})
    seen = tried(known, "paid a balance on 2026-06-20 and started a on 2026-06-02")
    assert dates(seen) == (1, 2, 20)


def test_a_pass_ahead_opens_the_gate_that_evening():
    known = plan("a:9 b:1 | a>b", jobs={"a": {"gate": True}})
    assert dates(tried(known, "passed a on 2026-06-03"), "b")[0] == 3


def test_a_gate_that_failed_opens_on_the_day_ahead_on_which_it_passes_after_all():
    gates = {"a": {"gate": True}, "r": {"gate": True, "retry_of": "a"}}
    known = plan("a:2 r:2 b:1 | a>b", jobs=gates, facts=[fact("failed", "a", 0)])
    assert dates(tried(known, "passed a on 2026-06-06"), "b")[0] == 6


def test_pieces_ahead_come_on_their_day_and_the_rest_as_promised():
    known, today = random_material(4)
    job = next(job for job in known.jobs if not known.supplier_by_code[job.supplier].inhouse and job.makes)
    on = today + timedelta(days=5)
    words = ["in", job.code, "3", "on", on.isoformat(), "again"]
    seen = Forecast(read_try(words, known, today).plan, today)
    came = [
        seen.times.arrive[lot] for lot in seen.lots_of(job.code) if seen.network.lots[lot].kind == "received"
    ]
    assert on.toordinal() in came


@pytest.mark.parametrize(
    ("words", "why"),
    [
        ("promised a 2026-06-20 on 2026-06-09", "only the day promised tells anything"),
        ("failed g on 2026-06-09", "cannot tell what follows from 'failed'"),
        ("posted wave-1 5 on 2026-06-09", "cannot tell what follows from 'posted'"),
        ("paused a on 2026-06-09", "cannot tell what follows from 'paused'"),
        ("called-off a on 2026-06-09", "cannot tell what follows from 'called off'"),
        ("in a 5 scrap 2 on 2026-06-09", "could be ordered again only then"),
        ("in a 5 last on 2026-06-09", "could be ordered again only then"),
    ],
)  # fmt: skip
def test_what_cannot_be_followed_exactly_is_refused(words, why):
    known = plan("a:3wd@shop g:1", jobs={"g": {"gate": True}})
    with pytest.raises(Refused) as refused:
        tried(known, words)
    assert why in refused.value.message
    assert "Tue 9 Jun 2026 lies ahead" in refused.value.message


def test_facts_the_plan_knows_of_days_to_come_stay_unseen():
    """A status date typed before the last entries: what they say is not foreseen."""
    known = plan("a:3wd@shop b:3wd@shop", facts=[fact("in", "b", 20, good=1, closes=True)])
    seen = tried(known, "ordered a on 2026-06-25")
    assert dates(seen, "b") == dates(known, "b")


def foreseen(seed):
    """A random plan seen up to eleven days before the last of its facts, which are foreseen, and the day it is seen."""
    known, last = random_plan(seed)
    today = max(known.run.start, last - timedelta(days=seed % 12))
    facts = [one for one in known.facts if one.on <= today or one.kind != "promised"]
    return replace(known, facts=tuple(facts), foreseen=last), today


@pytest.mark.parametrize("batch", range(8))
def test_dates_with_facts_ahead_agree_with_stepping_day_by_day(batch):
    for seed in range(batch * 100, batch * 100 + 100):
        known, today = foreseen(seed)
        forecast, oracle = Forecast(known, today), Oracle(known, today)
        for job in known.jobs:
            lot = forecast.lot_of(job.code)
            shown = (forecast.times.finish[lot], forecast.times.arrive[lot])
            assert shown == oracle.dates(job.code)[1:3], (seed, job)


def given_ahead(seed, on):
    """A random plan without the facts of one outside job but its order, which is given ``on`` days ahead."""
    known, today = random_plan(seed)
    outside = [job for job in known.jobs if not known.supplier_by_code[job.supplier].inhouse]
    if not outside:
        return None
    job = outside[seed % len(outside)]
    bare = replace(known, facts=tuple(one for one in known.facts if one.job != job.code))
    words = ["ordered", job.code, "on", (today + timedelta(days=on)).isoformat()]
    return bare, today, words, job


@pytest.mark.parametrize("batch", range(6))
def test_ordering_a_day_later_never_makes_a_shipment_earlier(batch):
    for seed in range(batch * 50, batch * 50 + 50):
        found = [given_ahead(seed, on) for on in (0, 1, 4, 9, 30)]
        if found[0] is None:
            continue
        dates_by_day = [
            Forecast(read_try(words, bare, today).plan, today).shipment_dates
            for bare, today, words, _ in found
        ]
        for code in dates_by_day[0]:
            days = [one[code] for one in dates_by_day]
            assert days == sorted(days), (seed, code)


@pytest.mark.parametrize("batch", range(6))
def test_what_is_tried_for_a_day_is_no_later_than_what_is_forecast_on_that_day_with_it_logged(batch):
    """A passing day without news never makes a shipment earlier; where it makes none later, the two are the same."""
    for seed in range(batch * 50, batch * 50 + 50):
        found = given_ahead(seed, 5)
        if found is None:
            continue
        bare, today, words, job = found
        on = today + timedelta(days=5)
        logged = replace(bare, facts=(*bare.facts, replace(fact("ordered", job.code, 0), on=on, logged=on)))
        ahead = Forecast(read_try(words, bare, today).plan, today)
        then = Forecast(logged, on)
        for code, date_then in then.shipment_dates.items():
            assert ahead.shipment_dates[code] <= date_then, (seed, code)
        if all(Forecast(bare, d).times.arrive == Forecast(bare, today).times.arrive for d in (today, on)):
            assert ahead.shipment_dates == then.shipment_dates, seed


def test_with_nothing_else_that_waits_for_today_trying_a_day_equals_logging_it_on_that_day():
    """A chain of outside jobs behind one order: no other date of it rests on what day it is."""
    known = plan(
        "a:4wd@shop b:3wd@shop c:2wd@shop | a>b b>c+2cd", facts=[fact("ordered", code, 0) for code in "bc"]
    )
    for later in range(25):
        on = day(later)
        logged = replace(known, facts=(*known.facts, replace(fact("ordered", "a", 0), on=on, logged=on)))
        ahead = Forecast(tried(known, f"ordered a on {on}"), day(0))
        assert ahead.times.arrive == Forecast(logged, on).times.arrive
