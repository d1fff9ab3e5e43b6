"""Where the pieces of a part are: every piece put in has one place, and the sums agree with what was logged.

The run is invented (see ``counting``); 275 sets were machined, 170 and 96 of them finished in two colours.
"""

from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest
from hypothesis import given, settings

from tests.part_plans import part_plans
from tests.plans import days
from tests.report.asking import printed
from tests.report.counting import (
    PLAN,
    TODAY,
    fact,
    job,
    judged,
    picture,
    takes,
    with_facts,
    with_job,
    with_jobs,
    with_part,
)
from tests.schedule.random_material import random_material
from tracker.errors import Refused
from tracker.plan.checks import check_plan
from tracker.render.where_text import write_where
from tracker.report.need import need_view
from tracker.report.picture import Picture
from tracker.report.where import where
from tracker.schedule.forecast import Forecast


def places(plan, code, today=TODAY):
    """Rows of the one part asked for, as (state, who has or did it, pieces)."""
    (one,) = where(picture(plan, today), code).parts
    return [(row.state, row.job or row.shipment, row.pieces) for row in (*one.places, *one.ahead, *one.again)]


def text(plan, code):
    return printed(write_where, where(picture(plan), code), width=80)


def assert_all_is_somewhere(one):
    held = sum(row.pieces for row in (*one.places, *one.ahead))
    assert held == one.at_start + sum(one.put_in.values()) + one.beyond
    assert all(row.pieces > 0 for row in (*one.places, *one.ahead, *one.again))


def test_a_part_used_up_is_in_what_it_went_into_at_the_next_supplier_and_in_the_scrap():
    assert places(PLAN, "base-milled") == [
        ("drawn", "finish-natural", 96),
        ("used", "finish-graphite", 170),
        ("scrapped", "bases", 9),
    ]
    (one,) = where(picture(PLAN), "base-milled").parts
    assert (dict(one.put_in), one.places[0].place) == ({"bases": 275}, "varne")


def test_rework_that_a_job_took_over_is_there_and_counts_once():
    assert places(PLAN, "housing-graphite") == [
        ("here", "", 149),
        ("in rework", "rework-graphite", 15),
        ("scrapped", "finish-graphite", 6),
    ]
    (one,) = where(picture(PLAN), "housing-graphite").parts
    assert dict(one.put_in) == {"finish-graphite": 170}
    assert one.places[1].due == date(2026, 11, 25)


def test_two_jobs_that_share_the_rework_put_in_what_they_were_handed_once():
    more = job("rework-more", "varne", "8wd", rework_of="finish-graphite", quantity=5)
    plan = with_jobs(PLAN, replace(PLAN.job_by_code["rework-graphite"], quantity=10), more)
    (one,) = where(picture(plan), "housing-graphite").parts
    assert dict(one.put_in) == {"finish-graphite": 170}
    assert [row.pieces for row in one.places if row.state == "in rework"] == [10]
    assert [row.pieces for row in one.ahead] == [5]
    assert_all_is_somewhere(one)
    (planned,) = where(picture(with_jobs(PLAN, more)), "housing-graphite").parts
    assert dict(planned.put_in) == {"finish-graphite": 170, "rework-more": 5}
    assert_all_is_somewhere(planned)


def test_work_begun_before_all_it_takes_has_come_has_drawn_what_there_was():
    # 97 good of the first 100; work on 170 has begun
    day = date(2026, 9, 8)
    early = with_facts(replace(PLAN, facts=PLAN.facts[:2]), fact("started", "finish-graphite", day))
    assert places(early, "base-milled", day) == [
        ("in work", "bases", 175),
        ("drawn", "finish-graphite", 97),
        ("scrapped", "bases", 3),
    ]
    row = next(one for one in need_view(picture(early, day)).parts if one.part == "base-milled")
    assert (row.used, row.here) == (97, 0)


def test_what_came_of_the_rework_joins_the_stock():
    plan = judged(PLAN, "rework-graphite", good=13, scrap=2)
    assert places(plan, "housing-graphite") == [
        ("here", "", 162),
        ("scrapped", "finish-graphite", 6),
        ("scrapped", "rework-graphite", 2),
    ]


def test_several_makers_of_one_part_stand_side_by_side():
    assert places(PLAN, "board") == [
        ("here", "", 191),
        ("in rework", "boards", 6),
        ("scrapped", "boards", 3),
        ("ordered", "boards-2", 80),
    ]


def test_made_left_and_counted_pieces_are_at_the_door_on_the_way_and_here():
    plan = with_facts(
        PLAN,
        fact("made", "boards-2", TODAY, good=50),
        fact("left", "boards-2", TODAY, good=30),
        fact("in", "boards-2", TODAY, count=10),
    )
    assert places(plan, "board") == [
        ("here", "", 191),
        ("not judged", "boards-2", 10),
        ("on the way", "boards-2", 20),
        ("made", "boards-2", 20),
        ("in work", "boards-2", 30),
        ("in rework", "boards", 6),
        ("scrapped", "boards", 3),
    ]


def test_pieces_found_bad_later_leave_the_stock_with_the_job_that_found_them():
    plan = with_facts(PLAN, fact("scrapped", "board", TODAY, scrap=5, job="build-graphite"))
    assert ("here", "", 186) in places(plan, "board")
    assert ("found bad", "build-graphite", 5) in places(plan, "board")
    assert "5  found bad later, at build-graphite" in text(plan, "board")


def test_packed_units_are_posted_with_their_shipment_and_the_rest_is_here():
    plan = judged(with_job(PLAN, "pack-graphite", quantity=146), "pack-graphite", good=80)
    plan = with_facts(plan, fact("posted", "wave-1", TODAY, good=24))
    assert places(plan, "packed-graphite") == [
        ("here", "", 56),
        ("posted", "wave-1", 24),
        ("not begun", "pack-graphite", 66),
    ]


def test_a_delivery_closed_short_says_what_never_came():
    plan = judged(PLAN, "boards-2", good=70, scrap=2, closes=True)
    assert ("never came", "boards-2", 8) in places(plan, "board")


def test_a_re_run_is_wanted_and_put_in_nowhere():
    plan = judged(PLAN, "finish-natural", good=60, scrap=36)
    assert ("again", "finish-natural", 24) in places(plan, "housing-natural")
    (one,) = where(picture(plan), "housing-natural").parts
    assert dict(one.put_in) == {"finish-natural": 96}


def test_pieces_used_beyond_what_came_are_told():
    plan = judged(with_job(PLAN, "finish-natural", quantity=100), "finish-natural", good=96, scrap=4)
    (one,) = where(picture(plan), "base-milled").parts
    assert one.beyond == 4
    assert_all_is_somewhere(one)
    assert "4 of those used never came" in text(plan, "base-milled")


def test_pieces_not_judged_that_were_used_all_the_same_are_no_longer_here():
    plan = with_facts(PLAN, fact("in", "boxes", TODAY, count=250))
    plan = judged(with_job(plan, "pack-graphite", quantity=146), "pack-graphite", good=80)
    assert places(plan, "box") == [("not judged", "boxes", 170), ("used", "pack-graphite", 80)]


def test_a_job_stands_for_all_it_makes():
    both = job("build-both", "bench", "6wd", {"unit-graphite": 154, "unit-natural": 86}, takes(screw=6))
    plan = replace(PLAN, jobs=(*(one for one in PLAN.jobs if not one.code.startswith("build")), both))
    seen = where(picture(plan), "build-both")
    assert [one.part for one in seen.parts] == ["unit-graphite", "unit-natural"]
    assert [row.pieces for one in seen.parts for row in one.ahead] == [154, 86]


def test_stock_at_the_start_is_told_and_measured_parts_keep_their_unit():
    plan = with_part(PLAN, "screw", unit="m", here=Fraction("12.5"))
    assert "12.5 m in stock at the start" in text(plan, "screw")
    assert "12.5 m  here, good" in text(plan, "screw")


@pytest.mark.parametrize("code", [part.code for part in PLAN.parts])
def test_every_piece_of_the_run_is_somewhere(code):
    (one,) = where(picture(PLAN), code).parts
    assert_all_is_somewhere(one)


@settings(max_examples=100, deadline=None)
@given(part_plans(), days)
def test_every_piece_ever_put_in_is_somewhere_whatever_was_logged(plan, today):
    if check_plan(plan, today):
        return
    try:
        seen = Picture(Forecast(plan, today))
    except Refused:
        return
    for part in plan.parts:
        view = where(seen, part.code)
        assert_all_is_somewhere(view.parts[0])
        printed(write_where, view, width=80)


@pytest.mark.parametrize("seed", range(80))
def test_places_and_balances_tell_the_same_numbers_of_good_pieces_here(seed):
    plan, today = random_material(seed)
    seen = Picture(Forecast(plan, today))
    for balance in need_view(seen).parts:
        (one,) = where(seen, balance.part).parts
        assert_all_is_somewhere(one)
        held = {
            state: sum(row.pieces for row in one.places if row.state == state)
            for state in ("here", "not judged")
        }
        assert held["here"] == balance.here or held["not judged"]


def test_pieces_of_a_job_called_off_are_still_somewhere():
    facts = (
        fact("in", "finish-natural", date(2026, 11, 23), good=40, rework=3, scrap=2),
        fact("called_off", "finish-natural", date(2026, 11, 24)),
    )
    found = where(picture(with_facts(PLAN, *facts)), "housing-natural").parts[0]
    rows = {row.state: row.pieces for row in found.places}
    assert (rows["here"], rows["in rework"], rows["scrapped"]) == (40, 3, 2)
    assert found.put_in["finish-natural"] == sum(row.pieces for row in found.places) == 45
