"""How one job's pieces are cut into lots, and which promise speaks for how many of them."""

from dataclasses import replace
from fractions import Fraction

import pytest

from tests.plan.pieces import START, TODAY, day, fact, job, lots, network, plan, wave
from tracker.plan.lots import live_promises
from tracker.plan.parts import Part
from tracker.plan.progress import progress_of
from tracker.plan.span import DayRate, parse_lead

BOARDS = job("boards", makes="board", supplier="mill", quantity=10)
RATE = replace(BOARDS, quantity=20, lead=DayRate(per_day=Fraction(2)))
WAVE = wave(1, board=10)
TWENTY = wave(1, board=20)


def promised(on, until, **more):
    return fact("promised", "boards", on, day=day(until), **more)


def speaking(*facts, pieces=10):
    """Which day is promised for how many of so many open pieces."""
    found = progress_of(
        plan(replace(BOARDS, quantity=100), facts=facts), replace(BOARDS, quantity=100), TODAY
    )
    return [(promise.day - START.toordinal(), number) for promise, number in live_promises(found, pieces)]


def test_a_promise_without_a_number_speaks_for_all_that_is_open():
    assert speaking(promised(3, 30), promised(5, 34)) == [(34, 10)]


def test_promises_of_one_day_hold_together_the_earlier_days_first():
    assert speaking(promised(3, 34, good=6), promised(3, 30, good=3)) == [(30, 3), (34, 6)]


def test_what_the_latest_numbers_leave_open_keeps_the_last_promise_without_one():
    assert speaking(promised(3, 40), promised(5, 30, good=4)) == [(30, 4), (40, 6)]
    assert speaking(promised(3, 25), promised(5, 30, good=4)) == [(25, 6), (30, 4)]
    assert speaking(promised(5, 30, good=4)) == [(30, 4)]


def test_promises_of_an_earlier_day_are_replaced():
    assert speaking(promised(3, 30, good=4), promised(5, 34, good=5)) == [(34, 5)]


def test_deliveries_since_a_promise_count_as_kept_those_before_do_not():
    before, since = fact("in", "boards", 2, good=5), fact("in", "boards", 6, good=5)
    two = promised(3, 30, good=3), promised(3, 34, good=4)
    assert speaking(before, *two) == [(30, 3), (34, 4)]
    assert speaking(before, *two, since) == [(34, 2)]


def test_no_more_is_promised_than_is_open():
    assert speaking(promised(3, 30, good=30), pieces=10) == [(30, 10)]
    assert speaking(promised(3, 30), pieces=0) == []


# how far pieces are


def test_pieces_go_by_how_far_they_are():
    facts = [
        fact("ordered", "boards", 0), fact("made", "boards", 3, good=6), fact("left", "boards", 4, good=4),
        fact("in", "boards", 6, good=2, scrap=1), promised(8, 40, good=2),
    ]  # fmt: skip
    found = network(BOARDS, waves=[WAVE], facts=facts)
    assert lots(found, "boards") == [
        ("received", 3, 2), ("on the way", 1, 1), ("made", 2, 2), ("promised", 2, 2), ("to come", 2, 2), ("rerun", 1, 1),
    ]  # fmt: skip


def test_good_pieces_of_open_lots_add_up_to_the_rounded_down_share_of_all():
    half = replace(BOARDS, yields=Fraction(1, 2), lots=(3, 3, 4))
    found = network(half, waves=[wave(1, board=5)])
    assert lots(found, "boards") == [("to come", 3, 1), ("to come", 3, 2), ("to come", 4, 2)]


@pytest.mark.parametrize(
    ("rule", "sizes"),
    [(None, [10]), (1, [10]), (3, [4, 3, 3]), (4, [3, 2, 3, 2]), (10, [1] * 10), ((7, 3), [7, 3])],
)
def test_a_quantity_is_cut_by_its_rule(rule, sizes):
    found = network(replace(BOARDS, lots=rule), waves=[WAVE])
    assert [pieces for _, pieces, _ in lots(found, "boards")] == sizes


def test_pieces_further_on_came_off_the_first_lots_of_the_whole_quantity():
    """Twenty in four lots of five: seven came and five are promised, so three and five are to come."""
    four = replace(BOARDS, quantity=20, lots=4)
    facts = [fact("in", "boards", 6, good=7), promised(8, 40, good=5)]
    found = network(four, waves=[TWENTY], facts=facts)
    assert [(kind, pieces) for kind, pieces, _ in lots(found, "boards")] == [
        ("received", 7), ("promised", 5), ("to come", 3), ("to come", 5),
    ]  # fmt: skip


def test_sizes_that_do_not_come_to_what_is_needed_end_with_it():
    """The need may decide more or fewer pieces than the sizes say: the last lot is longer, or lots fall away."""
    for need, sizes in ((12, [4, 8]), (8, [4, 4]), (3, [3])):
        found = network(replace(BOARDS, quantity=None, lots=(4, 4)), waves=[wave(1, board=need)])
        assert [pieces for _, pieces, _ in lots(found, "boards")] == sizes


def test_lots_that_follow_shipments_hold_what_each_needs_with_spares_in_the_last():
    parts = [Part(code="board", spares=2)]
    waves = [wave(1, board=80), wave(2, board=160)]
    found = network(replace(BOARDS, quantity=None, lots="shipments"), waves=waves, parts=parts)
    assert [pieces for _, pieces, _ in lots(found, "boards")] == [80, 162]


def test_rework_goes_round_in_a_lot_of_its_own_from_the_day_after_it_came():
    found = network(BOARDS, waves=[WAVE], facts=[fact("in", "boards", 6, good=7, rework=3)])
    assert lots(found, "boards") == [("received", 10, 7), ("rework", 3, 3)]
    again = found.lots_of["boards"][1]
    assert found.fixed[again].start == day(7).toordinal()


def test_pieces_in_rework_take_their_time_at_the_rate():
    facts = [fact("started", "boards", 0), fact("in", "boards", 25, good=10, rework=10)]
    found = network(RATE, waves=[TWENTY], facts=facts)
    again = found.lots_of["boards"][1]
    assert (found.lots[again].kind, found.lead[again]) == ("rework", 5)


def test_only_a_promise_given_once_all_had_come_is_for_what_goes_round():
    came = [fact("in", "boards", 6, good=7, rework=3)]
    for given, kind in ((5, "overdue"), (7, "promise")):
        found = network(BOARDS, waves=[WAVE], facts=[*came, promised(given, 40)])
        again = found.lots_of["boards"][1]
        assert found.fixed[again].reason.kind == kind


# one after another


def starts(found, code):
    return [(found.lots[place].kind, found.lots[place].waits) for place in found.lots_of[code]]


def test_lots_at_a_rate_follow_each_other_and_a_re_run_follows_what_is_to_come():
    found = network(replace(RATE, lots=2), waves=[wave(1, board=21)])
    assert starts(found, "boards") == [("to come", False), ("to come", True), ("rerun", True)]
    assert [found.lots[place].sets_up for place in found.lots_of["boards"]] == [True, False, True]
    side_by_side = network(replace(BOARDS, lots=2), waves=[wave(1, board=11)])
    assert starts(side_by_side, "boards") == [("to come", False), ("to come", False), ("rerun", False)]


def test_a_re_run_waits_for_nothing_once_all_has_come():
    found = network(RATE, waves=[TWENTY], facts=[fact("in", "boards", 6, good=18, scrap=2)])
    assert starts(found, "boards") == [("received", False), ("rerun", False)]


def test_what_a_promise_leaves_open_is_worked_after_what_is_promised():
    facts = [fact("ordered", "boards", 0), fact("started", "boards", 1), promised(3, 31, good=8)]
    found = network(RATE, waves=[TWENTY], facts=facts)
    assert starts(found, "boards") == [("promised", False), ("to come", True)]
    first, rest = found.lots_of["boards"]
    assert found.flow[rest].before == first


def test_time_at_a_rate_elsewhere_runs_from_the_start_for_all_pieces_so_far():
    """Ten days for twenty pieces, however many of them came or are made."""
    begun = [fact("ordered", "boards", 0), fact("started", "boards", 21)]
    for so_far in ([fact("in", "boards", 23, good=4)], [fact("made", "boards", 23, good=4)]):
        found = network(RATE, waves=[TWENTY], facts=[*begun, *so_far])
        last = found.lots_of["boards"][-1]
        assert (found.lots[last].booked, found.lead[last]) == (20, 10)
        assert found.fixed[last].start == day(21).toordinal()


def test_our_own_bench_goes_on_the_day_after_the_last_count_without_a_set_up():
    bench = replace(RATE, supplier="bench", lead=DayRate(setup=1, per_day=Fraction(2)))
    facts = [
        fact("started", "boards", 21),
        fact("made", "boards", 23, good=4),
        fact("made", "boards", 25, good=2),
    ]
    found = network(bench, waves=[TWENTY], facts=facts)
    last = found.lots_of["boards"][-1]
    assert (found.fixed[last].start, found.lead[last]) == (day(26).toordinal(), 7)


def test_what_our_own_bench_has_not_made_yet_waits_for_its_parts():
    """Some were made of the parts that were here; the others cannot be before theirs come."""
    build = job("build", takes="board", makes="unit", quantity=10)
    facts = [fact("in", "boards", 2, good=4), promised(20, 35)]
    for count in (fact("made", "build", 20, good=4), fact("in", "build", 20, good=4)):
        found = network(BOARDS, build, waves=[wave(1, unit=10)], facts=[*facts, count])
        rest = found.lots_of["build"][-1]
        assert found.fixed[rest] is None
        assert found.lots_of["boards"][-1] in found.plain[rest]


def test_a_lead_time_worked_one_by_one_goes_on_after_what_came():
    one_by_one = replace(BOARDS, lead=parse_lead("4cd"), lots=2, one_by_one=True)
    facts = [fact("ordered", "boards", 0), fact("started", "boards", 20), fact("in", "boards", 26, good=5)]
    found = network(one_by_one, waves=[WAVE], facts=facts)
    assert found.fixed[found.lots_of["boards"][-1]].start == day(27).toordinal()


def test_pieces_promised_before_work_began_are_worked_one_lot_after_another():
    """Two days for four pieces, eight for sixteen, whatever was said before anyone could know."""
    facts = [
        fact("ordered", "boards", 0),
        promised(1, 5, good=4),
        promised(1, 9, good=16),
        fact("started", "boards", 28),
    ]
    found = network(RATE, waves=[TWENTY], facts=facts)
    first, second = found.lots_of["boards"]
    assert found.fixed[first].finish == day(29).toordinal()
    assert (found.fixed[second], found.flow[second].before) == (None, first)


def test_later_lots_of_work_that_has_begun_need_no_order():
    facts = [fact("started", "boards", 26)]
    found = network(replace(RATE, lots=(5, 15)), waves=[TWENTY], facts=facts)
    first, second = found.lots_of["boards"]
    assert (found.fixed[first].start, found.floor[second]) == (day(26).toordinal(), day(26).toordinal())
