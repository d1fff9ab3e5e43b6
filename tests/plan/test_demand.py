"""What jobs have to put in for what shipments need: yields, stock, spares, makers in turn, orders rounded up."""

from dataclasses import replace
from fractions import Fraction

import pytest

from tests.plan.pieces import fact, job, lots, needed, network, of, wave
from tracker.plan.model import Link
from tracker.plan.parts import Make, Part, Take

WAVE = wave(1, unit=10)
BUILD = job("build", takes="board", makes="unit")
BOARDS = job("boards", makes="board", supplier="mill")
MORE = job("more", makes="board", supplier="mill")
USED, FIRST, SECOND, SPARE, NOBODY = -1, 0, 1, 2, 3


def test_the_need_goes_down_through_all_that_is_taken():
    """Totals of speaker kits. Source: Heizer and Render, Operations Management, chapter 14, examples 1-3 (from memory).

    Two paths lead to D and E, and their needs add up.
    """
    uses = {
        "a": {"b": 2, "c": 3}, "b": {"d": 2, "e": 2}, "c": {"e": 2, "f": 2}, "f": {"g": 1, "d": 2},
        "d": {}, "e": {}, "g": {},
    }  # fmt: skip
    jobs = [job(f"make-{part}", takes=of(**taken), makes=part) for part, taken in uses.items()]
    found = network(*jobs, waves=[wave(1, a=50)])
    totals = {part: sum(n for _, n in needed(found, f"make-{part}")[0]) for part in uses}
    assert totals == {"a": 50, "b": 100, "c": 150, "d": 800, "e": 500, "f": 300, "g": 300}


def test_stock_and_open_orders_come_off_the_need():
    """75 net of 60 and 90, with 50 here and 25 to come.

    Source: rule of Principles of Operations Management (Heizer and Render), chapter 14, own example (confirmed).
    """
    coming = job("coming", makes="item", supplier="mill", quantity=25)
    waves = [wave(1, item=60), wave(2, item=90)]
    found = network(
        coming, job("new", makes="item"), waves=waves, parts=[Part(code="item", here=Fraction(50))]
    )
    assert needed(found, "coming") == ([(FIRST, 10), (SECOND, 15)], [])
    assert needed(found, "new") == ([(SECOND, 75)], [])


@pytest.mark.parametrize(
    ("good", "share", "put_in"),
    [(86, "0.92", 94), (10, "1", 10), (9, "0.9", 10), (10, "0.9", 12), (1, "0.05", 20)],
)
def test_a_yield_asks_for_as_many_as_bring_the_good_ones_and_no_more(good, share, put_in):
    found = network(job("build", makes="unit", yields=Fraction(share)), waves=[wave(1, unit=good)])
    assert needed(found, "build") == ([(FIRST, put_in)], [])


def test_rounding_up_happens_once_over_all_shipments():
    found = network(
        job("build", makes="unit", yields=Fraction(9, 10)), waves=[wave(1, unit=5), wave(2, unit=4)]
    )
    assert needed(found, "build") == ([(FIRST, 6), (SECOND, 4)], [])


def test_measured_parts_are_used_in_fractions_and_made_whole():
    build = job("build", takes=of(tape="0.35"), makes="unit")
    cut = job("cut", makes="tape")
    parts = [Part(code="tape", unit="m", here=Fraction(1, 4))]
    found = network(build, cut, waves=[wave(1, unit=3), wave(2, unit=4)], parts=parts)
    assert needed(found, "cut") == (
        [(FIRST, 1), (SECOND, 2)],
        [],
    )  # 0.80 m and 1.40 m more: 2.20 in all, so 3


def test_a_part_for_one_variant_is_asked_for_by_that_alone():
    both = replace(
        job("both"),
        makes=(Make(part="plain", quantity=7), Make(part="natural", quantity=5)),
        takes=(Take(part="board"), Take(part="lid", per=Fraction(2), into="natural")),
    )
    found = network(both, BOARDS, job("lids", makes="lid"), waves=[wave(1, plain=7), wave(2, natural=5)])
    assert needed(found, "boards") == ([(FIRST, 7), (SECOND, 5)], [])
    assert needed(found, "lids") == ([(SECOND, 10)], [])


def test_spares_are_met_after_all_shipments_and_never_by_a_re_run():
    parts = [Part(code="unit", spares=4)]
    waves = [wave(1, unit=6), wave(2, unit=3)]
    decided = network(job("build", makes="unit"), waves=waves, parts=parts)
    assert needed(decided, "build") == ([(FIRST, 6), (SECOND, 3), (SPARE, 4)], [])
    fixed = network(job("build", makes="unit", quantity=8), waves=waves, parts=parts)
    assert needed(fixed, "build") == ([(FIRST, 6), (SECOND, 2)], [(SECOND, 1)])
    assert fixed.demand.parts["unit"].spares_short == 4
    assert fixed.demand.parts["unit"].lacking == 1


def test_eighty_two_good_of_eighty_six_make_a_re_run_only_for_what_orders_lack():
    """82 ordered and 4 spares: 82 good cover the orders, so nothing is made again. Invented scenario."""
    finish = job("finish", makes="lid", supplier="mill", quantity=96)
    facts = [fact("in", "finish", 5, good=82, scrap=14)]
    parts = [Part(code="lid", spares=4)]
    assert needed(network(finish, waves=[wave(1, lid=82)], facts=facts, parts=parts), "finish") == ([], [])
    assert needed(network(finish, waves=[wave(1, lid=83)], facts=facts, parts=parts), "finish") == (
        [],
        [(FIRST, 1)],
    )


def test_makers_of_one_part_are_asked_in_file_order():
    found = network(replace(BOARDS, quantity=6), replace(MORE, quantity=9), BUILD, waves=[WAVE])
    assert needed(found, "boards") == ([(FIRST, 6)], [])
    assert needed(found, "more") == ([(FIRST, 4), (SPARE, 5)], [])  # with one shipment, 2 is for nobody


def test_a_maker_that_serves_an_earlier_shipment_is_asked_before_the_others():
    serves = replace(MORE, quantity=9, serves=("wave-1",))
    found = network(replace(BOARDS, quantity=6), serves, BUILD, waves=[WAVE])
    assert needed(found, "more")[0] == [(FIRST, 9)]
    assert needed(found, "boards")[0] == [(FIRST, 1), (SPARE, 5)]


def test_a_maker_without_a_quantity_makes_what_the_others_leave_wherever_it_stands():
    found = network(BOARDS, replace(MORE, quantity=4), BUILD, waves=[WAVE])
    assert (needed(found, "more")[0], needed(found, "boards")[0]) == ([(FIRST, 4)], [(FIRST, 6)])


@pytest.mark.parametrize(("marked", "again"), [("boards", [6, 0]), ("", [0, 6])])
def test_a_shortage_is_made_again_by_the_maker_marked_for_it_else_by_the_last(marked, again):
    jobs = [replace(one, quantity=2, rerun=one.code == marked) for one in (BOARDS, MORE)]
    found = network(*jobs, BUILD, waves=[WAVE])
    assert [sum(n for _, n in needed(found, code)[1]) for code in ("boards", "more")] == again


def test_rework_of_a_part_is_not_asked_to_make_it_again():
    mend = job("mend", rework_of="boards", quantity=1)
    facts = [fact("in", "boards", 2, good=8, rework=1, scrap=1)]
    found = network(replace(BOARDS, quantity=10), mend, BUILD, waves=[WAVE], facts=facts)
    assert needed(found, "mend") == ([(FIRST, 1)], [])
    assert needed(found, "boards") == ([], [(FIRST, 1)])


def test_a_part_nobody_makes_is_short_by_name():
    found = network(BUILD, waves=[WAVE], parts=[Part(code="board", here=Fraction(7))])
    assert found.demand.parts["board"].short == 3


# what came


def test_scrap_found_downstream_raises_the_need_upstream():
    facts = [fact("in", "boards", 2, good=10), fact("in", "build", 5, good=6, scrap=4)]
    found = network(replace(BOARDS, quantity=10), replace(BUILD, quantity=10), waves=[WAVE], facts=facts)
    assert needed(found, "build") == ([], [(FIRST, 4)])
    assert needed(found, "boards") == ([], [(FIRST, 4)])


def test_pieces_scrapped_later_are_made_again():
    facts = [fact("in", "boards", 2, good=10), fact("scrapped", "board", 4, scrap=3)]
    found = network(replace(BOARDS, quantity=10), BUILD, waves=[WAVE], facts=facts)
    assert needed(found, "boards") == ([], [(FIRST, 3)])
    assert found.demand.parts["board"].scrapped == 3


def test_pieces_in_rework_hold_their_inputs_and_are_expected_at_the_yield():
    build = replace(BUILD, quantity=10, yields=Fraction(1, 2))
    facts = [fact("in", "boards", 2, good=10), fact("in", "build", 5, good=7, rework=3)]
    found = network(replace(BOARDS, quantity=10), build, waves=[WAVE], facts=facts)
    assert needed(found, "build") == ([], [(FIRST, 4)])  # 1 of 3 expected, 2 lack, half of them good
    assert needed(found, "boards") == ([], [(FIRST, 4)])


def test_what_came_beyond_the_quantity_had_been_reworked():
    """90 good and 10 to rework, then 6 of those: no new piece went in, 4 are still out."""
    facts = [fact("in", "boards", 2, good=90, rework=10), fact("in", "boards", 6, good=6)]
    need = network(replace(BOARDS, quantity=100), waves=[wave(1, board=96)], facts=facts).demand.jobs[
        "boards"
    ]
    assert (need.back, need.good, need.in_rework) == ({"board": 100}, {"board": 96}, {"board": 4})


def test_pieces_nobody_judged_count_at_the_yield_however_many_parcels_they_came_in():
    half = replace(BOARDS, quantity=10, yields=Fraction(1, 2))
    for counts in ([4], [1, 1, 1, 1]):
        facts = [fact("in", "boards", n, count=count) for n, count in enumerate(counts)]
        found = network(half, waves=[wave(1, board=2)], facts=facts)
        assert found.demand.parts["board"].came == 2
        assert sum(good for kind, _, good in lots(found, "boards") if kind == "received") == 2
        assert needed(found, "boards") == ([(SPARE, 6)], [])


def test_more_than_was_ordered_joins_the_stock():
    facts = [fact("in", "boards", 2, good=13)]
    found = network(replace(BOARDS, quantity=10), BUILD, waves=[wave(1, unit=12)], facts=facts)
    assert needed(found, "boards") == ([], [])


def test_a_delivery_closed_short_is_made_up_by_a_re_run():
    facts = [fact("in", "boards", 2, good=7, closes=True)]
    found = network(replace(BOARDS, quantity=10), BUILD, waves=[WAVE], facts=facts)
    assert needed(found, "boards") == ([], [(FIRST, 3)])


def test_an_order_still_open_covers_before_anything_is_made_again():
    facts = [fact("in", "boards", 2, good=5, scrap=2)]
    found = network(replace(BOARDS, quantity=10), BUILD, waves=[WAVE], facts=facts)
    assert needed(found, "boards") == ([(FIRST, 3)], [(FIRST, 2)])


def test_work_that_has_begun_needs_its_inputs_before_any_shipment():
    """The first wave holds boards only; the boards of what is being built for the second go before it."""
    waves = [wave(1, board=4), wave(2, unit=6)]
    begun = [fact("started", "build", 3)]
    early = network(replace(BOARDS, quantity=6), BUILD, waves=waves, facts=begun)
    assert needed(early, "boards") == ([(USED, 6)], [(FIRST, 4)])
    assert needed(network(replace(BOARDS, quantity=6), BUILD, waves=waves), "boards")[0] == [
        (FIRST, 4),
        (SECOND, 2),
    ]


def test_what_was_posted_needs_nothing_any_more():
    facts = [fact("in", "build", 5, good=4), fact("posted", "wave-1", 8, good=4)]
    found = network(BOARDS, replace(BUILD, quantity=10), waves=[WAVE, wave(2, unit=1)], facts=facts)
    assert needed(found, "build") == ([(FIRST, 6)], [(SECOND, 1)])


def test_pieces_used_beyond_all_that_came_are_a_mistake_and_not_made_again():
    facts = [fact("in", "boards", 2, good=5), fact("in", "build", 5, good=7)]
    found = network(replace(BOARDS, quantity=5), replace(BUILD, quantity=10), waves=[WAVE], facts=facts)
    assert found.demand.parts["board"].unaccounted == 2
    assert needed(found, "boards") == ([], [(FIRST, 3)])
    again = [draw for draw in found.stocks["board"].draws if draw.priority == FIRST]
    assert [(draw.amount, draw.covered) for draw in again] == [(3, 3)]


def test_a_bench_that_finished_without_a_count_made_as_many_as_its_inputs_allowed():
    facts = [fact("in", "boards", 2, good=8), fact("finished", "build", 6)]
    need = network(
        replace(BOARDS, quantity=10), replace(BUILD, quantity=10), waves=[WAVE], facts=facts
    ).demand
    assert (need.jobs["build"].good, need.jobs["build"].back) == ({"unit": 8}, {"unit": 8})


def test_a_rework_job_takes_no_piece_of_the_stock_it_mends_for():
    mend = replace(
        job("mend", takes=of(board=1, screw=2), rework_of="boards", quantity=2), makes=(Make(part="board"),)
    )
    facts = [fact("in", "boards", 2, good=8, rework=2)]
    parts = [Part(code="screw", here=Fraction(9))]
    found = network(replace(BOARDS, quantity=10), mend, BUILD, waves=[WAVE], facts=facts, parts=parts)
    assert needed(found, "boards") == ([], [])
    assert [draw.amount for draw in found.stocks["screw"].draws] == [4]
    assert all(draw.covered == draw.amount for draw in found.stocks["board"].draws)


# what is ordered


@pytest.mark.parametrize(
    ("moq", "multiple", "surplus"), [(None, None, 0), (25, None, 15), (None, 4, 2), (25, 4, 18), (3, 5, 0)]
)
def test_a_new_order_is_rounded_up_and_what_is_beyond_is_for_nobody(moq, multiple, surplus):
    found = network(BOARDS, BUILD, waves=[WAVE], parts=[Part(code="board", moq=moq, multiple=multiple)])
    assert needed(found, "boards") == ([(FIRST, 10), *([(SPARE, surplus)] if surplus else [])], [])


def test_a_re_run_is_rounded_up_too_but_what_was_ordered_is_not():
    part = Part(code="board", moq=25)
    fixed = network(replace(BOARDS, quantity=4), BUILD, waves=[WAVE], parts=[part])
    assert needed(fixed, "boards") == ([(FIRST, 4)], [(FIRST, 6), (SPARE, 19)])
    begun = network(BOARDS, BUILD, waves=[WAVE], parts=[part], facts=[fact("started", "boards", 2)])
    assert needed(begun, "boards") == ([(FIRST, 10)], [])


def test_nothing_is_ordered_where_nothing_is_needed():
    found = network(BOARDS, BUILD, waves=[WAVE], parts=[Part(code="board", here=Fraction(10), moq=25)])
    assert needed(found, "boards") == ([], [])
    assert found.left_out["boards"] == "not needed"


def test_a_job_that_only_a_link_waits_for_is_needed_by_the_first_shipment_behind_it():
    trial = job("trial", takes="board", makes="sample", quantity=2)
    packs = replace(BUILD, after=(Link(job="trial"),))
    waves = [wave(1, board=1), wave(2, unit=3)]
    found = network(trial, BOARDS, packs, waves=waves)
    assert needed(found, "trial")[0] == [(SECOND, 2)]
    assert needed(found, "boards")[0] == [(FIRST, 1), (SECOND, 5)]
    alone = network(trial, BOARDS, BUILD, waves=waves)
    assert needed(alone, "trial")[0] == [(NOBODY, 2)]


def test_of_several_that_wait_for_a_job_by_a_link_the_first_shipment_counts():
    trial = job("trial", takes="board", makes="sample", quantity=2)
    first = job("first", makes="unit", after=(Link(job="trial"),))
    second = job("second", makes="other", after=(Link(job="trial"),))
    for order in ((first, second), (second, first)):
        found = network(trial, BOARDS, *order, waves=[wave(1, unit=1), wave(2, other=1)])
        assert needed(found, "trial")[0] == [(FIRST, 2)]


# jobs called off, and our own bench


def test_what_came_of_a_job_called_off_stays_and_what_went_into_it_is_used():
    coat = job("coat", of(board=2), "lid", quantity=10)
    facts = [
        fact("in", "boards", 1, good=20),
        fact("in", "coat", 3, good=5, rework=1, scrap=1),
        fact("called_off", "coat", 4),
    ]
    boards = replace(BOARDS, quantity=20)
    found = network(boards, coat, waves=[wave(1, lid=8)], facts=facts)
    lid, board = found.demand.parts["lid"], found.demand.parts["board"]
    assert (lid.came, lid.lacking, lid.short) == (5, 3, 3)
    assert (board.came, board.counted) == (20, 14)
    assert [(entry.lot, entry.amount) for entry in found.stocks["lid"].entries] == [(None, 5)]
    assert found.stocks["board"].left_over == 6
    back = network(boards, coat, waves=[wave(1, lid=8)], facts=[*facts, fact("resumed", "coat", 5)])
    assert back.demand.parts["lid"].lacking == 0


def test_our_own_bench_counts_on_until_the_need_is_met():
    build = job("build", of(board=1), "unit")
    counted = [fact("made", "build", 5, good=4), fact("made", "build", 6, good=3)]
    found = network(BOARDS, build, waves=[WAVE], facts=counted)
    assert needed(found, "build") == ([(FIRST, 3)], [])
    assert lots(found, "build")[-1] == ("to come", 3, 3)
    met = network(BOARDS, build, waves=[WAVE], facts=[*counted, fact("made", "build", 7, good=3)])
    assert needed(met, "build") == ([], [])
    assert met.progress[met.index["build"]].done is not None
