import pytest

from tests.plan.dial import FIT, PACK, gate, lines, only, ring_lines, with_job
from tracker.plan.model import Link


@pytest.mark.parametrize(
    ("plan", "line"),
    [
        pytest.param(
            with_job(after=(Link(job="housing"),)),
            "job housing, after: housing waits for itself; take it out, or name the job that was meant",
            id="a job that waits for itself",
        ),
        pytest.param(
            with_job(PACK, after=(Link(job="fit"), Link(job="fit", on="fail"))),
            "job pack, after: names fit twice (finish-start); keep one of the two",
            id="a link twice",
        ),
        pytest.param(
            with_job(PACK, after=(Link(job="fti"),)),
            "job pack, after: there is no job 'fti'; did you mean fit?",
            id="a job misspelt",
        ),
        pytest.param(
            with_job(PACK, after=(Link(job="zebra"),)),
            "job pack, after: there is no job 'zebra'; add job zebra, or correct the name",
            id="a job like no other",
        ),
        pytest.param(
            with_job(PACK, after=(Link(job="housing", on="fail"),)),
            "job pack, after: runs after housing has failed, but housing is no gate and cannot fail;"
            " write gate = true in job housing, or take out on = 'fail'",
            id="after the failure of what cannot fail",
        ),
        pytest.param(
            with_job(FIT, retry_of="fit"),
            "job fit, retry_of: fit is a retry of itself; name the gate that failed first",
            id="a retry of itself",
        ),
        pytest.param(
            with_job(PACK, after=(), retry_of="housing"),
            "job pack, retry_of: housing is no gate, so there is nothing to retry; write gate = true in job housing",
            id="a retry of what is no gate",
        ),
        pytest.param(
            with_job(PACK, retry_of="fit"),
            "job pack, after: waits for fit to pass, yet is there for the case that it fails;"
            " wait for the rework instead, or run after fit on = 'fail'",
            id="a retry that waits for a pass",
        ),
    ],
)
def test_each_problem_of_a_link_names_place_finding_and_remedy(plan, line):
    assert only(plan) == line


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


def test_an_attempt_that_waits_for_another_to_pass_is_one_problem():
    (line,) = ring_lines(gate("a"), gate("a2", "a", retry_of="a"), gate("a3", "a2:fail", retry_of="a"))
    assert line.startswith("job a2, after: waits for a to pass, yet is there for the case that it fails")
    (line,) = ring_lines(gate("a"), gate("a2", "a:fail", retry_of="a"), gate("a3", "a2", retry_of="a"))
    assert line.startswith("job a3, after: waits for a2 to pass")


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


def test_start_start_beside_finish_finish_is_no_double_link():
    links = (Link(job="fit", kind="start-start"), Link(job="fit", kind="finish-finish"))
    assert lines(with_job(PACK, after=links)) == []
