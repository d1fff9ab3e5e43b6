"""Texts without quotes, clauses that come twice, and words no statement can hold."""

import shlex
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.errors import UsageError
from tracker.words.dates import DateReader
from tracker.words.statement import Statement, read_statement
from tracker.words.verbs import VERBS

TODAY = date(2026, 11, 24)  # a Tuesday
READER = DateReader(today=TODAY, earliest=date(2026, 6, 15))


def read(text):
    verb, *words = shlex.split(text)
    return read_statement(VERBS[verb], words, READER)


def refusal(text):
    with pytest.raises(UsageError) as refused:
        read(text)
    return f"{refused.value.message}; {refused.value.hint}"


def test_an_unquoted_note_ends_at_counts_refs_and_dated_clauses():
    said = read("in natural 52 note one crate wet rework 5 scrap 3 rest thu ref 4471 on mon")
    assert said.note == "one crate wet"
    assert said.numbers == {"good": 52, "rework": 5, "scrap": 3}
    assert (said.rest, said.ref, said.on) == (date(2026, 11, 26), "4471", date(2026, 11, 23))


def test_what_was_said_ends_at_a_worst_day():
    said = read("promised licence 4dec said Friday for sure worst 18dec")
    assert (said.said, said.worst) == ("Friday for sure", date(2026, 12, 18))


def test_a_count_word_without_a_number_is_part_of_the_text():
    said = read("in natural 52 note good colour and little scrap")
    assert (said.note, said.numbers) == ("good colour and little scrap", {"count": 52})


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("in natural 52 note the last crate", "last"),
        ("in natural 52 note same again", "again"),
        ("promised licence 4dec said it leaves then", "leaves"),
        ("promised licence 4dec note not exactly sure", "exactly"),
    ],
)
def test_a_flag_inside_an_unquoted_text_is_refused_with_both_remedies(text, word):
    message = refusal(text)
    assert f"is '{word}' part of the " in message
    assert "in quotes" in message
    assert f"or '{word}' before it" in message


def test_a_text_in_quotes_may_hold_any_word():
    assert read("in natural 52 note 'the last crate, rest thu'").note == "the last crate, rest thu"
    assert read("in natural 52 last note 'one crate'").flags == {"last"}


@pytest.mark.parametrize(
    ("text", "clause"),
    [
        ("in natural 5 on mon on tue", "on"),
        ("in natural 5 ref 1 ref 2", "ref"),
        ("in natural 5 rest thu rest fri", "rest"),
        ("in natural 5 note 'a b' note 'c d'", "note"),
        ("promised licence 4dec worst 8dec worst 9dec", "worst"),
        ("promised licence 4dec said 'a b' words 'c d'", "words"),
        ("promised licence for 4dec for 5dec", "for"),
        ("promised licence 4dec exactly exactly", "exactly"),
        ("in natural 5 last last", "last"),
        ("paused trial until 7dec until 8dec", "until"),
        ("called marlgate again thu again fri", "again"),
    ],
)
def test_a_clause_that_comes_twice_is_refused_instead_of_hiding_the_first(text, clause):
    assert f"{clause} comes a second time in one command" in refusal(text)


def test_a_date_cannot_both_leave_and_be_in_hand():
    assert "either" in refusal("promised licence 4dec leaves in hand")


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("in natural rest thu", "rest names when the others come, but no pieces came"),
        ("in natural last rest thu", "rest names when the others come, but no pieces came"),
        ("in natural 0", "in of no pieces says nothing"),
        ("in natural 0 scrap 0", "in of no pieces says nothing"),
        ("made natural 0", "made of no pieces says nothing"),
        ("ordered boxes 0", "ordered of no pieces says nothing"),
        ("posted wave-1 0", "posted needs a number of units"),
        ("sorted natural 0", "sorted needs a number of pieces"),
        ("promised licence 4dec worst 1dec", "the worst day, 2026-12-01, comes before the day promised"),
    ],
)
def test_numbers_and_days_that_contradict_each_other_are_refused(text, says):
    assert says in refusal(text)


def test_no_pieces_close_a_job_only_when_they_are_the_last():
    assert read("in natural 0 last").numbers == {"count": 0}
    assert read("in natural").numbers == {}


@pytest.mark.parametrize("number", ["9999999999", "9" * 5000, "-5", "5.5", "1,000", "\u0665"])
def test_a_number_of_pieces_is_whole_and_has_at_most_nine_digits(number):
    assert "whole numbers of at most nine digits" in refusal(f"in natural {number}")
    assert "scrap needs a whole number of pieces" in refusal(f"in natural 5 scrap {number}")


def test_a_raised_digit_is_no_number():
    with pytest.raises(UsageError, match="needs a whole number of pieces, found '\u00b2'"):
        read("in natural 5 scrap \u00b2")
    assert read("in natural \u00b2").numbers == {}


@pytest.mark.parametrize("odd", ["a\tb", "a\nb", "a\x00b", "a\x1b[31m", "a \udcff", "a\u202eb"])
@pytest.mark.parametrize("clause", ["note", "said", "ref"])
def test_characters_that_cannot_be_printed_are_refused_in_every_text(clause, odd):
    verb = VERBS["in" if clause == "ref" else "promised"]
    first = ["5"] if clause == "ref" else ["4dec"]
    with pytest.raises(UsageError, match=f"the {clause} holds characters that cannot be printed"):
        read_statement(verb, ["natural", *first, clause, odd], READER)


def test_letters_of_any_language_are_text():
    assert read("note boxes 'Gehäuse ünïcode 漢字 50 %'").note == "Gehäuse ünïcode 漢字 50 %"


def test_an_empty_reference_is_missing():
    assert "ref needs a delivery-note number" in refusal("in natural 5 ref ''")
    assert "ref needs a delivery-note number" in refusal("in natural 5 ref ' '")


def test_an_option_that_does_not_exist_is_named_and_no_job():
    assert "there is no option '--foo'; 'tracker in --help' lists them" in refusal("in natural 5 --foo")


@pytest.mark.parametrize(
    ("text", "year"),
    [
        ("in natural on 20nov 2000", 2000),
        ("started natural on 2000-11-20", 2000),
        ("promised licence 4dec 2036 worst 4dec 2050", 2050),
        ("promised licence 2037-01-01", 2037),
        ("in natural on 2023-12-31", 2023),
    ],
)
def test_a_written_year_far_from_the_run_is_refused(text, year):
    message = refusal(text)
    assert f"names the year {year}, far from this run of 2026" in message
    assert "a number of pieces comes before the date" in message


def test_a_written_year_near_the_run_is_taken():
    assert read("started natural on 2024-01-01").on == date(2024, 1, 1)
    assert read("promised licence 2036-12-31").day == date(2036, 12, 31)


def test_a_promise_before_the_start_of_a_run_that_lies_ahead_is_read():
    ahead = DateReader(today=TODAY, earliest=date(2027, 2, 1))
    assert ahead.whole("4dec", "forward") == date(2026, 12, 4)
    assert ahead.whole("fri", "forward") == date(2026, 11, 27)
    assert ahead.whole("2026-12-04", "forward") == date(2026, 12, 4)


WORDS = st.lists(
    st.one_of(
        st.sampled_from(
            ("natural", "5", "on", "mon", "note", "said", "rest", "thu", "ref", "last", "in", "hand", "worst", "4dec",
             "scrap", "count", "again", "until", "for", "--foo", "", "2000", "..", "10jan..20jan", "+3", "4/12")
        ),
        st.text(max_size=6),
    ),
    max_size=8,
)  # fmt: skip


@given(verb=st.sampled_from(sorted(VERBS)), words=WORDS)
def test_whatever_is_typed_is_read_or_refused_in_a_sentence(verb, words):
    hint = ""
    try:
        said = read_statement(VERBS[verb], words, READER)
    except UsageError as refused:
        said, hint = Statement(VERBS[verb]), refused.hint
    assert hint or said.subjects or VERBS[verb].about == "anything"
    assert all(text.isprintable() for text in (said.note, said.said, said.ref))
    assert all(0 <= count < 10**9 for count in said.numbers.values())
