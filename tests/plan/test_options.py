"""Options: until when they are open, and what is wrong with one."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from tracker.plan.checks import check_plan
from tracker.plan.model import Fact, Job, Plan, Run, Supplier
from tracker.plan.options import Option, decision_on, open_options
from tracker.plan.span import parse_lead

DAY = date(2026, 11, 24)
RINGS = Option(code="rings", words="set boxes lead=12wd", on=DAY, cost="GBP 240")
LATER = Option(code="bench-2", words="set boxes lead=3wd", on=DAY + timedelta(days=2))
PLAN = Plan(
    run=Run(code="dial-1", quantity=240, start=date(2026, 6, 15)),
    suppliers=(Supplier(code="print"),),
    jobs=(Job(code="boxes", supplier="print", lead=parse_lead("20wd")),),
    options=(RINGS, LATER),
)


def decided(on, option="rings", **more):
    return Fact(on=on, logged=on, kind="decided", option=option, **more)


def day(count):
    return DAY + timedelta(days=count)


def test_an_option_is_open_from_the_day_it_is_kept_until_something_is_decided_about_it():
    plan = replace(PLAN, facts=(decided(day(3), note="go"),))
    seen = {count: [one.code for one in open_options(plan, day(count))] for count in (-1, 0, 1, 2, 3)}
    assert seen == {-1: [], 0: ["rings"], 1: ["rings"], 2: ["rings", "bench-2"], 3: ["bench-2"]}


def test_of_several_decisions_the_latest_counts_and_of_one_day_the_last_logged():
    early, first, second = (
        decided(day(1), note="wait"),
        decided(day(4), note="no"),
        decided(day(4), note="go"),
    )
    plan = replace(PLAN, facts=(first, second, early))
    assert decision_on(plan, "rings", day(3)) == early
    assert decision_on(plan, "rings", day(4)) == second
    assert decision_on(plan, "bench-2", day(9)) is None


def test_a_decision_about_a_job_closes_no_option():
    about_boxes = Fact(on=DAY, logged=DAY, kind="decided", job="boxes", note="rings")
    assert open_options(replace(PLAN, facts=(about_boxes,)), DAY) == (RINGS,)


def problems(*options, facts=(), today=DAY):
    return [str(one) for one in check_plan(replace(PLAN, options=options, facts=facts), today)]


@pytest.mark.parametrize(
    ("options", "line"),
    [
        (
            (replace(RINGS, words=" "),),
            "option rings, words: say nothing; write what would be tried, such as words = 'set boxes lead=12wd'",
        ),
        (
            (replace(RINGS, on=day(1)),),
            ("option rings, on: is 2026-11-25, which comes after today (2026-11-24);"
            " on is the day the option was kept: correct it"),
        ),
        (
            (replace(RINGS, on=date(1901, 1, 1)),),
            "option rings, on: 1901-01-01 is not within the years 1990 to 2100; correct the year",
        ),
        (
            (replace(RINGS, code="cost"),),
            "option cost: the code 'cost' is a word of the command line; choose another, such as cost-1",
        ),
        (
            (replace(RINGS, code="Boxes"),),
            ("option Boxes: the code is taken by job boxes; choose another; run, suppliers, parts, jobs, shipments and"
            " options share one list, capitals aside"),
        ),
        (
            (RINGS, RINGS),
            ("option rings: the code is taken by option rings; choose another; run, suppliers, parts, jobs, shipments and"
            " options share one list, capitals aside"),
        ),
    ],
)  # fmt: skip
def test_each_problem_of_an_option_is_named_with_its_remedy(options, line):
    assert problems(*options) == [line]


@pytest.mark.parametrize(
    ("fact", "line"),
    [
        (decided(DAY, "ring"), "fact decided ring 2026-11-24: there is no option 'ring'; did you mean rings?"),
        (decided(DAY, "boxes"), "fact decided boxes 2026-11-24: 'boxes' is a job; expected an option; name an option here"),
        (
            Fact(on=DAY, logged=DAY, kind="note", option="rings", note="x"),
            ("fact note rings 2026-11-24: a fact 'note' has no option; take it out; beside its day it has job, shipment,"
            " supplier and note"),
        ),
    ],
)  # fmt: skip
def test_only_a_decision_names_an_option_and_only_one_there_is(fact, line):
    assert problems(RINGS, facts=(fact,)) == [line]


def test_an_option_that_could_not_be_read_is_not_reported_twice():
    unread = Option(code="rings", words="", on=date.min)
    assert check_plan(replace(PLAN, options=(unread,)), DAY, unreadable=frozenset({"rings"})) == ()
