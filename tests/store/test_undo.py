from dataclasses import replace

import pytest

from tests.store.conftest import MONDAY, NOON
from tracker.errors import Refused
from tracker.plan.model import Job, Link, Plan, Supplier
from tracker.plan.span import Lead
from tracker.store.database import writing

LONG = Lead(20, 20, 20, "wd")


def with_job(plan, code, **changes):
    return replace(plan, jobs=tuple(replace(j, **changes) if j.code == code else j for j in plan.jobs))


def without_job(plan, code):
    return replace(plan, jobs=tuple(j for j in plan.jobs if j.code != code))


def test_undo_takes_the_last_entry_back_by_a_new_one(keep, stored, diary, undo, plan, fact):
    keep(plan)
    keep(replace(plan, facts=(fact(),)), "in housing 10")
    entry = undo()
    assert (entry.number, entry.command, entry.undone_by) == (2, "in housing 10", 3)
    assert stored() == plan
    assert [(e.number, e.undoes, e.undone_by) for e in diary()] == [
        (1, None, None),
        (2, None, 3),
        (3, 2, None),
    ]


def test_undo_without_a_number_walks_back_over_what_is_undone(keep, stored, undo, plan):
    keep(plan, "read")
    keep(with_job(plan, "pack", lead=LONG), "set pack lead=20wd")
    assert [undo().command, undo().command] == ["set pack lead=20wd", "read"]
    assert stored() is None
    with pytest.raises(Refused, match="there is nothing to undo"):
        undo()


def test_undoing_an_undo_does_it_again(keep, stored, diary, undo, plan, fact):
    keep(plan)
    logged = replace(plan, facts=(fact(good=1), fact(good=2)))
    keep(logged, "log")
    undo(2)
    undo(3)
    assert stored() == logged
    assert [e.undone_by for e in diary()] == [None, None, 4, None]
    assert undo().number == 2


def test_a_fact_done_again_keeps_its_place(keep, stored, undo, plan, fact):
    keep(replace(plan, facts=(fact(good=1),)))
    keep(replace(plan, facts=(fact(good=1), fact(good=2))))
    undo(2)
    keep(replace(plan, facts=(fact(good=1), fact(good=3))))
    undo(3)
    assert [f.good for f in stored().facts] == [1, 2, 3]


def test_an_undone_entry_is_not_undone_twice(keep, undo, plan):
    keep(plan, "read")
    undo(1)
    with pytest.raises(Refused, match=r"entry 1 \(read\) is already undone by entry 2") as refusal:
        undo(1)
    assert refusal.value.hint == "do it again with 'tracker undo 2'"


@pytest.mark.parametrize(("number", "said"), [(9, "entries run from 1 to 1"), (0, "there is no entry 0")])
def test_an_unknown_entry_is_not_undone(keep, undo, plan, number, said):
    keep(plan)
    with pytest.raises(Refused, match=said):
        undo(number)


def test_an_empty_diary_has_no_entry_to_undo(undo):
    with pytest.raises(Refused, match="the diary is empty"):
        undo(1)


def test_a_row_changed_since_is_not_undone(keep, stored, diary, undo, plan):
    keep(plan)
    keep(with_job(plan, "pack", lead=LONG), "set pack lead=20wd")
    last = with_job(plan, "pack", lead=LONG, quantity=90)
    keep(last, "set pack quantity=90")
    with pytest.raises(Refused) as refusal:
        undo(2)
    assert refusal.value.message == (
        "entry 2 (set pack lead=20wd) cannot be undone: entry 3 (set pack quantity=90) rests on it"
    )
    assert refusal.value.hint == "undo it first: 'tracker undo 3'"
    assert stored() == last
    assert len(diary()) == 3


def test_a_job_with_later_facts_and_links_is_not_undone_and_each_is_named(keep, undo, plan, fact):
    keep(plan)
    more = replace(plan, jobs=(*plan.jobs, Job(code="boxes", supplier="mill", lead=LONG)))
    keep(more, "add job boxes")
    keep(replace(more, facts=(fact("boxes"),)), "in boxes 10")
    linked = with_job(
        replace(more, facts=(fact("boxes"),)), "pack", after=(Link(job="housing"), Link(job="boxes"))
    )
    keep(linked, "set pack after=housing,boxes")
    with pytest.raises(Refused) as refusal:
        undo(2)
    assert (
        "entry 3 (in boxes 10) and entry 4 (set pack after=housing,boxes) rest on it" in refusal.value.message
    )
    assert refusal.value.hint == "undo them, the last one first: 'tracker undo 4'"


def test_what_rested_on_an_entry_no_longer_does_once_undone(keep, stored, undo, plan, fact):
    keep(plan)
    more = replace(plan, jobs=(*plan.jobs, Job(code="boxes", supplier="mill", lead=LONG)))
    keep(more, "add job boxes")
    keep(replace(more, facts=(fact("boxes"),)), "in boxes 10")
    undo(3)
    undo(2)
    assert stored() == plan
    with pytest.raises(Refused, match=r"entry 4 \(undo 3\) cannot be undone: entry 5 \(undo 2\) rests on it"):
        undo(4)


def test_a_removal_is_not_undone_when_what_it_needs_has_gone_since(keep, undo, plan):
    keep(plan)
    spare = replace(
        plan,
        suppliers=(*plan.suppliers, Supplier(code="print")),
        jobs=(*plan.jobs, Job(code="boxes", supplier="print", lead=LONG)),
    )
    keep(spare, "add")
    keep(without_job(spare, "boxes"), "remove boxes")
    keep(plan, "remove print")
    with pytest.raises(Refused, match=r"entry 3 \(remove boxes\) .* entry 4 \(remove print\) rests on it"):
        undo(3)


def test_an_entry_that_changed_other_rows_is_undone_under_later_ones(keep, stored, undo, plan, fact):
    keep(plan)
    keep(with_job(plan, "pack", lead=LONG), "set pack lead=20wd")
    keep(replace(with_job(plan, "pack", lead=LONG), facts=(fact("pack"),)), "in pack 10")
    undo(2)
    assert stored() == replace(plan, facts=(fact("pack"),))


def test_moving_a_job_in_the_order_does_not_rest_on_an_earlier_entry(keep, stored, undo, plan):
    keep(plan)
    longer = with_job(plan, "housing", lead=LONG)
    keep(longer, "set housing lead=20wd")
    first = tuple(Job(code=code, supplier="mill", lead=LONG) for code in ("boxes", "labels"))
    keep(replace(longer, jobs=(*first, *longer.jobs)), "read")
    undo(2)
    assert stored() == replace(plan, jobs=(*first, *plan.jobs))


def test_rows_that_came_and_went_within_an_entry_are_no_change(store, stored, undo, plan):
    more = replace(plan, suppliers=(*plan.suppliers, Supplier(code="print")))
    with writing(store) as transaction:
        transaction.begin_entry("read", MONDAY, NOON)
        transaction.save(None, plan)
        transaction.save(plan, more)
        transaction.save(more, plan)
    undo(1)
    assert stored() is None
    undo(2)
    assert stored() == plan


def test_a_refused_undo_leaves_no_entry_and_no_change(keep, diary, stored, undo, plan, fact):
    keep(plan, "read")
    logged: Plan = replace(plan, facts=(fact(),))
    keep(logged, "in housing 10")
    with pytest.raises(Refused, match="rests on it"):
        undo(1)
    assert stored() == logged
    assert len(diary()) == 2
