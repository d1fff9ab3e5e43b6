"""Options in plan files and workbooks, merged, compared and taken out."""

from dataclasses import replace
from datetime import date

import pytest

from tracker.errors import Refused
from tracker.plan.model import Fact, Job, Plan, Run, Supplier
from tracker.plan.options import Option
from tracker.plan.span import parse_lead
from tracker.planfile.book import book_of, parse_book
from tracker.planfile.difference import difference, not_in_file
from tracker.planfile.grid import Grid
from tracker.planfile.merging import merge
from tracker.planfile.reading import parse_plan
from tracker.planfile.removing import without
from tracker.planfile.writing import write_plan

DAY = date(2026, 11, 24)
RINGS = Option(code="rings", words='promised boxes 2026-12-04 said "for sure"', on=DAY, cost="GBP 1,763")
BENCH = Option(code="bench-2", words="set boxes lead=3wd", on=DAY)
DECIDED = Fact(on=DAY, logged=DAY, kind="decided", option="rings", note="go")
PLAN = Plan(
    run=Run(code="dial-1", quantity=240, start=date(2026, 6, 15)),
    suppliers=(Supplier(code="print"),),
    jobs=(Job(code="boxes", supplier="print", lead=parse_lead("20wd")),),
    options=(RINGS, BENCH),
    facts=(DECIDED,),
)
TABLES = """\
[[option]]
code = "rings"
words = "promised boxes 2026-12-04 said \\"for sure\\""
cost = "GBP 1,763"
on = 2026-11-24

[[option]]
code = "bench-2"
words = "set boxes lead=3wd"
on = 2026-11-24

[[fact]]
on = 2026-11-24
option = "rings"
kind = "decided"
note = "go"
"""


def parse(text):
    return parse_plan(text, source="plan.toml", today=DAY)


def test_options_stand_before_facts_and_read_back_to_an_equal_plan():
    text = write_plan(PLAN)
    assert text.endswith(TABLES)
    parsed = parse(text)
    assert (parsed.plan, parsed.problems) == (PLAN, ())


def test_options_of_a_workbook_read_back_to_an_equal_plan():
    grids = [
        Grid(sheet=one.name, rows=(tuple(column.key for column in one.columns), *one.rows))
        for one in book_of(PLAN)
    ]
    parsed = parse_book(grids, source="plan.xlsx", today=DAY)
    assert (parsed.plan, parsed.problems) == (PLAN, ())


@pytest.mark.parametrize(
    ("table", "line"),
    [
        (
            'code = "x"\non = 2026-11-24',
            'plan.toml, option x: has no words; write words = "set boxes lead=12wd"',
        ),
        ('code = "x"\nwords = "remove boxes"', "plan.toml, option x: has no on; write on = 2026-11-24"),
        (
            'code = "x"\nwords = "remove boxes"\non = 2026-11-24\ncosts = "3"',
            "plan.toml, option x: there is no key 'costs'; did you mean cost?",
        ),
    ],
)
def test_what_an_option_lacks_is_named_once(table, line):
    run = '[run]\ncode = "dial-1"\nquantity = 240\nstart = 2026-06-15\n'
    parsed = parse(f"{run}[[option]]\n{table}\n")
    assert [str(one) for one in parsed.problems] == [line]
    assert "x" in parsed.unreadable


def test_an_option_of_the_file_replaces_the_stored_one_and_others_stay():
    dearer = replace(RINGS, cost="GBP 1,800")
    merged = merge(PLAN, replace(PLAN, options=(dearer,)))
    assert merged.options == (dearer, BENCH)
    assert merged.facts == (DECIDED,)
    assert not_in_file(PLAN, replace(PLAN, options=(dearer,))) == ("option bench-2",)


def test_a_difference_names_options_by_their_keys():
    changed = replace(PLAN, options=(replace(BENCH, cost="GBP 9"), replace(RINGS, code="rings-2")), facts=())
    assert [str(one) for one in difference(PLAN, changed)] == [
        'removed option rings: words "promised boxes 2026-12-04 said \\"for sure\\"", cost "GBP 1,763", on 2026-11-24',
        'changed option bench-2: cost "" -> "GBP 9"',
        'added option rings-2: words "promised boxes 2026-12-04 said \\"for sure\\"", cost "GBP 1,763", on 2026-11-24',
        'removed fact decided rings 2026-11-24: note "go"',
    ]


def test_an_option_nothing_was_decided_on_is_taken_out():
    assert without(PLAN, "option", "bench-2").options == (RINGS,)


def test_an_option_decided_on_stays():
    with pytest.raises(Refused) as error:
        without(PLAN, "option", "rings")
    assert error.value.message == "rings was decided on Tue 24 Nov 2026, so it cannot be removed"
    assert "tracker diary rings" in error.value.hint


def test_a_job_can_be_taken_out_though_an_option_speaks_of_it():
    assert without(PLAN, "job", "boxes").options == PLAN.options
