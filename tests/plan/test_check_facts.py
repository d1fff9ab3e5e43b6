from dataclasses import replace
from datetime import date, timedelta

import pytest

from tests.plan.dial import PLAN, TODAY, lines, only, with_fact
from tracker.plan.model import Fact


@pytest.mark.parametrize(
    ("plan", "line"),
    [
        pytest.param(
            with_fact("startd", job="housing"),
            "fact startd housing 2026-06-30: there is no kind of fact 'startd'; did you mean started?",
            id="a kind misspelt",
        ),
        pytest.param(
            with_fact("started", job="hosing"),
            "fact started hosing 2026-06-30: there is no job 'hosing'; did you mean housing?",
            id="an unknown job",
        ),
        pytest.param(
            with_fact("posted", shipment="wave-2"),
            "fact posted wave-2 2026-06-30: there is no shipment 'wave-2'; did you mean wave-1?",
            id="an unknown shipment",
        ),
        pytest.param(
            with_fact("called", supplier="housing"),
            "fact called housing 2026-06-30: 'housing' is a job; expected a supplier; name a supplier here",
            id="a job called instead of its supplier",
        ),
        pytest.param(
            with_fact("started"),
            "fact started 2026-06-30: does not say a job; a fact 'started' needs it",
            id="about nothing",
        ),
        pytest.param(
            with_fact("promised", job="housing"),
            "fact promised housing 2026-06-30: does not say a day; a fact 'promised' needs it",
            id="a promise without a day",
        ),
        pytest.param(
            with_fact("passed", job="housing"),
            "fact passed housing 2026-06-30: housing is no gate, so it cannot have passed;"
            " write gate = true in job housing, or log finished",
            id="a result of what is no gate",
        ),
        pytest.param(
            with_fact("started", job="housing", good=5),
            "fact started housing 2026-06-30: a fact 'started' has no good; take it out; beside its day it has job and note",
            id="pieces where none belong",
        ),
        pytest.param(
            with_fact("in", job="housing", good=-5),
            "fact in housing 2026-06-30, good: is -5; expected 0 or more; correct the number",
            id="fewer than no pieces in",
        ),
        pytest.param(
            with_fact("sorted", job="housing"),
            "fact sorted housing 2026-06-30: sorts no pieces; say how many are good, rework or scrap",
            id="nothing sorted",
        ),
        pytest.param(
            with_fact("in", job="housing"),
            "fact in housing 2026-06-30: brings no pieces; say how many are good, or last = true where nobody counted",
            id="a delivery of nothing",
        ),
        pytest.param(
            with_fact("in", job="housing", good=0, scrap=0),
            "fact in housing 2026-06-30: brings no pieces; say how many are good, or last = true where nobody counted",
            id="a delivery of no pieces",
        ),
        pytest.param(
            with_fact("given", job="housing", what="deposit"),
            "fact given housing 2026-06-30: 'deposit' cannot be given; expected payment, drawing, proof, material,"
            " balance, papers, day1; use one of these words",
            id="given what no clock waits for",
        ),
        pytest.param(
            with_fact("given", job="housing", what="day1"),
            "fact given housing 2026-06-30: does not say which day is day 1; write for = the day they named",
            id="a day 1 without a day",
        ),
        pytest.param(
            with_fact("given", job="housing", what="payment", day=TODAY),
            "fact given housing 2026-06-30: names a day (2026-06-30), which only day1 does;"
            " take for out; on is the day it was given",
            id="a payment for a day",
        ),
        pytest.param(
            with_fact("promised", job="housing", day=date(2026, 8, 2), worst=date(2026, 8, 1)),
            "fact promised housing 2026-06-30: the worst day 2026-08-01 comes before the day promised 2026-08-02;"
            " exchange the two, or correct one of them",
            id="a worst day before the promise",
        ),
        pytest.param(
            with_fact("told", shipment="wave-1", first=date(2027, 1, 20), day=date(2027, 1, 10)),
            "fact told wave-1 2026-06-30: the first day 2027-01-20 comes after the last day 2027-01-10;"
            " exchange the two, or correct one of them",
            id="told a span turned round",
        ),
        pytest.param(
            with_fact("started", job="housing", on=date(2026, 6, 29), logged=date(2026, 6, 28)),
            "fact started housing 2026-06-29: was logged on 2026-06-28, before it happened on 2026-06-29;"
            " correct on or logged",
            id="logged before it happened",
        ),
        pytest.param(
            with_fact("started", job="housing", logged=date(2026, 7, 1)),
            "fact started housing 2026-06-30: logged is 2026-07-01, which comes after today (2026-06-30);"
            " facts lie at or before today: correct the day, or log a promise instead",
            id="logged tomorrow",
        ),
        pytest.param(
            with_fact("promised", job="housing", day=date(206, 8, 1)),
            "fact promised housing 2026-06-30: 0206-08-01 is not within the years 1990 to 2100; correct the year",
            id="a year with a digit lost",
        ),
    ],
)
def test_each_problem_of_a_fact_names_place_finding_and_remedy(plan, line):
    assert only(plan) == line


def test_a_fact_of_tomorrow_is_refused_once_where_both_its_days_are_the_same():
    found = lines(with_fact("started", job="housing", on=date(2026, 7, 1)))
    assert [line.split(",")[0] for line in found] == ["fact started housing 2026-07-01: on is 2026-07-01"]


def test_a_fact_of_today_is_taken():
    assert lines(with_fact("started", job="housing")) == []


@pytest.mark.parametrize("fields", [{"closes": True}, {"count": 1}, {"scrap": 1}])
def test_a_delivery_that_closes_a_job_or_brings_any_piece_is_taken(fields):
    assert lines(with_fact("in", job="housing", **fields)) == []


def ahead(count):
    """Notes on the days after today, the last one ``count`` days ahead."""
    days = [TODAY + timedelta(days=n) for n in range(1, count + 1)]
    return tuple(Fact(on=day, logged=day, kind="note", job="housing", note="x") for day in days)


def test_a_few_facts_after_today_are_a_problem_each():
    assert len(lines(replace(PLAN, facts=ahead(3)))) == 3


def test_many_facts_after_today_are_one_problem_of_the_status_date():
    assert only(replace(PLAN, facts=ahead(4))) == (
        "run dial-1: 4 facts lie after today (2026-06-30), the latest on 2026-07-04;"
        " give the status date with --today 2026-07-04, or keep one: today = 2026-07-04 in [run]"
    )


def test_other_problems_of_many_facts_after_today_are_still_found():
    wrong = Fact(on=TODAY, logged=TODAY, kind="started", job="hosing")
    found = lines(replace(PLAN, facts=(*ahead(4), wrong)))
    assert [line.partition(":")[0] for line in found] == ["run dial-1", "fact started hosing 2026-06-30"]
