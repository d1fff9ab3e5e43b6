"""What we owe a job to start or to leave their door, and where it is shown. Day 0 is Monday 1 June 2026."""

from dataclasses import replace

import pytest

from tests.build import BENCH, SHOP, day, fact
from tests.report.asking import board_of, board_text, calls_text, page_text, picture, row
from tracker.plan.model import Closure
from tracker.plan.span import Span
from tracker.report.calls import calls
from tracker.report.owed import listed
from tracker.report.shipments import held_by
from tracker.schedule.forecast import Forecast
from tracker.schedule.holders import what_sets

LONG = "housing:5wd@shop long:40 pack:1 | housing>pack long>pack"
SHORT = "housing:5wd@shop pack:1 | housing>pack"
BALANCE = {"housing": {"leave_when": ("balance",)}}
BANK = (BENCH, replace(SHOP, bank=Span(3, "wd")))
STARTED = fact("started", "housing", 0)


def test_a_balance_is_asked_for_while_the_lot_is_still_in_work():
    seen = picture(SHORT, STARTED, today=1, jobs=BALANCE, suppliers=BANK)
    found = row(seen, "housing")
    assert (found.state, found.missing, found.frees) == ("IN WORK", ("balance",), "wave-1")
    assert [(one.job, one.what, one.to_leave) for one in board_of(seen).clocks] == [
        ("housing", ("balance",), True)
    ]
    assert "give balance by" in board_text(seen)
    assert "waits for balance from us to leave, by" in calls_text(seen)
    assert "balance to leave, by" in page_text(seen, "housing")


@pytest.mark.parametrize(("late", "moved"), [(0, False), (1, True)])
def test_the_last_day_for_a_balance_moves_no_shipment_and_the_next_does(late, moved):
    text = "housing:5wd@shop long:16 pack:1 | housing>pack long>pack"
    before = picture(text, STARTED, today=1, jobs=BALANCE, suppliers=BANK)
    sent = (row(before, "housing").give_by - day(0)).days + late
    facts = (STARTED, fact("started", "long", 0), fact("made", "housing", 4, good=1))
    given = fact("given", "housing", sent, what="balance")
    after = picture(text, *facts, given, today=sent, jobs=BALANCE, suppliers=BANK).forecast
    assert (after.shipment_dates["wave-1"] > before.forecast.shipment_dates["wave-1"]) is moved


def test_a_balance_far_off_that_holds_nothing_is_not_spoken_of_yet():
    seen = picture(LONG, STARTED, today=1, jobs=BALANCE)
    assert row(seen, "housing").missing == ("balance",)
    assert board_of(seen).clocks == ()
    assert calls(seen).rows == () or "balance" not in calls_text(seen)
    near = picture(LONG, STARTED, fact("started", "long", 0), today=26, jobs=BALANCE)
    assert [one.what for one in board_of(near).clocks] == [("balance",)]


def test_a_balance_of_a_job_whose_inputs_are_open_counts_only_where_it_holds_a_shipment():
    text = "draw:5 housing:5wd@shop long:{} pack:1 | draw>housing housing>pack long>pack"
    ordered = fact("ordered", "housing", 0)
    loose = picture(text.format(60), jobs=BALANCE)
    assert row(loose, "housing").owes[1:] == ()
    holding = picture(text.format(1), ordered, jobs=BALANCE)
    assert [one.what for one in row(holding, "housing").owes] == [("balance",)]
    assert row(holding, "housing").missing == ()
    assert [one.job for one in board_of(holding).clocks] == ["housing"]


def test_a_job_that_holds_a_shipment_for_what_we_owe_needs_a_hand_also_while_its_inputs_are_open():
    jobs = {"housing": {"clock": ("order", "payment")}}
    seen = picture(
        "draw:2 housing:5wd@shop pack:1 | draw>housing housing>pack",
        fact("ordered", "housing", 0),
        jobs=jobs,
        suppliers=(BENCH, replace(SHOP, bank=Span(9, "wd"))),
    )
    assert not row(seen, "housing").its_turn
    assert [one.code for one in board_of(seen).attention] == ["housing"]
    assert [one.job for one in board_of(seen).clocks] == ["housing"]


def test_only_a_made_lot_waits_at_their_door():
    slow = {"suppliers": (BENCH, replace(SHOP, bank=Span(9, "wd"))), "jobs": BALANCE}
    working = picture(SHORT, STARTED, today=4, **slow)
    assert "[balance not given: may not leave] housing > pack" in board_text(working)
    made = picture(SHORT, STARTED, fact("made", "housing", 4, good=1), today=4, **slow)
    assert "[balance not given, waits at their door] housing > pack" in board_text(made)


def test_a_lot_held_by_a_balance_that_was_credited_since_says_so():
    facts = (STARTED, fact("made", "housing", 4, good=1), fact("given", "housing", 7, what="balance"))
    seen = picture(SHORT, *facts, today=11, jobs=BALANCE, suppliers=BANK)
    held = held_by(seen, "wave-1")
    assert (held.reason, held.what, held.owed_by, held.day) == ("leave", "balance", "", day(10))
    assert "[balance credited Thu 11 Jun] housing > pack" in board_text(seen)
    early = picture(
        SHORT, facts[0], facts[1], fact("given", "housing", 0, what="balance"), today=11, jobs=BALANCE
    )
    assert held_by(early, "wave-1").reason == "made"


@pytest.mark.parametrize("begun", [(STARTED,), ()])
def test_a_balance_credited_after_the_work_sets_the_arrival(begun):
    facts = (*begun, fact("ordered", "housing", 0), fact("given", "housing", 4, what="balance"))
    slow = (BENCH, replace(SHOP, bank=Span(9, "wd")))
    forecast = picture(SHORT, *facts, today=4, jobs=BALANCE, suppliers=slow).forecast
    (reason,) = what_sets(forecast, 0)[1]
    assert (reason.kind, reason.what, reason.owed_by) == ("leave", "balance", "")


def test_a_lot_leaves_once_the_last_of_its_conditions_counts():
    jobs = {"housing": {"leave_when": ("balance", "papers")}}
    slow = (BENCH, replace(SHOP, bank=Span(9, "wd")))
    facts = (STARTED, fact("made", "housing", 4, good=1), fact("given", "housing", 4, what="balance"))
    forecast: Forecast = picture(SHORT, *facts, today=5, jobs=jobs, suppliers=slow).forecast
    assert forecast.times.arrive[0] == day(17).toordinal()  # sent Friday 5, credited Thursday 18 June


def test_a_day_to_give_is_one_our_own_bench_works():
    text = "housing:5@shop long:12 pack:1 | housing>pack long>pack"
    assert row(picture(text), "housing").give_by == day(6)  # a Sunday
    week = replace(BENCH, workdays="mon-fri")
    assert row(picture(text, suppliers=(week, SHOP)), "housing").give_by == day(4)


def test_a_day_to_give_steps_back_over_our_own_closures_but_not_behind_today():
    shut = replace(BENCH, closures=(Closure(first=day(4), last=day(9)),))
    text = "housing:5@shop long:12 pack:1 | housing>pack long>pack"
    assert row(picture(text), "housing").give_by == day(6)
    assert row(picture(text, suppliers=(shut, SHOP)), "housing").give_by == day(3)
    assert row(picture(text, today=5, suppliers=(shut, SHOP)), "housing").give_by >= day(5)


def test_three_conditions_are_listed_with_commas():
    assert listed(("order", "payment", "proof")) == "order, payment and proof"
    assert (listed(("order", "payment")), listed(("order",)), listed(())) == (
        "order and payment",
        "order",
        "",
    )
