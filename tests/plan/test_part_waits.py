from tests.plan.kit import PLAN, job, of, rework, with_job, with_jobs
from tracker.plan.part_waits import part_waits


def test_takers_wait_for_every_maker_of_each_part_they_take():
    waits = part_waits(with_jobs(rework("strip", "build")), {})
    assert waits == {
        "magnets": {},
        "build": {"magnets": "magnet"},
        "pack": {"build": "unit", "strip": "unit"},
        "strip": {"build": ""},
    }


def test_a_taker_does_not_wait_for_rework_that_waits_for_the_taker():
    plan = with_jobs(rework("strip", "build"))
    assert part_waits(plan, {"strip": ("pack",)})["pack"] == {"build": "unit"}


def test_rework_waits_for_the_makers_of_other_parts_it_takes():
    plan = with_jobs(rework("strip", "build", takes=of(unit=1, magnet=1)))
    assert part_waits(plan, {})["strip"] == {"build": "", "magnets": "magnet"}


def test_rework_that_lists_the_part_it_mends_waits_for_no_other_maker_of_it():
    plan = with_jobs(job("build-2", makes="unit"), rework("strip", "build", takes="unit"))
    assert part_waits(plan, {})["strip"] == {"build": ""}


def test_unknown_jobs_and_the_job_itself_are_not_waited_for():
    plan = with_jobs(*with_job(takes=of(unit=1, nothing=1)).jobs, rework("strip", "bild"))
    assert (part_waits(plan, {})["build"], part_waits(plan, {})["strip"]) == ({}, {})


def test_jobs_that_count_no_pieces_are_left_out():
    counted = {one.code for one in PLAN.jobs if one.counts_pieces}
    plan = with_job(code="look", takes=(), makes=())
    assert part_waits(plan, {}).keys() == counted
