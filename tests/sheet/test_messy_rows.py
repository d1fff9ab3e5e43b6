"""Rows as makers leave them: several suppliers in a cell, errors, units beside leads, a done column, totals."""

from dataclasses import replace
from datetime import date

import pytest

from tests.sheet.drafts import EMPTY, TODAY, drafted, job, problems, stored, table
from tracker.errors import Refused
from tracker.plan.model import Fact
from tracker.sheet.answers import Answers
from tracker.sheet.drafting import draft


@pytest.mark.parametrize(
    "word", ["wir", "Eigenleistung", "nous", "noi", "nosotros", "wij", "us / me", "me & ourselves"]
)
def test_words_for_ourselves_in_other_languages_or_together_mean_the_bench(word):
    assert job(drafted(("Pack", word, "2wd", "")), "pack").supplier == "bench"


def test_ourselves_beside_somebody_else_is_not_guessed():
    assert (
        "'us + Sam' names ourselves and others; write us"
        in problems(drafted(("Pack", "us + Sam", "2wd", "")))[0]
    )


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("Tolmark or Ridge Metal", True),
        ("Lipowa / Orlice", True),
        ("Varne, then Halden", True),
        ("Lipowa (alt: Ostrava)", True),
        ("Lark & Fathom", False),
        ("Brandt A/S", False),
        ("House of Glass", False),
    ],
)
def test_a_cell_that_names_several_suppliers_is_kept_as_one_and_told(name, told):
    made = drafted(("Mill", name, "8wd", ""))
    assert len(made.plan.suppliers) == 1
    assert any("is kept as one" in one for one in made.remarks) == told


@pytest.mark.parametrize("name", ["TBC", "?", "tbd", "-", "open"])
def test_no_supplier_yet_is_asked_for_and_makes_none(name):
    made = drafted(("Mill", name, "8wd", ""))
    assert "has no supplier; write one ('screw maker' will do until you have one)" in problems(made)[0]
    assert made.plan.suppliers == ()


@pytest.mark.parametrize(
    "column", ["item", "supplier", "lead", "after", "quantity", "promised", "note", "contact"]
)
def test_a_cell_whose_formula_failed_is_a_problem_wherever_it_is_read(column):
    roles = ("item", "supplier", "lead", "after", "quantity", "promised", "note", "contact")
    cells = ["Mill", "Tolmark", "8wd", None, 5, date(2026, 7, 1), "soon", "Ann"]
    cells[roles.index(column)] = "#REF!"
    made = drafted(tuple(cells), roles=roles)
    assert (
        any("#REF!" in one and "row 4, column" in one for one in problems(made))
        or made.questions[0].heard.trouble
    )


@pytest.mark.parametrize(
    ("at", "number", "says"), [(2, 1, "C4: a formula"), (2, 3, r"C4 \(and 2 more\): a formula")]
)
def test_a_formula_never_worked_out_is_refused_by_its_cell_where_its_column_is_read(at, number, says):
    with pytest.raises(Refused, match=f"sheet Jobs, {says} whose value was never worked out") as refusal:
        read_with_unworked(at, number)
    assert "save it, then read it again" in refusal.value.hint


def test_a_formula_never_worked_out_in_a_column_that_is_not_read_stops_nothing():
    assert len(read_with_unworked(3, 4).plan.jobs) == 4


def read_with_unworked(at, number):
    """Four jobs whose first rows hold formulas without a value in one column, of which the first three are read."""
    left = replace(
        table(*[(f"Job {row}", "Tolmark", "8wd", 0) for row in range(4)]),
        unworked=frozenset((4 + row, at) for row in range(number)),
    )
    return draft(
        left,
        {0: "item", 1: "supplier", 2: "lead"},
        plan=EMPTY,
        answers=Answers(),
        source="jobs.xlsx",
        today=TODAY,
    )


def test_a_unit_in_its_own_column_counts_for_each_row():
    made = drafted(
        ("Mill", "Tolmark", 8, "working days"), ("Turn", "Tolmark", 3, "weeks"), ("Bore", "Tolmark", 5, None), ("Paint", "Varne", 2, "lots"),
        roles=("item", "supplier", "lead", "unit"),
    )  # fmt: skip
    assert str(job(made, "mill").lead) == "8wd"
    heard = [one.heard for one in made.questions]
    assert [(one.said, one.kind) for one in heard] == [
        ("3 weeks", "weeks"),
        ("5", "numbers"),
        ("2 lots", None),
    ]
    assert made.open_leads == {"turn", "bore", "paint"}


def test_what_a_status_column_says_is_read_back_by_its_words_and_never_stored():
    roles = ("item", "supplier", "lead", "status")
    rows = (
        ("Mill", "Tolmark", "8wd", "DONE"),
        ("Turn", "Tolmark", "8wd", "✅"),
        ("Bore", "Varne", "8wd", "DONE"),
        ("Hone", "Varne", "8wd", None),
    )
    made = drafted(*rows, roles=roles)
    assert made.plan.facts == ()
    assert made.remarks[-2:] == (
        "column D (Done?) is read back, not stored: 'DONE' mill, bore; '✅' turn",
        "log what has happened so far, such as: tracker started mill on 20jun (or ordered, made, in, finished)",
    )
    begun = replace(stored(made), facts=(Fact(on=TODAY, kind="started", logged=TODAY, job="mill"),))
    assert "'DONE' bore" in drafted(*rows, roles=roles, plan=begun).remarks[-2]


def test_jobs_that_all_begin_at_once_are_told_with_a_way_to_link_them():
    rows = [("Mill", "Tolmark", "8wd", None), ("Turn", "Tolmark", "8wd", None)]
    (told,) = drafted(*rows).remarks
    assert told.startswith("no job here waits for another, so all begin at once; say what each waits for")
    assert told.endswith("tracker set turn after=mill")
    linked = stored(drafted(*rows[:1], ("Turn", "Tolmark", "8wd", "Mill")))
    assert (
        drafted(("Bore", "Tolmark", "8wd", None), ("Hone", "Tolmark", "8wd", None), plan=linked).remarks == ()
    )
    assert drafted(*rows[:1]).remarks == ()
    assert not any(
        "begin at once" in one for one in drafted(*rows[:1], ("Turn", "Tolmark", "8wd", "nosuch")).remarks
    )


def test_totals_in_other_languages_are_left_out():
    made = drafted(
        *((name, None, 37, None) for name in ("Summe", "Gesamt", "Totale", "Totaal", "Sous-total", "Somme")),
    )
    assert [one.why for one in made.skipped] == ["a total"] * 6
