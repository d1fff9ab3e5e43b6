"""Numbers of pieces, dates and countries as sheets have them."""

from datetime import UTC, date, datetime

import pytest

from tests.sheet.drafts import TODAY
from tracker.planfile.faults import BadValue
from tracker.sheet.countries import country_of
from tracker.sheet.values import day_of, pieces
from tracker.words.dates import DateReader

UNSAID = DateReader(today=TODAY, earliest=date(2026, 6, 15))
DAY_FIRST = DateReader(today=TODAY, order="day first", earliest=date(2026, 6, 15))


@pytest.mark.parametrize(
    ("value", "count"),
    [
        ("250 pcs", 250), ("1,600", 1600), ("1.600", 1600), ("1 600", 1600), ("1'600", 1600), (1600.0, 1600), (7, 7),
        ("x250", 250), ("250x", 250), ("Qty 250", 250), ("1,600,000 pcs.", 1_600_000), ("250 off", 250), ("0", 0), ("120 Stück", 120), ("100 uds", 100),
        (None, None), ("-", None), ("n/a", None), ("tbd", None),
    ],
)  # fmt: skip
def test_pieces_are_whole_numbers_however_they_are_written(value, count):
    assert pieces(value) == count


@pytest.mark.parametrize(
    "value",
    [
        1.6,
        "1,5",
        "12.5",
        "2 x 125",
        "250 (+10%)",
        "~250",
        "-5",
        True,
        "many",
        date(2026, 1, 2),
        "2k",
        "10 dozen",
        "5 m",
        "#VALUE!",
        "9" * 5000,
        1e300,
        "250 + 10 spare",
    ],
)
def test_what_is_no_whole_number_of_pieces_is_refused(value):
    with pytest.raises(BadValue, match=r"number|error|pieces"):
        pieces(value)


@pytest.mark.parametrize(
    ("value", "remedy"),
    [
        ("250 + 10 spare", "write what you order as one number: 250, 10 or both together, 260"),
        ("280 (10 spare)", "write what you order as one number: 280, 10 or both together, 290"),
        ("~300", "write digits only: 300, if that is what you order"),
        ("a few", "write digits only, such as 250"),
    ],
)
def test_a_refused_number_of_pieces_names_the_numbers_it_holds(value, remedy):
    with pytest.raises(BadValue) as refusal:
        pieces(value)
    assert refusal.value.faults[0].remedy == remedy


@pytest.mark.parametrize(
    ("value", "day"),
    [("22.06.2026", date(2026, 6, 22)), ("6/22/2026", date(2026, 6, 22)), ("13-01-2027", date(2027, 1, 13))],
)
def test_a_date_in_digits_that_only_one_order_can_be_needs_no_word(value, day):
    assert day_of(value, UNSAID, "forward") == day


def test_a_refused_date_is_quoted_as_it_stands_in_the_cell():
    with pytest.raises(BadValue, match="'mid July' is not a date"):
        day_of("mid July", UNSAID, "forward")


@pytest.mark.parametrize(
    "value",
    [
        date(2026, 12, 4), datetime(2026, 12, 4, 8, 0, tzinfo=UTC), "2026-12-04", "4 Dec 2026", "Fri 4 Dec 2026", "4th Dec 2026",
        "4-Dec-26", "Dec 4, 2026", "2026/12/04", "4 december", "4dec",
    ],
)  # fmt: skip
def test_a_date_is_read_from_a_date_cell_or_its_usual_spellings(value):
    """4 December 2026 is a Friday: ``date`` of the standard library."""
    assert day_of(value, UNSAID, "forward") == date(2026, 12, 4)


@pytest.mark.parametrize("value", ["4/12", "04-12-2026", "04.12.26"])
def test_numbers_are_read_only_in_the_order_the_run_says_and_else_refused_with_both_readings(value):
    assert day_of(value, DAY_FIRST, "forward") == date(2026, 12, 4)
    with pytest.raises(BadValue, match="4dec or 12apr"):
        day_of(value, UNSAID, "forward")


@pytest.mark.parametrize(
    ("value", "says"),
    [
        ("fri", "another day at the next read"), ("next Friday", "another day"), ("+3", "another day"),
        ("today", "another day"), ("Dec-26", "a day or a whole month"), ("Thu 4 Dec 2026", "wrong weekday"),
        ("soon", "not a date"), ("yes", "not a date"), (46000, "is a number, not a date"), (True, "not a date"),
        ("31 Jun 2026", "not a date"),
    ],
)  # fmt: skip
def test_a_date_that_would_be_guessed_is_refused(value, says):
    with pytest.raises(BadValue, match=says):
        day_of(value, UNSAID, "forward")


@pytest.mark.parametrize("value", [None, "", "-", "TBC", "?", "no", "not yet"])
def test_no_date_yet_is_none(value):
    assert day_of(value, UNSAID, "forward") is None


@pytest.mark.parametrize(
    ("words", "code"),
    [
        ("UK", ("GB", "")), ("gb", ("GB", "")), ("Germany", ("DE", "")), ("DEU", ("DE", "")), ("Czech Republic", ("CZ", "")),
        ("Rotherham, UK", ("GB", "")), ("Scotland", ("GB", "SCT")), ("Hong Kong", ("HK", "")), ("Türkiye", ("TR", "")),
        ("China (PRC)", ("CN", "")), ("South Korea", ("KR", "")),
    ],
)  # fmt: skip
def test_countries_are_known_by_name_or_code(words, code):
    """ISO 3166 codes, from memory."""
    assert country_of(words) == code


@pytest.mark.parametrize(("words", "remedy"), [("Germny", "Germany"), ("Sheffield", "two capitals")])
def test_what_is_no_country_is_refused(words, remedy):
    with pytest.raises(BadValue) as refused:
        country_of(words)
    assert remedy in refused.value.faults[0].remedy
