"""Each state word and flag, reached one by one from logged facts. Day 0 is Monday 1 June 2026."""

import pytest

from tests.build import day, fact, plan
from tracker.explain.state import promised_day, standing
from tracker.plan.model import Link, Shipment, Told
from tracker.schedule.forecast import Forecast


def stands(text, code, *facts, today=0, jobs=None, **more):
    made = plan(text, facts=facts, jobs=jobs, **more)
    return standing(Forecast(made, day(today)), made.job_by_code[code])


OUTSIDE = "housing:5wd@shop pack:2 | housing>pack"
GATE = "check:2 build:2 | check>build"

STATES = [
    ("NOT DUE", OUTSIDE, "pack", [], {}),
    ("CAN START", GATE, "check", [], {}),
    ("CLOCK NOT STARTED", OUTSIDE, "housing", [], {}),
    ("IN WORK", OUTSIDE, "housing", [fact("started", "housing", 0)], {}),
    ("MADE", OUTSIDE, "housing", [fact("made", "housing", 0, good=10)], {}),
    ("IN WORK", OUTSIDE, "pack", [fact("made", "pack", 0, good=4)], {"pack": {"quantity": 10}}),
    ("DONE", OUTSIDE, "pack", [fact("made", "pack", 0, good=10)], {"pack": {"quantity": 10}}),
    ("IN WORK", OUTSIDE, "housing", [fact("made", "housing", 0, good=4)], {"housing": {"quantity": 10}}),
    ("ON THE WAY", OUTSIDE, "housing", [fact("left", "housing", 0)], {"housing": {"travel": plan("x:1 y:1 | x>y+3cd").jobs[1].after[0].lag}}),
    ("PART IN", OUTSIDE, "housing", [fact("in", "housing", 0, good=10)], {"housing": {"quantity": 50}}),
    ("DONE", OUTSIDE, "housing", [fact("in", "housing", 0, good=50)], {"housing": {"quantity": 50}}),
    ("DONE", OUTSIDE, "housing", [fact("finished", "housing", 0)], {}),
    ("DONE", GATE, "check", [fact("passed", "check", 0)], {"check": {"gate": True}}),
    ("PAUSED", OUTSIDE, "housing", [fact("started", "housing", 0), fact("paused", "housing", 0)], {}),
    ("FAILED", GATE, "check", [fact("failed", "check", 0)], {"check": {"gate": True}}),
    ("CALLED OFF", OUTSIDE, "housing", [fact("called_off", "housing", 0)], {}),
    ("ORDERED", OUTSIDE, "housing", [fact("ordered", "housing", 0)], {}),
]  # fmt: skip


@pytest.mark.parametrize(
    ("state", "text", "code", "facts", "jobs"), STATES, ids=[f"{s[0]}-{n}" for n, s in enumerate(STATES)]
)
def test_each_state_word_is_reached_by_what_was_logged(state, text, code, facts, jobs):
    assert stands(text, code, *facts, jobs=jobs).state == state


def test_all_state_words_are_reached_here():
    from typing import get_args

    from tracker.explain.state import State

    assert {one[0] for one in STATES} == set(get_args(State))


def test_an_order_given_whose_day_1_has_passed_is_assumed_to_run():
    assert stands(OUTSIDE, "housing", fact("ordered", "housing", 0), today=3).state == "IN WORK"


def test_a_job_ordered_before_its_turn_is_only_ordered():
    text = "bases:5wd@shop bezels:5wd@shop | bases>bezels"
    assert stands(text, "bezels", fact("ordered", "bezels", 0)).state == "ORDERED"
    assert not stands(text, "bezels", fact("ordered", "bezels", 0)).its_turn


def test_what_is_missing_is_named_until_it_is_given():
    jobs = {"housing": {"clock": ("order", "payment")}}
    assert stands(OUTSIDE, "housing", jobs=jobs).missing == ("order", "payment")
    assert stands(OUTSIDE, "housing", fact("ordered", "housing", 0), jobs=jobs).missing == ("payment",)
    given = fact("given", "housing", 0, what="payment")
    assert stands(OUTSIDE, "housing", fact("ordered", "housing", 0), given, jobs=jobs).missing == ()


def test_a_made_lot_names_what_keeps_it_at_their_door():
    jobs = {"housing": {"leave_when": ("balance",)}}
    made = fact("made", "housing", 0, good=10)
    assert stands(OUTSIDE, "housing", made, jobs=jobs).to_leave == ("balance",)
    given = fact("given", "housing", 0, what="balance")
    assert stands(OUTSIDE, "housing", made, given, jobs=jobs).to_leave == ()


def test_a_resumed_job_is_in_work_again():
    facts = [fact("started", "housing", 0), fact("paused", "housing", 1), fact("resumed", "housing", 2)]
    assert stands(OUTSIDE, "housing", *facts, today=2).state == "IN WORK"


@pytest.mark.parametrize(("today", "state"), [(4, "PAUSED"), (5, "IN WORK"), (6, "IN WORK")])
def test_a_pause_is_over_on_the_day_work_may_go_on(today, state):
    facts = [fact("started", "housing", 0), fact("paused", "housing", 1, day=5)]
    assert stands(OUTSIDE, "housing", *facts, today=today).state == state


def test_what_a_lot_needs_to_leave_is_known_while_it_is_in_work():
    jobs = {"housing": {"leave_when": ("balance", "papers")}}
    found = stands(OUTSIDE, "housing", fact("started", "housing", 0), today=1, jobs=jobs)
    assert (found.missing, found.to_leave) == ((), ("balance", "papers"))
    gone = fact("left", "housing", 1)
    assert stands(OUTSIDE, "housing", gone, today=1, jobs=jobs).to_leave == ()


def test_a_part_that_came_after_the_date_given_leaves_the_rest_without_one():
    jobs, promised = {"housing": {"quantity": 50}}, fact("promised", "housing", 0, day=4)
    part = fact("in", "housing", 4, good=10)
    found = stands(OUTSIDE, "housing", promised, part, today=6, jobs=jobs)
    assert (found.undated, found.flags, found.overdue_days) == (True, ("LATE",), 2)
    assert not stands(OUTSIDE, "housing", promised, part, today=4, jobs=jobs).undated


def test_a_promise_that_passed_without_news_is_late_and_counts_its_days():
    started, promised = fact("started", "housing", 0), fact("promised", "housing", 0, day=4)
    found = stands(OUTSIDE, "housing", started, promised, today=7)
    assert found.flags == ("LATE", "NO NEWS")
    assert found.overdue_days == 3
    assert "NO NEWS" not in stands(OUTSIDE, "housing", started, promised, today=4).flags


def test_a_date_that_passed_without_a_promise_is_no_news_too():
    found = stands(OUTSIDE, "housing", fact("started", "housing", 0), today=9)
    assert "NO NEWS" in found.flags


def test_a_promise_its_inputs_cannot_meet_cannot_hold():
    text = "bases:5wd@shop bezels:5wd@shop | bases>bezels"
    facts = [fact("ordered", "bases", 0), fact("ordered", "bezels", 0), fact("promised", "bezels", 0, day=3)]
    assert stands(text, "bezels", *facts).flags == ("LATE", "CANNOT HOLD")
    facts[-1] = fact("promised", "bezels", 0, day=20)
    assert "CANNOT HOLD" not in stands(text, "bezels", *facts).flags


def test_three_spare_days_are_tight_and_four_are_not():
    for long, tight in ((8, True), (9, False)):
        found = stands(f"a:{long} b:5 pack:1 | a>pack b>pack", "b")
        assert ("TIGHT" in found.flags) is tight


def test_a_job_that_moves_a_date_we_told_is_late_when_its_turn_has_come():
    told = (Told(on=day(0), last=day(3)),)
    waves = (Shipment(code="wave-1", quantity=10, after=("pack",), told=told),)
    assert stands("make:5 pack:2 | make>pack", "make", shipments=waves).flags == ("LATE",)
    assert "LATE" not in stands("make:5 pack:2 | make>pack", "pack", shipments=waves).flags


def test_a_done_job_and_a_job_no_shipment_waits_for_carry_no_flag():
    assert stands(OUTSIDE, "housing", fact("in", "housing", 0), today=5).flags == ()
    waves = (Shipment(code="wave-1", quantity=10, after=("pack",)),)
    assert stands("pack:2 spare:9", "spare", shipments=waves).flags == ()


def test_the_live_promise_is_the_one_given_last():
    made = plan(
        OUTSIDE, facts=[fact("promised", "housing", 2, day=9), fact("promised", "housing", 1, day=30)]
    )
    assert promised_day(Forecast(made, day(2)), made.job_by_code["housing"]) == day(9)


def test_a_gate_that_failed_is_failed_until_it_is_tried_again_and_then_in_work():
    jobs = {"check": {"gate": True}}
    facts = [fact("failed", "check", 0), fact("started", "check", 1)]
    assert stands(GATE, "check", *facts, today=1, jobs=jobs).state == "IN WORK"
    assert stands(GATE, "check", *facts, fact("passed", "check", 2), today=2, jobs=jobs).state == "DONE"


def test_a_second_attempt_that_passes_opens_the_first_gate():
    jobs = {
        "check": {"gate": True},
        "again": {"gate": True, "retry_of": "check", "after": (Link(job="check", on="fail"),)},
    }
    text = "check:2 again:2 build:2 | check>build"
    facts = [fact("failed", "check", 0), fact("passed", "again", 3)]
    assert stands(text, "build", *facts, today=4, jobs=jobs).its_turn
    assert not stands(text, "build", facts[0], today=2, jobs=jobs).its_turn
    first = stands(text, "check", *facts, today=4, jobs=jobs)
    assert (first.state, first.passed_by) == ("DONE", "again")
    assert stands(text, "check", facts[0], today=2, jobs=jobs).state == "FAILED"


def test_a_count_at_our_own_bench_is_news_of_a_job_past_its_lead():
    """Two days' work begun on day 0 and past its end on day 3: silent after one count, spoken of after another."""
    part = {"pack": {"quantity": 10}}
    first, second = (fact("made", "pack", on, good=3) for on in (0, 3))
    silent = stands("pack:2", "pack", fact("started", "pack", 0), today=3, jobs=part)
    counted = stands("pack:2", "pack", first, second, today=3, jobs=part)
    assert ("NO NEWS" in silent.flags, "NO NEWS" in counted.flags) == (True, False)
    assert (silent.undated, counted.undated) == (False, True)
