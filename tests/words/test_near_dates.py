"""Days of facts in a try-out: without a year the nearest such day, a weekday the next one."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.words.dates import MONTHS, DateReader

NOVEMBER = date(2026, 11, 24)  # a Tuesday
READER = DateReader(today=NOVEMBER, earliest=date(2026, 6, 15), facts_look="near")


def near(text, reader=READER):
    return reader.whole(text, reader.facts_look)


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("1dec", date(2026, 12, 1)),
        ("20nov", date(2026, 11, 20)),
        ("24nov", NOVEMBER),
        ("1jul", date(2026, 7, 1)),
        ("1feb", date(2027, 2, 1)),
        ("fri", date(2026, 11, 27)),
        ("tue", date(2026, 12, 1)),
        ("today", NOVEMBER),
        ("+3", date(2026, 11, 27)),
        ("2026-11-03", date(2026, 11, 3)),
        ("15may", date(2027, 5, 15)),
    ],
)
def test_a_day_reads_as_the_nearest_one_of_the_run(text, day):
    """15 May 2026 is nearer by no means, and lies before the run began on 15 June."""
    assert near(text) == day


@given(st.dates(date(2026, 1, 1), date(2030, 12, 31)), st.dates(date(2026, 1, 1), date(2030, 12, 31)))
def test_no_other_such_day_is_nearer(today, wanted):
    reader = DateReader(today=today, facts_look="near")
    if (wanted.day, wanted.month) == (29, 2):
        return
    found = near(f"{wanted.day}{MONTHS[wanted.month - 1]}", reader)
    assert (found.day, found.month) == (wanted.day, wanted.month)
    walked = next(
        n for n in range(400) for day in (today + timedelta(days=n), today - timedelta(days=n))
        if (day.day, day.month) == (wanted.day, wanted.month)
    )  # fmt: skip
    assert abs((found - today).days) == walked
