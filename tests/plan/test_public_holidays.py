from dataclasses import replace
from datetime import date

import pytest

from tracker.errors import PlanProblems
from tracker.plan.model import Plan, PublicHolidays, Run, Supplier
from tracker.plan.public_holidays import check_holidays, resolve, with_holidays

ENGLAND = {
    2026: "01-01 04-03 04-06 05-04 05-25 08-31 12-25 12-28",
    2027: "01-01 03-26 03-29 05-03 05-31 08-30 12-27 12-28",
}
GERMANY = {
    2026: "01-01 04-03 04-06 05-01 05-14 05-25 10-03 12-25 12-26",
    2027: "01-01 03-26 03-29 05-01 05-06 05-17 10-03 12-25 12-26",
}
SUNDAYS_AND_SATURDAYS = (5, 6)


def dates(year, text):
    return [date.fromisoformat(f"{year}-{day}") for day in text.split()]


def plan(*suppliers, start=date(2026, 6, 15), kept=()):
    made = tuple(
        Supplier(code=f"s{n}", country=country, subdivision=sub) for n, (country, sub) in enumerate(suppliers)
    )
    return Plan(run=Run(code="r", quantity=1, start=start), suppliers=made, holidays=kept)


@pytest.mark.parametrize("year", [2026, 2027])
def test_bank_holidays_of_england_fall_on_these_weekdays(year):
    """Banking and Financial Dealings Act 1971 and proclamations; gov.uk/bank-holidays, part from memory.

    The days a holiday falls on at a weekend are left out: only the day in lieu closes a works.
    """
    found = [
        day for day in resolve("GB", "ENG", year, year).days if day.weekday() not in SUNDAYS_AND_SATURDAYS
    ]
    assert found == dates(year, ENGLAND[year])


@pytest.mark.parametrize("year", [2026, 2027])
def test_nine_days_are_kept_all_over_germany(year):
    """From memory: the unification treaty and the holiday laws of the states."""
    assert list(resolve("DE", "", year, year).days) == dates(year, GERMANY[year])


def test_bavaria_keeps_epiphany_too():
    """From memory: the Bavarian holiday law."""
    assert date(2026, 1, 6) in resolve("DE", "BY", 2026, 2026).days


@pytest.mark.parametrize(
    ("country", "subdivision", "text"),
    [
        (
            "gb",
            "",
            "there is no country 'gb'; did you mean GB? write two capitals of ISO 3166, such as GB or DE",
        ),
        ("??", "", "there is no country '??'; write two capitals of ISO 3166, such as GB or DE"),
        ("GB", "EN", "GB has no subdivision 'EN'; did you mean ENG?"),
        ("GB", "England", "GB has no subdivision 'England'; did you mean ENG?"),
        ("GB", "X", "GB has no subdivision 'X'; write one of ENG, NIR, SCT, WLS"),
    ],
)
def test_an_unknown_place_is_refused_with_the_nearest(country, subdivision, text):
    with pytest.raises(PlanProblems) as error:
        resolve(country, subdivision, 2026, 2026)
    (problem,) = error.value.problems
    assert f"{problem.found}; {problem.remedy}" == text


def test_all_unknown_places_are_listed_with_a_supplier_each():
    faulty = plan(("gb", ""), ("DE", ""), ("DE", "XX"), ("gb", ""))
    places = [problem.place for problem in check_holidays(faulty)]
    assert places == ["supplier s0, country", "supplier s2, subdivision"]
    with pytest.raises(PlanProblems, match="2 problems"):
        with_holidays(faulty)


def test_a_plan_keeps_each_needed_place_once_from_a_year_before_to_six_after():
    found = with_holidays(plan(("DE", ""), ("GB", "ENG"), ("DE", ""), ("", "")))
    assert [(row.country, row.subdivision, row.first_year, row.last_year) for row in found.holidays] == [
        ("DE", "", 2025, 2032),
        ("GB", "ENG", 2025, 2032),
    ]


def test_resolving_again_changes_nothing():
    found = with_holidays(plan(("DE", "")))
    assert with_holidays(found) is found


def test_kept_days_are_never_changed_and_missing_years_are_added():
    odd = PublicHolidays(country="DE", first_year=2026, last_year=2030, days=(date(2026, 7, 7),))
    (row,) = with_holidays(plan(("DE", ""), kept=(odd,))).holidays
    assert (row.first_year, row.last_year) == (2025, 2032)
    assert [day for day in row.days if 2026 <= day.year <= 2030] == [date(2026, 7, 7)]
    assert {day.year for day in row.days} == {2025, 2026, 2031, 2032}


def test_a_run_moved_far_away_leaves_no_gap_between_kept_years():
    first = with_holidays(plan(("DE", "")))
    moved = with_holidays(replace(first, run=replace(first.run, start=date(2040, 1, 1))))
    (row,) = moved.holidays
    assert {day.year for day in row.days} == set(range(2025, 2047))


def test_a_kept_place_needs_no_lookup():
    kept = PublicHolidays(country="ZZ", first_year=2025, last_year=2032)
    assert with_holidays(plan(("ZZ", ""), kept=(kept,))).holidays == (kept,)


def test_years_stop_at_the_last_that_can_be_reckoned_with():
    (row,) = with_holidays(plan(("DE", ""), start=date(2098, 1, 1))).holidays
    assert (row.first_year, row.last_year) == (2097, 2100)
