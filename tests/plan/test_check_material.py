from dataclasses import replace
from fractions import Fraction

import pytest

from tests.plan.dial import lines
from tests.plan.kit import BUILD, MAGNETS, PACK, PLAN, job, of, only, rework, with_job, with_jobs
from tracker.plan.check_material import pieces_put_in
from tracker.plan.parts import Make, Take


def makes(**shares):
    return tuple(Make(part=part, quantity=quantity) for part, quantity in shares.items())


@pytest.mark.parametrize(
    ("plan", "line"),
    [
        pytest.param(
            with_job(takes=of(magnt=2)),
            "job build, takes: there is no part 'magnt'; did you mean magnet?",
            id="takes a part misspelt",
        ),
        pytest.param(
            with_job(takes=of(zebra=2)),
            "job build, takes: there is no part 'zebra'; add part zebra, or correct the name",
            id="takes a part like no other",
        ),
        pytest.param(
            with_job(takes=of(magnets=2)),
            "job build, takes: 'magnets' is a job; expected a part; name a part here",
            id="takes a job",
        ),
        pytest.param(
            with_job(MAGNETS, makes=makes(magnett=None)),
            "job magnets, makes: there is no part 'magnett'; did you mean magnet?",
            id="makes a part misspelt",
        ),
        pytest.param(
            with_job(takes=of(magnet="1.5")),
            "job build, takes magnet: is 1.5, but magnet is counted in whole pieces;"
            " give a whole number, or write in part magnet what it is measured in, such as unit = 'm'",
            id="takes a piece and a half",
        ),
        pytest.param(
            with_job(takes=of(tape=0)),
            "job build, takes tape: is 0; expected more than 0; correct the number",
            id="takes nothing of a part",
        ),
        pytest.param(
            with_job(takes=of(tape="-0.35")),
            "job build, takes tape: is -0.35; expected more than 0; correct the number",
            id="takes less than nothing",
        ),
        pytest.param(
            with_job(takes=of(tape=10**10)),
            "job build, takes tape: is 10000000000; expected 1000000000 at most; correct the number",
            id="takes more than can be meant",
        ),
        pytest.param(
            with_job(takes=(Take(part="screw"), Take(part="screw", per=Fraction(6)))),
            "job build, takes: names screw twice; keep one of the two",
            id="takes a part twice",
        ),
        pytest.param(
            with_job(makes=makes(unit=5, lid=5) + makes(unit=5)),
            "job build, makes: names unit twice; keep one of the two",
            id="makes a part twice",
        ),
        pytest.param(
            with_job(takes=of(unit=1)),
            "job build, takes: takes unit, which build makes itself;"
            " take it out of takes or out of makes; a job that mends pieces of another says rework_of",
            id="takes what it makes",
        ),
        pytest.param(
            with_job(takes=(Take(part="screw", into="unti"),)),
            "job build, takes: screw goes into 'unti', which build does not make; did you mean unit?",
            id="into a part misspelt",
        ),
        pytest.param(
            with_job(takes=(Take(part="screw", into="magnet"),)),
            "job build, takes: screw goes into 'magnet', which build does not make; name one of unit",
            id="into another job's part",
        ),
        pytest.param(
            with_jobs(job("look", takes=(Take(part="screw", into="unit"),), quantity=5)),
            "job look, takes: screw goes into 'unit', which look does not make; take into out, or write makes as well",
            id="into a part where nothing is made",
        ),
        pytest.param(
            with_jobs(job("look", takes="unit")),
            "job look, takes: takes parts, but nothing says for how many pieces: it makes no part and has no quantity;"
            " write quantity = the number of pieces, or makes = the part it makes",
            id="a taker with no count",
        ),
        pytest.param(
            with_job(makes=makes(unit=74, lid=None)),
            "job build, makes: does not say how many pieces are for lid;"
            " give each part its share, such as makes = { unit = 74, lid = N }",
            id="a share missing",
        ),
        pytest.param(
            with_job(makes=makes(unit=None, lid=None), quantity=160),
            "job build, makes: does not say how many pieces are for unit, lid;"
            " give each part its share, such as makes = { unit = N, lid = N }",
            id="all shares missing",
        ),
        pytest.param(
            with_job(makes=makes(unit=74, lid=86), quantity=150),
            "job build, makes: comes to 160 pieces (74 + 86), but quantity is 150;"
            " correct one of the two, or leave quantity out",
            id="shares that do not add up",
        ),
        pytest.param(
            with_job(makes=makes(unit=74), quantity=70),
            "job build, makes: comes to 74 pieces, but quantity is 70; correct one of the two, or leave quantity out",
            id="a share beside the quantity",
        ),
        pytest.param(
            with_job(makes=makes(unit=0, lid=5)),
            "job build, makes unit: is 0; expected 1 or more; correct the number",
            id="a share of nothing",
        ),
    ],
)
def test_each_problem_of_takes_and_makes_names_place_finding_and_remedy(plan, line):
    assert only(plan) == line


@pytest.mark.parametrize(
    "plan",
    [
        pytest.param(with_job(takes=of(tape="0.35")), id="a third of a metre"),
        pytest.param(with_job(makes=makes(unit=74, lid=86)), id="shares without a quantity"),
        pytest.param(with_job(makes=makes(unit=74, lid=86), quantity=160), id="shares that add up"),
        pytest.param(with_job(makes=makes(unit=74)), id="one share"),
        pytest.param(with_job(takes=(Take(part="screw", into="unit"),)), id="into what it makes"),
        pytest.param(with_jobs(job("look", takes="unit", quantity=5)), id="a taker with a count"),
        pytest.param(with_jobs(rework("strip", "build", takes="unit")), id="rework that lists what it mends"),
        pytest.param(
            with_jobs(rework("strip", "build", takes=(Take(part="screw", into="unit"),))),
            id="into what rework makes",
        ),
    ],
)
def test_parts_that_fit_are_taken(plan):
    assert lines(plan) == []


@pytest.mark.parametrize(
    "changes",
    [
        {"takes": of(magnet=1), "makes": ()},
        {"takes": (Take(part="screw", into="gone"),)},
    ],
)
def test_what_an_entry_leaves_out_is_not_missed_where_it_could_not_be_read(changes):
    plan = replace(PLAN, jobs=(MAGNETS, replace(BUILD, **changes), PACK))
    assert lines(plan, frozenset({"build"})) == []


def test_a_part_that_could_not_be_read_may_be_measured():
    assert lines(with_job(takes=of(magnet="1.5")), frozenset({"magnet"})) == []


@pytest.mark.parametrize(
    ("changes", "pieces"),
    [
        ({"quantity": 5}, 5),
        ({"makes": makes(unit=74, lid=86)}, 160),
        ({"makes": makes(unit=74, lid=86), "quantity": 150}, 150),
        ({"makes": makes(unit=74, lid=None)}, None),
        ({"makes": ()}, None),
        ({}, None),
    ],
)
def test_pieces_are_the_quantity_else_the_sum_of_all_shares(changes, pieces):
    assert pieces_put_in(replace(BUILD, **changes)) == pieces
