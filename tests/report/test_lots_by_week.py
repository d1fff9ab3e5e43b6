"""Bars of jobs with several lots: all marks in the job's bar, a row a lot where open ones fall into other weeks."""

from datetime import date

import pytest
from hypothesis import given, reject, settings

from tests.build import day, plan
from tests.part_plans import part_plans
from tests.plans import START
from tests.report.asking import printed
from tests.report.counting import PLAN, TODAY, fact, picture, with_facts, with_job
from tracker.errors import Refused
from tracker.plan.span import parse_lead, parse_span
from tracker.render.weeks_text import write_weeks
from tracker.report.picture import Picture
from tracker.report.weeks import weeks
from tracker.schedule.forecast import Forecast


def sized(sizes, **more):
    """The run with its magnets in lots of these sizes, one after another, nine working days each."""
    return with_job(PLAN, "magnets", lots=sizes, one_by_one=True, lead=parse_lead("9wd"), **more)


def bar(seen, code):
    return next(row for row in weeks(seen).rows if row.code == code)


def test_a_jobs_bar_has_the_marks_of_all_its_lots_and_each_lot_a_row():
    row = bar(picture(sized((160, 160, 200))), "magnets")
    made = [week for week, mark in enumerate(row.marks) if mark == "m"]
    assert [(one.number, one.of) for one in row.lots] == [(1, 3), (2, 3), (3, 3)]
    assert made == sorted({week for one in row.lots for week, mark in enumerate(one.marks) if mark == "m"})
    assert [one.arrives for one in row.lots] == [date(2026, 12, 7), date(2026, 12, 18), date(2026, 12, 31)]


def test_lots_in_the_same_weeks_have_no_rows():
    plan = with_job(PLAN, "magnets", lots=3)
    assert bar(picture(plan), "magnets").lots == ()


def test_one_open_lot_has_no_row_though_others_came():
    came = with_facts(PLAN, fact("in", "finish-natural", TODAY, good=60))
    row = bar(picture(came), "finish-natural")
    assert (row.lots, "m" in row.marks) == ((), True)


def test_lots_that_came_keep_their_weeks_in_the_bar():
    plan = with_facts(sized((160, 160, 200)), fact("in", "magnets", date(2026, 11, 3), good=160))
    row = bar(picture(plan), "magnets")
    monday = weeks(picture(plan)).mondays.index(date(2026, 11, 2))
    assert row.marks[monday] == "m"
    assert [(one.number, one.of) for one in row.lots] == [(2, 3), (3, 3)]


def test_travel_of_each_lot_is_marked():
    row = bar(picture(sized((160, 360), travel=parse_span("8cd"))), "magnets")
    assert [[mark for mark in one.marks if mark] for one in row.lots] == [
        ["m", "m", "m", "t"],
        ["m", "m", "t"],
    ]


def test_weeks_reach_to_the_last_lot_of_all():
    seen = picture(sized((160, 160, 200)))
    ends = [date.fromordinal(arrive) for arrive in seen.forecast.times.arrive]
    assert (max(ends) - weeks(seen).mondays[-1]).days in range(7)


@pytest.mark.parametrize("width", [80, 120])
def test_a_lots_row_stands_indented_under_its_job(width):
    lines = printed(write_weeks, weeks(picture(sized((160, 160, 200)))), width=width).splitlines()
    place = next(n for n, line in enumerate(lines) if line.startswith("magnets"))
    assert [line[:13] for line in lines[place + 1 : place + 4]] == [f"  lot {n} of 3 " for n in (1, 2, 3)]
    assert max(len(line) for line in lines) <= width


def test_a_plan_without_parts_has_a_bar_a_job():
    seen = Picture(Forecast(plan("a:3 b:12 | a>b"), day(2)))
    assert all(row.lots == () for row in weeks(seen).rows)


@settings(max_examples=60, deadline=None)
@given(plan=part_plans())
def test_every_mark_of_a_lot_stands_in_its_jobs_bar(plan):
    try:
        view = weeks(picture(plan, START))
    except Refused:  # jobs that take each other's parts in a ring
        reject()
    for row in view.rows:
        for one in row.lots:
            assert all(mark == "" or row.marks[week] for week, mark in enumerate(one.marks))
        assert len({one.marks for one in row.lots}) != 1
