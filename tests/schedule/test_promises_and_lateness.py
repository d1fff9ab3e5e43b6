"""Promises, what cannot hold, overdue work, and lots made or on their way (rules 4 to 6)."""

from dataclasses import replace

import pytest

from tests.build import day, fact
from tests.schedule.asking import DAY_0, ORDERED, STARTED, TRAVEL, arrives, dates, forecast, overdue, reasons
from tracker.plan.span import Span
from tracker.schedule.holders import earliest_arrival, what_sets

# Rule 4: promises.


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


def test_a_promise_that_passed_holds_nothing_where_the_inputs_come_later_still():
    facts = (fact("ordered", "b", 0), fact("promised", "b", 1, day=9))
    found = forecast("a:20@shop b:3@shop | a>b", ORDERED, *facts, on=12)
    lot = found.lot_of("b")
    assert overdue(found, "b") == 3
    assert what_sets(found, lot) == ((found.lot_of("a"),), ())


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


def test_a_promise_of_today_does_not_free_a_lot_whose_papers_we_owe():
    jobs = {"a": {"travel": Span(4), "leave_when": ("papers",)}}
    facts = (fact("made", "a", 2), fact("promised", "a", 3, day=5))
    assert arrives(forecast("a:20@shop", *facts, on=3, jobs=jobs)) == 7
    given = fact("given", "a", 3, what="papers")
    assert arrives(forecast("a:20@shop", *facts, given, on=3, jobs=jobs)) == 5


def test_dates_told_after_the_day_looked_at_do_not_count():
    told = fact("told", "wave-1", 9, day=3)
    assert forecast("a:5", told, on=0).room(0) is None
