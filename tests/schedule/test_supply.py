"""Dates from material: which arrivals a lot waits for, who is served first, and that spares hold nothing up.

Day 0 is Monday 1 June 2026; our bench works every day here, the mill Monday to Friday.
"""

from dataclasses import replace
from fractions import Fraction

from tests.plan.pieces import BENCH, MILL, START, day, fact, job, of, plan, wave
from tracker.plan.model import Link
from tracker.plan.parts import Part
from tracker.plan.span import DayRate, Span, parse_lead
from tracker.schedule.forecast import Forecast

EVERY_DAY = replace(BENCH, workdays="all")


def made(part, days, takes=(), **more):
    """A job of our bench that makes a part in calendar days, named after it."""
    takes = of(**takes) if isinstance(takes, dict) else takes
    return replace(job(f"make-{part}", takes, part), lead=parse_lead(f"{days}cd"), **more)


def forecast(*jobs, on=0, **more):
    found = replace(plan(*jobs, **more), suppliers=(EVERY_DAY, MILL))
    return Forecast(found, day(on))


def dates(found, code):
    """First day, last day and evening of arrival of each lot of a job."""
    times, first = found.times, START.toordinal()
    return [
        tuple(days[lot] - first for days in (times.start, times.finish, times.arrive))
        for lot in found.lots_of(code)
    ]


def goes(found, code="wave-1"):
    return found.shipment_dates[code] - START.toordinal()


def test_a_lot_begins_the_day_after_its_last_input_and_the_shipment_goes_when_it_is_there():
    boards, lids = made("board", 5), made("lid", 8, travel=Span(2))
    found = forecast(boards, lids, made("unit", 3, {"board": 1, "lid": 2}), waves=[wave(1, unit=4)])
    assert dates(found, "make-lid") == [(0, 7, 9)]
    assert dates(found, "make-unit") == [(10, 12, 12)]
    assert goes(found) == 12


def test_each_lot_waits_for_the_arrival_that_covers_what_all_before_it_and_it_draw():
    boards = made("board", 2, quantity=10, lots=5, one_by_one=True)
    units = made("unit", 1, {"board": 1}, quantity=10, lots=(3, 3, 4))
    found = forecast(boards, units, waves=[wave(1, unit=10)])
    assert [finish for _, finish, _ in dates(found, "make-board")] == [1, 3, 5, 7, 9]
    assert [start for start, _, _ in dates(found, "make-unit")] == [4, 6, 10]


def test_the_first_shipment_is_served_first_though_the_second_could_begin_sooner():
    boards = made("board", 3, quantity=8, lots=2, one_by_one=True)
    slow = made("lid", 20)
    one, two = made("unit", 1, {"board": 1, "lid": 1}), made("plain", 1, {"board": 1})
    waves = [wave(1, unit=4), wave(2, plain=4)]
    found = forecast(boards, slow, one, two, waves=waves)
    assert dates(found, "make-unit") == [(20, 20, 20)]
    assert dates(found, "make-plain") == [(6, 6, 6)]  # the first four boards are kept for wave 1
    assert dates(forecast(boards, slow, one, two, waves=waves[::-1]), "make-plain") == [(3, 3, 3)]


def test_stock_at_the_start_goes_before_anything_that_comes():
    parts = [Part(code="board", here=Fraction(5))]
    units = made("unit", 1, {"board": 1}, lots="shipments")
    found = forecast(made("board", 9), units, waves=[wave(1, unit=5), wave(2, unit=1)], parts=parts)
    assert dates(found, "make-unit") == [(0, 0, 0), (9, 9, 9)]


def test_a_shipment_from_stock_goes_today():
    parts = [Part(code="board", here=Fraction(5))]
    assert goes(forecast(made("board", 9), waves=[wave(1, board=5)], parts=parts, on=3)) == 3


def test_work_that_has_begun_keeps_its_inputs_from_a_shipment_that_comes_before_it():
    boards = made("board", 3, quantity=8, lots=2, one_by_one=True)
    waves = [wave(1, board=4), wave(2, unit=4)]
    units = made("unit", 30, {"board": 1})
    assert goes(forecast(boards, units, waves=waves)) == 2
    assert goes(forecast(boards, units, waves=waves, facts=[fact("started", "make-unit", 0)])) == 5


def test_pieces_that_came_back_drew_on_what_came_first():
    """Six units came of six boards: four of those, and two of the next delivery, are gone."""
    boards = made("board", 3, quantity=12)
    facts = [
        fact("in", "make-board", 1, good=4), fact("in", "make-board", 2, good=4), fact("in", "make-unit", 4, good=6),
    ]  # fmt: skip
    found = forecast(
        boards, made("unit", 5, {"board": 1}, quantity=8), waves=[wave(1, unit=8)], facts=facts, on=6
    )
    draws = [(draw.lot, draw.amount, draw.first, draw.last) for draw in found.network.stocks["board"].draws]
    received, rest = found.lots_of("make-unit")
    assert draws == [(received, 6, 0, 1), (rest, 2, 1, 1)]


# spares and what nobody asked for


BOARDS = made("board", 3, quantity=10, lots=(6, 4), one_by_one=True)  # six on day 2, four on day 5


def test_spares_whose_inputs_come_later_are_set_apart_and_hold_nothing_up():
    parts = [Part(code="unit", spares=4)]
    found = forecast(BOARDS, made("unit", 2, {"board": 1}), waves=[wave(1, unit=6)], parts=parts)
    assert dates(found, "make-unit") == [(3, 4, 4), (6, 7, 7)]
    assert [found.network.lots[lot].pieces for lot in found.lots_of("make-unit")] == [6, 4]
    assert goes(found) == 4


def test_spares_whose_inputs_are_there_in_time_go_along():
    parts = [Part(code="unit", spares=4)]
    late = made("lid", 6)
    found = forecast(
        BOARDS, late, made("unit", 2, {"board": 1, "lid": 1}), waves=[wave(1, unit=6)], parts=parts
    )
    assert dates(found, "make-unit") == [(6, 7, 7)]
    assert [found.network.lots[lot].pieces for lot in found.lots_of("make-unit")] == [10]


def test_spares_are_in_time_where_the_lot_begins_later_for_another_reason():
    """The mill's weekend, or the lot before it, hold the work up longer than the inputs of the spares."""
    parts = [Part(code="unit", spares=4)]
    units = replace(made("unit", 2, {"board": 1}), lead=parse_lead("2wd"), supplier="mill")
    boards = made("board", 3, quantity=10, lots=(6, 4), one_by_one=True, not_before=day(2))
    found = forecast(
        boards, units, waves=[wave(1, unit=6)], parts=parts, facts=[fact("ordered", "make-unit", 0)]
    )
    assert dates(found, "make-unit") == [(7, 8, 8), (8, 9, 9)]  # six on Friday, four on Monday evening
    weekend = made("board", 1, quantity=10, lots=(6, 4), one_by_one=True, not_before=day(4))
    found = forecast(
        weekend, units, waves=[wave(1, unit=6)], parts=parts, facts=[fact("ordered", "make-unit", 0)]
    )
    assert dates(found, "make-board") == [(4, 4, 4), (5, 5, 5)]
    assert dates(found, "make-unit") == [(7, 8, 8)]


def test_spares_set_apart_are_no_part_of_what_was_promised():
    parts = [Part(code="unit", spares=4)]
    units = replace(made("unit", 2, {"board": 1}, quantity=10), supplier="mill")
    boards = made("board", 10, quantity=10, lots=(6, 4), one_by_one=True)
    facts = [fact("ordered", "make-unit", 0), fact("promised", "make-unit", 0, day=day(60))]
    found = forecast(boards, units, waves=[wave(1, unit=6)], parts=parts, facts=facts)
    assert dates(found, "make-unit") == [(10, 60, 60), (20, 21, 21)]


def test_spares_are_in_time_where_the_lot_before_takes_longer():
    parts = [Part(code="unit", spares=4)]
    units = made("unit", 9, {"board": 1}, lots="shipments", one_by_one=True)
    waves = [wave(1, unit=3), wave(2, unit=3)]
    found = forecast(BOARDS, units, waves=waves, parts=parts)
    assert dates(found, "make-unit") == [(3, 11, 11), (12, 20, 20)]


def test_pieces_nobody_asked_for_are_not_made_where_their_inputs_never_come():
    units = made("unit", 2, {"board": 1}, quantity=12)
    found = forecast(BOARDS, units, waves=[wave(1, unit=6)])
    assert found.network.unmade == [("make-unit", 2, "unit", 6)]
    assert [found.network.lots[lot].pieces for lot in found.lots_of("make-unit")] == [6]


def test_pieces_not_made_for_want_of_one_part_wait_for_none_of_the_others():
    """Boards for the six surplus units come on day 5, but there are no lids for them."""
    boards = made("board", 3, quantity=12, lots=(6, 6), one_by_one=True)
    parts = [Part(code="lid", here=Fraction(6)), Part(code="unit", spares=6)]
    found = forecast(
        boards, made("unit", 2, {"board": 1, "lid": 1}, quantity=12), waves=[wave(1, unit=6)], parts=parts
    )
    assert dates(found, "make-unit") == [(3, 4, 4)]
    only_spares = forecast(
        boards, made("unit", 2, {"board": 1, "lid": 1}, quantity=12), waves=[], parts=parts
    )
    assert dates(only_spares, "make-unit") == [(3, 4, 4)]


def test_the_time_booked_does_not_shrink_when_pieces_are_set_apart():
    parts = [Part(code="unit", spares=4)]
    units = replace(made("unit", 1, {"board": 1}), lead=DayRate(per_day=Fraction(1)))
    found = forecast(BOARDS, units, waves=[wave(1, unit=6)], parts=parts)
    assert dates(found, "make-unit") == [(3, 12, 12), (13, 16, 16)]


def test_spares_are_in_time_for_what_our_bench_has_still_to_make():
    """Four of ten are made; the boards of the last two came after those of the others, and all are here by now."""
    boards = replace(made("board", 3, quantity=10), supplier="mill")
    units = made("unit", 2, {"board": 1}, quantity=10)
    facts = [
        fact("in", "make-board", 2, good=8), fact("in", "make-board", 12, good=2), fact("made", "make-unit", 5, good=4),
    ]  # fmt: skip
    parts = [Part(code="unit", spares=2)]
    found = forecast(boards, units, waves=[wave(1, unit=8)], parts=parts, facts=facts, on=20)
    assert [found.network.lots[lot].pieces for lot in found.lots_of("make-unit")] == [4, 6]


# links and lots


def test_a_follower_by_link_waits_for_what_shipments_need_and_not_for_rework():
    boards = made("board", 5, quantity=10, lots=(6, 4), one_by_one=True)
    check = replace(made("sheet", 1), makes=(), after=(Link(job="make-board"),))
    waves = [replace(wave(1, board=6), after=("make-sheet",))]
    assert dates(forecast(boards, check, waves=waves), "make-sheet") == [(5, 5, 5)]
    facts = [fact("in", "make-board", 2, good=6, rework=4)]
    came = forecast(boards, check, waves=waves, facts=facts, on=4)
    assert dates(came, "make-sheet") == [(4, 4, 4)]
    assert dates(came, "make-board")[1][1] == 7  # the four go round from day 3 on


def test_rework_by_a_job_of_its_own_begins_after_the_delivery_its_pieces_came_with():
    mend = replace(made("board", 3, quantity=2), code="mend", rework_of="make-board")
    facts = [fact("in", "make-board", 1, good=4), fact("in", "make-board", 5, good=4, rework=2)]
    found = forecast(made("board", 9, quantity=10), mend, waves=[wave(1, board=10)], facts=facts, on=5)
    assert dates(found, "mend") == [(6, 8, 8)]
    assert goes(found) == 8


def test_a_promise_dates_the_pieces_it_speaks_of():
    boards = replace(made("board", 5, quantity=10), supplier="mill")
    facts = [
        fact("ordered", "make-board", 0), fact("started", "make-board", 1),
        fact("promised", "make-board", 2, day=day(9), good=6), fact("promised", "make-board", 2, day=day(16), good=4),
    ]  # fmt: skip
    waves = [wave(1, board=6), wave(2, board=4)]
    found = forecast(boards, waves=waves, facts=facts, on=3)
    assert (goes(found), goes(found, "wave-2")) == (9, 16)


def test_a_lot_has_the_spare_days_of_the_lots_that_draw_on_it():
    """Boards side by side wait three days for the lids of the first wave; one by one the second four hold the second."""
    side_by_side = made("board", 4, quantity=8, lots=2)
    units = made("unit", 1, {"board": 1, "lid": 1}, lots="shipments")
    waves = [wave(1, unit=4), wave(2, unit=4)]
    found = forecast(side_by_side, made("lid", 7), units, waves=waves)
    assert [found.slack(lot).spare_days for lot in found.lots_of("make-board")] == [3, 3]
    found = forecast(replace(side_by_side, one_by_one=True), made("lid", 7), units, waves=waves)
    assert [found.slack(lot).spare_days for lot in found.lots_of("make-board")] == [0, 0]
    assert found.slack(found.lots_of("make-board")[0], "wave-1").spare_days == 3


def test_all_arrivals_a_lot_draws_on_hold_it_and_not_only_the_last():
    """Eight boards of two makers go into one lot: those that come first may slip to the day of the others."""
    early, late = made("board", 3, quantity=4), replace(made("board", 6, quantity=4), code="more")
    found = forecast(early, late, made("unit", 1, {"board": 1}), waves=[wave(1, unit=8)])
    assert found.slack(found.lot_of("make-board")).spare_days == 3
    assert found.slack(found.lot_of("more")).spare_days == 0


def test_rework_that_comes_no_earlier_than_other_pieces_holds_nothing_but_those_do():
    """Four boards in rework and four others of a second maker come on one evening; the units need four of them."""
    more = replace(made("board", 6, quantity=4), code="more")
    facts = [fact("in", "make-board", 1, good=4, rework=4), fact("started", "more", 0)]
    units = made("unit", 1, {"board": 1})
    found = forecast(made("board", 4, quantity=8), more, units, waves=[wave(1, unit=8)], facts=facts, on=3)
    assert dates(found, "make-board")[1] == (2, 5, 5)
    assert dates(found, "more") == [(0, 5, 5)]
    assert dates(found, "make-unit") == [(6, 6, 6)]
    (unit,) = found.lots_of("make-unit")
    again = found.lots_of("make-board")[1]
    assert again not in found.waits_for(unit)
    assert found.lot_of("more") in found.waits_for(unit)


def test_work_with_no_piece_to_do_takes_no_time():
    """Begun at a rate, but nobody needs a piece: on a Saturday what waits for it need not wait for Monday."""
    idle = replace(made("board", 1), supplier="mill", lead=DayRate(per_day=Fraction(2)))
    check = replace(made("sheet", 1), makes=(), after=(Link(job="make-board"),))
    waves, lids = [replace(wave(1, lid=1), after=("make-sheet",))], [Part(code="lid", here=Fraction(1))]
    ordered, started = fact("ordered", "make-board", 0), fact("started", "make-board", 1)
    found = forecast(idle, check, waves=waves, parts=lids, facts=[ordered], on=5)
    assert [dates(found, code) for code in ("make-board", "make-sheet")] == [[(1, 4, 4)], [(5, 5, 5)]]
    begun = forecast(idle, check, waves=waves, parts=lids, facts=[ordered, started], on=5)
    assert [dates(begun, code) for code in ("make-board", "make-sheet")] == [[(1, 5, 5)], [(6, 6, 6)]]
