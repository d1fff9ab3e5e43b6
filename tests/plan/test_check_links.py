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


def test_an_attempt_that_waits_for_another_to_pass_is_one_problem():
    (line,) = ring_lines(gate("a"), gate("a2", "a", retry_of="a"), gate("a3", "a2:fail", retry_of="a"))
    assert line.startswith("job a2, after: waits for a to pass, yet is there for the case that it fails")
    (line,) = ring_lines(gate("a"), gate("a2", "a:fail", retry_of="a"), gate("a3", "a2", retry_of="a"))
    assert line.startswith("job a3, after: waits for a2 to pass")


def test_start_start_beside_finish_finish_is_no_double_link():
    links = (Link(job="fit", kind="start-start"), Link(job="fit", kind="finish-finish"))
    assert lines(with_job(PACK, after=links)) == []
