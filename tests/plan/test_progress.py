"""What logged facts add up to for one job, before any date is worked out."""

import pytest

from tests.build import MONDAY, day, fact, plan
from tracker.plan.gates import gates_of
from tracker.plan.model import Link
from tracker.plan.progress import NOTHING, progress_of

DAY_0 = MONDAY.toordinal()


def progress(*facts, on=30, **changes):
    one = plan("a:5@shop", facts=facts, jobs={"a": changes})
    return progress_of(one, one.jobs[0], day(on))


def test_a_job_without_facts_has_nothing_logged():
    assert progress() is NOTHING


def test_facts_after_the_day_looked_at_do_not_count():
    assert progress(fact("started", "a", 5), on=4).started is None
    assert progress(fact("started", "a", 5), on=5).started == DAY_0 + 5


def test_pieces_add_up_by_what_they_were_found_to_be():
    found = progress(
        fact("in", "a", 2, good=5, rework=2, scrap=1),
        fact("in", "a", 3, count=10),
        fact("sorted", "a", 4, good=4),
        quantity=99,
    )
    assert (found.good, found.rework, found.scrap, found.unjudged, found.received) == (9, 2, 1, 6, 18)


def test_facts_count_in_the_order_they_happened_not_as_logged():
    found = progress(fact("resumed", "a", 8), fact("paused", "a", 3))
    assert (found.pauses, found.paused) == ([(DAY_0 + 3, DAY_0 + 8)], False)


def test_an_over_delivery_leaves_the_day_it_was_done():
    found = progress(fact("in", "a", 2, good=100), fact("in", "a", 9, good=5), quantity=100)
    assert found.done == DAY_0 + 2


@pytest.mark.parametrize(
    ("facts", "live"),
    [
        ([fact("promised", "a", 1, day=9), fact("promised", "a", 2, day=8)], 8),
        ([fact("promised", "a", 2, day=8), fact("promised", "a", 1, day=9)], 8),
        ([fact("promised", "a", 1, day=9), fact("in", "a", 3)], None),
        ([fact("promised", "a", 1, day=9), fact("in", "a", 3), fact("promised", "a", 4, day=12)], 12),
        ([fact("promised", "a", 1, day=9), fact("in", "a", 3, good=1, closes=True)], None),
    ],
    ids=["latest given", "logged late", "received", "promised again", "closed short"],
)
def test_the_live_promise(facts, live):
    found = progress(*facts).promise
    assert (found and found.day - DAY_0) == live


def test_a_start_after_a_failure_begins_another_attempt():
    facts = (fact("started", "a", 1), fact("failed", "a", 2), fact("started", "a", 5))
    assert progress(*facts, gate=True).started == DAY_0 + 5


def test_a_second_start_of_one_attempt_is_not_a_start():
    assert progress(fact("started", "a", 1), fact("started", "a", 5)).started == DAY_0 + 1


def test_a_gate_alone_opens_itself_and_a_failed_family_its_next_attempt():
    jobs = {
        "fit": {"gate": True},
        "refit": {"gate": True, "retry_of": "fit"},
        "third": {"gate": True, "retry_of": "refit"},
        "rework": {"after": (Link(job="fit", on="fail"),)},
        "other": {"gate": True},
    }
    text = "fit:1 refit:1 third:1 rework:1 other:1"
    facts = [fact("failed", "fit", 1), fact("failed", "refit", 2), fact("passed", "third", 3)]
    opener = [gates_of(plan(text, jobs=jobs, facts=facts[:n]), day(9)).opener for n in range(4)]
    assert [one["fit"] for one in opener] == ["fit", "refit", "third", "third"]
    assert {one["other"] for one in opener} == {"other"}
    dormant = [gates_of(plan(text, jobs=jobs, facts=facts[:n]), day(9)).dormant for n in range(2)]
    assert dormant == [{"refit", "third", "rework"}, {"third"}]
