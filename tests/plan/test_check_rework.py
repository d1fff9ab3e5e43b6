from dataclasses import replace

import pytest

from tests.plan.dial import lines
from tests.plan.kit import BUILD, job, only, rework, with_jobs
from tracker.plan.parts import Make

VARIANTS = replace(BUILD, makes=(Make(part="unit", quantity=74), Make(part="lid", quantity=86)))
BOTH = (Make(part="unit", quantity=2), Make(part="lid", quantity=3))
LOOK = job("look", quantity=5)


@pytest.mark.parametrize(
    ("plan", "line"),
    [
        pytest.param(
            with_jobs(rework("strip", "bild")),
            "job strip, rework_of: there is no job 'bild'; did you mean build?",
            id="rework of an unknown job",
        ),
        pytest.param(
            with_jobs(rework("strip", "unit")),
            "job strip, rework_of: 'unit' is a part; expected a job; name a job here",
            id="rework of a part",
        ),
        pytest.param(
            with_jobs(rework("strip", "strip")),
            "job strip, rework_of: strip is rework of itself; name the job whose pieces it mends",
            id="rework of itself",
        ),
        pytest.param(
            with_jobs(LOOK, rework("strip", "look")),
            "job strip, rework_of: look makes no part, so no pieces of it can be mended;"
            " write makes = the part it makes in job look",
            id="rework of a job that makes nothing",
        ),
        pytest.param(
            with_jobs(rework("strip", "build", quantity=None)),
            "job strip, quantity: does not say how many pieces go in; write quantity = the pieces of build that it mends",
            id="rework of no number of pieces",
        ),
        pytest.param(
            with_jobs(rework("strip", "build", makes="magnet")),
            "job strip, makes: makes magnet, but build, whose pieces it mends, makes unit; write makes = 'unit'",
            id="rework into another part",
        ),
        pytest.param(
            with_jobs(VARIANTS, rework("strip", "build", makes="magnet")),
            "job strip, makes: makes magnet, but build, whose pieces it mends, makes unit, lid; name one of unit, lid",
            id="rework into another part than the variants",
        ),
        pytest.param(
            with_jobs(VARIANTS, rework("strip", "build")),
            "job strip, makes: does not say which part of build it mends; write makes = one of unit, lid",
            id="rework of one of several parts",
        ),
        pytest.param(
            with_jobs(rework("strip", "build", rerun=True)),
            "job strip, rerun: mends pieces of build and makes no new ones, so it cannot cover a shortage;"
            " write rerun = true in the job that makes new ones",
            id="rework for a shortage",
        ),
        pytest.param(
            with_jobs(replace(BUILD, rerun=True), rework("strip", "build", rerun=True)),
            "job strip, rerun: mends pieces of build and makes no new ones, so it cannot cover a shortage;"
            " write rerun = true in the job that makes new ones",
            id="rework for a shortage beside its parent",
        ),
        pytest.param(
            with_jobs(rework("strip", "build", makes="unti")),
            "job strip, makes: there is no part 'unti'; did you mean unit?",
            id="rework into a part misspelt",
        ),
        pytest.param(
            with_jobs(LOOK, rework("strip", "look", takes="unit", lots=2)),
            "job strip, rework_of: look makes no part, so no pieces of it can be mended;"
            " write makes = the part it makes in job look",
            id="rework with lots of a job that makes nothing",
        ),
    ],
)
def test_each_problem_of_rework_names_place_finding_and_remedy(plan, line):
    assert only(plan) == line


@pytest.mark.parametrize(
    "jobs",
    [
        pytest.param((rework("strip", "build"),), id="what it makes left out"),
        pytest.param((rework("strip", "build", makes="unit"),), id="what it makes said"),
        pytest.param(
            (rework("strip", "build"), rework("strip-2", "strip")), id="rework of rework says nothing"
        ),
        pytest.param((VARIANTS, rework("strip", "build", makes="lid")), id="one of several parts"),
        pytest.param((VARIANTS, replace(rework("strip", "build"), makes=BOTH)), id="several parts"),
        pytest.param(
            (rework("strip", "build"), rework("strip-2", "strip", makes="unit")), id="rework of rework"
        ),
    ],
)
def test_rework_that_makes_what_its_parent_makes_is_taken(jobs):
    assert lines(with_jobs(*jobs)) == []


def test_rework_that_takes_parts_for_no_number_of_pieces_is_told_so_once():
    counted = with_jobs(LOOK, rework("strip", "look", takes="unit", quantity=None))
    assert [line.partition(":")[0] for line in lines(counted)] == [
        "job strip, quantity",
        "job strip, rework_of",
    ]


def test_nothing_is_said_of_rework_whose_entry_or_parent_could_not_be_read():
    assert (
        lines(with_jobs(rework("strip", "build", quantity=None, makes="magnet")), frozenset({"strip"})) == []
    )
    assert lines(with_jobs(rework("strip", "build", makes="magnet")), frozenset({"build"})) == []
    assert lines(with_jobs(rework("strip", "gone")), frozenset({"gone"})) == []
