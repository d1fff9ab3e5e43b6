from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.plan.span import DayRate, HourRate, Lead, Span, UnclearDaysError, parse_lead, parse_span

units = st.sampled_from(("wd", "cd"))
days = st.integers(0, 3650)


@pytest.mark.parametrize(
    ("text", "lead", "planned"),
    [
        pytest.param("12wd", Lead(12, 12, 12, "wd"), 12, id="working days"),
        pytest.param("45 cd", Lead(45, 45, 45, "cd"), 45, id="a space may stand before the unit"),
        pytest.param("8..12wd", Lead(8, None, 12, "wd"), 12, id="a range plans with its long end"),
        pytest.param("8 .. 12 wd", Lead(8, None, 12, "wd"), 12, id="spaces about the dots"),
        pytest.param("8/10/15wd", Lead(8, 10, 15, "wd"), 10, id="three values plan with the likely one"),
        pytest.param("0cd", Lead(0, 0, 0, "cd"), 0, id="no time at all"),
    ],
)
def test_a_lead_is_read_and_planned_with(text, lead, planned):
    assert parse_lead(text) == lead
    assert parse_lead(text).planned == planned


@pytest.mark.parametrize(
    ("text", "readings"),
    [
        pytest.param("12", "write 12cd (calendar days) or 12wd (their working days)", id="a bare number"),
        pytest.param("12d", "write 12cd (calendar days) or 12wd", id="bare d"),
        pytest.param("12 days", "write 12cd (calendar days) or 12wd", id="days"),
        pytest.param("3 weeks", "write 21cd (calendar days) or 15wd", id="weeks"),
        pytest.param("2-3 weeks", "write 14..21cd (calendar days) or 10..15wd", id="a range of weeks"),
        pytest.param("8..12", "write 8..12cd (calendar days) or 8..12wd", id="a range without unit"),
    ],
)
def test_days_without_a_unit_are_refused_with_both_readings(text, readings):
    with pytest.raises(UnclearDaysError) as error:
        parse_lead(text)
    assert "can be read in two ways" in str(error.value)
    assert readings in str(error.value)


@pytest.mark.parametrize("text", ["", "soon", "-3wd", "12.5wd", "12wd wd", "8/10wd", "wd"])
def test_what_is_no_number_of_days_is_refused_with_the_forms(text):
    with pytest.raises(UnclearDaysError, match="12wd, 45cd, 8\\.\\.12wd or 8/10/15wd"):
        parse_lead(text)


@pytest.mark.parametrize("text", ["12..8wd", "8/6/15wd", "8/16/15wd"])
def test_a_lead_rises_from_low_to_high(text):
    with pytest.raises(UnclearDaysError, match="smallest number first"):
        parse_lead(text)


def test_more_than_ten_years_are_refused():
    with pytest.raises(UnclearDaysError, match="longer than ten years"):
        parse_lead("3651wd")


@pytest.mark.parametrize("number", ["9" * 10, "9" * 5000, "²", "-5", "1.5", ""])
@pytest.mark.parametrize("unit", ["wd", "cd", "weeks", ""])
def test_what_is_no_number_of_days_is_refused_whatever_its_length(number, unit):
    """Ten digits and more are never read as a number: the limit of ten years is far below."""
    for parse in (parse_lead, parse_span):
        with pytest.raises(UnclearDaysError, match=r"is not a number of days|is negative"):
            parse(number + unit)


def test_a_range_is_no_travel_time():
    with pytest.raises(UnclearDaysError, match="4cd or 2wd"):
        parse_span("2/3/4wd")


@given(days, units)
def test_a_written_span_reads_back(count, unit):
    assert parse_span(str(Span(count, unit))) == Span(count, unit)


@given(st.tuples(days, days, days).map(sorted), st.booleans(), units)
def test_a_written_lead_reads_back(values, is_range, unit):
    low, likely, high = values
    lead = Lead(low, None if is_range else likely, high, unit)
    assert parse_lead(str(lead)) == lead


def test_milling_hours_make_days_by_hand():
    """Common practice, no source: 6 h set-up + 100 x 35 min = 64.3 h, at 14 h a day 4.6 days."""
    rate = HourRate(setup_h=Fraction(6), minutes_each=Fraction(35), hours_per_day=Fraction(14))
    assert rate.days(100) == 5


def test_two_machines_share_the_pieces_but_not_the_set_up():
    """Common practice, no source: 6 h + 50 x 35 min = 35.2 h, at 14 h a day 2.5 days."""
    rate = HourRate(setup_h=Fraction(6), minutes_each=Fraction(35), hours_per_day=Fraction(14), machines=2)
    assert rate.days(100) == 3


@given(st.integers(0, 9), st.fractions(min_value=Fraction(1, 8), max_value=99), st.integers(0, 5000))
def test_a_day_rate_ends_on_the_day_the_last_piece_is_done(setup, per_day, quantity):
    worked = DayRate(setup=setup, per_day=per_day).days(quantity) - setup
    assert worked * per_day >= quantity
    assert quantity == 0 or (worked - 1) * per_day < quantity
