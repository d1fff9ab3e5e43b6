from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.errors import UsageError
from tracker.words.dates import DateReader

MONTHS = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"]
LONG_MONTHS = [
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
]
DAYS = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"]
LONG_DAYS = ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"]
TODAYS = (
    *(date(2026, 11, 23) + timedelta(days=n) for n in range(7)),
    date(2028, 2, 29), date(2027, 2, 28), date(2026, 12, 31), date(2027, 1, 1), date(2028, 3, 1),
)  # fmt: skip


def nearest(today, looking, fits):
    """The oracle: walk day by day, back from today or forward from it, to the first day that fits."""
    step = timedelta(days=1 if looking == "forward" else -1)
    day = today
    while not fits(day):
        day += step
    return day


def read(text, today, looking, **more):
    return DateReader(today=today, **more).whole(text, looking)


@pytest.mark.parametrize("today", TODAYS, ids=str)
@pytest.mark.parametrize("looking", ["back", "forward"])
@pytest.mark.parametrize("number", range(7))
def test_a_weekday_is_the_last_one_for_facts_and_the_next_one_for_promises(today, looking, number):
    from_day = today + timedelta(days=1) if looking == "forward" else today
    expected = nearest(from_day, looking, lambda day: day.weekday() == number)
    for word in (DAYS[number], LONG_DAYS[number], DAYS[number].upper()):
        assert read(word, today, looking) == expected


@pytest.mark.parametrize("today", TODAYS, ids=str)
@pytest.mark.parametrize("looking", ["back", "forward"])
@pytest.mark.parametrize(("day", "month"), [(1, 1), (4, 12), (29, 2), (28, 2), (30, 6), (31, 12), (24, 11)])
def test_a_day_and_month_is_the_nearest_one_in_the_direction_the_verb_looks(today, looking, day, month):
    """Unless that is ten months ahead or more: then the year has to be written."""
    expected = nearest(today, looking, lambda one: (one.day, one.month) == (day, month))
    short, long = MONTHS[month - 1], LONG_MONTHS[month - 1]
    for word in (
        f"{day}{short}",
        f"{day} {short}",
        f"{day} {long}",
        f"{short} {day}",
        f"{day}{short.upper()}",
    ):
        if (expected - today).days > 300:
            with pytest.raises(UsageError, match="looks forward to"):
                read(word, today, looking)
        else:
            assert read(word, today, looking) == expected


@pytest.mark.parametrize("looking", ["back", "forward"])
def test_words_beside_today_mean_the_same_in_both_directions(looking):
    today = date(2026, 12, 31)
    assert read("today", today, looking) == today
    assert read("tomorrow", today, looking) == date(2027, 1, 1)
    assert read("yesterday", today, looking) == date(2026, 12, 30)
    assert read("+3", today, looking) == date(2027, 1, 3)


@given(
    today=st.dates(date(2020, 1, 1), date(2035, 12, 31)),
    day=st.dates(date(2020, 1, 1), date(2035, 12, 31)),
    looking=st.sampled_from(("back", "forward")),
)
def test_a_written_year_is_taken_as_it_stands(today, day, looking):
    forms = (
        day.isoformat(),
        f"{day.day} {MONTHS[day.month - 1]} {day.year}",
        f"{day.day}{MONTHS[day.month - 1]}{day.year}",
        f"{MONTHS[day.month - 1]} {day.day} {day.year}",
    )
    assert {read(text, today, looking) for text in forms} == {day}
    assert read(f"{day.day}/{day.month}/{day.year}", today, looking, order="day first") == day
    assert read(f"{day.month}/{day.day}/{day.year}", today, looking, order="month first") == day


@given(today=st.dates(date(2020, 1, 1), date(2035, 12, 31)), text=st.text(max_size=12))
def test_any_other_text_is_refused_in_a_sentence(today, text):
    """Whatever is typed gives a date or our own error, never another one."""
    try:
        found = read(text, today, "back")
    except UsageError as error:
        found = error.hint
    assert isinstance(found, date) or found


def test_numbers_only_are_refused_with_both_readings_until_the_run_says_the_order():
    with pytest.raises(UsageError) as refused:
        read("4/12", date(2026, 11, 24), "forward")
    assert "4dec or 12apr" in refused.value.message
    assert "tracker set run dates='day first'" in refused.value.hint


def test_numbers_only_are_read_in_the_order_the_run_says():
    today = date(2026, 11, 24)
    assert read("4/12", today, "forward", order="day first") == date(2026, 12, 4)
    assert read("4.12", today, "forward", order="day first") == date(2026, 12, 4)
    assert read("4/12", today, "forward", order="month first") == date(2027, 4, 12)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("30feb", "no day 30"), ("31 apr", "no day 31"), ("0dec", "no day 0"), ("2026-02-30", "not a date"),
        ("2026-13-01", "not a date"), ("31feb2027", "not a date"), ("4/13", "no month 13"), ("13/0", "no month 0"),
    ],
)  # fmt: skip
def test_days_that_do_not_exist_are_refused(text, says):
    with pytest.raises(UsageError, match=says):
        read(text, date(2026, 11, 24), "forward", order="day first")


@pytest.mark.parametrize("text", ["", "soon", "4 decs", "week 3", "dec", "4", "fri sat", "12wd"])
def test_what_is_no_date_is_refused_with_the_forms_that_work(text):
    with pytest.raises(UsageError) as refused:
        read(text, date(2026, 11, 24), "forward")
    assert "4dec" in refused.value.hint


def test_a_fact_never_reads_back_past_the_start_of_the_run_unless_the_year_is_written():
    today, began = date(2026, 11, 24), date(2026, 6, 15)
    with pytest.raises(UsageError, match="Mon 1 Dec 2025, before the run began on 2026-06-15") as refused:
        read("1dec", today, "back", earliest=began)
    assert "2025-12-01" in refused.value.hint
    assert read("2025-12-01", today, "back", earliest=began) == date(2025, 12, 1)
    assert read("15jun", today, "back", earliest=began) == began


def test_a_date_takes_only_the_words_that_belong_to_it():
    reader = DateReader(today=date(2026, 11, 24))
    words = ["4", "dec", "said", "Friday"]
    assert reader.read(words, 0, "forward") == (date(2026, 12, 4), 2)
    assert reader.read(["4", "dec", "2027", "x"], 0, "forward") == (date(2027, 12, 4), 3)
    assert reader.read(words, 2, "forward") is None


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("thurs", "thu"),
        ("tues", "tue"),
        ("Wednes", "wed"),
        ("4 sept", "4sep"),
        ("4 Decem", "4dec"),
        ("sept 4", "4sep"),
    ],
)
def test_a_weekday_or_month_may_be_cut_anywhere_after_three_letters(typed, meant):
    reader = DateReader(today=date(2026, 11, 24))
    assert reader.whole(typed, "back") == reader.whole(meant, "back")


def test_a_date_too_far_ahead_is_answered_with_both_years():
    with pytest.raises(UsageError) as error:
        DateReader(today=date(2026, 11, 30)).whole("25nov", "forward")
    assert "2026-11-25 or 2027-11-25" in error.value.hint


@pytest.mark.parametrize(
    ("text", "day", "used"),
    [("Tue 1 Dec 2026", date(2026, 12, 1), 4), ("fri 4dec", date(2026, 12, 4), 2), ("Thu 2026-12-03", date(2026, 12, 3), 2),
     ("fri 52 rework 5", date(2026, 11, 27), 1)],
)  # fmt: skip
def test_a_date_may_be_typed_as_it_is_shown_with_its_weekday(text, day, used):
    reader = DateReader(today=date(2026, 11, 24))
    assert reader.read(text.split(), 0, "forward") == (day, used)


def test_a_weekday_that_does_not_agree_with_its_date_is_refused():
    with pytest.raises(UsageError, match="Fri 4 Dec 2026 is no Monday"):
        DateReader(today=date(2026, 11, 24)).whole("mon 4 dec 2026", "forward")


def test_a_date_in_quotes_is_the_same_date():
    reader = DateReader(today=date(2026, 11, 24))
    assert reader.read(["Tue 1 Dec 2026", "x"], 0, "forward") == (date(2026, 12, 1), 1)
    assert reader.read(["4 dec", "x"], 0, "forward") == (date(2026, 12, 4), 1)
    assert reader.read(["4 dec for sure"], 0, "forward") is None


def test_a_quoted_word_after_a_weekday_is_a_word_of_its_own():
    reader = DateReader(today=date(2026, 11, 24))
    assert reader.read(["tue", "3 nov"], 0, "back") == (date(2026, 11, 24), 1)
