"""What cells say of a length of days: which readings are clear, which need a word, which are none."""

from datetime import UTC, date, datetime, time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.plan.span import parse_lead
from tracker.sheet.leads import read_days, unit_of_heading


@pytest.mark.parametrize("text", ["12wd", "45cd", "8..12wd", "8/10/15wd", "12 wd", "12WD"])
def test_the_forms_of_plan_files_are_exact_and_keep_no_words(text):
    heard = read_days(text)
    assert heard.exact
    assert heard.lead == parse_lead(text.lower())


@pytest.mark.parametrize(
    ("words", "lead"),
    [
        ("12 working days", "12wd"),
        ("10 business days", "10wd"),
        ("45 calendar days", "45cd"),
        ("10-15 working days ARO", "10..15wd"),
        ("10 \u2013 15 working days", "10..15wd"),
        ("10 to 15 wd after proof", "10..15wd"),
        ("up to 12 working days", "12wd"),
        ("approx. 12 w.d.", "12wd"),
        ("3 working weeks", "15wd"),
        ("2 calendar weeks", "14cd"),
        ("ten working days", "10wd"),
        ("0 days", "0wd"),
        ("8wd-12wd", "8..12wd"),
        ("15 Arbeitstage", "15wd"),
        ("ca. 12-15 AT nach Freigabe", "12..15wd"),
        ("20 Werktage", "20wd"),
        ("2 Arbeitswochen", "10wd"),
        ("30 Kalendertage", "30cd"),
        ("10 jours ouvrés", "10wd"),
        ("10 j ouvrés", "10wd"),
        ("5 giorni lavorativi", "5wd"),
        ("10 gg lav.", "10wd"),
        ("10 días hábiles", "10wd"),
        ("8 dias laborables", "8wd"),
        ("5 werkdagen", "5wd"),
        ("20 days (working)", "20wd"),
        ("2.5 working days", "3wd"),
        ("20 working days (day 1 = day after proof AND deposit)", "20wd"),
    ],
)
def test_words_that_say_which_days_are_clear_and_kept_as_heard(words, lead):
    heard = read_days(words)
    assert (str(heard.lead), heard.said, heard.exact, heard.kind) == (lead, words, False, None)


@pytest.mark.parametrize(
    ("words", "kind", "working", "calendar"),
    [
        ("20 days", "days", "20wd", "20cd"),
        ("20d", "days", "20wd", "20cd"),
        ("10-15 days", "days", "10..15wd", "10..15cd"),
        ("3 weeks", "weeks", "15wd", "21cd"),
        ("4-6 wks", "weeks", "20..30wd", "28..42cd"),
        ("two weeks", "weeks", "10wd", "14cd"),
        ("a week", "weeks", "5wd", "7cd"),
        ("~3 weeks ex works", "weeks", "15wd", "21cd"),
        ("20 days?", "days", "20wd", "20cd"),
        ("12w", "weeks", "60wd", "84cd"),
        ("20", "numbers", "20wd", "20cd"),
        (20, "numbers", "20wd", "20cd"),
        (20.0, "numbers", "20wd", "20cd"),
        ("10-12", "numbers", "10..12wd", "10..12cd"),
        ("3 weeks from order", "weeks", "15wd", "21cd"),
        ("1.5 weeks", "weeks", "8wd", "11cd"),
        ("2,5 Wochen", "weeks", "13wd", "18cd"),
        (2.5, "numbers", "3wd", "3cd"),
        ("3 Wochen ab Freigabe", "weeks", "15wd", "21cd"),
        ("10 Tage", "days", "10wd", "10cd"),
        ("zwei bis drei Wochen", "weeks", "10..15wd", "14..21cd"),
        ("2 à 3 semaines", "weeks", "10..15wd", "14..21cd"),
        ("une semaine", "weeks", "5wd", "7cd"),
        ("12 j", "days", "12wd", "12cd"),
        ("3 semanas", "weeks", "15wd", "21cd"),
        ("2 settimane", "weeks", "10wd", "14cd"),
        ("15 gg", "days", "15wd", "15cd"),
        ("2 weken", "weeks", "10wd", "14cd"),
    ],
)
def test_days_weeks_and_bare_numbers_need_a_word(words, kind, working, calendar):
    """A week is 5 working days or 7 calendar days, a day begun counts: common practice, no source."""
    heard = read_days(words)
    assert heard.lead is None
    assert (heard.kind, str(heard.working), str(heard.calendar)) == (kind, working, calendar)
    assert (heard.read_as("wd"), heard.read_as("cd")) == (heard.working, heard.calendar)


@pytest.mark.parametrize(
    ("value", "heading", "reading"),
    [
        (20, "Lead (working days)", "20wd"),
        (20, "Lead time [wd]", "20wd"),
        ("20", "calendar days", "20cd"),
        ("20 days", "Lead (working days)", "20wd"),
        ("3 weeks", "Lead, working days", "15wd"),
        (12, "Lieferzeit (AT)", "12wd"),
        (12, "Délai en jours ouvrés", "12wd"),
    ],
)
def test_a_heading_that_says_which_days_makes_its_numbers_clear(value, heading, reading):
    assert str(read_days(value, heading).lead) == reading


def test_a_heading_that_says_days_or_weeks_gives_the_unit_but_not_the_word():
    assert (read_days(3, "Lead (wks)").kind, read_days(3, "Lead (wks)").said) == ("weeks", "3 wks")
    assert read_days(20, "Lead days").kind == "days"
    assert read_days("2 weeks", "Lead days").kind == "weeks"


@pytest.mark.parametrize(
    ("value", "unit", "heading", "readings"),
    [
        (8, "working days", "Lead", ("8wd",)),
        ("8", "Arbeitstage", "Lead", ("8wd",)),
        (4, "weeks", "Lead (days)", ("20wd", "28cd")),
        ("5-7", "days", "Lead", ("5..7wd", "5..7cd")),
        (15, "working", "Lead days", ("15wd",)),
        (10, "calendar", "Lead", ("10cd",)),
        (3, "working", "Lead (weeks)", ("15wd",)),
        ("3 weeks", "days", "Lead", ("15wd", "21cd")),
        ("12wd", "weeks", "Lead", ("12wd",)),
        (5, "", "Lead (wks)", ("25wd", "35cd")),
    ],
)
def test_a_unit_beside_a_bare_number_counts_before_the_headings_and_after_the_cells_own(
    value, unit, heading, readings
):
    heard = read_days(value, heading, unit)
    found = (heard.lead,) if heard.lead else (heard.working, heard.calendar)
    assert tuple(map(str, found)) == readings


def test_a_unit_beside_a_number_that_is_none_of_time_is_no_length():
    assert "'5 lots' names no unit of days" in read_days(5, "Lead", "lots").trouble


def test_working_days_that_can_count_saturdays_are_told_and_others_are_not():
    """Werktage and jours ouvrables are Monday to Saturday by law; from memory."""
    told = [
        words
        for words in ("20 Werktage", "3 jours ouvrables", "20 Arbeitstage", "5 werkdagen")
        if not read_days(words).is_plain
    ]
    assert told == ["20 Werktage", "3 jours ouvrables"]


@pytest.mark.parametrize("heading", ["How long", "Lead", "Duration", "D", "w", "Delivery"])
def test_headings_without_a_unit_give_none(heading):
    assert unit_of_heading(heading) == ("numbers", "")


@pytest.mark.parametrize(
    ("value", "says"),
    [
        ("2 months", "months"),
        ("ASAP", "not a number of days"),
        ("in stock", "not a number of days"),
        ("tbc", "not a number of days"),
        (float("inf"), "not a number of days"),
        (float("nan"), "not a number of days"),
        ("1,600 days", "not a number of days"),
        ("from 10 days", "only the least"),
        ("2 Monate", "months"),
        ("3 weeks for the first 50", "more than one length"),
        ("6 semaines + transport", "more than one length"),
        ("-5 days", "negative"),
        (-5, "negative"),
        ("4 hours", "hours"),
        ("2 weeks + 3 days", "more than one length"),
        ("20 days or 3 weeks", "more than one length"),
        ("12wd + 2wd", "more than one length"),
        ("at least 10 wd", "only the least"),
        ("10 working days or more", "only the least"),
        ("10 days per 100 pcs", "more than one length"),
        ("10 days per batch", "is a rate"),
        ("15-10 days", "falls"),
        ("99999 days", "longer than ten years"),
        (True, "not a number of days"),
        (time(8, 30), "not a number of days"),
        (date(2026, 12, 8), "spreadsheets turn a typed 8-12 into one"),
        (datetime(2026, 12, 8, 10, 0, tzinfo=UTC), "spreadsheets turn a typed 8-12 into one"),
    ],
)
def test_what_is_no_length_of_days_says_why_and_how_to_write_it(value, says):
    heard = read_days(value)
    assert (heard.lead, heard.kind) == (None, None)
    assert says in heard.trouble
    assert heard.remedy


@pytest.mark.parametrize("value", [None, "", "  \n"])
def test_an_empty_cell_says_nothing(value):
    heard = read_days(value)
    assert (heard.said, heard.trouble, heard.lead, heard.kind) == ("", "", None, None)


@given(
    st.one_of(
        st.text(max_size=30), st.from_regex(r"\d{1,3} ?(-|to|/) ?\d{1,3} ?(days|wd|weeks|h)", fullmatch=True)
    )
)
def test_every_text_gets_one_reading_or_two_or_a_reason(text):
    heard = read_days(text)
    outcomes = (heard.lead is not None, heard.kind is not None, bool(heard.trouble), not heard.said)
    assert sum(outcomes) == 1
    assert (heard.kind is None) == (heard.working is None) == (heard.calendar is None)


@given(st.integers(0, 3000), st.integers(1, 300))
def test_a_number_of_days_is_read_back_as_that_number(low, more):
    assert read_days(f"{low} working days").lead == parse_lead(f"{low}wd")
    assert read_days(f"{low}-{low + more} calendar days").lead == parse_lead(f"{low}..{low + more}cd")
