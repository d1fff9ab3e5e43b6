"""Pieces of a job as logged: what came, what is on its way or at their door, and what our own bench counted."""

from dataclasses import replace

import pytest

from tests.plan.pieces import START, TODAY, day, fact, job, plan
from tracker.plan.counts import count_pieces, pieces_scrapped_later, shares_of
from tracker.plan.parts import Make

FINISH = job("finish", makes="lid", supplier="mill", quantity=96)
BUILD = job("build", makes="unit", quantity=20)
PAIR = replace(
    job("pair", supplier="mill"), makes=(Make(part="left", quantity=6), Make(part="right", quantity=4))
)


def counted(one, *facts, today=TODAY):
    return count_pieces(plan(one, facts=facts), one, today)


def came(found):
    return [(one.part, one.good, one.rework, one.scrap, one.unjudged) for one in found.deliveries]


def parcels(found):
    days = START.toordinal()
    return [[(one.day - days, one.pieces) for one in each] for each in (found.on_way, found.at_door)]


def test_deliveries_stand_each_by_itself_in_the_order_of_their_days():
    found = counted(
        FINISH, fact("in", "finish", 9, good=8), fact("in", "finish", 3, good=52, rework=5, scrap=3)
    )
    assert came(found) == [("lid", 52, 5, 3, 0), ("lid", 8, 0, 0, 0)]
    assert (found.received, sum(one.good for one in found.deliveries), found.quantity) == (68, 60, 96)


def test_what_is_logged_for_a_later_day_is_not_looked_at():
    facts = fact("in", "finish", 3, good=1), fact("in", "finish", 4, good=2)
    assert came(counted(FINISH, *facts, today=day(3))) == [("lid", 1, 0, 0, 0)]


def test_pieces_looked_at_leave_the_oldest_count_nobody_judged():
    facts = [fact("in", "finish", 3, count=10), fact("in", "finish", 5, count=10)]
    found = counted(FINISH, *facts, fact("sorted", "finish", 7, good=9, scrap=3))
    assert came(found) == [("lid", 0, 0, 0, 8), ("lid", 9, 0, 3, 0)]
    assert [one.day - START.toordinal() for one in found.deliveries] == [5, 7]


def test_what_our_own_bench_made_is_here_on_that_day():
    found = counted(BUILD, fact("made", "build", 4, good=7))
    assert came(found) == [("unit", 7, 0, 0, 0)]
    assert found.deliveries[0].at_bench
    assert parcels(found) == [[], []]


def test_what_came_from_our_own_bench_had_been_counted_there_before():
    found = counted(BUILD, fact("made", "build", 4, good=7), fact("in", "build", 5, good=4, scrap=1))
    assert came(found) == [("unit", 2, 0, 0, 0), ("unit", 4, 0, 1, 0)]


def test_a_bench_that_waits_for_papers_keeps_what_it_made_at_its_door():
    waits = replace(BUILD, leave_when=("papers",))
    found = counted(waits, fact("made", "build", 4, good=7))
    assert (came(found), parcels(found)) == ([], [[], [(4, 7)]])


def test_what_a_supplier_made_is_at_their_door_until_it_leaves_and_on_its_way_until_it_comes():
    made, left = fact("made", "finish", 2, good=30), fact("left", "finish", 4, good=20)
    assert parcels(counted(FINISH, made)) == [[], [(2, 30)]]
    assert parcels(counted(FINISH, made, left)) == [[(4, 20)], [(2, 10)]]
    assert parcels(counted(FINISH, made, left, fact("in", "finish", 6, good=12))) == [[(4, 8)], [(2, 10)]]
    assert parcels(counted(FINISH, made, left, fact("in", "finish", 6, good=25))) == [[], [(2, 5)]]


def test_what_left_without_a_number_is_all_at_the_door_else_all_that_is_open():
    found = counted(FINISH, fact("made", "finish", 2, good=30), fact("left", "finish", 4))
    assert (parcels(found), found.all_left) == ([[(4, 30)], []], None)
    assert counted(FINISH, fact("left", "finish", 4)).all_left == day(4).toordinal()
    assert counted(FINISH, fact("made", "finish", 4)).all_made == day(4).toordinal()


def test_counts_that_name_no_part_fill_the_shares_in_the_plans_order_good_ones_first():
    found = counted(PAIR, fact("in", "pair", 2, good=5, scrap=2))
    assert came(found) == [("left", 5, 0, 1, 0), ("right", 0, 0, 1, 0)]
    named = counted(PAIR, fact("in", "pair", 2, good=3, part="right"), fact("in", "pair", 3, good=7))
    assert came(named) == [("right", 3, 0, 0, 0), ("left", 6, 0, 0, 0), ("right", 1, 0, 0, 0)]


def test_the_quantity_is_that_of_the_plan_else_what_was_ordered_else_unknown():
    open_one = replace(FINISH, quantity=None)
    ordered = fact("ordered", "finish", 0, quantity=40)
    assert counted(FINISH, ordered).quantity == 96
    assert counted(open_one, ordered).quantity == 40
    assert counted(open_one, fact("ordered", "finish", 0)).quantity is None
    assert counted(PAIR).quantity == 10
    assert shares_of(plan(PAIR), PAIR) == {"left": 6, "right": 4}


def test_finishing_without_a_count_makes_good_what_was_not_counted():
    assert counted(BUILD, fact("finished", "build", 4)).rest_good == day(4).toordinal()
    assert counted(BUILD, fact("made", "build", 4)).rest_good == day(4).toordinal()
    gate = replace(BUILD, gate=True)
    assert counted(gate, fact("passed", "build", 4), fact("failed", "build", 5)).rest_good is None


@pytest.mark.parametrize(("today", "pieces"), [(3, {}), (4, {"lid": 2}), (9, {"lid": 5})])
def test_pieces_found_bad_later_add_up_by_part(today, pieces):
    facts = fact("scrapped", "lid", 4, scrap=2), fact("scrapped", "lid", 9, scrap=3, job="finish")
    assert pieces_scrapped_later(plan(FINISH, facts=facts), day(today)) == pieces
