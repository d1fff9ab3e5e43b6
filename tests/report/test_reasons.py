"""Why a job's dates are what they are, gates passed later, lots on their way. Day 0 is Monday 1 June 2026."""

from dataclasses import replace

import pytest

from tests.build import BENCH, SHOP, day, fact
from tests.report.asking import board_of, board_text, calls_text, forecast_text, page_text, picture, row
from tracker.plan.model import Link, Shipment, Told
from tracker.plan.span import Span
from tracker.report.backers import backers_report
from tracker.report.pages import job_page, shipment_page
from tracker.report.shipments import reason_of, shipment_rows
from tracker.report.weeks import weeks

STARTED = fact("started", "housing", 0)
CHAIN = "housing:5wd@shop build:3 pack:2 | housing>build build>pack"


def test_a_job_that_waits_names_its_input_and_the_evening_that_sets_it():
    seen = picture(CHAIN, STARTED)
    found = reason_of(seen, "build")
    assert (found.reason, found.what, found.day, found.here) == ("after", "housing", day(4), False)
    assert "because          waits for housing (arrives Fri 5 Jun)" in page_text(seen, "build")


def test_a_job_whose_input_is_here_follows_it():
    seen = picture(CHAIN, fact("in", "housing", 4), fact("started", "build", 5), today=5)
    assert reason_of(seen, "build").reason == "started"
    waiting = picture(CHAIN, fact("in", "housing", 4), today=4)
    assert "because          follows housing" in page_text(waiting, "build")


def test_a_start_that_follows_a_start_says_so():
    seen = picture("a:9 b:2 pack:1 | a>>b+2cd a>pack b>pack")
    assert reason_of(seen, "b").reason == "after start"
    assert "starts after the start of a (Mon 1 Jun)" in page_text(seen, "b")


def test_no_chain_of_a_shipment_begins_with_an_input():
    text = "a:5 b:5 c:5@shop pack:1 | a>pack b>pack a>c c>pack"
    jobs = {"pack": {"not_before": day(20)}}
    seen = picture(text, fact("ordered", "c", 0), jobs=jobs)
    chains = shipment_page(seen, "wave-1").chains
    assert {held.reason for held, _ in chains} == {"not before"}


def test_a_shipment_with_two_beginnings_or_two_chains_is_tied():
    alone = picture("a:5 pack:1 | a>pack")
    inputs = picture("a:5 b:5 pack:1 | a>pack b>pack")
    own = picture("a:5 pack:1 | a>pack", jobs={"pack": {"not_before": day(5)}})
    diamond = picture("a:5 b:5 c:5 pack:1 | a>b a>c b>pack c>pack")
    assert [shipment_rows(seen)[0].tied for seen in (alone, inputs, own, diamond)] == [
        False,
        True,
        True,
        True,
    ]
    assert {path for _, path in shipment_page(own, "wave-1").chains} == {("a", "pack"), ("pack",)}
    assert {path for _, path in shipment_page(alone, "wave-1").chains} == {("a", "pack")}


def test_backers_hear_of_work_only_where_it_is_in_work():
    jobs = {"housing": {"public_name": "Housings"}, "build": {"public_name": "Building"}}
    suppliers = (BENCH, replace(SHOP, public_name="our mill"))
    seen = picture(CHAIN, fact("ordered", "housing", 0), jobs=jobs, suppliers=suppliers, today=0)
    assert backers_report(seen).shipments[0].holds.startswith("Housings: next to be done by our mill")
    later = picture(CHAIN, fact("ordered", "housing", 0), jobs=jobs, suppliers=suppliers, today=2)
    held = backers_report(later).shipments[0].holds
    assert held.startswith("Housings: in work at our mill since Tue 2 Jun 2026")


# Gates that failed and were passed later.

FAMILY = {
    "check": {"gate": True, "public_name": "Fit check"},
    "again": {
        "gate": True,
        "retry_of": "check",
        "after": (Link(job="check", on="fail"),),
        "public_name": "Second check",
    },
}
GATES = "check:2 again:2 build:2 | check>build"
FAILED, PASSED = fact("failed", "check", 1), fact("passed", "again", 4)
WAVES = (Shipment(code="wave-1", quantity=10, after=("build",)),)


def test_a_failed_gate_that_a_later_attempt_passed_is_done_and_says_by_which():
    seen = picture(GATES, FAILED, PASSED, today=5, jobs=FAMILY, shipments=WAVES)
    found = row(seen, "check")
    assert (found.state, found.failed_on, found.passed_by, found.passed_on) == (
        "DONE",
        day(1),
        "again",
        day(4),
    )
    said = "failed Tue 2 Jun, passed by again Fri 5 Jun"
    assert said in page_text(seen, "check")
    assert said in forecast_text(seen, 120)
    assert said in forecast_text(seen, 80)


def test_a_failed_gate_whose_second_attempt_is_still_to_come_stays_failed():
    seen = picture(GATES, FAILED, today=2, jobs=FAMILY, shipments=WAVES)
    assert (row(seen, "check").state, row(seen, "check").passed_by) == ("FAILED", "")


def test_backers_see_a_check_passed_later_without_the_word_failed():
    seen = picture(GATES, FAILED, PASSED, today=5, jobs=FAMILY, shipments=WAVES)
    (found,) = (one for one in backers_report(seen).progress if one.name == "Fit check")
    assert (found.state, found.flag) == ("DONE", "PASSED LATER")


def test_gates_name_their_attempts_and_what_waits_names_the_one_that_opens_them():
    seen = picture(GATES, FAILED, PASSED, today=5, jobs=FAMILY, shipments=WAVES)
    assert "tried again as again" in page_text(seen, "check")
    assert "second attempt at check" in page_text(seen, "again")
    assert "check  passed by again Fri 5 Jun" in page_text(seen, "build")
    open_still = picture(GATES, FAILED, today=2, jobs=FAMILY, shipments=WAVES)
    assert "check  opened by again Thu 4 Jun" in page_text(open_still, "build")


# Starts nobody logged.


def test_a_done_job_is_drawn_from_the_start_its_order_and_inputs_allowed():
    facts = (fact("in", "housing", 4), fact("ordered", "coat", 6), fact("in", "coat", 18))
    seen = picture("housing:5@shop coat:5wd@shop pack:1 | housing>coat coat>pack", *facts, today=20)
    assert row(seen, "coat").start == day(7)  # ordered on Sunday 7 June
    bars = {one.code: one.marks for one in weeks(seen, whole=True).rows}
    assert bars["coat"][1:3] == ("m", "m")


def test_a_start_that_nothing_bounds_is_not_made_up():
    assert row(picture("a:5 pack:1 | a>pack", fact("finished", "a", 9), today=10), "a").start is None


@pytest.mark.parametrize("kind", ["made", "left"])
def test_the_days_worked_of_a_lot_made_or_gone_are_those_before(kind):
    facts = (fact("ordered", "housing", 0), fact(kind, "housing", 3))
    jobs = {"housing": {"travel": Span(20)}}
    found = row(picture("housing:9@shop pack:1 | housing>pack", *facts, today=8, jobs=jobs), "housing")
    assert (found.start, found.finish) == (day(1), day(3))


def test_an_assumed_start_is_at_the_latest_the_day_something_showed():
    facts = (fact("ordered", "housing", 5), fact("made", "housing", 3, good=1))
    assert row(picture("housing:9@shop pack:1 | housing>pack", *facts, today=8), "housing").start == day(3)


# On the way.

SEA = {"jobs": {"housing": {"travel": Span(6)}}}


def test_a_lot_on_its_way_slips_by_calendar_days_of_arrival():
    text = "housing:5wd@shop long:12 pack:1 | housing>pack long>pack"
    seen = picture(text, fact("left", "housing", 1), fact("started", "long", 0), today=2, **SEA)
    found = row(seen, "housing")
    assert (found.ready, found.arrives, found.harmless_until) == (day(7), day(7), day(11))
    assert (found.total_float, found.spare_days, found.free_float) == (4, 4, 4)
    assert [(one.day, one.days) for one in job_page(seen, "housing").next_day] == [(day(12), 1)]
    text = page_text(seen, "housing")
    assert "left Tue 2 Jun, due here Mon 8 Jun, harmless to arrive until Fri 12 Jun" in text
    assert "total float      4 calendar days, 4 spare calendar days" in text


def test_the_latest_date_for_what_has_left_is_the_day_it_is_in_hand():
    leaves = (BENCH, replace(SHOP, dates_mean="leaves"))
    text = "housing:5wd@shop long:12 pack:1 | housing>pack long>pack"
    facts = (fact("left", "housing", 1), fact("started", "long", 0))
    seen = picture(text, *facts, today=2, suppliers=leaves, **SEA)
    assert "latest date we can accept: Fri 12 Jun in hand" in calls_text(seen)


def test_what_is_overdue_on_its_way_says_which_date_passed():
    seen = picture("housing:5wd@shop pack:1 | housing>pack", fact("left", "housing", 1), today=10, **SEA)
    said = "due here Mon 8 Jun, passed 3 days ago, no news"
    assert said in board_text(seen)
    assert said in calls_text(seen)


def test_what_is_overdue_in_work_says_when_it_was_expected():
    seen = picture("housing:5wd@shop pack:1 | housing>pack", STARTED, today=9)
    assert "expected Fri 5 Jun, passed 5 days ago, no news" in board_text(seen)
    assert "[expected Fri 5 Jun, no news] housing > pack" in board_text(seen)


# Where it is ready and where it is here.


def test_ready_stands_beside_harmless_and_here_apart_where_travel_makes_them_differ():
    jobs = {"housing": {"travel": Span(6)}}
    seen = picture("housing:5wd@shop pack:1 | housing>pack", STARTED, jobs=jobs)
    assert "ready Fri 5 Jun, harmless until Fri 5 Jun, here Thu 11 Jun" in board_text(seen)
    table = forecast_text(seen, 80)
    assert " ready " in table.splitlines()[1]
    assert "Fri 5 Jun" in table
    assert "here Thu" in table
    assert "here" not in forecast_text(picture("housing:5wd@shop pack:1 | housing>pack", STARTED), 80)


def test_a_posted_shipment_says_how_it_went_against_what_was_told():
    told = (Told(on=day(0), last=day(9)),)
    waves = (Shipment(code="wave-1", quantity=10, after=("pack",), told=told),)
    facts = (fact("finished", "pack", 6), fact("posted", "wave-1", 7, good=10))
    assert "posted, -2 days against told" in board_text(picture("pack:2", *facts, today=8, shipments=waves))


def test_no_chain_holds_what_is_posted():
    waves = (Shipment(code="wave-1", quantity=10, after=("pack",)),)
    facts = (fact("finished", "pack", 6), fact("posted", "wave-1", 7, good=10))
    seen = picture("pack:2", *facts, today=8, shipments=waves)
    assert (board_of(seen).shipments[0].held_by, shipment_page(seen, "wave-1").chains) == (None, ())
