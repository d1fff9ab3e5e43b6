"""The words of ``rework`` where pieces go back."""

from dataclasses import replace

import pytest

from tests.words.counted import COUNTED, TODAY, after
from tracker.errors import Refused, UsageError
from tracker.plan.parts import Make
from tracker.words.rework import read_rework

STORED = after(
    "in finish-natural 52 rework 9 scrap 3",
    "in build 20 rework 3 of unit-graphite",
    "in build 30 rework 5 of unit-natural",
    "in labels 100 rework 2",
)


def added(words, stored=STORED):
    changed = read_rework(words.split(), stored, TODAY)
    assert changed.jobs[: len(stored.jobs)] == stored.jobs
    return changed.jobs[len(stored.jobs) :]


@pytest.mark.parametrize(
    ("words", "supplier", "lead", "travel", "said"),
    [
        ("finish-natural 9", "shop", "8wd", "0cd", ""),
        ("nat 9", "shop", "8wd", "0cd", ""),
        ("finish-natural 9 by bench lead 3wd", "bench", "3wd", "0cd", ""),
        ("finish-natural 9 lead 10 wd travel 2 cd by shop", "shop", "10wd", "2cd", ""),
        ("finish-natural of housing-natural 9", "shop", "8wd", "0cd", ""),
        ("finish-natural 9 of housing-natural said strip and redo by friday", "shop", "8wd", "0cd", "strip and redo by friday"),
    ],
)  # fmt: skip
def test_pieces_go_to_the_same_supplier_for_the_same_lead_unless_the_words_say_otherwise(
    words, supplier, lead, travel, said
):
    (job,) = added(words)
    assert (job.code, job.quantity, job.rework_of) == ("rework-finish-natural", 9, "finish-natural")
    assert (job.supplier, str(job.lead), str(job.travel), job.said) == (supplier, lead, travel, said)


def test_of_several_parts_one_is_named():
    (job,) = added("build 4 of nat")
    assert (job.makes, job.quantity) == ((Make(part="unit-natural"),), 4)


@pytest.mark.parametrize(
    ("words", "checker", "lead"),
    [
        ("finish-natural 9 check 1wd", "bench", "1wd"),
        ("finish-natural 9 check 2 wd", "bench", "2wd"),
        ("finish-natural 9 check sho 1..2 wd", "shop", "1..2wd"),
    ],
)
def test_a_check_is_done_at_our_own_bench_or_by_whom_it_names(words, checker, lead):
    mended, check = added(words)
    assert (mended.code, mended.makes) == ("rework-finish-natural", ())
    assert (check.code, check.supplier, str(check.lead)) == ("check-rework-finish-natural", checker, lead)


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ("", "rework which gate, or how many pieces of which job?"),
        ("finish-natural", "rework how many pieces of finish-natural? 9 are in rework"),
        ("finish-natural 0", "rework takes one number of pieces, 1 or more, found '0'"),
        ("finish-natural nine", "found 'nine'"),
        ("finish-natural 9 10", "found '10'"),
        ("finish-natural 9.5", "found '9.5'"),
        ("finish-natural 9 lead 3", "lead: '3' can be read in two ways"),
        ("finish-natural 9 check bench", "check: 'bench' is not a number of days"),
        ("finish-natural 9 check 1", "check: '1' can be read in two ways"),
        ("finish-natural 9 check nobody 1wd", "there is no supplier 'nobody'"),
        ("finish-natural 9 by nobody", "there is no supplier 'nobody'"),
        ("finish-natural 9 of foam", "finish-natural makes housing-natural, no 'foam'"),
        ("build 3", "build makes unit-graphite and unit-natural: pieces of which one?; say it: tracker rework build 3 of unit-graphite"),
        ("build 4 of unit-graphite", "build has 3 of unit-graphite in rework, fewer than 4; write 3 at most"),
        ("finish-natural 10", "finish-natural has 9 in rework, fewer than 10"),
        ("finish-graphite 1", "finish-graphite has no pieces in rework"),
        ("labels 2", "labels is no gate and makes no part"),
        ("finish-natural 9 by shop by bench", "by comes a second time"),
    ],
)  # fmt: skip
def test_a_rework_of_pieces_that_cannot_be_is_refused_with_a_remedy(words, says):
    with pytest.raises((UsageError, Refused)) as refused:
        added(words)
    assert says in f"{refused.value.message}; {refused.value.hint}"
    assert refused.value.hint


def test_the_job_whose_pieces_wait_is_meant_by_a_beginning_that_its_rework_shares():
    stored = replace(STORED, jobs=(*STORED.jobs, *added("finish-natural 4")))
    (job,) = added("natural 5", stored)
    assert (job.rework_of, job.code) == ("finish-natural", "rework-finish-natural-2")


def test_a_job_that_is_done_with_pieces_in_rework_is_meant_before_an_open_one():
    stored = after("in finish-natural 80 rework 9 last")
    stored = replace(
        stored, jobs=(*stored.jobs, replace(stored.job_by_code["photos"], code="photos-natural"))
    )
    (job,) = added("nat 9", stored)
    assert job.rework_of == "finish-natural"


def test_a_gate_takes_no_number_and_no_part():
    gates = replace(
        COUNTED, jobs=(*COUNTED.jobs, replace(COUNTED.job_by_code["photos"], code="fit", gate=True))
    )
    for words, word in (("fit 3 by shop lead 1wd", "3"), ("fit by shop lead 1wd of foam", "of")):
        with pytest.raises(UsageError, match=f"'{word}' has no place in 'rework' of a gate"):
            added(words, gates)
