from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest
from hypothesis import given, settings

from tests.part_plans import part_plans
from tests.plan.dial import lines
from tests.plan.kit import (
    BUILD,
    PARTS,
    PLAN,
    job,
    of,
    only,
    rework,
    with_fact,
    with_job,
    with_jobs,
    with_part,
    with_wave,
)
from tracker.plan.checks import check_plan
from tracker.plan.parts import Content, Make, Part


def test_a_sound_plan_with_parts_has_no_problem():
    assert lines(PLAN) == []


@pytest.mark.parametrize(
    ("plan", "line"),
    [
        pytest.param(
            replace(PLAN, run=replace(PLAN.run, unit="units")),
            "run dial-1, unit: there is no part 'units'; did you mean unit?",
            id="a unit misspelt",
        ),
        pytest.param(
            replace(PLAN, run=replace(PLAN.run, unit="build")),
            "run dial-1, unit: 'build' is a job; expected a part; name a part here",
            id="a job for a unit",
        ),
        pytest.param(
            replace(PLAN, parts=(*PARTS, Part(code="scrap"))),
            "part scrap: the code 'scrap' is a word of the command line; choose another, such as scrap-1",
            id="a part with a reserved word for a code",
        ),
        pytest.param(
            replace(PLAN, parts=(*PARTS, Part(code="Mill"))),
            "part Mill: the code is taken by supplier mill;"
            " choose another; run, suppliers, parts, jobs, shipments and options share one list, capitals aside",
            id="a part called like a supplier",
        ),
        pytest.param(
            with_jobs(job("lid", quantity=1)),
            "job lid: the code is taken by part lid;"
            " choose another; run, suppliers, parts, jobs, shipments and options share one list, capitals aside",
            id="a job called like a part",
        ),
        pytest.param(
            with_part("screw", here=Fraction(5, 2)),
            "part screw, here: is 2.5, but screw is counted in whole pieces;"
            " give a whole number, or write what it is measured in, such as unit = 'm'",
            id="half a piece in stock",
        ),
        pytest.param(
            with_part("tape", here=Fraction(-1, 2)),
            "part tape, here: is -0.5; expected 0 or more; correct the number",
            id="less than nothing in stock",
        ),
        pytest.param(
            with_part("screw", here=Fraction(10**10)),
            "part screw, here: is 10000000000; expected 1000000000 at most; correct the number",
            id="more in stock than can be meant",
        ),
        pytest.param(
            with_part("unit", spares=-1),
            "part unit, spares: is -1; expected 0 or more; correct the number",
            id="fewer than no spares",
        ),
        pytest.param(
            with_part("unit", moq=0),
            "part unit, moq: is 0; expected 1 or more; correct the number",
            id="an order of nothing",
        ),
        pytest.param(
            with_part("unit", multiple=0),
            "part unit, multiple: is 0; expected 1 or more; correct the number",
            id="multiples of nothing",
        ),
        pytest.param(
            with_part("screw", here=Fraction(0)),
            "part screw: build takes it, but no job makes it and none is here;"
            " write makes = 'screw' in the job that brings it, or here = the number in stock",
            id="a part nobody makes",
        ),
        pytest.param(
            with_wave(contents=(Content(part="tape", quantity=80),)),
            None,
            id="a shipment of what is in stock",
        ),
        pytest.param(
            with_wave(contents=(Content(part="lid", quantity=80),)),
            "part lid: wave-1 contains it, but no job makes it and none is here;"
            " write makes = 'lid' in the job that brings it, or here = the number in stock",
            id="a shipment of what nobody makes",
        ),
        pytest.param(
            with_jobs(job("lids", quantity=4), replace(BUILD, takes=of(lid=1))),
            "part lid: build takes it, but no job makes it and none is here;"
            " write makes = 'lid' in job lids, or here = the number in stock",
            id="a part with a job of a like name",
        ),
        pytest.param(
            with_jobs(replace(BUILD, rerun=True), job("build-2", makes="unit", rerun=True)),
            "part unit: build and build-2 would all make it again for a shortage; leave rerun = true in one of them",
            id="two jobs for one shortage",
        ),
    ],
)
def test_each_problem_of_a_part_names_place_finding_and_remedy(plan, line):
    assert lines(plan) == ([] if line is None else [line])


@pytest.mark.parametrize("code", ["lid", "tape"])
def test_a_part_that_nobody_takes_needs_no_maker(code):
    assert lines(with_part(code, here=Fraction(0))) == []


def test_a_part_nobody_makes_is_one_problem_however_many_take_it():
    others = (job("test", takes="screw", quantity=1), job("trial", takes="screw", quantity=1))
    plan = replace(with_part("screw", here=Fraction(0)), jobs=(*PLAN.jobs, *others))
    assert only(plan).startswith("part screw: build takes it")


def test_one_maker_may_be_marked_for_shortages_and_spares_may_be_none():
    plan = with_jobs(replace(BUILD, rerun=True), job("build-2", makes="unit"))
    assert lines(plan) == []
    assert lines(with_part("unit", spares=0, moq=1, multiple=1)) == []


def test_a_part_that_rework_makes_alone_has_a_maker():
    lids = replace(job("lids", makes="lid"), makes=(Make(part="lid"),))
    assert lines(with_jobs(lids, rework("strip", "lids"))) == []


def test_who_makes_a_part_is_not_asked_while_an_entry_could_not_be_read():
    plan = with_part("screw", here=Fraction(0))
    assert lines(plan, frozenset({"screws"})) == []


def test_a_measure_may_stand_where_the_part_could_not_be_read():
    assert lines(with_part("screw", here=Fraction(5, 2)), frozenset({"screw"})) == []


@pytest.mark.parametrize(
    ("plan", "line"),
    [
        pytest.param(
            with_fact("in", job="magnets", good=5, part="magnt"),
            "fact in magnets 2026-06-30, part: counts 'magnt', which magnets does not make; did you mean magnet?",
            id="a count of a part misspelt",
        ),
        pytest.param(
            with_fact("made", job="build", good=5, part="magnet"),
            "fact made build 2026-06-30, part: counts 'magnet', which build does not make; name one of unit",
            id="a count of another job's part",
        ),
        pytest.param(
            with_fact("posted", shipment="wave-1", good=5, part="lid"),
            "fact posted wave-1 2026-06-30, part: counts 'lid', which is not in wave-1; name one of packed",
            id="posted what is not in the shipment",
        ),
        pytest.param(
            with_fact("scrapped", part="screws", scrap=5),
            "fact scrapped screws 2026-06-30: there is no part 'screws'; did you mean screw?",
            id="scrap of an unknown part",
        ),
        pytest.param(
            with_fact("scrapped", part="screw", scrap=5, job="bild"),
            "fact scrapped screw 2026-06-30: there is no job 'bild'; did you mean build?",
            id="found at an unknown job",
        ),
        pytest.param(
            with_fact("scrapped", part="screw", job="build"),
            "fact scrapped screw 2026-06-30: does not say how many pieces were scrapped; a fact 'scrapped' needs it",
            id="scrap without a number",
        ),
        pytest.param(
            with_fact("scrapped", scrap=5, job="build"),
            "fact scrapped 2026-06-30: does not say a part; a fact 'scrapped' needs it",
            id="scrap of nothing",
        ),
        pytest.param(
            with_fact("scrapped", part="screw", scrap=0),
            "fact scrapped screw 2026-06-30: scraps no pieces; say how many were scrapped",
            id="no pieces scrapped",
        ),
        pytest.param(
            with_fact("scrapped", part="screw", scrap=10**10),
            "fact scrapped screw 2026-06-30, scrap: is 10000000000; expected 1000000000 at most; correct the number",
            id="more scrap than can be meant",
        ),
        pytest.param(
            with_fact("started", job="build", part="lid"),
            "fact started build 2026-06-30: a fact 'started' has no part; take it out; beside its day it has job and note",
            id="a part where no pieces are counted",
        ),
    ],
)
def test_each_problem_of_a_part_in_a_fact_names_place_finding_and_remedy(plan, line):
    assert only(plan) == line


@pytest.mark.parametrize(
    "plan",
    [
        with_fact("in", job="magnets", good=5, part="magnet"),
        with_fact("sorted", job="magnets", good=5, part="magnet"),
        with_fact("posted", shipment="wave-1", good=5, part="packed"),
        with_fact("scrapped", part="screw", scrap=1),
        with_fact("scrapped", part="unit", scrap=1, job="pack"),
        with_fact("left", job="magnets", good=5),
    ],
)
def test_counts_of_what_a_job_makes_and_scrap_found_anywhere_are_taken(plan):
    assert lines(plan) == []


def test_a_count_of_rework_speaks_of_what_the_mended_job_makes():
    plan = with_jobs(rework("strip", "build"))
    facts = with_fact("in", job="strip", good=5, part="unit").facts
    assert lines(replace(plan, facts=facts)) == []


def test_a_part_counted_for_a_job_that_could_not_be_read_is_not_reported():
    plan = with_fact("in", job="magnets", good=5, part="unit")
    assert lines(plan, frozenset({"magnets"})) == []
    assert lines(with_fact("in", job="nobody", good=5, part="unit"), frozenset({"nobody"})) == []


def test_a_part_counted_for_an_unknown_job_is_one_problem():
    assert only(with_fact("in", job="magnts", good=5, part="unit")).endswith("did you mean magnets?")


def test_pieces_of_a_job_that_makes_nothing_have_no_part():
    assert only(
        replace(
            with_job(code="look", takes=(), makes=(), quantity=5),
            facts=with_fact("in", job="look", good=5, part="unit").facts,
        )
    ) == ("fact in look 2026-06-30, part: counts 'unit', which look does not make; take part out")


@settings(max_examples=60, deadline=None)
@given(part_plans())
def test_plans_whose_parts_fit_together_have_no_problem_of_parts(plan):
    """What is left to find in a drawn plan are doubled days and what second attempts at gates bring about."""
    found = check_plan(plan, date(2030, 1, 1))
    known = ("twice", "ring", "yet is there for the case that it fails")
    assert [str(problem) for problem in found if not any(word in problem.found for word in known)] == []
    assert not [
        problem for problem in found if problem.place.endswith(("takes", "makes", "contents", "serves"))
    ]
