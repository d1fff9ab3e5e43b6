from dataclasses import replace

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.part_plans import made_parts, part_plans
from tests.plan.dial import gate, lines, ring_lines
from tests.plan.kit import BUILD, FINISH, MAGNETS, PACK, PLAN, job, only, rework, with_jobs
from tracker.plan.check_rings import ring_problems
from tracker.plan.known import Known
from tracker.plan.model import Link
from tracker.plan.parts import Take


def links(*codes):
    return tuple(Link(job=code) for code in codes)


def rings(plan):
    """What is said of rings alone; the order of jobs decides where a ring begins."""
    return [problem.found for problem in ring_problems(Known(plan=plan, today=plan.run.start))]


def test_a_ring_is_spelled_out_job_by_job():
    found = ring_lines(gate("a", "c"), gate("b", "a"), gate("c", "b"), gate("d", "a"))
    ring = "jobs wait for each other in a ring: a waits for c, c waits for b, b waits for a"
    remedy = "take one of these out of its job's after; a job that runs after a failure says on = 'fail'"
    assert found == [f"job a, after: {ring}; {remedy}"]


def test_every_separate_ring_is_listed():
    found = ring_lines(gate("a", "b"), gate("b", "a"), gate("c", "d"), gate("d", "c"))
    assert ["a waits for b, b waits for a" in found[0], "c waits for d, d waits for c" in found[1]] == [
        True
    ] * 2
    assert len(found) == 2


def test_two_rings_through_one_job_are_both_listed():
    assert len(ring_lines(gate("a", "b", "c"), gate("b", "a"), gate("c", "a"))) == 2


def test_rework_and_a_second_attempt_make_no_ring():
    assert (
        ring_lines(gate("a"), gate("redo", "a:fail"), gate("a2", "redo", retry_of="a"), gate("next", "a"))
        == []
    )


def test_rework_that_waits_for_its_gate_to_pass_closes_a_ring():
    (line,) = ring_lines(gate("a"), gate("redo", "a"), gate("a2", "redo", retry_of="a"))
    assert "redo waits for a2, a2 waits for redo" in line


def test_a_second_attempt_after_what_the_gate_holds_back_closes_a_ring():
    (line,) = ring_lines(gate("a"), gate("next", "a"), gate("a2", "next", retry_of="a"))
    assert "next waits for a2, a2 waits for next" in line


def test_what_waits_for_a_retry_of_a_retry_waits_for_all_attempts():
    jobs = (
        gate("a"),
        gate("a2", "a:fail", retry_of="a"),
        gate("a3", "next", retry_of="a2"),
        gate("next", "a"),
    )
    (line,) = ring_lines(*jobs)
    assert "next waits for a3" in line


def test_retries_of_each_other_are_a_ring():
    (line,) = ring_lines(gate("a", retry_of="b"), gate("b", retry_of="a"))
    assert "a waits for b, b waits for a" in line


def test_a_ring_through_parts_is_spelled_out_with_the_part_named():
    assert only(with_jobs(replace(BUILD, after=links("pack")))) == (
        "job build: jobs wait for each other in a ring: build waits for pack; pack takes unit, which build makes;"
        " take one of these out: a part out of takes or makes, or a job out of after"
    )


def test_a_ring_begins_with_the_job_that_stands_first():
    turned = with_jobs(replace(BUILD, after=links("pack")))
    (ring,) = rings(replace(turned, jobs=turned.jobs[::-1]))
    assert ring.endswith("ring: pack takes unit, which build makes; build waits for pack")


def test_a_ring_through_parts_alone_is_found():
    (ring,) = rings(with_jobs(replace(MAGNETS, takes=(Take(part="packed"),))))
    assert ring.endswith(
        "magnets takes packed, which pack makes; pack takes unit, which build makes; build takes magnet, which magnets makes"
    )


def test_a_taker_waits_for_every_maker_of_its_part():
    second = job("build-2", makes="unit", after=links("pack"))
    (ring,) = rings(replace(PLAN, jobs=(*PLAN.jobs, second)))
    assert ring.endswith("pack takes unit, which build-2 makes; build-2 waits for pack")


def test_a_ring_of_plain_links_keeps_its_words_in_a_plan_with_parts():
    fit = job("fit", after=links("print"), quantity=5)
    prints = job("print", after=links("fit"), quantity=5)
    (line,) = lines(replace(PLAN, jobs=(*PLAN.jobs, fit, prints)))
    assert line.startswith(
        "job fit, after: jobs wait for each other in a ring: fit waits for print, print waits for fit; take one"
    )


def test_rings_through_parts_and_through_links_are_both_listed():
    fit = job("fit", after=links("print"), quantity=5)
    prints = job("print", after=links("fit"), quantity=5)
    plan = with_jobs(replace(BUILD, after=links("pack")))
    assert len(rings(replace(plan, jobs=(*plan.jobs, fit, prints)))) == 2


def test_a_job_that_takes_what_it_makes_is_no_ring_besides():
    assert rings(with_jobs(replace(BUILD, takes=(Take(part="unit"),)))) == []


def test_a_rework_job_waits_for_the_job_whose_pieces_it_mends():
    mended = rework("strip", "build")
    plan = with_jobs(replace(BUILD, after=links("strip")))
    (ring,) = rings(replace(plan, jobs=(*plan.jobs, mended)))
    assert ring.endswith("build waits for strip; strip mends pieces of build")


@pytest.mark.parametrize("makes", ["", "unit"])
def test_rework_of_pieces_found_bad_where_they_are_used_closes_no_ring(makes):
    """Pack finds bad units, strip mends them after pack: pack does not wait for them."""
    mended = rework("strip", "build", makes=makes, after=links("pack"))
    assert rings(replace(PLAN, jobs=(*PLAN.jobs, mended))) == []


def test_rework_found_bad_further_down_closes_no_ring():
    post = job("post", takes="packed", quantity=80)
    mended = rework("strip", "build", after=links("post"))
    assert rings(replace(PLAN, jobs=(*PLAN.jobs, post, mended))) == []


def test_a_check_that_takes_pieces_and_sends_them_to_rework_closes_no_ring():
    check = replace(job("check", takes="unit", quantity=5), gate=True)
    after = (Link(job="check", on="fail"),)
    again = replace(job("check-2", takes="unit", quantity=5, after=links("strip")), retry_of="check")
    mended = rework("strip", "build", after=after)
    assert rings(replace(PLAN, jobs=(*PLAN.jobs, check, mended, again))) == []


def test_two_rework_jobs_of_one_part_that_list_it_among_their_takes_close_no_ring():
    mended = (rework("strip", "build", takes="unit"), rework("strip-2", "build", takes="unit"))
    assert rings(replace(PLAN, jobs=(*PLAN.jobs, *mended))) == []


def test_two_rework_jobs_after_each_others_takers_close_no_ring_in_either_order():
    post = job("post", takes="unit", quantity=80)
    mended = (rework("strip", "build", after=links("pack")), rework("strip-2", "build", after=links("post")))
    for jobs in (mended, mended[::-1]):
        assert rings(replace(PLAN, jobs=(*PLAN.jobs, post, *jobs))) == []


def test_a_taker_waits_for_rework_that_does_not_wait_for_it():
    """Links to strip from build and pack: only build stands before the pieces that strip mends."""
    mended = rework("strip", "build")
    plan = with_jobs(replace(PACK, after=links("strip")), replace(BUILD, after=links("strip")), mended)
    (ring,) = rings(plan)
    assert ring.endswith("build waits for strip; strip mends pieces of build")
    assert rings(with_jobs(replace(PACK, after=links("strip")), mended)) == []


def test_a_rework_ring_by_links_is_found():
    mended = rework("strip", "finish", after=links("strip-2"))
    other = rework("strip-2", "finish", after=links("strip"))
    (ring,) = rings(replace(PLAN, jobs=(*PLAN.jobs, FINISH, mended, other)))
    assert ring.endswith("strip waits for strip-2, strip-2 waits for strip")


@st.composite
def plans_with_late_rework(draw):
    """A plan without gates whose rework jobs wait for any job, before or after them in the plan."""
    plan = draw(part_plans(max_facts=0))
    codes = [one.code for one in plan.jobs]
    jobs = []
    for one in plan.jobs:
        after = links(draw(st.sampled_from([code for code in codes if code != one.code] or [""])))
        late = one.rework_of and after != links("")
        jobs.append(replace(one, gate=False, retry_of="", after=after if late else one.after))
    return replace(plan, jobs=tuple(jobs))


@settings(max_examples=100, deadline=None)
@given(plans_with_late_rework())
def test_a_ring_is_found_exactly_where_there_is_one_without_waiting_for_rework(plan):
    """Checked against networkx on links, takers of what plain jobs make, and the jobs that rework mends for."""
    graph = nx.DiGraph()
    for one in plan.jobs:
        graph.add_edges_from((one.code, link.job) for link in one.after)
        mends = made_parts(plan.jobs, one) if one.rework_of else ()
        taken = [take.part for take in one.takes if take.part not in mends]
        makers = [maker for part in taken for maker in plan.makers_of.get(part, ())]
        others = [maker.code for maker in makers if not maker.rework_of]
        mended = [one.rework_of] if one.rework_of else []
        graph.add_edges_from((one.code, other) for other in (*others, *mended))
    assert bool(rings(plan)) == (not nx.is_directed_acyclic_graph(graph))
    assert bool(rings(plan)) == bool(rings(replace(plan, jobs=plan.jobs[::-1])))
