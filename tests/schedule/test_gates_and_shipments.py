"""Gates and retries, jobs called off, and what holds a shipment (rules 7 and 8)."""

from dataclasses import replace

import pytest

from tests.build import BENCH, MONDAY, SHOP, day, fact, plan
from tests.schedule.asking import DAY_0, PAID, STARTED, SUPPLIERS, TRAVEL, arrives, dates, forecast, reasons
from tracker.errors import Refused
from tracker.plan.model import Link, Shipment
from tracker.schedule.first_plan import first_plan_of
from tracker.schedule.forecast import Forecast
from tracker.schedule.holders import holding, what_sets
from tracker.schedule.what_if import drags

GATES = "fit:1 rework:2 refit:1 pack:1 | rework>refit fit>pack"
FAMILY = {
    "fit": {"gate": True},
    "rework": {"after": (Link(job="fit", on="fail"),)},
    "refit": {"gate": True, "retry_of": "fit"},
}
PACK = (Shipment(code="wave-1", quantity=10, after=("pack",)),)


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


@pytest.mark.parametrize("kind", ["in", "left", "made", "finished", "started"])
def test_what_was_logged_before_a_failure_belongs_to_the_attempt_that_failed(kind):
    facts = (fact(kind, "fit", 1), fact("failed", "fit", 2))
    found = forecast("fit:2 pack:1 | fit>pack", *facts, on=9, jobs={"fit": {"gate": True}})
    assert (dates(found, "fit"), dates(found, "pack")[0]) == ((9, 10, 10), 11)


@pytest.mark.parametrize("kind", ["in", "left", "made", "finished"])
def test_parts_that_move_after_a_failure_do_not_open_the_gate(kind):
    facts = (fact("failed", "fit", 2), fact(kind, "fit", 3))
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


def test_the_rest_of_a_shipment_posted_in_part_goes_today_at_the_earliest():
    waves = (Shipment(code="wave-1", quantity=10, after=("a",)),)
    done = fact("finished", "a", 2)
    assert forecast("a:2", done, on=5, shipments=waves).shipment_dates["wave-1"] == DAY_0 + 2
    found = forecast("a:2", done, fact("posted", "wave-1", 3, good=6), on=5, shipments=waves)
    assert found.shipment_dates["wave-1"] == DAY_0 + 5
    assert holding(found, "wave-1") is None
    early = forecast("a:9", fact("posted", "wave-1", 3, good=6), on=5, shipments=waves)
    assert early.shipment_dates["wave-1"] == forecast("a:9", on=5, shipments=waves).shipment_dates["wave-1"]


def test_a_chain_begins_with_the_payment_we_owe():
    found = forecast(
        "boxes:4wd@shop pack:1 | boxes>pack", fact("ordered", "boxes", 0), on=1, jobs={"boxes": PAID["a"]}
    )
    held = holding(found, "wave-1")
    assert held.path == ("boxes", "pack")
    assert [(reason.kind, reason.what) for reason in held.held_by.reasons] == [("clock", "payment")]


def test_what_we_owe_is_named_before_what_was_given():
    facts = (fact("ordered", "a", 4),)  # Friday: day 1 is Saturday; the payment's is Sunday; both mean Monday
    found = forecast("a:4wd@shop", *facts, on=5, jobs=PAID)
    assert [(reason.what, reason.owed_by) for reason in what_sets(found, 0)[1]] == [("payment", "us")]


def test_of_tied_chains_the_one_that_begins_with_what_we_owe_is_shown_first():
    found = holding(forecast("a:6 z:5@shop d:1 | a>d z>d"), "wave-1")
    assert found.tied
    assert (found.path, found.held_by.job) == (("z", "d"), "z")
    assert set(found.chains()) == {("a", "d"), ("z", "d")}


def test_a_job_may_begin_a_chain_and_be_driven_by_another():
    text = "a:5 b:2wd@shop c:1 | a>b b>c"  # a ends Friday; the order given on Friday too: day 1 is Saturday
    found = holding(forecast(text, fact("ordered", "b", 4), fact("started", "a", 0), on=4), "wave-1")
    assert set(found.chains()) == {("a", "b", "c"), ("b", "c")}
    assert found.tied
    assert not holding(forecast("a:5 b:2 | a>b"), "wave-1").tied


def test_an_owed_beginning_in_mid_chain_cuts_the_chain_shown_there():
    jobs = {"b": {"clock": ("order", "proof")}}
    found = holding(forecast("a:1 b:2@shop c:1 | a>b b>c", fact("ordered", "b", 0), jobs=jobs), "wave-1")
    assert set(found.chains()) == {("a", "b", "c"), ("b", "c")}
    assert found.path == ("b", "c")


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


def test_the_drag_of_a_promised_job_drops_the_promise():
    facts = (fact("ordered", "b", 0), fact("promised", "b", 0, day=40))
    found = forecast("a:5 b:3@shop | a>b", *facts)
    assert drags(found, found.lot_of("b")) == {"wave-1": 36}  # ready on day 4 in place of day 40


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
