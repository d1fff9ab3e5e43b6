"""Orders, promises and notes a sheet tells of: facts, once, on the right day."""

from dataclasses import replace
from datetime import date

import pytest

from tests.sheet.drafts import EMPTY, drafted, problems, stored

DATED = ("item", "supplier", "lead", "ordered", "promised", "note")


def facts(*row, plan=EMPTY, today=date(2026, 6, 20)):
    return drafted(row, roles=DATED, plan=plan, today=today)


def test_orders_promises_and_notes_become_facts_of_the_day_they_are_read():
    made = facts("Mill", "Tolmark", "12wd", date(2026, 6, 16), date(2026, 7, 3), "ask for Gwen")
    told = [(fact.kind, fact.on, fact.day, fact.note, fact.logged) for fact in made.plan.facts]
    today = date(2026, 6, 20)
    assert told == [
        ("ordered", date(2026, 6, 16), None, "", today), ("promised", today, date(2026, 7, 3), "", today),
        ("note", today, None, "ask for Gwen", today),
    ]  # fmt: skip


def test_an_unchanged_sheet_brings_no_fact_twice_also_not_a_promise_given_up_since():
    row = ("Mill", "Tolmark", "12wd", date(2026, 6, 16), date(2026, 7, 3), "ask for Gwen")
    plan = stored(facts(*row))
    newer = replace(plan.facts[1], on=date(2026, 6, 25), logged=date(2026, 6, 25), day=date(2026, 7, 20))
    later = replace(plan, facts=(*plan.facts, newer))
    assert facts(*row, plan=later, today=date(2026, 6, 30)).plan.facts == ()


@pytest.mark.parametrize(
    ("day", "says"),
    [
        (date(2026, 6, 21), "Sun 21 Jun 2026 is after today, Sat 20 Jun 2026"),
        ("yes", "not a date"),
        ("4/6", "two ways: 4jun or 6apr"),
    ],
)
def test_an_order_lies_in_the_past_and_on_a_day(day, says):
    assert says in problems(facts("Mill", "Tolmark", "12wd", day, None, None))[0]


def test_an_order_logged_for_another_day_is_not_overwritten():
    plan = stored(facts("Mill", "Tolmark", "12wd", date(2026, 6, 16), None, None))
    made = facts("Mill", "Tolmark", "12wd", date(2026, 6, 17), None, None, plan=plan)
    assert "Wed 17 Jun 2026 is not the day logged, Tue 16 Jun 2026" in problems(made)[0]
    assert "column D (PO date)" in problems(made)[0]


def test_an_order_placed_today_is_a_fact():
    made = facts("Mill", "Tolmark", "12wd", date(2026, 6, 20), None, None)
    assert [fact.on for fact in made.plan.facts] == [date(2026, 6, 20)]
