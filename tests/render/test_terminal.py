"""Paper, words and JSON: how text fits a width, how days and counts read."""

import json
from datetime import date, timedelta
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.explain.state import Flag, State
from tracker.plan.model import Link
from tracker.plan.span import DayRate, Span, parse_lead
from tracker.render.json_text import json_text, plain
from tracker.render.paper import Paper
from tracker.render.words import at_best_text, days_text, full_day, plural, reason_text, short_day
from tracker.report.shipments import HeldBy

TODAY = date(2026, 11, 24)
words = st.lists(st.text("abc-é", min_size=1, max_size=9), min_size=1, max_size=6).map(" ".join)


@given(width=st.integers(40, 140), text=words, indent=st.integers(0, 6))
def test_a_line_wraps_inside_its_width_and_loses_no_word(width, text, indent):
    paper = Paper(width=width)
    paper.line(text, indent)
    assert all(len(line) <= width for line in paper.lines)
    assert " ".join(paper.text().split()) == text


@given(st.integers(60, 140), st.lists(st.tuples(words, words), min_size=1, max_size=4))
def test_a_table_loses_no_word_when_its_last_column_wraps(width, rows):
    paper = Paper(width=width)
    paper.table(("one", "two"), rows)
    printed = sorted(paper.text().split())
    assert printed == sorted(["one", "two", *(word for row in rows for cell in row for word in cell.split())])


def test_a_table_without_rows_prints_nothing():
    paper = Paper()
    paper.table(("one", "two"), ())
    assert paper.lines == []


def test_colour_marks_state_words_only_and_never_instead_of_the_word():
    paper = Paper(colour=True)
    paper.line("boxes LATE: translated LATELY")
    assert paper.text() == "boxes \x1b[38;5;166mLATE\x1b[0m: translated LATELY\n"
    assert Paper(lines=["boxes LATE"]).text() == "boxes LATE\n"


def test_no_chain_or_shipment_is_ever_coloured():
    paper = Paper(colour=True)
    paper.line("wave-2 held by [promised Fri 4 Dec] licence > air-freight")
    assert "\x1b" not in paper.text()


@given(st.dates(date(2020, 1, 1), date(2040, 12, 31)))
def test_a_full_day_has_weekday_day_month_and_year(day):
    assert full_day(day) == day.strftime("%a ") + str(day.day) + day.strftime(" %b %Y")


@pytest.mark.parametrize(
    ("away", "text"),
    [(0, "Tue 24 Nov"), (182, "Tue 25 May"), (183, "Wed 26 May 2027"), (-183, "Mon 25 May 2026")],
)
def test_a_day_more_than_half_a_year_away_shows_its_year(away, text):
    assert short_day(TODAY + timedelta(days=away), TODAY) == text


def test_counts_read_as_words():
    assert [days_text(count) for count in (-2, -1, 1, 2)] == ["-2 days", "-1 day", "+1 day", "+2 days"]
    assert (plural(1, "job"), plural(2, "job"), plural(0, "entry", "entries")) == (
        "1 job",
        "2 jobs",
        "0 entries",
    )
    assert short_day(None, TODAY) == "-"
    assert at_best_text(()) == ""


REASONS = ("today", "run start", "overdue", "clock", "promise", "started", "not before", "day 1", "paused",
           "after failure", "second attempt", "left", "made", "leave", "done")  # fmt: skip
INPUTS = ("after", "after start")


@pytest.mark.parametrize("reason", [*REASONS, *INPUTS])
def test_every_reason_a_chain_can_begin_with_has_words(reason):
    held = HeldBy(job="boxes", reason=reason, what="payment", owed_by="", day=TODAY, whats=("payment",))
    text = reason_text(held, TODAY)
    assert text
    assert "{" not in text


def test_every_reason_the_forecast_knows_is_among_them():
    from typing import get_args

    from tracker.schedule.reason import ReasonKind

    assert set(get_args(ReasonKind)) == set(REASONS)


def test_a_clock_that_waits_names_everything_missing():
    held = HeldBy(
        job="boxes", reason="clock", what="order", owed_by="us", day=TODAY, whats=("order", "payment")
    )
    assert reason_text(held, TODAY) == "order and payment not given"


@pytest.mark.parametrize(
    ("made", "text"),
    [(True, "balance not given, waits at their door"), (False, "balance not given: may not leave")],
)
def test_only_what_is_made_waits_at_their_door(made, text):
    held = HeldBy(
        job="boxes", reason="leave", what="balance", owed_by="us", day=TODAY, whats=("balance",), made=made
    )
    assert reason_text(held, TODAY) == text


def test_money_counts_when_it_is_credited_and_papers_when_they_are_given():
    for what, text in (("balance", "balance credited Tue 24 Nov"), ("papers", "papers given Tue 24 Nov")):
        assert (
            reason_text(HeldBy(job="boxes", reason="leave", what=what, owed_by="", day=TODAY), TODAY) == text
        )


def test_states_and_flags_are_words_in_capitals():
    from typing import get_args

    assert all(word == word.upper() for word in (*get_args(State), *get_args(Flag)))


def test_json_writes_dates_as_iso_absence_as_null_and_tuples_as_lists():
    view = {
        "day": TODAY,
        "none": None,
        "pair": (1, Fraction(1, 2)),
        "whole": Fraction(4, 2),
        "lead": parse_lead("8..12wd"),
        "rate": DayRate(setup=1, per_day=Fraction(12)),
        "link": Link(job="housing", lag=Span(2)),
    }
    assert json.loads(json_text(view)) == {
        "day": "2026-11-24", "none": None, "pair": [1, 0.5], "whole": 2, "lead": "8..12wd",
        "rate": "1wd set-up, then 12 a day",
        "link": {"job": "housing", "kind": "finish-start", "lag": "2cd", "on": "pass"},
    }  # fmt: skip


@given(
    st.recursive(
        st.none() | st.booleans() | st.integers() | st.text() | st.dates(),
        lambda one: st.lists(one) | st.dictionaries(st.text(), one),
        max_leaves=8,
    )
)
def test_any_view_of_plain_values_parses_back(view):
    assert json.loads(json_text(view)) == plain(view)
