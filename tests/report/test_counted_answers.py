"""What an answer says of counts: whether the need is covered, which shipment feels it, and what follows.

Invented run of ``counting``: of 96 natural housings 82 are for orders and 4 for spares, yield 92%. Sums by hand: of
60 in 55 were to come good, of 96 in 88, so the other 36 bring 33; of 5 in rework 4 come good.
"""

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

import pytest

from tests.report.asking import printed
from tests.report.counting import (
    PLAN,
    TODAY,
    fact,
    job,
    picture,
    takes,
    with_facts,
    with_job,
    with_jobs,
    with_part,
)
from tracker.plan.model import Shipment
from tracker.plan.parts import Content, Part
from tracker.render.answer_text import MOST_LINES, write_answer
from tracker.render.coverage_text import counted_text
from tracker.report.answer import answer
from tracker.report.counts import count_row

NATURAL = "finish-natural"
THU = date(2026, 11, 26)
MORE_BASES = with_facts(
    with_job(PLAN, "bases", quantity=400), fact("in", "bases", date(2026, 10, 3), good=125)
)


def view(*facts, plan=PLAN, today=TODAY, entry=9, edited=(), before=None):
    earlier = picture(plan if before is None else before, today)
    return answer(earlier, picture(with_facts(plan, *facts), today), facts, entry=entry, edited=edited)


def said(*facts, width=200, verbose=False, **more):
    return printed(write_answer, view(*facts, **more), width=width, verbose=verbose).splitlines()


def came(good, rework=0, scrap=0, code=NATURAL, on=TODAY, **more):
    return fact("in", code, on, good=good, rework=rework or None, scrap=scrap or None, **more)


def test_a_part_delivery_with_the_rest_promised_is_said_at_once():
    lines = said(came(52, 5, 3, ref="4471"), fact("promised", NATURAL, TODAY, good=36, day=THU))
    assert lines == [
        (
            "finish-natural in Tue 24 Nov 2026: 52 good, 5 rework, 3 scrap; ref 4471; 60 of 96 in, 36 to come, "
            "Thu 26 Nov 2026, in hand [entry 9]"
        ),
        "need 86: orders covered, 1 spare short until the redo is back Fri 4 Dec",
        "5 in rework; as a job: tracker rework finish-natural 5",
        "no shipment moves; finish-natural ready Thu 26 Nov, harmless until Tue 22 Dec (26 spare days)",
    ]


@pytest.mark.parametrize(
    ("delivery", "verdict"),
    [
        (came(96), "need 86: covered, 10 to spare"),
        (came(86, scrap=10), "need 86: covered, none to spare"),
        (came(84, scrap=12), "need 86: orders covered, 2 spares short, nothing planned brings them"),
        (came(82, 9, 5), "need 86: orders covered, 4 spares short until the redo is back Fri 4 Dec"),
        (came(60, 30, 6), "need 86: covered once the redo is back Fri 4 Dec (finish-natural), 1 to spare"),
    ],
)
def test_a_delivery_of_all_says_whether_the_need_is_covered(delivery, verdict):
    assert verdict in said(delivery)


def test_a_shortage_names_the_shipment_the_re_run_and_the_day_to_order_it():
    """78 good for 82 orders: 4 short, 5 to put in at 92%; 8 working days from Wed 25 Nov end on Fri 4 Dec."""
    lines = said(came(78, scrap=18), plan=MORE_BASES)
    assert "need 86: 4 short for wave-2, re-run of 5 in the forecast, order by Tue 22 Dec" not in lines
    assert lines[1].startswith("need 86: 4 short for wave-2, re-run of 5 in the forecast, order by ")
    order = view(came(78, scrap=18), plan=MORE_BASES).coverage[0].order
    assert (order.job, order.pieces, order.frees) == (NATURAL, 5, "wave-2")
    assert not any("short for that, too" in line for line in lines)


def test_a_shortage_that_moves_a_shipment_says_so_and_what_else_must_be_made_again():
    lines = said(came(78, scrap=18), verbose=True)
    assert any(line.startswith("wave-2 moves Thu 7 Jan -> ") and "> bases" not in line for line in lines)
    assert "short for that, too: 5 of base-milled (bases: order 6 today)" in lines


def test_a_rework_job_that_brings_the_pieces_takes_the_re_run_back():
    short = with_facts(MORE_BASES, came(70, 12, 14))
    assert view(came(70, 12, 14), plan=MORE_BASES).coverage[0].verdict == "again"
    mended = with_jobs(short, job("mend", "varne", "8wd", rework_of=NATURAL, quantity=12, clock=()))
    seen = answer(picture(short), picture(mended), (), ("added",), 10, ("mend",))
    assert [(one.part, one.verdict, one.jobs) for one in seen.coverage] == [
        ("housing-natural", "after rework", ("mend",))
    ]
    assert "need 86 of housing-natural: covered once the redo is back" in printed(
        write_answer, seen, width=200
    )
    back = fact("in", "mend", date(2026, 12, 4), good=12)
    later = date(2026, 12, 4)
    after = answer(picture(mended, later), picture(with_facts(mended, back), later), (back,), entry=11)
    assert [(one.part, one.verdict) for one in after.coverage] == [("housing-natural", "spares short")]
    assert "need 86: orders covered, 4 spares short, nothing planned brings them" in printed(
        write_answer, after, width=200
    )


def test_counts_add_up_over_deliveries_and_are_sorted_once_there_are_several():
    first = came(31, 5, 0, on=TODAY - timedelta(days=1))
    lines = said(came(21, 0, 3), plan=with_facts(PLAN, first))
    assert lines[0].endswith(
        "21 good, 3 scrap; 60 of 96 in (52 good, 5 rework, 3 scrap), 36 to come Wed 25 Nov [entry 9]"
    )


def test_pieces_back_from_rework_are_not_counted_as_more_than_were_put_in():
    lines = said(came(5), plan=with_facts(PLAN, came(91, 5, on=TODAY - timedelta(days=4))))
    assert "; 96 of 96 in (96 good, 5 rework), done" in lines[0]
    assert not any("more than" in line for line in lines)
    assert "2 more than the 96 of finish-natural" in said(came(98))


def test_promises_of_so_many_tell_the_rest_apart():
    lines = said(fact("promised", NATURAL, TODAY, good=20, day=THU))
    assert lines[0] == (
        "finish-natural promised for Thu 26 Nov 2026, in hand, 20 pieces (given Tue 24 Nov 2026); "
        "76 to come Wed 25 Nov and 20 to come Thu 26 Nov [entry 9]"
    )
    assert lines[1] == "need 86: covered, 2 to spare"


def test_words_said_with_a_promise_for_the_rest_are_read_back():
    promise = fact("promised", NATURAL, TODAY, good=36, day=THU, words="for sure")
    lines = said(came(60), promise)
    assert any('said "for sure"' in line for line in lines)


def test_a_part_promised_in_the_same_breath_is_not_taken_for_the_rest():
    lines = said(came(60), fact("promised", NATURAL, TODAY, good=20, day=THU))
    assert any(line.startswith("finish-natural promised for Thu 26 Nov 2026") for line in lines)


def test_what_left_and_what_is_made_at_their_door_is_told_from_the_rest():
    left = said(fact("left", NATURAL, TODAY, good=40))
    assert "40 to come, due here Tue 24 Nov and 56 to come Wed 25 Nov" in left[0]
    made = fact("made", NATURAL, TODAY, good=40)
    assert "40 good; 40 of 96 made, 56 to go" in said(made)[0]
    counts = count_row(picture(with_facts(PLAN, made)), NATURAL)
    assert counted_text(counts, TODAY) == (
        "40 to come, at their door, here Wed 25 Nov and 56 to come Wed 25 Nov"
    )


def test_what_our_own_bench_made_is_said_as_made():
    stocked = with_part(with_part(PLAN, "magnet", here=600), "board", here=300)
    bench = with_job(stocked, "build-graphite", quantity=154)
    lines = said(fact("made", "build-graphite", TODAY, good=12), plan=bench)
    assert "12 good; 12 of 154 made, 142 to go" in lines[0]


def test_a_count_of_one_of_two_parts_speaks_of_that_part():
    both = job("build-2", "bench", "9wd", {"unit-graphite": 66, "unit-natural": 86}, quantity=152)
    lines = said(fact("made", "build-2", TODAY, good=10, part="unit-natural"), plan=with_jobs(PLAN, both))
    assert "; 10 of 86 unit-natural made, 76 to go" in lines[0]
    assert [line for line in lines if line.startswith("need ")] == ["need 86: covered, none to spare"]


def test_pieces_whose_inputs_never_come_are_said_to_wait_for_them():
    """Of 20 to put in, 4 are for spares; for these there is no foam."""
    plan = replace(
        PLAN,
        parts=(Part(code="foam", here=Fraction(16)), Part(code="pad", spares=4)),
        jobs=(job("cut", "bench", "9wd", "pad", takes(foam=1), quantity=20),),
        shipments=(Shipment(code="wave-1", quantity=16, contents=(Content(part="pad", quantity=16),)),),
        facts=(),
    )
    counts = count_row(picture(with_facts(plan, fact("made", "cut", TODAY, good=6))), "cut")
    assert counted_text(counts, TODAY, whole=True) == (
        "6 of 20 made, 10 to go, forecast Fri 4 Dec, 4 with no inputs to come"
    )


def test_pieces_found_bad_raise_the_need_of_their_part_and_say_what_it_is_short_of():
    arrived = with_facts(MORE_BASES, came(84, scrap=12))
    lines = said(fact("scrapped", "housing-natural", TODAY, scrap=3, job="build-natural"), plan=arrived)
    assert lines[0] == "3 of housing-natural scrapped Tue 24 Nov 2026, found at build-natural [entry 9]"
    assert lines[1].startswith(
        "need 89 (3 scrapped among it): 1 short for wave-2, re-run of 2 by finish-natural in the forecast, order "
    )
    assert not any("harmless" in line for line in lines)


def test_what_does_not_add_up_any_more_is_said_once_and_by_name():
    lines = said(fact("called_off", "magnets", TODAY))
    assert "456 of magnet short, magnets called off; wave-1 goes short first" in lines
    gone = with_facts(PLAN, fact("called_off", "magnets", TODAY))
    assert not any("magnet short" in line for line in said(came(52, 5, 3), plan=gone))
    used = said(fact("scrapped", "screw", TODAY, scrap=1700))
    assert "1700 of screw used or scrapped, only 1600 came" in used
    assert not any(line.startswith("need ") for line in used)


def test_a_maker_called_off_leaves_its_pieces_to_a_re_run_of_another():
    lines = said(fact("called_off", "boards-2", TODAY))
    assert (
        "need 240 of board: 32 short for wave-2, re-run of 34 by boards in the forecast, order by Fri 4 Dec"
        in lines
    )


def test_too_small_a_quantity_not_ordered_yet_is_to_be_raised():
    small = with_job(PLAN, "boxes", quantity=200)
    (row,) = answer(picture(PLAN), picture(small), (), ("set",), 9, ("boxes",)).coverage
    assert (row.part, row.verdict, row.short, row.shipment) == ("box", "again", 28, "wave-2")
    lines = printed(
        write_answer, answer(picture(PLAN), picture(small), (), ("set",), 9, ("boxes",)), width=200
    )
    assert f"of box: 28 short for wave-2, order {row.needed} by Mon 30 Nov instead of 200" in lines


def test_an_order_of_another_quantity_than_the_plan_s_is_remarked_on():
    lines = said(fact("ordered", "magnets", TODAY, quantity=450))
    assert (
        "the plan says 520, and that is counted on; for what was ordered: tracker set magnets quantity=450"
        in lines
    )
    assert not any("the plan says" in line for line in said(fact("ordered", "magnets", TODAY, quantity=520)))


@pytest.mark.parametrize("width", [60, 80, 120])
@pytest.mark.parametrize(
    "facts",
    [
        (came(52, 5, 3, ref="4471"), fact("promised", NATURAL, TODAY, good=36, day=THU)),
        (came(60, 30, 6),),
        (came(40, 10, 46),),
        (fact("called_off", "magnets", TODAY),),
        (fact("scrapped", "base-milled", TODAY, scrap=50, note="one clamp mark on every one of them"),),
        (fact("made", NATURAL, TODAY, good=40),),
    ],
)
def test_an_answer_takes_six_lines_at_most_and_begins_with_the_fact(facts, width):
    lines = said(*facts, width=width)
    assert len(lines) <= MOST_LINES
    assert lines[0].split()[0] == facts[0].job or lines[0].split()[0] == str(facts[0].scrap)


def test_where_not_all_fits_the_count_is_kept_and_the_move_said():
    lines = said(came(40, 10, 46), width=80)
    text = " ".join(line.strip() for line in lines)
    assert "96 of 96 in, done" in text
    assert "short for wave-2, re-run of" in text
    assert "wave-2 moves" in text


def test_rework_that_the_verdict_does_not_speak_of_says_when_it_is_back_at_best():
    assert "2 in rework, back Fri 4 Dec at best; as a job: tracker rework finish-natural 2" in said(
        came(94, 2)
    )


def test_pieces_that_wait_for_two_reworks_are_covered_once_the_later_is_back():
    """50 good; 20 of 40 in rework go to a job of 3 working days, the others stay with theirs, back on Fri 4 Dec."""
    mend = job("mend", "varne", "3wd", rework_of=NATURAL, quantity=20, clock=())
    (row,) = view(came(50, 40, 6), plan=with_jobs(PLAN, mend)).coverage
    assert (row.verdict, row.jobs, row.day) == ("after rework", ("mend", NATURAL), date(2026, 12, 4))


def test_rework_with_a_date_needs_no_job_of_its_own():
    promise = fact("promised", NATURAL, TODAY, day=date(2026, 12, 8))
    seen = with_facts(PLAN, came(60, 30, 6))
    lines = said(promise, plan=seen)
    assert not any("tracker rework" in line for line in lines)
    assert "the 30 in rework harmless until Tue 22 Dec (14 spare days)" in lines[-1]


def test_a_plan_without_parts_says_nothing_of_need():
    bare = replace(
        PLAN,
        parts=(),
        jobs=(job("only", "varne", "8wd", quantity=96),),
        shipments=(Shipment(code="wave-1", quantity=80, after=("only",)),),
        facts=(),
    )
    seen = view(came(52, 5, 3, code="only"), plan=bare)
    assert (seen.coverage, seen.shortages) == ((), ())
    assert (
        printed(write_answer, seen, width=200).splitlines()[0].endswith("; 60 of 96 in, 36 to come [entry 9]")
    )


def test_a_part_nobody_needs_has_no_verdict():
    plan = replace(
        PLAN,
        parts=(*PLAN.parts, Part(code="label")),
        jobs=(*PLAN.jobs, job("label-print", "moinho", "5wd", "label", quantity=10)),
    )
    assert view(came(10, code="label-print"), plan=plan).coverage == ()


def test_the_first_shipment_that_lacks_pieces_feels_the_shortage():
    """60 good of 146 graphite: the 80 of wave 1 go first and lack 20 of them."""
    plan = with_job(PLAN, "finish-graphite", quantity=60)
    plan = replace(plan, facts=tuple(one for one in plan.facts if "graphite" not in one.job))
    plan = replace(plan, jobs=tuple(one for one in plan.jobs if one.code != "rework-graphite"))
    rows = view(came(60, code="finish-graphite"), plan=plan).coverage
    (row,) = (one for one in rows if one.part == "housing-graphite")
    assert (row.verdict, row.short, row.shipment) == ("again", 86, "wave-1")
