from fractions import Fraction

import pytest

from tests.plan.dial import lines
from tests.plan.kit import MAGNETS, job, only, rework, with_job, with_jobs
from tracker.plan.parts import Make


def percent(number):
    return Fraction(number, 100)


@pytest.mark.parametrize(
    ("changes", "line"),
    [
        ({"yields": percent(0)}, "yield: is 0; expected more than 0 and 1 at most; write the share that comes out good, such as 0.95 or 95%"),
        ({"yields": percent(105)}, "yield: is 1.05; expected more than 0 and 1 at most; write the share that comes out good, such as 0.95 or 95%"),
        ({"lots": 0}, "lots: is 0; expected 1 or more; give the number of lots, or their sizes such as [100, 75]"),
        ({"lots": -4}, "lots: is -4; expected 1 or more; give the number of lots, or their sizes such as [100, 75]"),
        ({"lots": 1001, "quantity": None}, "lots: is 1001; expected 1000 at most; give the number of lots, or their sizes such as [100, 75]"),
        ({"lots": 521}, "lots: cuts 520 pieces into 521 lots; give fewer lots; sizes stand in brackets, such as [100, 75]"),
        ({"lots": ()}, "lots: names no lot; give the sizes, such as [100, 75], or take it out"),
        ({"lots": (520, 0)}, "lots 0: is 0; expected 1 or more; correct the number"),
        ({"lots": (500, -20)}, "lots -20: is -20; expected 1 or more; correct the number"),
        ({"lots": (300, 200)}, "lots: come to 500 pieces, but quantity is 520; correct the sizes or the quantity"),
        ({"serves": ("wave-2",)}, "serves: there is no shipment 'wave-2'; did you mean wave-1?"),
        ({"serves": ("build",)}, "serves: 'build' is a job; expected a shipment; name a shipment here"),
        ({"serves": ("wave-1", "wave-1")}, "serves: names wave-1 twice; keep one of the two"),
        ({"unders": percent(100)}, "unders: is 100%; expected 0% or more and less than 100%; write how far the count may differ, such as 10%"),
        ({"unders": percent(-5)}, "unders: is -5%; expected 0% or more and less than 100%; write how far the count may differ, such as 10%"),
        ({"overs": percent(110)}, "overs: is 110%; expected 0% to 100%; write how far the count may differ, such as 10%"),
        ({"overs": percent(-5)}, "overs: is -5%; expected 0% to 100%; write how far the count may differ, such as 10%"),
    ],
)  # fmt: skip
def test_each_problem_of_yield_and_lots_names_place_finding_and_remedy(changes, line):
    assert only(with_job(MAGNETS, **changes)) == f"job magnets, {line}"


@pytest.mark.parametrize(
    "changes",
    [
        {"yields": percent(100)},
        {"yields": percent(1)},
        {"lots": 1},
        {"lots": 520},
        {"lots": 1000, "quantity": None},
        {"lots": (300, 220)},
        {"lots": (7, 7), "quantity": None},
        {"lots": "shipments"},
        {"one_by_one": True},
        {"serves": ("wave-1",)},
        {"rerun": True},
        {"unders": percent(99), "overs": percent(100)},
    ],
)
def test_yields_and_lots_up_to_their_bounds_are_taken(changes):
    assert lines(with_job(MAGNETS, **changes)) == []


def test_sizes_add_up_to_the_shares_where_there_is_no_quantity():
    shares = (Make(part="magnet", quantity=74), Make(part="lid", quantity=86))
    assert lines(with_job(MAGNETS, quantity=None, makes=shares, lots=(80, 80))) == []
    assert "come to 150 pieces, but quantity is 160" in only(
        with_job(MAGNETS, quantity=None, makes=shares, lots=(80, 70))
    )


@pytest.mark.parametrize(
    ("key", "changes"),
    [
        ("yield", {"yields": percent(95)}),
        ("lots", {"lots": 2}),
        ("lots", {"lots": "shipments"}),
        ("one_by_one", {"one_by_one": True}),
        ("serves", {"serves": ("wave-1",)}),
        ("rerun", {"rerun": True}),
        ("unders", {"unders": percent(10)}),
        ("overs", {"overs": percent(10)}),
    ],
)
def test_a_job_that_makes_nothing_has_no_yield_and_no_lots(key, changes):
    look = job("look", takes="unit", quantity=5, **changes)
    assert only(with_jobs(look)) == (
        f"job look, {key}: says nothing, since look makes no part; write makes = the part it makes, or take {key} out"
    )
    assert lines(with_jobs(look), frozenset({"look"})) == []


def test_rework_that_makes_what_its_parent_makes_may_have_a_yield_and_lots():
    assert lines(with_jobs(rework("strip", "build", yields=percent(80), lots=2))) == []
