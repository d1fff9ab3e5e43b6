"""What is saved is what is loaded."""

from dataclasses import replace
from datetime import date
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings

from tests.part_plans import part_plans
from tests.plans import plans
from tests.store.conftest import MONDAY, NOON
from tracker.errors import Refused
from tracker.plan.model import Closure, FirstPlan, Plan, PlannedShipment, Run, Supplier
from tracker.store.database import create_store, open_store, reading, writing
from tracker.store.diary import read_diary
from tracker.store.load import fact_entries, load_plan

ALL_LINKS = ("finish-start", "start-start", "finish-finish")


def any_plans(**options):
    return plans(**options) | part_plans(**options)


def save(store, after, command="read"):
    with writing(store) as transaction:
        number = transaction.begin_entry(command, MONDAY, NOON)
        transaction.save(transaction.load(), after)
        return number


def load(store):
    with reading(store) as connection:
        return load_plan(connection)


@settings(max_examples=60, deadline=None)
@given(any_plans(kinds=ALL_LINKS))
def test_any_plan_loads_equal_to_what_was_saved(plan):
    with TemporaryDirectory() as folder:
        store = create_store(f"{folder}/run.sqlite")
        save(store, plan)
        assert load(open_store(store.path)) == plan


@settings(max_examples=60, deadline=None)
@given(any_plans(kinds=ALL_LINKS, max_facts=0), any_plans(kinds=ALL_LINKS), any_plans(max_facts=0))
def test_any_plan_can_become_any_other_and_back_by_undo(first, second, third):
    with TemporaryDirectory() as folder:
        store = create_store(f"{folder}/run.sqlite")
        save(store, first)
        save(store, third)
        assert load(store) == third
        number = save(store, second)
        assert load(store) == second
        for expected in (third, second, third):
            with writing(store) as transaction:
                number = transaction.undo(number, "undo", MONDAY, NOON).undone_by
            assert load(store) == expected


@settings(max_examples=30, deadline=None)
@given(any_plans(max_facts=0), any_plans(max_facts=0))
def test_the_changes_of_an_entry_tell_the_whole_story(first, second):
    """Taking an entry's changes back by hand, from the rows as they are now, gives the rows before it."""
    with TemporaryDirectory() as folder:
        store = create_store(f"{folder}/run.sqlite")
        save(store, first)
        save(store, second)
        with reading(store) as connection:
            entries = read_diary(connection, with_changes=True)
        rows = {(c.table, c.key): c.after for c in entries[0].changes}
        before = dict(rows)
        for change in entries[1].changes:
            assert rows.get((change.table, change.key)) == change.before
            rows[change.table, change.key] = change.after
        for change in reversed(entries[1].changes):
            rows[change.table, change.key] = change.before
        assert {name: row for name, row in rows.items() if row} == before


def test_an_empty_first_plan_is_not_the_same_as_none(keep, stored, plan):
    keep(replace(plan, first_plan=FirstPlan()))
    assert stored().first_plan == FirstPlan()


def test_a_first_plan_can_be_kept_later_and_dropped_again(keep, stored, plan):
    keep(plan)
    kept = replace(plan, first_plan=FirstPlan(shipments=(PlannedShipment(shipment="wave-1", date=MONDAY),)))
    keep(kept)
    assert stored() == kept
    keep(plan)
    assert stored() == plan


def test_saving_the_same_plan_again_changes_no_row(keep, diary, plan):
    keep(plan)
    keep(plan)
    assert diary(with_changes=True)[1].changes == ()


def test_removing_one_job_touches_no_row_of_the_others(keep, stored, diary, plan):
    keep(replace(plan, shipments=()))
    left = replace(plan, shipments=(), jobs=(replace(plan.jobs[1], after=()),))
    keep(left)
    assert {(c.table, c.key) for c in diary(with_changes=True)[1].changes} == {
        ("job", "housing"),
        ("link", "pack 0"),
    }
    assert stored() == left


def test_the_order_of_jobs_is_kept_when_they_are_turned_round(keep, stored, plan):
    keep(plan)
    turned = replace(plan, jobs=plan.jobs[::-1])
    keep(turned)
    assert stored() == turned


def test_saving_after_an_undo_left_gaps_in_the_order_still_stores_the_wish(keep, stored, undo):
    def with_closures(*months):
        closures = tuple(Closure(first=date(2026, m, 1), last=date(2026, m, 2)) for m in months)
        supplier = Supplier(code="mill", closures=closures)
        return Plan(run=Run(code="run-1", quantity=1, start=MONDAY), suppliers=(supplier,))

    keep(with_closures(1))
    keep(with_closures(1, 2))
    keep(with_closures(1, 2, 3))
    undo(2)
    assert stored() == with_closures(1, 3)
    keep(with_closures(1, 3, 4))
    assert stored() == with_closures(1, 3, 4)


def test_facts_keep_the_order_and_the_entry_they_were_logged_in(store, keep, plan, fact):
    keep(replace(plan, facts=(fact(good=3), fact(good=1))))
    keep(replace(plan, facts=(fact(good=3), fact(good=1), fact(good=2))))
    with writing(store) as transaction:
        assert [f.good for f in transaction.load().facts] == [3, 1, 2]
        assert transaction.fact_entries() == [1, 1, 2]
    with reading(store) as connection:
        assert fact_entries(connection) == [1, 1, 2]


def test_a_logged_fact_can_not_be_saved_away(keep, stored, plan, fact):
    keep(replace(plan, facts=(fact(good=3), fact(good=1))))
    for facts in ((), (fact(good=3),), (fact(good=1), fact(good=3)), (fact(good=3), fact(good=9))):
        with pytest.raises(Refused, match="facts already logged would change"):
            keep(replace(plan, facts=facts))
    assert [f.good for f in stored().facts] == [3, 1]
