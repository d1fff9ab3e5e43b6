"""Working-day arithmetic against published examples, numpy and plain stepping."""

import random
from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.errors import Refused
from tracker.plan.calendars import calendars_of
from tracker.plan.model import Closure, Plan, PublicHolidays, Run, Supplier
from tracker.plan.workdays import FIRST_DAY, LAST_DAY, Calendar, parse_workdays

MON_FRI = parse_workdays("mon-fri")
SPAN = date(1995, 1, 1).toordinal(), date(2095, 12, 31).toordinal()


def _ordinal(text: str) -> int:
    return date.fromisoformat(text).toordinal()


def _ordinals(words) -> list[int]:
    return [_ordinal(word) for word in words]


def _iso(day: int) -> str:
    return date.fromordinal(day).isoformat()


def _spreadsheet_workday(calendar: Calendar, day: int, count: int) -> int:
    return calendar.add(day, count) if count >= 0 else calendar.subtract(day, -count)


# NumPy reference, busday_offset: its eight examples (read in a stored text; confirmed). A month means its first
# day. With roll forward the count begins at the first working day from the date, with roll backward at the last
# one up to it.
@pytest.mark.parametrize(
    ("start", "count", "roll", "weekdays", "expected"),
    [
        ("2011-10-01", 0, "forward", "mon-fri", "2011-10-03"),
        ("2012-03-01", -1, "forward", "mon-fri", "2012-02-29"),
        ("2011-01-01", 2, "forward", "wed", "2011-01-19"),
        ("2012-05-01", 1, "forward", "sun", "2012-05-13"),
        ("2011-03-20", 0, "forward", "mon-fri", "2011-03-21"),
        ("2011-03-22", 0, "forward", "mon-fri", "2011-03-22"),
        ("2011-03-20", 1, "backward", "mon-fri", "2011-03-21"),
        ("2011-03-22", 1, "backward", "mon-fri", "2011-03-23"),
    ],
)
def test_offsets_of_the_numpy_reference(start, count, roll, weekdays, expected):
    calendar = Calendar(parse_workdays(weekdays))
    day = _ordinal(start)
    rolled = calendar.snap(day) if roll == "forward" else calendar.snap_back(day)
    assert _iso(_spreadsheet_workday(calendar, rolled, count)) == expected


# NETWORKDAYS worked examples, both ends counted: OpenOffice wiki, HCL and Microsoft function references (read in
# a stored text; confirmed).
@pytest.mark.parametrize(
    ("first", "last", "holidays", "expected"),
    [
        ("2008-09-05", "2008-09-08", [], 2),
        ("2008-09-05", "2008-09-08", ["2008-09-08", "2008-12-25"], 1),
        (
            "2001-12-15",
            "2002-01-15",
            ["2001-12-24", "2001-12-25", "2001-12-26", "2001-12-31", "2002-01-01"],
            17,
        ),
        ("2022-05-28", "2022-05-30", ["2022-05-30"], 0),
        ("2012-10-01", "2013-03-01", [], 110),
        ("2012-10-01", "2013-03-01", ["2012-11-22"], 109),
        ("2012-10-01", "2013-03-01", ["2012-11-22", "2012-12-04", "2013-01-21"], 107),
    ],
)
def test_working_days_between_two_dates_both_counted(first, last, holidays, expected):
    calendar = Calendar(MON_FRI, off=_ordinals(holidays))
    assert calendar.count(_ordinal(first), _ordinal(last) + 1) == expected


# Weekend numbers of the .INTL functions: ISO 29500-1 18.17.7.227 and Microsoft function reference (read in a
# stored text; confirmed). Said here as the days that remain.
@pytest.mark.parametrize(
    ("workdays", "off"),
    [
        ("mon-fri", "sat sun"),
        ("tue-sat", "sun mon"),
        ("wed-sun", "mon tue"),
        ("thu-mon", "tue wed"),
        ("fri-tue", "wed thu"),
        ("sat-wed", "thu fri"),
        ("sun-thu", "fri sat"),
        ("mon-sat", "sun"),
        ("tue-sun", "mon"),
        ("wed-mon", "tue"),
        ("thu-tue", "wed"),
        ("fri-wed", "thu"),
        ("sat-thu", "fri"),
        ("sun-fri", "sat"),
    ],
)
def test_every_weekend_of_one_or_two_days_can_be_written(workdays, off):
    calendar = Calendar(parse_workdays(workdays))
    week = [date(2026, 11, 23) + timedelta(days=n) for n in range(7)]
    assert {f"{day:%a}".lower() for day in week if not calendar.is_working(day.toordinal())} == set(
        off.split()
    )


# Spreadsheet WORKDAY from a Saturday: OASIS OpenFormula semantics (part read, part from memory; confirmed).
@pytest.mark.parametrize(
    ("count", "expected"),
    [(1, "2024-06-03"), (-1, "2024-05-31"), (0, "2024-06-01")],
    ids=["on", "back", "none"],
)
def test_counting_from_a_day_off(count, expected):
    assert _iso(_spreadsheet_workday(Calendar(MON_FRI), _ordinal("2024-06-01"), count)) == expected


def _days(*spans: str) -> list[int]:
    found: list[int] = []
    for span in spans:
        first, _, last = span.partition("/")
        found += range(_ordinal(first), _ordinal(last or first) + 1)
    return found


# State Council General Office, notices on 2026 (4 Nov 2025) and 2022 (25 Oct 2021) holidays (read in a stored
# text; confirmed).
CHINA_2026 = Calendar(
    MON_FRI,
    off=_days(
        "2026-01-01/2026-01-03", "2026-02-15/2026-02-23", "2026-04-04/2026-04-06", "2026-05-01/2026-05-05",
        "2026-06-19/2026-06-21", "2026-09-25/2026-09-27", "2026-10-01/2026-10-07",
    ),
    extra=_days("2026-01-04", "2026-02-14", "2026-02-28", "2026-05-09", "2026-09-20", "2026-10-10"),
)  # fmt: skip
CHINA_2022 = Calendar(
    MON_FRI,
    off=_days(
        "2022-01-01/2022-01-03", "2022-01-31/2022-02-06", "2022-04-03/2022-04-05", "2022-04-30/2022-05-04",
        "2022-06-03/2022-06-05", "2022-09-10/2022-09-12", "2022-10-01/2022-10-07",
    ),
    extra=_days("2022-01-29/2022-01-30", "2022-04-02", "2022-04-24", "2022-05-07", "2022-10-08/2022-10-09"),
    near=_ordinal("2022-01-01"),
)  # fmt: skip


@pytest.mark.parametrize(
    ("calendar", "start", "count", "expected"),
    [
        (CHINA_2026, "2026-02-13", 1, "2026-02-14"),
        (CHINA_2026, "2026-02-13", 2, "2026-02-24"),
        (CHINA_2026, "2026-02-13", 6, "2026-02-28"),
        (CHINA_2026, "2026-09-18", 1, "2026-09-20"),
        (CHINA_2026, "2026-09-30", 3, "2026-10-10"),
        (CHINA_2022, "2022-01-28", 1, "2022-01-29"),
        (CHINA_2022, "2022-01-28", 3, "2022-02-07"),
        (CHINA_2022, "2022-09-29", 2, "2022-10-08"),
        (CHINA_2022, "2022-09-29", 4, "2022-10-10"),
    ],
)
def test_make_up_weekend_days_are_worked(calendar, start, count, expected):
    assert _iso(calendar.add(_ordinal(start), count)) == expected


@pytest.mark.parametrize(("calendar", "year", "expected"), [(CHINA_2026, 2026, 248), (CHINA_2022, 2022, 249)])
def test_a_year_with_make_up_days_has_the_announced_number_of_working_days(calendar, year, expected):
    assert calendar.count(_ordinal(f"{year}-01-01"), _ordinal(f"{year + 1}-01-01")) == expected


def test_a_supplier_is_shut_on_public_holidays_of_its_part_of_the_country_and_own_closures():
    public = (
        PublicHolidays(
            country="GB", subdivision="ENG", first_year=2026, last_year=2026, days=(date(2026, 8, 31),)
        ),
        PublicHolidays(
            country="GB", subdivision="SCT", first_year=2026, last_year=2026, days=(date(2026, 8, 3),)
        ),
    )
    shut = Closure(first=date(2026, 8, 5), last=date(2026, 8, 6))
    mill = Supplier(
        code="mill",
        country="GB",
        subdivision="ENG",
        closures=(shut,),
        opens=(date(2026, 8, 6), date(2026, 8, 8)),
    )
    abroad = Supplier(code="abroad")
    run = Run(code="run-1", quantity=1, start=date(2026, 8, 1))
    calendars = calendars_of(Plan(run=run, suppliers=(mill, abroad), holidays=public))
    august = [date(2026, 8, n) for n in range(1, 32)]
    weekdays = {day.day for day in august if day.weekday() < 5}
    worked = {
        code: {day.day for day in august if calendar.is_working(day.toordinal())}
        for code, calendar in calendars.items()
    }
    assert worked == {"mill": weekdays - {5, 31} | {8}, "abroad": weekdays}


@pytest.mark.parametrize("seed", range(60))
def test_agrees_with_numpy(seed):
    """Fifty random days for each of sixty random weeks with holidays, over 1995 to 2095."""
    rng = random.Random(seed)
    weekdays = [True] + [rng.random() < 0.6 for _ in range(6)]
    rng.shuffle(weekdays)
    middle = rng.randint(*SPAN)
    off = [rng.randint(middle - 800, middle + 800) for _ in range(rng.randint(0, 200))]
    calendar = Calendar(weekdays, off=off, near=rng.choice((middle, _ordinal("2026-01-01"))))
    numpy = np.busdaycalendar(weekmask=weekdays, holidays=[_iso(day) for day in off])
    for _ in range(50):
        day, other, count = (rng.randint(middle - 600, middle + 600) for _ in range(3))
        count = rng.randint(1, 150)
        iso = _iso(day)

        def offset(places, roll, iso=iso):
            return _ordinal(str(np.busday_offset(iso, places, roll=roll, busdaycal=numpy)))

        assert calendar.is_working(day) == np.is_busday(iso, busdaycal=numpy)
        assert calendar.snap(day) == offset(0, "forward")
        assert calendar.snap_back(day) == offset(0, "backward")
        assert calendar.add(day, count) == offset(count, "backward")
        assert calendar.subtract(day, count) == offset(-count, "forward")
        assert calendar.finish(day, count) == offset(count - 1, "forward")
        assert calendar.latest_start(day, count) == offset(1 - count, "backward")
        if day <= other:
            assert calendar.count(day, other) == np.busday_count(iso, _iso(other), busdaycal=numpy)


weeks = st.lists(st.booleans(), min_size=7, max_size=7).filter(any)
near_days = st.integers(_ordinal("2026-01-01"), _ordinal("2026-06-30"))
calendars = st.builds(
    Calendar, weeks, off=st.sets(near_days, max_size=40), extra=st.sets(near_days, max_size=15)
)
counts = st.integers(1, 40)


def _steps(calendar: Calendar, day: int, direction: int, count: int) -> int:
    """The ``count``-th working day from ``day``, itself included, one day at a time."""
    while True:
        worked = day in calendar.extra or (
            day not in calendar.off and calendar.weekdays[date.fromordinal(day).weekday()]
        )
        count -= worked
        if count == 0:
            return day
        day += direction


@given(calendars, near_days, counts)
def test_agrees_with_stepping_day_by_day_make_up_days_included(calendar, day, count):
    assert calendar.snap(day) == _steps(calendar, day, 1, 1)
    assert calendar.snap_back(day) == _steps(calendar, day, -1, 1)
    assert calendar.finish(day, count) == _steps(calendar, day, 1, count)
    assert calendar.latest_start(day, count) == _steps(calendar, day, -1, count)
    assert calendar.add(day, count) == _steps(calendar, day + 1, 1, count)
    assert calendar.subtract(day, count) == _steps(calendar, day - 1, -1, count)


@given(calendars, near_days, counts)
def test_latest_start_is_the_latest_that_still_ends_in_time(calendar, day, count):
    start = calendar.latest_start(day, count)
    assert calendar.finish(start, count) <= day < calendar.finish(start + 1, count)


@given(calendars, near_days, st.integers(0, 40))
def test_latest_before_adding_is_the_latest_that_does_not_pass(calendar, day, count):
    latest = calendar.latest_before_adding(day, count)
    assert calendar.add(latest, count) <= day < calendar.add(latest + 1, count)


@given(calendars, near_days, near_days, near_days)
def test_counts_add_up_and_change_sign(calendar, a, b, c):
    assert calendar.count(a, b) + calendar.count(b, c) == calendar.count(a, c)
    assert calendar.count(a, b) == -calendar.count(b, a)


@given(calendars, near_days, near_days, counts)
def test_later_days_never_end_earlier(calendar, a, b, count):
    a, b = sorted((a, b))
    for rule in (calendar.finish, calendar.latest_start, calendar.add, calendar.subtract):
        assert rule(a, count) <= rule(b, count)


@given(calendars, near_days, counts)
def test_adding_counts_exactly_the_days_passed(calendar, day, count):
    assert calendar.count(day + 1, calendar.add(day, count) + 1) == count
    assert calendar.subtract(calendar.add(calendar.snap(day), count), count) == calendar.snap(day)


def test_nothing_added_leaves_a_day_off_where_it_is():
    saturday = _ordinal("2026-06-06")
    calendar = Calendar(MON_FRI)
    assert (calendar.add(saturday, 0), calendar.subtract(saturday, 0)) == (saturday, saturday)


@pytest.mark.parametrize("day", [FIRST_DAY, LAST_DAY])
def test_the_first_and_last_day_of_the_years_can_be_asked_for(day):
    assert Calendar((True,) * 7).is_working(day)


@pytest.mark.parametrize("day", [FIRST_DAY - 1, LAST_DAY + 1])
def test_days_outside_the_years_are_refused(day):
    with pytest.raises(Refused, match="1990 to 2100"):
        Calendar((True,) * 7).snap(day)


def test_work_that_never_ends_is_refused():
    with pytest.raises(Refused, match="1990 to 2100"):
        Calendar(MON_FRI).finish(_ordinal("2099-12-31"), 400)


def test_a_supplier_that_never_works_is_refused():
    closed = range(FIRST_DAY, LAST_DAY + 1)
    with pytest.raises(Refused, match="1990 to 2100"):
        Calendar((True,) * 7, off=closed).snap(_ordinal("2026-01-01"))


def test_an_unknown_weekday_is_refused():
    with pytest.raises(ValueError, match="'mom' is not a weekday"):
        parse_workdays("mom-fri")
