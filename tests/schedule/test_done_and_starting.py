"""When a job is done, and what its day 1, start and finish are (rules 1 to 3)."""

from dataclasses import replace

import pytest

from tests.build import BENCH, MONDAY, SHOP, day, fact, plan
from tests.schedule.asking import ORDERED, PAID, arrives, dates, forecast, overdue, reasons
from tracker.plan.model import Closure
from tracker.plan.span import Span, parse_lead
from tracker.schedule.forecast import Forecast
from tracker.schedule.holders import what_sets

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


def test_pieces_counted_while_inputs_are_to_come_do_not_start_the_job():
    """A bench makes the first few from what is there; the rest still waits for the input, and moves nothing."""
    text, part = "a:9 build:2 | a>build", {"build": {"quantity": 10}}
    counted = fact("made", "build", 1, good=3)
    without = dates(forecast(text, on=2, jobs=part), "build")
    assert dates(forecast(text, counted, on=2, jobs=part), "build") == without


def test_the_first_count_at_our_own_bench_is_the_start_once_everything_is_there():
    """Nobody logged a start: work began with the first count on day 2, not when the input came on day 0."""
    text, part = "a:1 build:3 | a>build", {"build": {"quantity": 10}}
    facts = (fact("finished", "a", 0), fact("made", "build", 2, good=3))
    assert dates(forecast(text, *facts, on=2, jobs=part), "build") == (2, 4, 4)
