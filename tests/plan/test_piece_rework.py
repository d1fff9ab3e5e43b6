"""Pieces in rework, and the job that takes them: counted against an oracle that moves single pieces."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.build import BENCH, SHOP, day, fact, plan
from tracker.errors import Refused
from tracker.plan.checks import check_plan
from tracker.plan.counts import count_pieces, shares_of
from tracker.plan.model import Shipment
from tracker.plan.parts import Content, Make, Part, Take
from tracker.plan.piece_rework import PieceLoop, pieces_in_rework, with_piece_rework
from tracker.plan.span import DayRate, parse_lead, parse_span

TODAY = day(60)
TWO = (Make(part="black", quantity=40), Make(part="silver", quantity=60))


def run(*facts, suppliers=(BENCH, SHOP), **coat):
    """A coat that makes 100 shells, and a build that makes two units of them."""
    made = {"makes": (Make(part="shell"),), "quantity": 100, "yields": Fraction(19, 20), **coat}
    stored = plan(
        "coat:8wd@shop build:5@bench",
        jobs={
            "coat": {"name": "Blast and coat", "public_name": "Coating", "process": "anodizing", **made},
            "build": {"makes": TWO, "takes": (Take(part="shell"),)},
        },
        suppliers=suppliers,
        shipments=(
            Shipment(code="wave-1", quantity=90, contents=(Content(part="black", quantity=30), Content(part="silver", quantity=60))),
        ),
        facts=facts,
    )  # fmt: skip
    return replace(stored, parts=tuple(Part(code=code) for code in ("shell", "black", "silver")))


def delivered(good, rework, on=10, job="coat", **fields):
    return fact("in", job, on, good=good, rework=rework, **fields)


def reworked(stored, pieces, job="coat", part="shell", **loop):
    return with_piece_rework(
        stored, stored.job_by_code[job], PieceLoop(pieces=pieces, part=part, **loop), TODAY
    )


def waiting(stored, job="coat"):
    return pieces_in_rework(stored, stored.job_by_code[job], TODAY)


def test_a_rework_is_a_job_of_its_own_with_all_that_its_parent_says():
    stored = run(delivered(80, 9), travel=parse_span("2cd"))
    changed = reworked(stored, 9)
    *others, mended = changed.jobs
    assert tuple(others) == stored.jobs
    assert (mended.code, mended.rework_of, mended.quantity) == ("rework-coat", "coat", 9)
    assert (mended.name, mended.public_name, mended.process) == (
        "Rework of Blast and coat",
        "Coating: rework",
        "anodizing",
    )
    assert (mended.supplier, str(mended.lead), str(mended.travel)) == ("shop", "8wd", "2cd")
    assert (mended.makes, mended.yields, mended.takes) == ((Make(part="shell"),), Fraction(19, 20), ())
    assert (mended.after, mended.clock) == ((), None)
    assert not check_plan(changed, TODAY)
    assert waiting(changed) == {"shell": 0}


def test_what_is_said_of_a_rework_takes_the_place_of_what_its_parent_has():
    changed = reworked(
        run(delivered(80, 9)), 4, supplier="bench", lead=parse_lead("3wd"), travel=parse_span("0cd"), said="soon"
    )  # fmt: skip
    mended = changed.job_by_code["rework-coat"]
    assert (mended.supplier, str(mended.lead), str(mended.travel), mended.said) == (
        "bench",
        "3wd",
        "0cd",
        "soon",
    )
    assert waiting(changed) == {"shell": 5}


def test_a_rate_stays_a_rate():
    rate = DayRate(setup=1, per_day=Fraction(12))
    assert reworked(run(delivered(80, 9), lead=rate), 9).job_by_code["rework-coat"].lead == rate


def test_no_piece_goes_to_two_reworks_and_one_called_off_gives_its_pieces_back():
    stored = reworked(run(delivered(80, 9)), 6)
    with pytest.raises(
        Refused, match="coat has 3 in rework beside those of rework-coat, fewer than 4"
    ) as refused:
        reworked(stored, 4)
    assert refused.value.hint.startswith("write 3 at most")
    stored = reworked(stored, 3)
    assert [job.code for job in stored.jobs][-2:] == ["rework-coat", "rework-coat-2"]
    with pytest.raises(
        Refused, match="coat has no pieces in rework beside those of rework-coat, rework-coat-2"
    ):
        reworked(stored, 1)
    off = replace(stored, facts=(*stored.facts, fact("called_off", "rework-coat", 20)))
    assert waiting(off) == {"shell": 6}


def test_nothing_in_rework_is_said_with_how_to_log_it():
    with pytest.raises(Refused, match=r"coat has no pieces in rework$") as refused:
        reworked(run(delivered(80, 0)), 1)
    assert refused.value.hint == "log first what goes back: tracker in coat good 52 rework 5"


def test_what_comes_after_the_status_date_is_not_in_rework_yet():
    assert waiting(run(delivered(80, 9, on=61))) == {"shell": 0}


def test_of_a_job_with_several_parts_each_part_has_its_own_pieces_in_rework():
    stored = run(
        delivered(20, 4, job="build", part="black"), delivered(30, 7, job="build", part="silver", on=11)
    )
    assert waiting(stored, "build") == {"black": 4, "silver": 7}
    with pytest.raises(Refused, match="build has 4 of black in rework, fewer than 5"):
        reworked(stored, 5, "build", "black")
    changed = reworked(stored, 5, "build", "silver")
    assert shares_of(changed, changed.job_by_code["rework-build"]) == {"silver": 5}
    assert waiting(changed, "build") == {"black": 4, "silver": 2}
    assert not check_plan(changed, TODAY)


def test_a_rework_of_reworked_pieces_counts_on_from_the_first_job():
    stored = reworked(run(delivered(80, 9)), 9)
    stored = replace(stored, facts=(*stored.facts, delivered(6, 2, job="rework-coat", on=30, scrap=1)))
    assert waiting(stored, "rework-coat") == {"shell": 2}
    second = reworked(stored, 2, "rework-coat").jobs[-1]
    assert (second.code, second.rework_of, second.name) == (
        "rework-coat-2",
        "rework-coat",
        "Rework of Blast and coat",
    )
    assert second.makes == (Make(part="shell"),)


def test_with_a_check_the_pieces_count_only_once_they_were_looked_at():
    changed = reworked(run(delivered(80, 9), travel=parse_span("2cd")), 9, check=parse_lead("1wd"))
    mended, check = changed.jobs[-2:]
    assert (mended.code, mended.counts_pieces, mended.quantity, str(mended.travel)) == (
        "rework-coat",
        False,
        9,
        "2cd",
    )
    assert (check.code, check.supplier, str(check.lead), str(check.travel)) == (
        "check-rework-coat",
        "bench",
        "1wd",
        "0cd",
    )
    assert [link.job for link in check.after] == ["rework-coat"]
    assert (check.rework_of, check.makes, check.quantity, check.yields) == (
        "coat",
        (Make(part="shell"),),
        9,
        Fraction(19, 20),
    )
    assert (check.name, check.public_name) == (
        "Check after rework of Blast and coat",
        "Coating: check after rework",
    )
    assert (check.gate, mended.yields) == (False, 1)
    assert not check_plan(changed, TODAY)
    assert waiting(changed) == {"shell": 0}


@pytest.mark.parametrize(
    ("suppliers", "says", "remedy"),
    [
        ((SHOP, replace(BENCH, inhouse=False)), "no bench is ours", "tracker rework coat 9 check shop 1wd"),
        (
            (BENCH, SHOP, replace(BENCH, code="attic")),
            "several benches are ours, bench, attic",
            "tracker rework coat 9 check bench 1wd",
        ),
    ],
)
def test_where_it_is_not_clear_who_checks_the_remedy_names_somebody(suppliers, says, remedy):
    stored = run(delivered(80, 9), suppliers=suppliers)
    with pytest.raises(Refused, match=says) as refused:
        reworked(stored, 9, check=parse_lead("1wd"))
    assert remedy in refused.value.hint
    checker = remedy.split()[-2]
    assert reworked(stored, 9, check=parse_lead("1wd"), checker=checker).jobs[-1].supplier == checker


@given(
    deliveries=st.lists(st.tuples(st.integers(0, 40), st.integers(0, 12)), max_size=6),
    sent=st.lists(st.integers(1, 8), max_size=4),
)
def test_pieces_in_rework_sent_and_back_again_are_all_that_ever_went_back(deliveries, sent):
    """The oracle moves pieces one by one: a piece beyond the 100 put in can only be one that went back."""
    stored = run(
        *(
            delivered(good, rework, on=place)
            for place, (good, rework) in enumerate(deliveries)
            if good + rework
        )
    )
    put_in, in_rework = 100, 0
    came = [kind for good, rework in deliveries for kind in (*["good"] * good, *["rework"] * rework)]
    in_rework = came.count("rework")
    for _ in came:
        if put_in:
            put_in -= 1
        else:
            in_rework = max(0, in_rework - 1)
    assert waiting(stored) == {"shell": in_rework}
    for pieces in sent:
        if pieces > in_rework:
            with pytest.raises(Refused):
                reworked(stored, pieces)
        else:
            stored = reworked(stored, pieces)
            in_rework -= pieces
        assert waiting(stored) == {"shell": in_rework}
    counted = count_pieces(stored, stored.job_by_code["coat"], TODAY)
    assert sum(one.rework for one in counted.deliveries) == came.count("rework")


def test_where_the_need_decides_pieces_that_came_after_all_had_come_are_back_from_rework():
    facts = (delivered(80, 9), delivered(9, 0, on=20))
    assert waiting(run(*facts[:1], quantity=None)) == {"shell": 9}
    assert waiting(run(*facts, quantity=None)) == {"shell": 0}
    with pytest.raises(Refused, match="has no pieces in rework"):
        reworked(run(*facts, quantity=None), 9)
