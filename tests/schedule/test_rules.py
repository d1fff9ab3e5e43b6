"""What a job's dates are, rule by rule, on small plans. Day 0 is Monday 1 June 2026, the first day of the run.

Days are counted from it; the days off of ``shop`` are 5 and 6, 12 and 13, 19 and 20, 26 and 27.
"""

from dataclasses import replace

import pytest

from tests.build import BENCH, MONDAY, SHOP, day, fact, plan
from tracker.errors import Refused
from tracker.plan.model import Closure, Link, Shipment
from tracker.plan.span import Span, parse_lead
from tracker.schedule.first_plan import first_plan_of
from tracker.schedule.forecast import Forecast
from tracker.schedule.holders import earliest_arrival, holding, what_sets
from tracker.schedule.what_if import drags

DAY_0 = MONDAY.toordinal()
LEAVES = replace(SHOP, code="leaves", dates_mean="leaves")
BANK = replace(SHOP, code="bank-3", bank=Span(3, "wd"))
SUPPLIERS = (BENCH, SHOP, LEAVES, BANK)
GATES = "fit:1 rework:2 refit:1 pack:1 | rework>refit fit>pack"
FAMILY = {
    "fit": {"gate": True},
    "rework": {"after": (Link(job="fit", on="fail"),)},
    "refit": {"gate": True, "retry_of": "fit"},
}
PACK = (Shipment(code="wave-1", quantity=10, after=("pack",)),)


def forecast(text, *facts, on=0, **changes):
    return Forecast(plan(text, facts=facts, suppliers=SUPPLIERS, **changes), day(on))


def dates(found, job="a"):
    """First day, last day and evening of arrival, counted from the Monday."""
    lot, times = found.lot_of(job), found.times
    return times.start[lot] - DAY_0, times.finish[lot] - DAY_0, times.arrive[lot] - DAY_0


def arrives(found, job="a"):
    return dates(found, job)[2]


def overdue(found, job="a"):
    return found.times.overdue.get(found.lot_of(job))


def reasons(found, job="a"):
    return {reason.kind for reason in what_sets(found, found.lot_of(job))[1]}


# Rule 1: done.


@pytest.mark.parametrize("kind", ["finished", "in"])
def test_a_job_is_done_on_the_day_it_was_finished_or_came(kind):
    assert dates(forecast("a:5", fact("started", "a", 1), fact(kind, "a", 3), on=9)) == (1, 3, 3)


def test_travel_still_runs_after_finishing_and_not_after_coming_in():
    jobs = {"a": {"travel": Span(4)}}
    assert arrives(forecast("a:5@shop", fact("finished", "a", 3), on=4, jobs=jobs)) == 7
    assert arrives(forecast("a:5@shop", fact("in", "a", 3), on=4, jobs=jobs)) == 3


def test_what_was_finished_and_came_later_arrived_on_the_later_day():
    facts = (fact("finished", "a", 3), fact("in", "a", 9))
    assert dates(forecast("a:5@shop", *facts, on=10, jobs={"a": {"travel": Span(4)}}))[1:] == (3, 9)


def test_what_was_finished_and_left_later_travels_from_the_later_day():
    facts = (fact("finished", "a", 3), fact("left", "a", 6))
    assert arrives(forecast("a:5@shop", *facts, on=7, jobs={"a": {"travel": Span(4)}})) == 10


def test_received_pieces_make_it_done_when_they_reach_the_quantity():
    jobs = {"a": {"quantity": 100}}
    part = (fact("in", "a", 2, good=50, scrap=10),)
    rest = (*part, fact("in", "a", 4, good=30, rework=5, count=5))
    assert forecast("a:5@shop", *part, on=5, jobs=jobs).is_open(0)
    found = forecast("a:5@shop", *rest, on=5, jobs=jobs)
    assert not found.is_open(0)
    assert arrives(found) == 4


def test_sorting_pieces_counted_before_receives_nothing_again():
    facts = (fact("in", "a", 2, count=60), fact("sorted", "a", 3, good=50, scrap=10))
    assert forecast("a:5@shop", *facts, on=5, jobs={"a": {"quantity": 100}}).is_open(0)


def test_a_delivery_closed_short_is_done():
    found = forecast(
        "a:5@shop", fact("in", "a", 2, good=50, closes=True), on=5, jobs={"a": {"quantity": 100}}
    )
    assert (found.is_open(0), arrives(found)) == (False, 2)


def test_a_promise_after_a_delivery_of_unknown_size_speaks_of_more_to_come():
    facts = (fact("in", "a", 2, good=50), fact("promised", "a", 3, day=20))
    assert arrives(forecast("a:5@shop", *facts, on=5)) == 20


def test_logged_facts_win_out_of_sequence():
    found = forecast("a:5 b:3 | a>b", fact("started", "b", 1), on=2)
    assert dates(found, "b") == (1, 3, 3)
    assert arrives(found, "a") == 6


def test_facts_of_today_count():
    assert arrives(forecast("a:5", fact("finished", "a", 3), on=3)) == 3


# Rule 2: day 1.


def test_day_1_is_the_latest_of_all_it_waits_for():
    found = forecast("a:5 b:2 c:1 | a>c b>c", jobs={"b": {"travel": Span(9)}})
    assert dates(found, "c")[0] == 11


@pytest.mark.parametrize(("lag", "start"), [("+3cd", 8), ("+3wd", 10)])
def test_a_lag_runs_after_arrival_on_the_sending_suppliers_days(lag, start):
    facts = (fact("ordered", "a", 0),)
    found = forecast(f"a:4wd@shop b:1 | a>b{lag}", *facts, jobs={"a": {"lead": parse_lead("4wd")}})
    assert dates(found, "a")[1] == 4
    assert dates(found, "b")[0] == start


def test_not_before_names_the_first_day_that_may_be_worked():
    assert dates(forecast("a:2", jobs={"a": {"not_before": day(7)}})) == (7, 8, 8)


def test_nothing_starts_before_the_run():
    assert dates(forecast("a:2 b:2@shop", on=-20), "a")[0] == 0
    assert dates(forecast("a:2 b:2@shop", on=-20), "b")[0] == 0


@pytest.mark.parametrize(("facts", "start"), [((), 3), ((fact("ordered", "a", 1),), 2)])
def test_an_order_makes_the_next_day_day_1_and_a_missing_one_tomorrow(facts, start):
    assert dates(forecast("a:2@shop", *facts, on=2))[0] == start


def test_in_house_work_needs_no_order_and_starts_today():
    assert dates(forecast("a:2", on=9)) == (9, 10, 10)


def test_outside_work_ordered_and_past_its_day_1_is_taken_as_running():
    assert dates(forecast("a:8wd@shop", fact("ordered", "a", 1), on=7)) == (2, 11, 11)


PAID = {"a": {"clock": ("order", "payment")}}
ORDERED = fact("ordered", "a", 0)


def test_a_payment_counts_after_the_suppliers_bank_days():
    found = forecast("a:2wd@bank-3", ORDERED, fact("given", "a", 1, what="payment"), on=2, jobs=PAID)
    assert dates(found)[0] == 7  # sent Tuesday 2, credited Friday 5 June, day 1 Saturday, worked on Monday 8


def test_an_unpaid_payment_counts_as_sent_today():
    found = forecast("a:2wd@bank-3", ORDERED, on=0, jobs=PAID)
    assert dates(found)[0] == 4  # sent Monday, credited Thursday
    assert {(reason.what, reason.owed_by) for reason in what_sets(found, 0)[1]} == {("payment", "us")}


def test_bank_days_are_for_money_only():
    jobs = {"a": {"clock": ("order", "drawing")}}
    assert dates(forecast("a:2wd@bank-3", ORDERED, on=1, jobs=jobs))[0] == 2


def test_every_missing_condition_keeps_the_clock_from_starting():
    jobs = {"a": {"clock": ("order", "drawing", "proof", "material")}}
    facts = (ORDERED, *(fact("given", "a", 1, what=what) for what in ("drawing", "proof")))
    assert dates(forecast("a:2@shop", *facts, on=8, jobs=jobs))[0] == 9
    facts = (*facts, fact("given", "a", 3, what="material"))
    assert dates(forecast("a:2@shop", *facts, on=8, jobs=jobs))[0] == 4


def test_the_suppliers_written_day_1_wins_over_order_and_payment():
    found = forecast("a:2@shop", fact("given", "a", 1, what="day1", day=9), on=2, jobs=PAID)
    assert dates(found)[0] == 9


def test_a_logged_start_wins():
    assert dates(forecast("a:4@shop", fact("started", "a", 1), on=3, jobs=PAID)) == (1, 4, 4)


@pytest.mark.parametrize("kind", ["started", "made", "left"])
def test_work_that_shows_implies_the_order(kind):
    found = forecast("a:9@shop", fact(kind, "a", 2), on=2)
    assert "clock" not in reasons(found)
    assert dates(found)[0] == 2


@pytest.mark.parametrize(("until", "start"), [(8, 8), (None, 3)])
def test_a_pause_before_the_start_names_the_first_day_that_may_be_worked(until, start):
    pause = fact("paused", "a", 1, **({"day": until} if until else {}))
    assert dates(forecast("a:2", pause, on=2))[0] == start


def test_a_paused_job_resumes_its_remaining_own_days_on_the_day_named():
    facts = (fact("started", "a", 0), fact("paused", "a", 2, day=9))
    assert dates(forecast("a:5", *facts, on=4))[1] == 11  # two days done, three from day 9


def test_a_paused_job_without_an_end_resumes_tomorrow_at_best():
    facts = (fact("started", "a", 0), fact("paused", "a", 2))
    assert dates(forecast("a:5", *facts, on=10))[1] == 13


def test_resuming_ends_the_pause_on_that_day():
    facts = (fact("started", "a", 0), fact("paused", "a", 2), fact("resumed", "a", 4))
    assert dates(forecast("a:5", *facts, on=5))[1] == 6


def test_a_second_word_about_a_pause_replaces_the_first():
    facts = (
        fact("started", "a", 0),
        fact("paused", "a", 2),
        fact("paused", "a", 3, day=20),
        fact("resumed", "a", 6),
    )
    assert dates(forecast("a:5", *facts, on=7))[1] == 8


def test_a_promise_older_than_a_pause_is_only_a_lower_bound():
    facts = (fact("started", "a", 0), fact("promised", "a", 1, day=4), fact("paused", "a", 2, day=9))
    assert arrives(forecast("a:5", *facts, on=3)) == 11


# Rule 3: start and finish.


def test_the_start_day_counts_as_day_1_and_days_off_do_not():
    assert dates(forecast("a:7wd@shop", ORDERED, on=0)) == (1, 9, 9)


def test_work_starts_on_the_first_working_day():
    assert dates(forecast("a:1wd@shop", fact("ordered", "a", 4), on=4)) == (7, 7, 7)


def test_calendar_days_start_and_end_on_any_day():
    assert dates(forecast("a:2@shop", fact("ordered", "a", 4), on=4)) == (5, 6, 6)


def test_a_closure_is_not_worked():
    shut = replace(SHOP, closures=(Closure(first=day(2), last=day(4)),))
    found = Forecast(plan("a:3wd@shop", facts=(ORDERED,), suppliers=(BENCH, shut)), MONDAY)
    assert dates(found) == (1, 8, 8)


def test_a_range_plans_with_its_long_end_and_three_values_with_the_likely_one():
    assert dates(forecast("a:3..6"))[1] == 5
    assert dates(forecast("a:3/4/9"))[1] == 3


def test_travel_counts_calendar_days_or_the_senders_working_days():
    facts = (fact("ordered", "a", 0),)
    for span, arrival in ((Span(2, "cd"), 6), (Span(2, "wd"), 8)):
        assert arrives(forecast("a:4wd@shop", *facts, jobs={"a": {"travel": span}})) == arrival


def test_a_job_of_no_length_is_ready_the_evening_before_day_1_and_does_not_snap():
    found = forecast("a:5 b:0wd@shop c:1 | a>b b>c", fact("ordered", "b", 0))
    assert dates(found, "b")[1:] == (4, 4)
    assert dates(found, "c")[0] == 5


def test_a_job_of_no_length_is_ready_no_earlier_than_yesterday_and_never_overdue():
    found = forecast("a:0@shop", ORDERED, on=30)
    assert (arrives(found), overdue(found)) == (29, None)


def test_start_to_start_and_its_lag_bind_the_start():
    assert dates(forecast("a:9 b:1 | a>>b+2cd"), "b") == (2, 2, 2)


def test_finish_to_finish_holds_the_finish_and_work_is_not_broken():
    found = forecast("a:6 b:2wd@shop | a>|b+1cd", fact("ordered", "b", 0))
    assert dates(found, "b") == (4, 7, 7)  # evening 5 + 1 is a Saturday: finish Monday, begun Friday


# Rule 4: promises.

STARTED = fact("started", "a", 1)
TRAVEL = {"a": {"travel": Span(4)}}


def test_a_promise_after_the_start_replaces_the_lead():
    assert dates(forecast("a:20@shop", STARTED, fact("promised", "a", 2, day=9), on=3)) == (1, 9, 9)


def test_in_hand_is_the_day_of_arrival_on_any_day_and_the_finish_lies_travel_before():
    found = forecast("a:20@shop", STARTED, fact("promised", "a", 2, day=13), on=3, jobs=TRAVEL)
    assert dates(found)[1:] == (9, 13)


def test_leaves_is_the_last_day_of_work_moved_to_a_working_day_and_travel_follows():
    facts = (STARTED, fact("promised", "a", 2, day=12))
    assert dates(forecast("a:20wd@leaves", *facts, on=3, jobs=TRAVEL))[1:] == (14, 18)


def test_exactly_and_calendar_day_leads_keep_a_promised_day_off():
    exact = fact("promised", "a", 2, day=12, exactly=True)
    assert arrives(forecast("a:20wd@leaves", STARTED, exact, on=3)) == 12
    assert arrives(forecast("a:20@leaves", STARTED, fact("promised", "a", 2, day=12), on=3)) == 12


def test_the_entry_says_what_its_date_means_before_the_supplier_does():
    facts = (STARTED, fact("promised", "a", 2, day=10, means="leaves"))
    assert arrives(forecast("a:20@shop", *facts, on=3, jobs=TRAVEL)) == 14


def test_the_live_promise_is_the_latest_given_and_then_the_latest_entered():
    late, early = fact("promised", "a", 4, day=12), fact("promised", "a", 2, day=30)
    assert arrives(forecast("a:20@shop", STARTED, late, early, on=5)) == 12
    again = fact("promised", "a", 4, day=15)
    assert arrives(forecast("a:20@shop", STARTED, late, again, early, on=5)) == 15


def test_a_promise_ends_with_receipt():
    found = forecast("a:20@shop", STARTED, fact("promised", "a", 2, day=30), fact("in", "a", 9), on=10)
    assert arrives(found) == 9


def test_a_promise_before_the_start_only_bounds_from_below():
    early = fact("promised", "a", 0, day=3)
    assert arrives(forecast("a:20@shop", STARTED, early, on=2)) == 20
    assert arrives(forecast("a:5@shop", STARTED, replace(early, day=day(30)), on=2)) == 30


def test_a_promise_once_all_was_there_replaces_the_lead_before_the_start():
    facts = (fact("finished", "a", 3), fact("ordered", "b", 2), fact("promised", "b", 3, day=9))
    assert arrives(forecast("a:5 b:20@shop | a>b", *facts, on=4), "b") == 9


@pytest.mark.parametrize(
    "facts",
    [
        pytest.param((fact("ordered", "b", 2), fact("promised", "b", 3, day=9)), id="the input has not come"),
        pytest.param(
            (fact("finished", "a", 4), fact("ordered", "b", 2), fact("promised", "b", 3, day=9)),
            id="it came after",
        ),
        pytest.param((fact("finished", "a", 3), fact("promised", "b", 3, day=9)), id="not ordered"),
        pytest.param(
            (fact("finished", "a", 3), fact("ordered", "b", 4), fact("promised", "b", 3, day=9)),
            id="ordered after",
        ),
    ],
)
def test_a_promise_its_inputs_cannot_meet_cannot_hold(facts):
    found = forecast("a:5 b:20@shop | a>b", *facts, on=4)
    lot = found.lot_of("b")
    earliest = earliest_arrival(found, lot)
    assert earliest > DAY_0 + 9
    assert found.times.arrive[lot] == earliest


def test_an_early_promise_later_than_lead_and_inputs_is_kept_with_the_earliest_beside_it():
    facts = (fact("ordered", "b", 0), fact("promised", "b", 0, day=40))
    found = forecast("a:5 b:3@shop | a>b", *facts, jobs={"b": {"travel": Span(4)}})
    lot = found.lot_of("b")
    assert dates(found, "b")[1:] == (36, 40)
    assert earliest_arrival(found, lot) == DAY_0 + 11
    assert what_sets(found, lot)[0] == ()
    assert reasons(found, "b") == {"promise"}


def test_the_earliest_of_an_overdue_job_is_not_in_the_past():
    facts = (ORDERED, fact("promised", "a", 1, day=20))
    found = forecast("b:1 a:3wd@shop | b>a", *facts, fact("started", "b", 20), on=20)
    assert earliest_arrival(found, found.lot_of("a")) >= DAY_0 + 20


# Rule 5: nothing unfinished finishes before today.


def test_overdue_work_finishes_on_the_first_own_day_from_today():
    found = forecast("a:3wd@shop", ORDERED, on=12)
    assert dates(found) == (1, 14, 14)
    assert (overdue(found), reasons(found)) == (9, {"overdue"})


def test_a_started_job_past_its_day_is_overdue_too():
    found = forecast("a:3", STARTED, on=9)
    assert (dates(found)[1], overdue(found)) == (9, 6)


def test_a_promise_that_passed_is_today_and_counted():
    found = forecast("a:20@shop", STARTED, fact("promised", "a", 2, day=9), on=12)
    assert (arrives(found), overdue(found)) == (12, 3)


def test_a_promise_for_today_has_not_passed():
    found = forecast("a:20@shop", STARTED, fact("promised", "a", 2, day=9), on=9)
    assert (arrives(found), overdue(found)) == (9, None)


def test_dates_that_rest_on_a_passed_promise_can_be_named():
    found = forecast("a:3wd@shop b:2 c:2 | a>b", ORDERED, on=12)
    behind = {job: found.overdue_behind((found.lot_of(job),)) for job in "bc"}
    assert behind == {"b": (0,), "c": ()}


# Rule 6: made, left, in, and what holds a lot at the door.


def test_after_leaving_travel_runs_from_that_day_and_ends_today_at_the_earliest():
    found = forecast("a:20@shop", fact("left", "a", 2), on=4, jobs=TRAVEL)
    assert (arrives(found), overdue(found)) == (6, None)
    found = forecast("a:20@shop", fact("left", "a", 2), on=9, jobs=TRAVEL)
    assert (arrives(found), overdue(found)) == (9, 3)


def test_after_leaving_a_newer_promise_in_hand_counts_and_an_older_one_does_not():
    newer, older = fact("promised", "a", 3, day=15), fact("promised", "a", 1, day=15)
    assert arrives(forecast("a:20@shop", fact("left", "a", 2), newer, on=4, jobs=TRAVEL)) == 15
    assert arrives(forecast("a:20@shop", fact("left", "a", 2), older, on=4, jobs=TRAVEL)) == 6


def test_a_made_lot_still_has_to_travel_from_today():
    assert arrives(forecast("a:20@shop", fact("made", "a", 2), on=5, jobs=TRAVEL)) == 9


def test_a_promise_after_it_was_made_replaces_the_travel():
    facts = (fact("made", "a", 2), fact("promised", "a", 3, day=7))
    assert arrives(forecast("a:20@shop", *facts, on=5, jobs=TRAVEL)) == 7


HELD = {"a": {"travel": Span(4), "leave_when": ("balance",)}}


def test_an_unpaid_balance_holds_a_made_lot_for_the_bank_days():
    found = forecast("a:20@bank-3", fact("made", "a", 2), on=3, jobs=HELD)
    assert arrives(found) == 12  # sent Thursday, credited Tuesday 9 June, four days on the road
    assert reasons(found) == {"leave"}


def test_a_balance_sent_lets_it_leave_when_it_is_credited():
    facts = (fact("made", "a", 2), fact("given", "a", 2, what="balance"))
    assert arrives(forecast("a:20@bank-3", *facts, on=3, jobs=HELD)) == 11


def test_a_promise_before_the_balance_was_sent_waits_for_it():
    facts = (fact("started", "a", 0), fact("promised", "a", 1, day=5))
    assert arrives(forecast("a:20@bank-3", *facts, on=3, jobs=HELD)) == 12


def test_conditions_to_leave_do_not_hold_work_that_is_longer():
    facts = (fact("ordered", "a", 0), fact("given", "a", 0, what="balance"))
    assert arrives(forecast("a:20@bank-3", *facts, on=0, jobs=HELD)) == 24


def test_papers_hold_it_without_bank_days():
    jobs = {"a": {"travel": Span(4), "leave_when": ("papers",)}}
    assert arrives(forecast("a:20@bank-3", fact("made", "a", 2), on=3, jobs=jobs)) == 7


# Rule 7: gates.


def test_what_waits_for_a_gate_starts_after_it_passes():
    found = forecast(GATES, fact("passed", "fit", 2), on=3, jobs=FAMILY, shipments=PACK)
    assert dates(found, "pack")[0] == 3
    assert {found.lot_of(job) for job in ("rework", "refit")} == {None}


def test_a_failure_calls_the_rework_and_its_retry_opens_the_gate():
    found = forecast(GATES, fact("failed", "fit", 2), on=2, jobs=FAMILY, shipments=PACK)
    assert [dates(found, job)[0] for job in ("rework", "refit", "pack")] == [3, 5, 6]
    assert not found.is_open(found.lot_of("fit"))


def test_a_failed_gate_counts_as_done_once_its_retry_has_passed():
    facts = (fact("failed", "fit", 2), fact("finished", "rework", 4), fact("passed", "refit", 5))
    found = forecast(GATES, *facts, on=6, jobs=FAMILY, shipments=PACK)
    assert dates(found, "pack")[0] == 6
    assert not found.is_open(found.lot_of("fit"))


def test_the_latest_result_wins():
    facts = (fact("failed", "fit", 2), fact("passed", "fit", 4))
    assert dates(forecast(GATES, *facts, on=5, jobs=FAMILY, shipments=PACK), "pack")[0] == 5
    back = (fact("passed", "fit", 2), fact("failed", "fit", 4))
    assert dates(forecast(GATES, *back, on=4, jobs=FAMILY, shipments=PACK), "pack")[0] == 8


@pytest.mark.parametrize(("supplier", "start"), [("bench", 5), ("shop", 6)])
def test_a_failed_gate_without_a_retry_is_tried_again_at_best(supplier, start):
    facts = (fact("ordered", "fit", 0), fact("started", "fit", 1), fact("failed", "fit", 2))
    found = forecast(f"fit:2@{supplier} pack:1 | fit>pack", *facts, on=5, jobs={"fit": {"gate": True}})
    assert dates(found, "fit") == (start, start + 1, start + 1)
    assert reasons(found, "fit") == {"second attempt"}


@pytest.mark.parametrize("kind", ["in", "left", "made", "finished"])
def test_parts_that_move_around_a_failed_check_do_not_open_the_gate(kind):
    before, after = fact(kind, "fit", 1), fact(kind, "fit", 3)
    for facts in ((before, fact("failed", "fit", 2)), (fact("failed", "fit", 2), after)):
        found = forecast("fit:2 pack:1 | fit>pack", *facts, on=9, jobs={"fit": {"gate": True}})
        assert found.is_open(found.lot_of("fit"))
        assert dates(found, "pack")[0] >= 10


def test_a_promise_for_the_attempt_that_failed_is_no_promise_for_the_next():
    facts = (fact("promised", "fit", 1, day=3), fact("failed", "fit", 2))
    found = forecast("fit:4 pack:1 | fit>pack", *facts, on=5, jobs={"fit": {"gate": True}})
    assert arrives(found, "fit") == 8


def test_a_retry_called_off_leaves_the_failed_gate_to_be_tried_again():
    facts = (fact("failed", "fit", 2), fact("called_off", "refit", 3))
    found = forecast(GATES, *facts, on=4, jobs=FAMILY, shipments=PACK)
    assert dates(found, "pack")[0] == 5


def test_a_rework_begun_before_the_failure_was_logged_is_part_of_the_run():
    found = forecast(GATES, fact("started", "rework", 1), on=2, jobs=FAMILY, shipments=PACK)
    assert dates(found, "rework") == (1, 2, 2)


def test_the_first_plan_knows_no_failure_whatever_was_logged():
    facts = (fact("failed", "fit", 0), fact("started", "rework", 0))
    kept = first_plan_of(plan(GATES, facts=facts, suppliers=SUPPLIERS, jobs=FAMILY, shipments=PACK))
    assert {job.job for job in kept.jobs} == {"fit", "pack"}
    assert kept.shipments[0].date == day(1)


def test_the_first_plan_takes_orders_and_payments_as_on_time():
    kept = first_plan_of(plan("a:5wd@bank-3 b:1 | a>b", suppliers=SUPPLIERS, jobs=PAID))
    assert [(job.start, job.finish) for job in kept.jobs] == [(day(0), day(4)), (day(5), day(5))]


# Rule 8: called off.


def test_a_job_called_off_holds_nothing_and_is_named():
    found = forecast("a:20 b:2 | a>b", fact("called_off", "a", 1), on=2)
    assert dates(found, "b")[0] == 2
    assert found.network.left_out == {"a": "called off"}


def test_a_job_resumed_after_being_called_off_is_back():
    found = forecast("a:20 b:2 | a>b", fact("called_off", "a", 1), fact("resumed", "a", 2), on=2)
    assert dates(found, "b")[0] == 22


def test_a_shipment_of_jobs_called_off_has_no_date():
    found = forecast("a:20", fact("called_off", "a", 1), on=2)
    assert (found.shipment_dates, found.ship_date) == ({"wave-1": None}, None)


# Shipments, holders, limits.


def test_a_shipment_is_gone_when_the_pieces_posted_reach_its_quantity():
    waves = (Shipment(code="wave-1", quantity=10, after=("a",)),)
    part = (fact("posted", "wave-1", 3, good=6),)
    assert forecast("a:9", *part, on=5, shipments=waves).open_shipments == ("wave-1",)
    whole = (*part, fact("posted", "wave-1", 4, good=4))
    found = forecast("a:9", *whole, on=5, shipments=waves)
    assert (found.open_shipments, found.shipment_dates["wave-1"]) == ((), DAY_0 + 4)


def test_a_chain_begins_with_the_payment_we_owe():
    found = forecast(
        "boxes:4wd@shop pack:1 | boxes>pack", fact("ordered", "boxes", 0), on=1, jobs={"boxes": PAID["a"]}
    )
    held = holding(found, "wave-1")
    assert held.path == ("boxes", "pack")
    assert [(reason.kind, reason.what) for reason in held.held_by.reasons] == [("clock", "payment")]


def test_both_chains_of_a_tie_are_given():
    found = holding(forecast("a:5 b:5 c:2 d:1 | a>d b>d c>d"), "wave-1")
    assert set(found.chains()) == {("a", "d"), ("b", "d")}


def test_a_job_that_holds_can_have_spare_days_where_a_gap_absorbs_a_slip():
    facts = (fact("ordered", "b", 0),)
    found = forecast("a:5 b:1wd@shop | a>b", *facts)  # ready Friday evening, next worked on Monday
    assert holding(found, "wave-1").path == ("a", "b")
    assert found.slack(0).spare_days == 2


def test_the_room_against_a_date_told_may_be_negative():
    told = fact("told", "wave-1", 0, day=3)
    found = forecast("a:5 b:2", told, on=0)
    assert (found.room(0), found.room(1)) == (-1, 2)


def test_done_jobs_and_jobs_that_reach_no_shipment_have_no_float():
    waves = (Shipment(code="wave-1", quantity=10, after=("a",)),)
    found = forecast("a:2 b:3 c:1 | c>a", fact("finished", "c", 0), on=1, shipments=waves)
    nothing = {job: (found.slack(found.lot_of(job)), found.free_float(found.lot_of(job))) for job in "bc"}
    assert nothing == {"b": (None, None), "c": (None, None)}


def test_a_done_job_costs_nothing():
    found = forecast("a:9 b:1 | a>b", fact("finished", "a", 3), on=4)
    assert drags(found, found.lot_of("a")) == {"wave-1": 0}


def test_the_drag_of_a_started_job_ends_it_yesterday_evening():
    found = forecast("a:9 b:1 | a>b", STARTED, on=4)
    assert drags(found, found.lot_of("a")) == {"wave-1": 6}  # ready on day 3 in place of day 9


def test_the_drag_of_a_lot_on_its_way_keeps_the_travel():
    found = forecast(
        "a:9@shop b:1 | a>b", fact("left", "a", 2), fact("promised", "a", 3, day=20), on=4, jobs=TRAVEL
    )
    assert drags(found, found.lot_of("a")) == {"wave-1": 14}


def test_jobs_that_wait_for_each_other_are_refused_by_name():
    with pytest.raises(Refused, match="ring among: a, b"):
        forecast("a:1 b:1 c:1 | a>b b>a c>a")


@pytest.mark.parametrize("unit", ["wd", "cd"])
def test_dates_beyond_the_year_2100_are_refused(unit):
    chain = " ".join(f"j{n}:3650{unit}@shop" for n in range(9))
    links = " ".join(f"j{n}>j{n + 1}" for n in range(8))
    with pytest.raises(Refused, match="1990 to 2100"):
        forecast(f"{chain} | {links}")


def test_one_suppliers_far_dates_do_not_stop_another_calendar_from_reaching_as_far():
    """Calendars prepare more days as they are asked for, each on its own."""
    other = replace(SHOP, code="other", workdays="mon-sat")
    facts = (fact("started", "a", 0),)
    found = Forecast(
        plan("a:3000wd@shop b:3000wd@other | a>b", facts=facts, suppliers=(BENCH, SHOP, other)), MONDAY
    )
    assert found.ship_date > found.times.finish[0] > DAY_0 + 4000
