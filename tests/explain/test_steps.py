"""Whose doing a step is, told from what it logged, corrected, took back or edited."""

from dataclasses import replace
from datetime import date

import pytest

from tracker.explain.steps import Blame, Changed, blame_of, steps_of, whole_step
from tracker.plan.diary import Entry
from tracker.plan.model import Fact, Job, Link, Plan, Run, Shipment, Supplier
from tracker.plan.parts import Make, Part
from tracker.plan.span import Lead

MONDAY = date(2026, 3, 2)
LEAD = Lead(5, 5, 5, "wd")
PLAN = Plan(
    run=Run(code="run-1", quantity=100, start=MONDAY),
    suppliers=(Supplier(code="mill"), Supplier(code="bench", inhouse=True)),
    jobs=(
        Job(code="housing", supplier="mill", lead=LEAD),
        Job(code="check", supplier="bench", lead=LEAD, gate=True),
        Job(code="pack", supplier="bench", lead=LEAD, after=(Link(job="housing"),)),
    ),
    shipments=(Shipment(code="wave-1", quantity=100, after=("pack",)),),
)
ENTRY = Entry(number=7, at="2026-03-02T12:00:00+00:00", day=MONDAY, command="in housing 10")


def fact(kind, job="housing", **more):
    return Fact(on=MONDAY, logged=MONDAY, kind=kind, job=job, **more)


def steps(before, after):
    return tuple(steps_of(whole_step(Changed(ENTRY, before, after))))


def logged(*facts, before=PLAN):
    return steps(before, replace(before, facts=(*before.facts, *facts)))


def cause(step, days=3):
    return blame_of(step, days).cause


@pytest.mark.parametrize(
    ("one", "days", "expected"),
    [
        (fact("promised", day=MONDAY), 3, "supplier late"),
        (fact("promised", day=MONDAY), -3, "supplier earlier"),
        (fact("started", "pack"), 3, "our own delay"),
        (fact("given", what="payment"), 3, "our own delay"),
        (fact("ordered"), 3, "our own delay"),
        (fact("in", good=9, scrap=1), 3, "rejects"),
        (fact("in", good=9, rework=1), 3, "rejects"),
        (fact("in", good=9, scrap=1), -3, "supplier earlier"),
        (fact("in", good=9, scrap=0), 3, "supplier late"),
        (fact("failed", "check"), -3, "rejects"),
        (fact("called_off"), 3, "plan edited"),
        (Fact(on=MONDAY, logged=MONDAY, kind="posted", shipment="wave-1", good=5), 3, "our own delay"),
    ],
)
def test_a_fact_is_the_doing_of_whom_it_speaks_of(one, days, expected):
    (step,) = logged(one)
    assert cause(step, days) == expected


def test_the_job_and_its_supplier_go_with_the_cause():
    (step,) = logged(fact("promised", day=MONDAY))
    assert blame_of(step, 3) == Blame(cause="supplier late", job="housing", supplier="mill")


def test_a_pass_is_about_rejects_only_where_the_check_failed_before():
    (first,) = logged(fact("passed", "check"))
    assert cause(first) == "our own delay"
    failed = replace(PLAN, facts=(fact("failed", "check"),))
    (second,) = logged(fact("passed", "check"), before=failed)
    assert cause(second) == "rejects"


def test_a_rework_loop_is_about_rejects_and_any_other_job_an_edit():
    again = Job(code="again", supplier="mill", lead=LEAD, rework_of="housing")
    plain = Job(code="foam", supplier="mill", lead=LEAD)
    for job, expected in ((again, "rejects"), (plain, "plan edited")):
        (added,) = steps(PLAN, replace(PLAN, jobs=(*PLAN.jobs, job)))
        (dropped,) = steps(added.plan, PLAN)
        assert (cause(added), cause(dropped)) == (expected, expected)
        assert (added.added, dropped.dropped) == ((job,), (job,))


def test_corrections_and_what_is_taken_back_bear_the_cause_of_the_fact():
    before = replace(PLAN, facts=(fact("note", note="a"), fact("promised", day=MONDAY)))
    other = fact("promised", day=date(2026, 3, 20))
    (fixed,) = steps(before, replace(before, facts=(before.facts[0], other)))
    assert fixed.corrected == ((before.facts[1], other),)
    (undone,) = steps(before, replace(before, facts=before.facts[:1]))
    assert undone.removed == before.facts[1:]
    (again,) = steps(undone.plan, before)
    assert again.facts == before.facts[1:]
    assert {cause(fixed), cause(undone, -3), cause(again)} == {"supplier late"}


def test_a_fact_taken_back_from_the_middle_is_told_from_those_that_stay():
    a, b, c = fact("started"), fact("note", note="b"), fact("finished")
    before = replace(PLAN, facts=(a, b, c))
    (step,) = steps(before, replace(PLAN, facts=(a, c)))
    assert (step.removed, step.facts) == ((b,), ())
    (back,) = steps(step.plan, before)
    assert (back.removed, back.facts) == ((), (b,))


def test_edits_of_an_entry_come_before_the_facts_it_logged():
    longer = replace(PLAN.jobs[0], lead=Lead(9, 9, 9, "wd"))
    after = replace(PLAN, jobs=(longer, *PLAN.jobs[1:]), facts=(fact("started"), fact("started", "pack")))
    edit, first, second = steps(PLAN, after)
    assert (edit.edited, edit.facts, edit.plan.facts) == (True, (), ())
    assert (first.edited, first.facts, second.facts) == (False, after.facts[:1], after.facts[1:])
    assert first.before is edit.plan
    assert second.before is first.plan
    assert second.plan is after


def test_facts_about_one_job_in_a_row_are_one_step():
    in_part = (fact("in", good=5), fact("promised", day=MONDAY))
    (step,) = logged(*in_part)
    assert step.facts == in_part


def test_an_entry_that_changes_nothing_of_the_plan_is_a_step_without_effect():
    (step,) = steps(PLAN, PLAN)
    assert (step.moves_dates, step.plan) == (False, PLAN)


@pytest.mark.parametrize("kind", ["told", "decided", "called", "note", "mailed"])
def test_words_move_no_date(kind):
    (step,) = logged(Fact(on=MONDAY, logged=MONDAY, kind=kind, note="words"))
    assert not step.moves_dates
    (delivery,) = logged(fact("in", good=1))
    assert delivery.moves_dates


def test_a_correction_that_turns_words_into_a_fact_may_move_dates():
    before = replace(PLAN, facts=(fact("finished"),))
    (step,) = steps(before, replace(PLAN, facts=(fact("note", note="not yet"),)))
    assert step.moves_dates


def test_the_entry_that_brings_the_run_in_is_one_edit():
    (step,) = steps(None, replace(PLAN, facts=()))
    assert (step.edited, step.before, cause(step)) == (True, None, "plan edited")


def test_a_job_taken_out_with_its_facts_still_bears_the_cause():
    foam = Job(code="foam", supplier="mill", lead=LEAD)
    before = replace(PLAN, jobs=(*PLAN.jobs, foam), facts=(fact("promised", "foam", day=MONDAY),))
    (undone,) = steps(before, PLAN)
    assert blame_of(undone, -3) == Blame(cause="supplier late", job="foam", supplier="mill")


def test_pieces_found_bad_later_are_the_doing_of_the_job_that_makes_them():
    milled = replace(PLAN.jobs[0], makes=(Make(part="body"),))
    plan = replace(PLAN, parts=(Part(code="body"),), jobs=(milled, *PLAN.jobs[1:]))
    (step,) = logged(fact("scrapped", "pack", part="body", scrap=2), before=plan)
    assert blame_of(step, 3) == Blame(cause="rejects", job="housing", supplier="mill")
