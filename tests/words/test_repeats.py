"""What tells a thing told twice from one that happened twice."""

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.build import fact, plan
from tracker.plan.model import Fact
from tracker.words.repeats import repeat_of

CHAIN = "housing:5@shop check:2 | housing>check"


def stored(*facts):
    return plan(CHAIN, facts=facts, jobs={"check": {"gate": True}})


def promised(to, **fields):
    return fact("promised", "housing", 0, day=to, **fields)


def called(note="", to=None):
    day = None if to is None else date(2026, 6, to)
    return Fact(
        on=date(2026, 6, 1), logged=date(2026, 6, 1), kind="called", supplier="shop", note=note, day=day
    )


@pytest.mark.parametrize(
    ("first", "between"),
    [
        (promised(10), promised(12)),
        (fact("failed", "check", 0), fact("passed", "check", 0)),
        (fact("paused", "housing", 0), fact("resumed", "housing", 0)),
        (fact("resumed", "housing", 0), fact("called_off", "housing", 0)),
        (fact("told", "wave-1", 0, day=20), fact("told", "wave-1", 0, day=25)),
        (
            fact("given", "housing", 0, what="day1", day=3),
            fact("given", "housing", 0, what="day1", day=5),
        ),
        (called(to=4), called(to=5)),
    ],
    ids=["promise", "gate result", "pause", "calling off", "date told", "day 1", "call"],
)
def test_what_is_told_again_after_another_word_on_the_same_thing_is_news(first, between):
    assert repeat_of(first, stored(first)) == 0
    assert repeat_of(first, stored(first, between)) is None
    assert repeat_of(first, stored(first, between, first)) == 2  # the one that holds, not the first


@pytest.mark.parametrize(
    ("kind", "about"), [("decided", "housing"), ("note", "housing"), ("failed", "check"), ("passed", "check")]
)
def test_different_words_on_one_day_are_two_facts(kind, about):
    first = fact(kind, about, 0, note="bore tight")
    assert repeat_of(first, stored(first)) == 0
    assert repeat_of(replace(first, note="thread short"), stored(first)) is None


def test_two_calls_on_one_day_are_two_calls():
    assert repeat_of(called("no answer"), stored(called("line busy"))) is None
    assert repeat_of(called("line busy"), stored(called("line busy"))) == 0


@pytest.mark.parametrize(("kind", "about"), [("in", "housing"), ("posted", "wave-1")])
def test_a_count_is_the_same_whatever_its_note_and_however_many_came_between(kind, about):
    first = fact(kind, about, 0, good=5)
    later = [replace(first, good=6), replace(first, good=7)]
    assert repeat_of(replace(first, note="second box"), stored(first, *later)) == 0
    assert repeat_of(replace(first, good=8), stored(first, *later)) is None


def test_a_delivery_note_of_its_own_makes_a_delivery_another_one():
    first = fact("in", "housing", 0, good=5, ref="4471")
    assert repeat_of(replace(first, ref="4472"), stored(first)) is None


def test_the_same_news_of_another_job_or_another_day_is_no_repeat():
    first = fact("paused", "housing", 0)
    assert repeat_of(replace(first, job="check"), stored(first)) is None
    assert repeat_of(fact("paused", "housing", 1), stored(first)) is None


def test_conditions_of_one_job_do_not_stand_between_each_other():
    proof, drawing = (fact("given", "housing", 0, what=what) for what in ("proof", "drawing"))
    assert repeat_of(proof, stored(proof, drawing)) == 0


@given(days=st.lists(st.integers(1, 3), max_size=8))
def test_of_promises_told_one_after_another_only_a_change_is_stored(days):
    """The stored ones never hold the same date twice in a row, and the last one stored is the last one told."""
    kept = []
    for day in days:
        if repeat_of(promised(day), stored(*kept)) is None:
            kept.append(promised(day))
    expected = [promised(day) for place, day in enumerate(days) if place == 0 or days[place - 1] != day]
    assert kept == expected
