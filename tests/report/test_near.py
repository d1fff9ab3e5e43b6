"""Open jobs by harmless days. Day 0 is Monday 1 June 2026, a day the shop works; days 5 and 6 are its weekend."""

from dataclasses import replace
from datetime import date

import pytest

from tests.build import BENCH, SHOP, day, fact
from tests.report.asking import picture, printed
from tests.schedule.random_plans import random_plan
from tracker.plan.model import Closure, Fact, Shipment
from tracker.plan.span import Span
from tracker.render.near_text import write_near
from tracker.report.near import near
from tracker.report.picture import Picture
from tracker.schedule.forecast import Forecast
from tracker.schedule.network import arrival

every_seed = pytest.mark.parametrize("seed", range(60))


def rows_of(seen):
    return {row.job: row for row in near(seen).rows}


def text_of(seen, width=80):
    return printed(write_near, near(seen), width=width)


def moved_by_a_promise(forecast, job, ready):
    """Days each shipment moves once the supplier names the day the job is here if ready on that evening."""
    lot, today = forecast.lot_of(job), date.fromordinal(forecast.today)
    here = date.fromordinal(arrival(forecast.network, lot, ready.toordinal()))
    promise = Fact(on=today, logged=today, kind="promised", job=job, day=here, means="in hand")
    after = Forecast(replace(forecast.plan, facts=(*forecast.plan.facts, promise)), today)
    return {
        code: after.shipment_dates[code] - now
        for code, now in forecast.shipment_dates.items()
        if after.shipment_dates[code] != now
    }


@every_seed
def test_a_promise_for_the_last_spare_day_moves_nothing_and_one_own_day_more_what_is_said(seed):
    forecast = Forecast(*random_plan(seed))
    for row in near(Picture(forecast)).rows:
        last = date.fromordinal(row.ready.toordinal() + row.spare_days)
        assert moved_by_a_promise(forecast, row.job, last) == {}
        assert moved_by_a_promise(forecast, row.job, row.harmless_until) == {}
        said = {cost.shipment: cost.days for cost in row.costs}
        assert said
        assert moved_by_a_promise(forecast, row.job, row.costs[0].day) == said


@every_seed
def test_every_open_job_is_ranked_or_can_move_nothing(seed):
    forecast = Forecast(*random_plan(seed))
    view = near(Picture(forecast))
    spare = [row.spare_days for row in view.rows]
    assert spare == sorted(spare)
    still = {job.code for lot, job in enumerate(forecast.network.jobs) if forecast.is_open(lot)}
    assert sorted((*(row.job for row in view.rows), *view.free)) == sorted(still)


def test_a_weekend_is_spare_but_no_own_day():
    row = rows_of(picture("a:5wd@shop long:7 pack:1 | a>pack long>pack", fact("started", "a", 0)))["a"]
    assert (row.spare_days, row.own_days, row.harmless_until) == (2, 0, day(4))
    assert [(cost.day, cost.shipment, cost.days) for cost in row.costs] == [(day(7), "wave-1", 1)]


def test_one_day_more_before_a_closure_costs_the_whole_closure():
    shut = replace(SHOP, code="late", closures=(Closure(first=day(9), last=day(18)),))
    seen = picture(
        "a:5wd@shop b:2wd@late | a>b",
        fact("started", "a", 0),
        fact("ordered", "b", 0),
        suppliers=(BENCH, SHOP, shut),
    )
    assert [cost.days for cost in rows_of(seen)["a"].costs] == [13]  # b ends Mon 22 instead of Tue 9 June


def test_of_equally_near_jobs_the_costlier_next_day_comes_first():
    shut = replace(SHOP, code="late", workdays="all", closures=(Closure(first=day(6), last=day(18)),))
    waves = (Shipment(code="w-1", quantity=1, after=("b",)), Shipment(code="w-2", quantity=1, after=("c",)))
    seen = picture(
        "b:2 a:5 c:1wd@late | a>c",
        fact("ordered", "c", 0),
        suppliers=(BENCH, SHOP, shut),
        shipments=waves,
    )
    assert [row.job for row in near(seen).rows] == ["a", "c", "b"]


def test_what_is_on_its_way_counts_calendar_days_of_arrival():
    text = "a:5wd@shop long:9 pack:1 | a>pack long>pack"
    jobs = {"a": {"travel": Span(5)}}
    row = rows_of(picture(text, fact("left", "a", 0), jobs=jobs))["a"]
    assert (row.on_its_way, row.ready, row.spare_days, row.own_days) == (True, day(5), 3, 3)
    seen = picture(text, fact("left", "a", 0), jobs=jobs)
    assert "ON THE WAY, due here Sat 6 Jun" in text_of(seen)


def test_jobs_with_many_spare_days_are_counted_and_those_for_no_shipment_named():
    waves = (Shipment(code="wave-1", quantity=1, after=("pack",)),)
    seen = picture("a:1 b:1 long:40 pack:1 loose:1 | a>pack b>pack long>pack", shipments=waves)
    text = text_of(seen)
    assert "2 more jobs with 39 spare days: a, b" in text
    assert "can move no shipment: loose" in text


def test_many_jobs_that_are_far_from_holding_are_not_all_named():
    codes = [f"j{n}" for n in range(9)]
    links = " ".join(f"{code}>pack" for code in (*codes, "long"))
    seen = picture(f"{' '.join(f'{code}:1' for code in codes)} long:40 pack:1 | {links}")
    assert (
        "9 more jobs with 39 spare days: j0, j1, j2, j3, j4, j5 and 3 more (tracker near --json)"
        in text_of(seen, 120)
    )


def test_no_job_near_and_no_job_at_all_are_said_plainly():
    assert "no open job can move a shipment" in text_of(picture("a:1", fact("finished", "a", 0), today=1))
    waves = (Shipment(code="wave-1", quantity=1, after=("a", "sea")),)
    jobs = {"sea": {"travel": Span(40)}}
    seen = picture("a:1 sea:1", fact("finished", "sea", 0), shipments=waves, today=1, jobs=jobs)
    assert "none has 20 spare days or fewer\n1 job with 39 spare days: a\n" in text_of(seen)


def test_a_date_that_rests_on_no_news_is_at_best():
    seen = picture("a:2wd@shop pack:1 | a>pack", fact("started", "a", 0), today=7)
    assert "a     0      0    Mon 8 Jun    IN WORK NO NEWS AT BEST" in text_of(seen)
    assert "pack  0      0    Tue 9 Jun    NOT DUE AT BEST" in text_of(seen)


# The demo. Invented scenario, answers computed by plain day counting.


def test_spare_days_of_the_demo(program):
    view = program.json("near")
    assert list(view) == ["today", "within", "rows", "free"]
    rows = {row["job"]: row for row in view["rows"]}
    wanted = {
        "licence": 2,
        "glass-sea": 20,
        "smt-last": 29,
        "finish-natural": 41,
        "rework-graphite": 41,
        "boxes": 1,
    }
    assert {job: rows[job]["spare_days"] for job in wanted} == wanted
    assert rows["licence"]["own_days"] == 0  # a weekend only
    assert rows["boxes"]["costs"][0]["shipment"] == "wave-1"
    assert "  glass-sea     20     20   Wed 16 Dec " in program.out("near")
    assert "4 more jobs" not in program.out("near")


@pytest.mark.parametrize("job", ["licence", "glass-sea", "smt-last", "finish-natural", "rework-graphite"])
def test_the_next_own_day_costs_the_demo_what_a_promise_for_it_does(program, job):
    row = next(one for one in program.json("near")["rows"] if one["job"] == job)
    before = program.dates()
    means = ("in", "hand") if row["on_its_way"] else ("leaves",)
    program("promised", job, row["harmless_until"], *means, "exactly")
    assert program.dates() == before
    program("promised", job, row["costs"][0]["day"], *means, "exactly")
    after = program.dates()
    moved = {
        code: (date.fromisoformat(after[code]) - date.fromisoformat(before[code])).days
        for code in after
        if after[code] != before[code]
    }
    assert moved == {cost["shipment"]: cost["days"] for cost in row["costs"]}
