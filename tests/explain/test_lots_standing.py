"""How a job with several lots stands: its lots taken together. Invented run, dates counted by hand."""

from datetime import date

import pytest

from tests.report.counting import PLAN, TODAY, fact, job, picture, takes, with_facts, with_job, with_jobs
from tracker.explain.open_lots import has_pieces, last_logged_lot, open_lots, silent_lot
from tracker.explain.state import lot_standing, promised_day, standing

NATURAL = "finish-natural"
EARLIER, THU, MON = date(2026, 11, 19), date(2026, 11, 26), date(2026, 11, 30)


def counted(*facts, today=TODAY, plan=PLAN):
    return picture(with_facts(plan, *facts), today)


def stands(seen, code=NATURAL):
    return seen.standings[code]


def kinds(seen, code=NATURAL):
    lots = seen.forecast.network.lots
    return [lots[place].kind for place in open_lots(seen.forecast, code)]


def came(good, rework=0, scrap=0, on=TODAY):
    return fact("in", NATURAL, on, good=good, rework=rework, scrap=scrap)


def test_a_job_of_which_some_is_in_and_more_to_come_is_part_in():
    seen = counted(came(60))
    assert (stands(seen).state, kinds(seen)) == ("PART IN", ["promised"])


def test_pieces_in_rework_that_a_shipment_needs_are_in_work():
    seen = counted(came(60, rework=30, scrap=6))
    assert (stands(seen).state, kinds(seen)) == ("IN WORK", ["rework"])


def test_a_job_whose_rework_no_shipment_needs_is_done():
    seen = counted(came(90, rework=6), today=date(2027, 1, 5))
    (rework,) = (
        place
        for place in seen.forecast.lots_of(NATURAL)
        if seen.forecast.network.lots[place].kind == "rework"
    )
    assert seen.forecast.slack(rework) is None
    assert (stands(seen).state, kinds(seen)) == ("DONE", [])


def test_a_shortage_of_a_job_all_in_shows_as_the_re_run_that_waits_for_its_order():
    plan = with_job(PLAN, "bases", quantity=400)
    arrived = fact("in", "bases", date(2026, 10, 3), good=125)
    seen = counted(arrived, came(78, scrap=18), plan=plan)
    assert (stands(seen).state, stands(seen).missing) == ("CLOCK NOT STARTED", ("order",))
    assert kinds(seen) == ["rerun"]


def test_a_re_run_whose_inputs_must_be_made_again_is_not_due():
    seen = counted(came(78, scrap=18))
    assert stands(seen).state == "NOT DUE"
    assert not stands(seen).its_turn
    assert stands(seen, "bases").state == "CLOCK NOT STARTED"


def test_rework_and_a_re_run_together_are_in_work_with_the_order_missing():
    seen = counted(came(70, rework=8, scrap=18))
    assert (stands(seen).state, stands(seen).missing) == ("IN WORK", ("order",))
    assert kinds(seen) == ["rework", "rerun"]


@pytest.mark.parametrize(
    ("facts", "state"),
    [
        ((fact("made", NATURAL, TODAY, good=40),), "IN WORK"),
        ((fact("left", NATURAL, TODAY, good=40),), "IN WORK"),
        ((fact("made", NATURAL, TODAY, good=40), fact("left", NATURAL, TODAY, good=40)), "IN WORK"),
        ((fact("made", NATURAL, TODAY),), "MADE"),
        ((fact("left", NATURAL, TODAY),), "ON THE WAY"),
        ((came(40), fact("paused", NATURAL, TODAY)), "PAUSED"),
        ((came(60, rework=36), fact("paused", NATURAL, date(2026, 11, 20))), "IN WORK"),
    ],
)
def test_parcels_and_pauses_show_in_the_state(facts, state):
    assert stands(counted(*facts)).state == state


def test_parcels_all_made_or_gone_are_made():
    gone = (fact("made", NATURAL, EARLIER, good=40), fact("left", NATURAL, TODAY, good=40))
    rest = fact("made", NATURAL, TODAY, good=56)
    seen = counted(*gone, rest)
    assert sorted(kinds(seen)) == ["made", "on the way"]
    assert stands(seen).state == "MADE"


def test_a_build_in_lots_for_the_shipments_is_in_work_from_its_first_lot():
    plan = with_jobs(
        PLAN,
        job(
            "build-graphite", "bench", "6wd", "unit-graphite", takes(housing__graphite=1, screw=6),
            quantity=154, lots="shipments", one_by_one=True,
        ),
    )  # fmt: skip
    assert stands(counted(plan=plan), "build-graphite").state == "CAN START"
    seen = counted(fact("started", "build-graphite", TODAY), plan=plan)
    assert kinds(seen, "build-graphite") == ["to come", "to come"]
    assert stands(seen, "build-graphite").state == "IN WORK"
    later = open_lots(seen.forecast, "build-graphite")[1]
    assert lot_standing(seen.forecast, later).state == "NOT DUE"


def test_a_lot_whose_promise_passed_makes_its_job_late_without_news_though_another_is_promised_later():
    two = (
        fact("promised", NATURAL, EARLIER, good=40, day=date(2026, 11, 23)),
        fact("promised", NATURAL, EARLIER, good=56, day=MON),
    )
    seen = counted(*two)
    assert seen.forecast.times.arrive[seen.forecast.lot_of(NATURAL)] == MON.toordinal()
    assert (stands(seen).flags, stands(seen).overdue_days) == (("LATE", "NO NEWS"), 1)
    assert promised_day(seen.forecast, seen.plan.job_by_code[NATURAL]) == date(2026, 11, 23)
    assert silent_lot(seen.forecast, NATURAL) != seen.forecast.lot_of(NATURAL)


def test_of_two_silent_lots_the_one_silent_longest_is_told():
    seen = counted(
        fact("promised", NATURAL, EARLIER, good=40, day=date(2026, 11, 20)),
        fact("promised", NATURAL, EARLIER, good=56, day=date(2026, 11, 23)),
    )
    assert stands(seen).overdue_days == 4
    assert promised_day(seen.forecast, seen.plan.job_by_code[NATURAL]) == date(2026, 11, 20)


def test_rework_that_no_shipment_needs_is_left_aside_while_the_rest_is_to_come():
    """80 good are here and 11 to come for 82 orders: the 5 in rework may take their time."""
    seen = counted(came(80, rework=5))
    assert (stands(seen).state, kinds(seen)) == ("PART IN", ["promised"])


def test_a_promise_of_so_many_still_speaks_of_those_that_did_not_come():
    """Of a promise for all of it, a part delivered leaves the rest without a date."""
    some = fact("promised", NATURAL, EARLIER, good=96, day=date(2026, 11, 23))
    whole = fact("promised", NATURAL, EARLIER, day=date(2026, 11, 23))
    part = came(40, on=date(2026, 11, 21))
    assert not stands(counted(some, part)).undated
    assert stands(counted(whole, part)).undated


def test_tight_gives_way_to_late_also_between_lots():
    seen = counted(
        fact("promised", NATURAL, EARLIER, good=40, day=date(2026, 11, 23)),
        fact("promised", NATURAL, EARLIER, good=56, day=date(2026, 12, 22)),
    )
    by_lot = {lot_standing(seen.forecast, lot).flags for lot in open_lots(seen.forecast, NATURAL)}
    assert by_lot == {("LATE", "NO NEWS"), ("TIGHT",)}
    assert stands(seen).flags == ("LATE", "NO NEWS")


def test_a_job_of_one_lot_stands_as_that_lot():
    seen = counted()
    for one in seen.plan.jobs:
        if len(seen.forecast.lots_of(one.code)) == 1:
            lot = seen.forecast.lot_of(one.code)
            assert standing(seen.forecast, one) == lot_standing(seen.forecast, lot)


def test_pieces_that_nothing_comes_for_are_not_due():
    """Four spares wanted of a part whose inputs never come: there is nothing to build."""
    plan = with_jobs(PLAN, job("extra", "bench", "2wd", "box", takes(base__milled=1), quantity=4))
    seen = counted(plan=plan)
    lot = seen.forecast.lot_of("extra")
    assert not has_pieces(seen.forecast, lot)
    assert (stands(seen, "extra").state, stands(seen, "extra").missing) == ("NOT DUE", ())


def test_what_was_logged_last_speaks_of_the_last_that_came_else_of_the_first_to_come():
    seen = counted(came(30, on=EARLIER), came(20))
    lots = seen.forecast.lots_of(NATURAL)
    assert last_logged_lot(seen.forecast, NATURAL) == lots[1]
    assert last_logged_lot(counted().forecast, NATURAL) == counted().forecast.lots_of(NATURAL)[0]
    assert last_logged_lot(seen.forecast, "no-such-job") is None
