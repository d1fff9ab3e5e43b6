"""Spans of days: where one stands among the words, and the words of each of its days."""

from datetime import date, timedelta

import pytest

from tests.build import day, plan
from tracker.errors import UsageError
from tracker.trying.span import MOST_DAYS, span_of

KNOWN = plan("a:5wd@shop b:3wd@shop | a>b")


def span(words):
    return span_of(words.split(), KNOWN, day(0))


def test_a_promise_is_tried_for_each_day_with_the_other_steps_as_they_are():
    found = span("set b lead=2wd and promised a 10jun..13jun said late")
    assert [one.isoformat() for one in found.days] == ["2026-06-10", "2026-06-11", "2026-06-12", "2026-06-13"]
    assert found.on(date(2026, 6, 11)) == (
        *("set", "b", "lead=2wd", "and", "promised", "a"),
        *("2026-06-11", "said", "late"),
    )


@pytest.mark.parametrize(
    ("words", "first", "last"),
    [
        ("paid a on 1jun..3jun", date(2026, 6, 1), date(2026, 6, 3)),
        ("ordered a on today..+9", date(2026, 6, 1), date(2026, 6, 10)),
        ("promised a leaves tomorrow..2026-07-01", date(2026, 6, 2), date(2026, 7, 1)),
        ("paused a until 8jun..9jun", date(2026, 6, 8), date(2026, 6, 9)),
    ],
)
def test_days_are_read_as_the_verb_reads_them(words, first, last):
    found = span(words)
    assert (found.first, found.last) == (first, last)


@pytest.mark.parametrize(
    "words",
    [
        "promised a 10jun", "told wave-1 10jun..20jun", "note a from 1jun..3jun", "promised a 10jun said 1jun..3jun",
        "set shop closures+=2026-12-21..2027-01-04", "promised a 10jun..whenever", "paid a on ..3jun",
    ],
)  # fmt: skip
def test_other_dots_are_no_span_to_try(words):
    assert span(words) is None


@pytest.mark.parametrize(
    ("words", "message"),
    [
        ("promised a 13jun..10jun", "the span runs backwards: 2026-06-13 to 2026-06-10"),
        ("promised a 10jun..12jun and paid b on 1jun..3jun", "a try takes one span of days, found 10jun..12jun and 1jun..3jun"),
        ("promised a 2026-06-10..2027-06-10", "2026-06-10..2027-06-10 has 366 days, more than the 200 a try tabulates"),
    ],
)  # fmt: skip
def test_spans_that_cannot_be_tabulated_are_refused(words, message):
    with pytest.raises(UsageError) as refused:
        span(words)
    assert refused.value.message == message


def test_two_hundred_days_are_tabulated_and_one_more_is_not():
    first = date(2026, 6, 10)
    last = first + timedelta(days=MOST_DAYS - 1)
    assert len(list(span(f"promised a {first}..{last}").days)) == MOST_DAYS
    with pytest.raises(UsageError):
        span(f"promised a {first}..{last + timedelta(days=1)}")
