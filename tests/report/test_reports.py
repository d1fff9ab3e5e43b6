"""The views behind the questions, on small plans. Day 0 is Monday 1 June 2026."""

from dataclasses import replace
from datetime import timedelta

import pytest

from tests.build import BENCH, SHOP, day, fact, plan
from tracker.plan.model import Closure, Fact, Shipment, Told
from tracker.plan.span import Span
from tracker.report.board import board
from tracker.report.calls import calls
from tracker.report.cautions import caution_for, processes_with_cautions
from tracker.report.jobs import job_row, job_rows
from tracker.report.lateness import late_report
from tracker.report.pages import job_page, shipment_page, supplier_page
from tracker.report.picture import Picture
from tracker.report.promises import promise_rows
from tracker.report.shipments import shipment_rows
from tracker.report.weeks import weeks
from tracker.schedule.first_plan import first_plan_of
from tracker.schedule.forecast import Forecast

CHAIN = "housing:5wd@shop build:3 pack:2 | housing>build build>pack"


def picture(text, *facts, today=0, first=False, **more):
    made = plan(text, facts=facts, **more)
    if first:
        made = replace(made, first_plan=first_plan_of(made))
    return Picture(Forecast(made, day(today)))


def row(text, code, *facts, **more):
    seen = picture(text, *facts, **more)
    return job_row(seen, seen.plan.job_by_code[code])


def test_a_date_without_news_makes_everything_that_rests_on_it_at_best():
    started = fact("started", "housing", 0)
    seen = picture(CHAIN, started, today=9)
    by_code = {one.code: one.at_best for one in job_rows(seen)}
    assert by_code == {"housing": ("housing",), "build": ("housing",), "pack": ("housing",)}
    assert shipment_rows(seen)[0].at_best == ("housing",)
    assert board(seen, fixed_today=False).at_best == ("housing",)


def test_a_date_that_rests_on_nothing_without_news_is_not_at_best():
    text = "housing:5wd@shop foil:2@bench build:3 | housing>build"
    waves = (
        Shipment(code="one", quantity=1, after=("build",)),
        Shipment(code="two", quantity=1, after=("foil",)),
    )
    seen = picture(text, fact("started", "housing", 0), today=9, shipments=waves)
    assert {one.code: one.at_best for one in shipment_rows(seen)} == {"one": ("housing",), "two": ()}


def test_a_shipment_is_late_against_the_last_day_told_last():
    told = (Told(on=day(0), last=day(5)), Told(on=day(1), first=day(6), last=day(12)))
    waves = (Shipment(code="wave-1", quantity=10, after=("pack",), told=told),)
    (found,) = shipment_rows(picture("pack:10", shipments=waves, today=1))
    assert found.forecast == day(10)
    assert (found.days_late, found.days_after_first, found.told_first) == (-2, 5, day(5))


def test_a_date_told_since_counts_as_told():
    waves = (Shipment(code="wave-1", quantity=10, after=("pack",)),)
    (found,) = shipment_rows(picture("pack:10", fact("told", "wave-1", 0, day=4), shipments=waves, today=0))
    assert found.days_late == 5


def test_a_part_that_no_shipment_waits_for_has_no_float():
    waves = (Shipment(code="wave-1", quantity=10, after=("pack",)),)
    found = row("pack:2 spare:5", "spare", shipments=waves)
    assert (found.total_float, found.spare_days, found.harmless_until, found.drag) == (None, None, None, None)


def test_give_by_is_the_last_day_that_moves_no_shipment():
    text = "housing:5wd@shop long:20 pack:1 | housing>pack long>pack"
    found = row(text, "housing")
    assert found.missing == ("order",)
    for late, moved in ((0, False), (1, True)):
        given = (found.give_by - day(0)).days + late
        after = picture(text, fact("ordered", "housing", given), today=given, first=False)
        with_news = Forecast(
            replace(after.plan, facts=(*after.plan.facts, fact("started", "long", 0))), day(given)
        )
        assert (with_news.shipment_dates["wave-1"] > day(20).toordinal()) is moved


def test_calls_name_a_supplier_once_with_the_most_pressing_job_first():
    text = "a:5wd@shop b:5wd@shop pack:1 | a>pack b>pack"
    facts = [fact("started", "a", 0), fact("promised", "a", 0, day=8)]
    facts += [fact("started", "b", 0), fact("promised", "b", 0, day=4)]
    (call,) = calls(picture(text, *facts, today=5)).rows
    assert call.supplier == "shop"
    assert [job.row.code for job in call.jobs] == ["b", "a"]
    assert "no news" in call.jobs[0].why


def test_our_own_bench_is_never_called():
    assert calls(picture("a:2 pack:1 | a>pack")).rows == ()


def test_what_we_owe_is_a_reason_to_call():
    (call,) = calls(picture(CHAIN)).rows
    assert call.jobs[0].why[0] in ("late", "waits on us")
    assert "waits on us" in call.jobs[0].why


def test_nobody_is_called_about_what_is_not_due():
    facts = [fact("started", "housing", 0), fact("promised", "housing", 0, day=30)]
    assert calls(picture("housing:5wd@shop long:60 pack:1 | housing>pack long>pack", *facts)).rows == ()


@pytest.mark.parametrize(("away", "called"), [(7, True), (8, False)])
def test_what_is_due_within_seven_days_is_called_about(away, called):
    facts = [fact("started", "housing", 0), fact("promised", "housing", 0, day=away)]
    found = calls(picture("housing:5wd@shop long:60 pack:1 | housing>pack long>pack", *facts)).rows
    assert [job.why for row in found for job in row.jobs] == ([("due soon",)] if called else [])


def test_a_call_promised_is_on_the_list_until_it_is_made():
    again = Fact(on=day(0), logged=day(0), kind="called", supplier="shop", day=day(3))
    text = "housing:5wd@shop long:60 pack:1 | housing>pack long>pack"
    facts = [fact("started", "housing", 0), fact("promised", "housing", 0, day=30)]
    assert [one.call_again for one in calls(picture(text, *facts, again, today=3)).rows] == [day(3)]
    made = replace(again, on=day(3), logged=day(3), day=None)
    assert calls(picture(text, *facts, again, made, today=3)).rows == ()


@pytest.mark.parametrize("means", ["in hand", "leaves"])
def test_the_latest_date_to_accept_moves_no_shipment_and_the_next_one_does(means):
    shop = replace(SHOP, dates_mean=means, workdays="all")
    text = "housing:5@shop long:30 pack:1 | housing>pack long>pack"
    jobs = {"housing": {"travel": Span(3)}}
    facts = [fact("started", "housing", 0), fact("promised", "housing", 0, day=4)]
    seen = picture(text, *facts, suppliers=(BENCH, shop), jobs=jobs)
    accept = calls(seen).rows[0].jobs[0].accept_by
    before = seen.forecast.shipment_dates
    for late, same in ((0, True), (1, False)):
        news = Fact(
            on=day(0), logged=day(0), kind="promised", job="housing", day=accept + timedelta(days=late)
        )
        after = picture(text, *facts, news, suppliers=(BENCH, shop), jobs=jobs)
        assert (after.forecast.shipment_dates == before) is same


def test_every_promise_is_kept_with_its_slip():
    made = plan(CHAIN, facts=[fact("promised", "housing", on, day=to) for on, to in ((0, 5), (4, 9), (8, 8))])
    assert [(one.day, one.slip) for one in promise_rows(made, "housing", day(8))] == [
        (day(5), None),
        (day(9), 4),
        (day(8), -1),
    ]


def test_a_job_late_only_through_another_is_marked_as_caused():
    seen = picture("a:5 pack:1 | a>pack", today=8, first=True)
    assert {one.job: one.caused for one in late_report(seen).rows} == {"a": False, "pack": True}


def test_weeks_mark_made_travel_and_what_waits_on_us():
    jobs = {"housing": {"travel": Span(10), "clock": ("payment",)}}
    seen = picture(
        "draw:2 housing:5wd@shop pack:1 | draw>housing housing>pack",
        fact("finished", "draw", 1),
        jobs=jobs,
        today=14,
    )
    bars = {one.code: one.marks for one in weeks(seen, whole=True).rows}
    # drawn 1-2 June; unpaid on the 15th, today, so made 16-22 June, on the road to 2 July, packed on the 3rd
    assert bars["draw"] == ("m", "", "", "", "")
    assert bars["housing"] == ("w", "w", "w", "m", "t")
    assert bars["pack"] == ("", "", "", "", "m")


def test_weeks_begin_on_mondays_and_name_today():
    seen = picture("a:30 pack:1 | a>pack", today=10)
    chart = weeks(seen, whole=True)
    assert all(monday.weekday() == 0 for monday in chart.mondays)
    assert (
        chart.mondays[chart.today_week] <= chart.today < chart.mondays[chart.today_week] + timedelta(days=7)
    )
    assert chart.mondays[chart.shipments[0].week] <= chart.shipments[0].row.forecast


def test_pages_say_what_each_thing_waits_for_and_who_needs_it():
    seen = picture(CHAIN)
    assert "build" in str(job_page(seen, "housing"))
    assert "housing" in str(supplier_page(seen, "shop"))
    assert [one.code for one in shipment_page(seen, "wave-1").jobs] == ["housing", "build", "pack"]


def test_a_closure_is_shown_on_the_suppliers_page_while_it_is_ahead():
    shop = replace(SHOP, closures=(Closure(first=day(10), last=day(12), why="works shutdown"),))
    assert "works shutdown" in str(supplier_page(picture(CHAIN, suppliers=(BENCH, shop)), "shop"))


@pytest.mark.parametrize("process", processes_with_cautions())
def test_a_caution_points_to_those_who_decide_and_promises_nothing(process):
    text = caution_for(process).lower()
    assert text
    for word in ("safe", "compliant", "may ship"):
        assert word not in text


def test_an_unknown_process_has_no_caution():
    assert caution_for("knitting") == ""
    assert caution_for("Magnets by air") == caution_for("magnets-by-air") != ""
