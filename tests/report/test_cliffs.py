"""Last harmless days and the cliffs ahead. Day 0 is Monday 1 June 2026; the shop works Monday to Friday."""

from dataclasses import replace
from datetime import date
from itertools import pairwise

import pytest

from tests.build import BENCH, SHOP, day, fact
from tests.report.asking import board_of, board_text, picture, printed
from tests.schedule.random_plans import random_plan
from tracker.explain.closure_share import closure_share
from tracker.plan.model import Closure, Fact, Shipment
from tracker.plan.span import Span
from tracker.render.closures_text import write_closures
from tracker.report.cliffs import AHEAD, CLIFF, explained, last_days
from tracker.report.closures import closures
from tracker.report.picture import Picture
from tracker.schedule.forecast import Forecast
from tracker.schedule.network import arrival

every_seed = pytest.mark.parametrize("seed", range(60))
SHUT = Closure(first=day(11), last=day(21), why="stock count")  # Friday 12 to Monday 22 June


def rows_of(seen, within=None):
    return {row.job: row for row in explained(seen, last_days(seen, within))}


def promised_ready(plan, today, job, ready):
    """The plan in which the job is promised, in hand, for the evening it is here if ready on ``ready``."""
    forecast = Forecast(plan, today)
    lot = forecast.lot_of(job)
    here = date.fromordinal(arrival(forecast.network, lot, ready.toordinal()))
    promise = Fact(on=today, logged=today, kind="promised", job=job, day=here, means="in hand")
    return replace(plan, facts=(*plan.facts, promise))


def dates_if_ready(plan, today, job, ready):
    return Forecast(promised_ready(plan, today, job, ready), today).shipment_dates


def own_days_from(forecast, job, first):
    calendar = forecast.network.calendar[forecast.lot_of(job)]
    found = [first]
    for _ in range(AHEAD):
        after = found[-1].toordinal()
        found.append(date.fromordinal(calendar.add(after, 1) if calendar else after + 1))
    return found


@every_seed
def test_the_next_cliff_is_the_first_that_promising_one_own_day_after_the_other_meets(seed):
    """Against a whole forecast with each of 60 promises."""
    plan, today = random_plan(seed)
    forecast = Forecast(plan, today)
    for row in last_days(Picture(forecast)):
        steps = pairwise(own_days_from(forecast, row.job, row.harmless_until))
        for last, after in steps:
            here, later = (dates_if_ready(plan, today, row.job, one) for one in (last, after))
            costs = {code: later[code] - now for code, now in here.items() if later[code] != now}
            if last == row.harmless_until:
                assert {cost.shipment: cost.days for cost in row.costs} == costs
                assert {cost.day for cost in row.costs} == {after}
            if max(costs.values(), default=0) >= CLIFF:
                assert (row.cliff.last, row.cliff.next_day) == (last, after)
                assert {cost.shipment: cost.days for cost in row.cliff.costs} == costs
                ends = {
                    cost.shipment: (cost.before.toordinal(), cost.after.toordinal())
                    for cost in row.cliff.costs
                }
                assert ends == {code: (here[code], later[code]) for code in costs}
                break
        else:
            assert row.cliff is None


@pytest.mark.parametrize("seed", range(250))
def test_the_closure_behind_a_cliff_is_the_one_that_working_it_out_anew_finds(seed):
    """Of every closure of every supplier, each with the whole forecast made anew."""
    plan, today = random_plan(seed)
    for row in rows_of(Picture(Forecast(plan, today))).values():
        if row.cliff is None:
            continue
        worst = max(row.cliff.costs, key=lambda cost: cost.days)
        job, last = row.job, row.cliff.last

        def days_without(opened, job=job, last=last, worst=worst):
            then = opened(plan)
            _, after = own_days_from(Forecast(then, today), job, last)[:2]
            here, later = (dates_if_ready(then, today, job, one)[worst.shipment] for one in (last, after))
            return later - here

        everybody = [one.code for one in plan.suppliers]
        first, until = last.toordinal() + 1, worst.after.toordinal()
        best = closure_share(plan, everybody, first, until, worst.days, days_without)
        found = worst.closure
        assert (found and found.days) == (best and best.days)


def shop(closures=(SHUT,), **more):
    return replace(SHOP, closures=closures, **more)


def run(text, *facts, closures=(SHUT,), today=0, **more):
    return picture(text, *facts, today=today, suppliers=(BENCH, shop(closures)), **more)


def promised(job, until, on=0):
    return fact("promised", job, on, day=until)


def test_a_cliff_of_their_own_closure_falls_after_the_last_day_they_work():
    """Promised for Thursday 11 June, day 10; their next own day is Tuesday 23, and packing takes one day."""
    seen = run("a:5wd@shop pack:1 | a>pack", fact("ordered", "a", 0), promised("a", 10))
    row = rows_of(seen)["a"]
    assert (row.harmless_until, row.cliff.last, row.cliff.next_day) == (day(10), day(10), day(22))
    (cost,) = row.cliff.costs
    assert (cost.shipment, cost.before, cost.after, cost.days) == ("wave-1", day(11), day(23), 12)
    share = cost.closure
    assert (share.supplier, share.first, share.last, share.why) == (
        "shop",
        day(11),
        day(21),
        ("stock count",),
    )
    assert share.days == 11  # at work, Friday 12 June would be their next day


def test_a_cliff_may_be_of_the_closure_of_somebody_further_down():
    """The casting may be late by two days; on the third, plating runs into the shop's closure."""
    seen = run("cast:5 plate:2wd@shop pack:1 | cast>plate plate>pack", fact("ordered", "plate", 0))
    row = rows_of(seen)["cast"]
    assert (row.supplier, row.ready, row.cliff.last, row.cliff.next_day) == ("bench", day(4), day(8), day(9))
    (cost,) = row.cliff.costs
    assert (cost.closure.supplier, cost.days) == ("shop", 12)


def test_suppliers_shut_on_the_same_days_are_told_apart():
    twin = replace(shop(), code="twin")
    seen = picture(
        "a:5wd@shop b:1wd@twin pack:1 | a>b b>pack",
        *(fact("ordered", code, 0) for code in ("a", "b")),
        promised("a", 9),
        suppliers=(BENCH, shop(), twin),
    )
    found = {code: row.cliff.costs[0].closure for code, row in rows_of(seen).items() if row.cliff}
    assert {code: share.supplier for code, share in found.items()} == {"a": "twin", "b": "twin"}
    assert len({share.days for share in found.values()}) == 1


@pytest.mark.parametrize(("off", "edge"), [(6, True), (5, False)])
def test_seven_days_are_a_cliff_and_six_are_none(off, edge):
    """A shop that works every day and is shut for so many days costs one more than these."""
    shut = Closure(first=day(6), last=day(5 + off))
    seen = picture("a:5@shop pack:1 | a>pack", suppliers=(BENCH, replace(shop((shut,)), workdays="all")))
    working = picture("a:5wd@shop pack:1 | a>pack", suppliers=(BENCH, replace(shop((shut,)), workdays="all")))
    assert rows_of(seen)["a"].cliff is None  # a job in calendar days knows no closures of its own
    assert (rows_of(working)["a"].cliff is not None) == edge


def test_a_cliff_that_no_closure_makes_names_none():
    """Who works on Mondays only is a cliff every week."""
    weekly = replace(SHOP, code="weekly", workdays="mon")
    seen = picture("a:1 b:1wd@weekly pack:1 | a>b b>pack", suppliers=(BENCH, weekly))
    (cost,) = rows_of(seen)["a"].cliff.costs
    assert (cost.days, cost.closure) == (7, None)


def test_the_board_looks_for_cliffs_a_fortnight_past_the_present_finish():
    """Ready on Monday 8 June, or earlier, the edge on Thursday 11 is near; three weeks ahead it is not."""
    far = Closure(first=day(24), last=day(40))
    text, ordered = "a:5wd@shop pack:1 | a>pack", fact("ordered", "a", 0)
    near = {closure: rows_of(run(text, ordered, closures=(closure,)), 14)["a"] for closure in (SHUT, far)}
    assert near[SHUT].cliff.last == day(10)
    assert near[far].cliff is None
    assert rows_of(run(text, ordered, closures=(far,)))["a"].cliff.last == day(23)


def test_a_cliff_on_the_very_next_day_is_told_however_many_days_are_spare_until_then():
    text = "a:2wd@shop b:18 pack:1 | a>pack b>pack"
    seen = run(text, fact("ordered", "a", 0), closures=(Closure(first=day(18), last=day(40)),))
    assert (seen.forecast.slack(seen.forecast.lot_of("a")).spare_days) > 14
    assert rows_of(seen, 14)["a"].cliff.last == day(17)


def test_jobs_with_many_spare_days_are_neither_holders_nor_near():
    seen = run("a:2wd@shop b:40 c:30 pack:1 | a>pack b>pack c>pack", fact("ordered", "a", 0))
    assert set(rows_of(seen)) == {"b", "c", "pack"}


def test_the_board_tells_each_holder_once_and_what_the_next_day_costs():
    """The job that needs a hand has the cost beside it, the others a row in the block."""
    seen = run(
        "a:5wd@shop pack:1 post:1 | a>pack pack>post",
        fact("ordered", "a", 0),
        promised("a", 4, on=0),
        today=7,
    )
    view = board_of(seen)
    assert [row.code for row in view.attention] == ["a"]
    assert set(view.next_day) | {row.job for row in view.last_days} == {"a", "pack", "post"}
    assert not set(view.next_day) & {row.job for row in view.last_days}


def test_the_board_shows_six_and_counts_the_rest():
    """Of nine one after the other the first needs a hand, having no day to spare."""
    jobs = [f"j{n}:2" for n in range(9)]
    links = [f"j{n}>j{n + 1}" for n in range(8)]
    seen = run(f"{' '.join(jobs)} | {' '.join(links)}")
    view = board_of(seen)
    assert ([row.code for row in view.attention], list(view.next_day)) == (["j0"], ["j0"])
    assert [row.job for row in view.last_days] == [f"j{n}" for n in range(1, 7)]
    assert view.more_last_days == 2
    assert "and 2 more: tracker closures" in board_text(seen)


def test_a_cliff_stands_before_holders_with_earlier_days():
    waves = (
        Shipment(code="one", quantity=5, after=("early",)),
        Shipment(code="two", quantity=5, after=("pack",)),
    )
    text = "first:1 early:1 alloy:2 a:5wd@shop pack:1 | first>early alloy>a a>pack"
    view = board_of(run(text, fact("ordered", "a", 0), shipments=waves))
    assert [(row.job, row.cliff is not None) for row in view.last_days] == [
        ("alloy", True), ("a", True), ("early", False), ("pack", False)
    ]  # fmt: skip


def test_where_no_cliff_is_ahead_closures_say_so():
    text = printed(write_closures, closures(run("a:5wd@shop pack:1 | a>pack", closures=()), 30))
    assert "no cliff of 7 days or more within 60 own days" in text


def test_a_finished_run_has_no_last_days():
    seen = run("a:5wd@shop | ", fact("finished", "a", 4), today=6)
    assert last_days(seen) == ()
    assert "last harmless days" not in board_text(seen)


def test_goods_on_their_way_count_calendar_days_of_arrival():
    facts = [fact("ordered", "a", 0), fact("left", "a", 4)]
    seen = run("a:5wd@shop pack:1 | a>pack", *facts, today=5, jobs={"a": {"travel": Span(4)}})
    row = rows_of(seen)["a"]
    assert (row.on_their_way, row.ready, row.costs[0].day) == (True, day(8), day(9))


def test_dates_that_rest_on_a_job_without_news_are_at_best():
    seen = run("a:5wd@shop pack:1 | a>pack", fact("ordered", "a", 0), promised("a", 4), today=7)
    assert rows_of(seen)["pack"].at_best
    assert "AT BEST" in printed(write_closures, closures(seen, 30)).split("last harmless days")[1]


def test_the_demos_licence_and_boxes_stand_before_their_cliffs(program):
    """Invented scenario, computed by plain day counting: boxes are harmless until 5 January and cost a day on 6 January."""
    rows = {row["job"]: row for row in program.json("closures")["last_days"]}
    assert rows["boxes"]["harmless_until"] == "2027-01-05"
    assert rows["boxes"]["costs"] == [{"day": "2027-01-06", "shipment": "wave-1", "days": 1}]
    cliff = rows["licence"]["cliff"]
    assert (cliff["last"], cliff["next_day"]) == ("2027-01-27", "2027-02-22")
    (worst,) = [cost for cost in cliff["costs"] if cost["shipment"] == "wave-2"]
    assert (worst["before"], worst["after"], worst["days"]) == ("2027-03-22", "2027-04-19", 28)
    closure = worst["closure"]
    assert (closure["supplier"], closure["first"], closure["last"]) == ("qingsha", "2027-01-28", "2027-02-21")
    assert not any(row["job"] == "licence" for row in program.json()["last_days"])


def test_the_demos_licence_promised_for_its_last_day_is_on_the_board(program):
    """Invented scenario, computed by plain day counting: on 27 January 22 March, a day later 19 April."""
    program("promised", "licence", "27jan")
    (row,) = [row for row in program.json()["last_days"] if row["cliff"]]
    assert (row["job"], row["harmless_until"], row["cliff"]["last"]) == (
        "licence",
        "2027-01-27",
        "2027-01-27",
    )
    assert {cost["shipment"]: cost["after"] for cost in row["cliff"]["costs"]}["wave-2"] == "2027-04-19"
    assert "qingsha shut Thu 28 Jan to Sun 21 Feb, spring shutdown" in program.out(width=120)
    assert "licence" not in program.json()["next_day"]
    promised_later = program.dates()
    assert promised_later["wave-2"] == "2027-03-22"
    program("promised", "licence", "28jan")
    assert program.dates()["wave-2"] == "2027-04-19"


def test_shipments_with_nothing_open_have_no_holders():
    waves = (Shipment(code="one", quantity=5, after=("a",)),)
    seen = run("a:5wd@shop b:3", fact("finished", "a", 4), shipments=waves, today=6)
    assert last_days(seen) == ()
