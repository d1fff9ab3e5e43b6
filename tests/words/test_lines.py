"""Notes written away from the machine: which lines are commands, for which day, and which are not."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.words.dates import DateReader
from tracker.words.lines import read_lines
from tracker.words.verbs import VERBS

TUESDAY = date(2026, 11, 24)


def read(text, verbs=tuple(VERBS), today=TUESDAY):
    return read_lines(text, source="notes.txt", verbs=verbs, reader=DateReader(today=today))


def lines(text):
    found, problems = read(text)
    assert problems == ()
    return [(line.number, line.verb, line.words) for line in found]


def test_blank_lines_and_those_that_begin_with_a_hash_say_nothing():
    assert lines("# Tuesday's van\n\n   \npaid boxes\n") == [(4, "paid", ("boxes",))]


@pytest.mark.parametrize(
    "mark", ["", "- ", "* ", "\u2022 ", "\u2013 ", "> ", "  -  ", "tracker ", "trk ", "- trk ", "\ufeff"]
)
def test_bullets_and_the_programs_own_name_are_left_out(mark):
    assert lines(f"{mark}paid boxes") == [(1, "paid", ("boxes",))]


@pytest.mark.parametrize(
    "text", ['"bore too tight"', "\u201cbore too tight\u201d", "\u201ebore too tight\u201c"]
)
def test_straight_and_curly_quotes_hold_a_text_together(text):
    assert lines(f"failed fit-check {text}") == [(1, "failed", ("fit-check", "bore too tight"))]


def test_an_apostrophe_is_no_quote():
    assert lines("note boxes don't stack") == [(1, "note", ("boxes", "don't", "stack"))]


def test_a_heading_dates_the_lines_below_it_until_the_next():
    found, _ = read("paid boxes\non mon\ncalled varne\non 19nov:\ncalled orlice\ncalled tolmark")
    assert [line.on for line in found] == [None, date(2026, 11, 23), date(2026, 11, 19), date(2026, 11, 19)]


def test_verbs_may_be_shortened_and_are_named_whole():
    assert lines("PROM licence 4dec") == [(1, "promised", ("licence", "4dec"))]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("on", "the heading names no day"),
        ("on someday", "'someday' is not a date"),
        ("on 25nov 2026", "Wed 25 Nov 2026 is after today, Tue 24 Nov 2026"),
        ("pa boxes", "'pa' begins several verbs: paid, passed, paused"),
        ("paidd boxes", "'paidd' is no logging verb; did you mean paid?"),
        ('failed fit-check "bore tight', "a quote is opened and never closed"),
    ],
)
def test_a_line_that_is_no_command_is_named_with_its_number_and_words(text, said):
    found, problems = read(f"paid boxes\n{text}\npaid magnets")
    assert [line.number for line in found] == [1, 3]
    assert len(problems) == 1
    number, problem = problems[0]
    assert (number, said in str(problem)) == (2, True), str(problem)
    assert str(problem).startswith("notes.txt, line 2, '")


@given(st.lists(st.sampled_from(["paid boxes", "", "# x", "zzz 1", "called varne again wed"]), max_size=30))
def test_every_line_is_a_command_a_problem_or_says_nothing(chosen):
    found, problems = read("\n".join(chosen))
    numbers = sorted([*(line.number for line in found), *(number for number, _ in problems)])
    assert numbers == [
        place for place, text in enumerate(chosen, start=1) if text and not text.startswith("#")
    ]
