"""All we owe, one condition at a time. Day 0 is Monday 1 June 2026; the shop works Monday to Friday."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from tests.build import BENCH, SHOP, day, fact
from tests.report.asking import picture, printed
from tests.schedule.random_plans import random_plan
from tracker.plan.model import Fact
from tracker.plan.span import Span
from tracker.render.owing_text import write_owing
from tracker.report.owing import owing
from tracker.report.picture import Picture
from tracker.schedule.bounds import credited
from tracker.schedule.forecast import Forecast
from tracker.schedule.network import arrival

WEEK = replace(BENCH, workdays="mon-fri")
BANK = replace(SHOP, bank=Span(3, "wd"))
LOOSE = "housing:5wd@shop long:16 pack:1 | housing>pack long>pack"
PAYMENT = {"housing": {"clock": ("payment",)}}
BALANCE = {"housing": {"leave_when": ("balance",)}}


def row_of(seen, what="payment"):
    return next(row for row in owing(seen).rows if row.what == what)


def text_of(seen, width=80):
    return printed(write_owing, owing(seen), width=width)


def moved_if_given(forecast, row, on):
    """Days each shipment moves if the condition is given on that day: a later not-before, or a promise."""
    lot, today = forecast.lot_of(row.job), date.fromordinal(forecast.today)
    plan = forecast.plan
    supplier = plan.supplier_by_code[row.supplier]
    counts = credited(row.what, on.toordinal(), supplier, forecast.network.own_calendar[lot])
    if row.to_leave:
        door = max(counts, forecast.times.finish[lot])
        here = date.fromordinal(arrival(forecast.network, lot, door))
        promise = Fact(on=today, logged=today, kind="promised", job=row.job, day=here, means="in hand")
        later = replace(plan, facts=(*plan.facts, promise))
    else:
        day1 = date.fromordinal(counts + 1)
        jobs = (
            replace(job, not_before=max(day1, job.not_before or day1)) if job.code == row.job else job
            for job in plan.jobs
        )
        later = replace(plan, jobs=tuple(jobs))
    after = Forecast(later, today)
    return {
        code: after.shipment_dates[code] - now
        for code, now in forecast.shipment_dates.items()
        if after.shipment_dates[code] != now
    }


@pytest.mark.parametrize("seed", range(80))
def test_given_by_its_day_nothing_moves_and_on_each_of_our_days_after_what_is_said(seed):
    forecast = Forecast(*random_plan(seed))
    for row in owing(Picture(forecast)).rows:
        if row.by is None:
            assert row.costs == ()
            continue
        assert row.by.toordinal() >= forecast.today
        assert moved_if_given(forecast, row, row.by) == {}
        days = sorted({cost.day for cost in row.costs})
        assert len(days) == 5
        assert row.frees in {cost.shipment for cost in row.costs if cost.day == days[0]}
        for on in days:
            said = {cost.shipment: cost.days for cost in row.costs if cost.day == on}
            assert moved_if_given(forecast, row, on) == said


@pytest.mark.parametrize("seed", range(80))
def test_the_days_counted_are_the_next_our_bench_works_after_the_last_harmless_one(seed):
    forecast = Forecast(*random_plan(seed))
    bench = forecast.plan.suppliers[0]
    for row in owing(Picture(forecast)).rows:
        days = sorted({cost.day for cost in row.costs})
        assert all(row.by < one for one in days)
        if days and bench.workdays == "mon-fri" and not (bench.closures or bench.opens):
            between = [row.by + timedelta(days=n) for n in range(1, (days[-1] - row.by).days + 1)]
            assert days == [one for one in between if one.weekday() < 5]


def test_every_condition_has_its_own_row_and_its_own_last_day():
    jobs = {"housing": {"clock": ("order", "payment"), "leave_when": ("balance",)}}
    rows = owing(picture(LOOSE, fact("started", "long", 0), jobs=jobs, suppliers=(WEEK, BANK))).rows
    # housing may be ready Tuesday 16 June; its latest day 1 is Wednesday 10, three bank days before are 5, 8, 9
    assert [(row.what, row.by, row.to_leave) for row in rows] == [
        ("payment", day(3), False),
        ("order", day(8), False),
        ("balance", day(10), True),
    ]


def test_an_order_not_placed_is_owed_also_before_it_is_the_jobs_turn():
    seen = picture("draw:5 housing:5wd@shop | draw>housing", fact("started", "draw", 0))
    (row,) = owing(seen).rows
    assert (row.what, row.due, row.since, row.turn_from, row.by) == ("order", False, None, day(4), day(6))
    assert "now: nothing" in text_of(seen)
    assert "Sun 7 Jun  housing  order  Fri 5 Jun  wave-1 +3 days" in text_of(seen)


@pytest.mark.parametrize(("today", "since"), [(4, 4), (9, 4)])
def test_they_wait_since_the_day_the_last_input_came(today, since):
    facts = (fact("finished", "draw", 4), fact("finished", "film", 2))
    text = "draw:5 film:2 housing:5wd@shop | draw>housing film>housing"
    row = row_of(picture(text, *facts, today=today), "order")
    assert (row.due, row.since, row.turn_from) == (True, day(since), None)


def test_an_input_still_on_the_road_or_a_lag_has_not_come_yet():
    jobs = {"draw": {"travel": Span(6)}}
    text = "draw:5 housing:5wd@shop | draw>housing"
    row = row_of(picture(text, fact("finished", "draw", 4), today=5, jobs=jobs), "order")
    assert (row.since, row.turn_from) == (None, day(10))
    row = row_of(picture(f"{text}+3cd", fact("finished", "draw", 4), today=5), "order")
    assert (row.since, row.turn_from) == (None, day(7))


def test_a_job_without_inputs_waits_from_the_runs_start_or_its_not_before():
    assert row_of(picture("housing:5wd@shop", today=3), "order").since == day(0)
    jobs = {"housing": {"not_before": day(9)}}
    row = row_of(picture("housing:5wd@shop", today=3, jobs=jobs), "order")
    assert (row.since, row.turn_from) == (None, day(9))


def test_after_a_failure_they_wait_since_that_day():
    jobs = {"check": {"gate": True}, "again": {"gate": True, "retry_of": "check"}}
    plain = picture(
        "check:1 housing:5wd@shop again:1 | housing>again", fact("failed", "check", 2), today=4, jobs=jobs
    )
    on_fail = replace(plain.plan.job_by_code["again"].after[0], job="check", on="fail")
    changed = tuple(
        replace(job, after=(on_fail,)) if job.code == "housing" else job for job in plain.plan.jobs
    )
    seen = Picture(Forecast(replace(plain.plan, jobs=changed), day(4)))
    assert row_of(seen, "order").since == day(2)


def test_a_balance_waits_since_the_lot_was_made_and_says_when_it_is():
    started = fact("started", "housing", 0)
    working = row_of(picture(LOOSE, started, today=1, jobs=BALANCE), "balance")
    assert (working.since, working.turn_from, working.to_leave) == (None, day(4), True)
    made = picture(LOOSE, started, fact("made", "housing", 3, good=1), today=5, jobs=BALANCE)
    assert (row_of(made, "balance").since, row_of(made, "balance").due) == (day(3), True)
    text = text_of(made)
    assert "housing (shop): balance to leave by" in text
    assert "made Thu 4 Jun, 2 days ago" in text
    assert "tracker paid housing balance" in text


def test_what_is_due_comes_first_and_then_by_its_last_day():
    jobs = {"far": {"clock": ("drawing",)}, "soon": {"clock": ("proof",)}, "later": {"clock": ("material",)}}
    text = (
        "draw:2 far:1wd@shop soon:9wd@shop later:30wd@shop pack:1 | draw>later far>pack soon>pack later>pack"
    )
    seen = picture(text, fact("started", "draw", 0), jobs=jobs)
    assert [row.what for row in owing(seen).rows] == ["material", "proof", "drawing"]
    lines = text_of(seen).splitlines()
    assert lines.index("now") < lines.index("to come")
    assert [line.split(" (")[0].strip() for line in lines if "(shop)" in line] == ["soon", "far"]
    assert "  once given, log it: tracker approved soon proof, tracker gave far drawing" in lines


def test_conditions_of_one_job_that_stand_alike_are_said_once():
    jobs = {"housing": {"clock": ("order", "drawing", "material")}}
    text = text_of(picture("housing:5wd@shop", jobs=jobs))
    assert text.count("housing (shop): order, drawing and material by Mon 1 Jun, frees wave-1") == 1
    assert "waits since Mon 1 Jun\n" in text


def test_what_moves_no_shipment_is_owed_all_the_same():
    seen = picture("housing:5wd@shop pack:1", shipments=(), today=2)
    (row,) = owing(seen).rows
    assert (row.by, row.frees, row.costs) == (None, "", ())
    assert "housing (shop): order, frees no shipment" in text_of(seen)


def test_owing_nothing_is_one_plain_line():
    seen = picture("housing:5wd@shop", fact("ordered", "housing", 0))
    assert text_of(seen) == "we owe nothing on Mon 1 Jun 2026: no clock waits for us\n"


def test_nothing_is_owed_to_jobs_done_called_off_or_not_needed():
    facts = (fact("finished", "a", 0), fact("called_off", "b", 0))
    seen = picture("a:1wd@shop b:1wd@shop c:1wd@shop | a>c b>c", *facts, fact("ordered", "c", 0), today=1)
    assert owing(seen).rows == ()


# The demo. Invented scenario, answers computed by plain day counting.


def test_the_demo_owes_one_payment_and_each_day_after_wednesday_costs_the_first_wave(program):
    view = program.json("owed")
    assert list(view) == ["today", "rows"]
    (row,) = view["rows"]
    wanted = {"job": "boxes", "what": "payment", "since": "2026-11-19", "by": "2026-11-25", "frees": "wave-1"}
    assert {key: row[key] for key in wanted} == wanted
    costs = {cost["day"]: (cost["shipment"], cost["days"]) for cost in row["costs"]}
    # Paid on 1 December the first wave goes on 19 January, not on the 14th.
    assert (costs["2026-11-26"], costs["2026-12-01"]) == (("wave-1", 1), ("wave-1", 5))
    assert "605" not in program.out("owed")


@pytest.mark.parametrize(("on", "goes"), [("2026-11-25", 14), ("2026-11-26", 15), ("2026-12-01", 19)])
def test_paying_the_demos_deposit_on_a_day_gives_the_date_that_was_said(program, on, goes):
    said = {cost["day"]: cost["days"] for cost in program.json("owed")["rows"][0]["costs"]}
    program("paid", "boxes", "--today", on)
    assert program.dates("--today", on) == {"wave-1": f"2027-01-{goes}", "wave-2": "2027-02-05"}
    assert goes == 14 + said.get(on, 0)


def test_paid_it_is_owed_no_more(program):
    program("paid", "boxes")
    assert program.out("owed") == "we owe nothing on Tue 24 Nov 2026: no clock waits for us\n"
