"""Several steps on one plan, edits and the day it is decided."""

from datetime import date

import pytest

from tests.build import SHOP, day, fact, plan
from tracker.errors import PlanProblems, Refused, UsageError
from tracker.plan.progress import progress_of
from tracker.schedule.forecast import Forecast
from tracker.trying.reading import read_try

TEXT = "a:5wd@shop b:3wd@shop c:2 | a>b b>c"


def tried(words, today=0, facts=(), **more):
    return read_try(words.split(), plan(TEXT, facts=facts), day(today), **more)


def starts(found, code, today=0):
    forecast = Forecast(found.plan, day(today))
    return forecast.times.start[forecast.lot_of(code)] - day(0).toordinal()


def test_each_step_stands_on_the_plan_the_ones_before_it_left():
    found = tried(
        "add job foam supplier=bench lead=2cd after=a and set b after+=foam and promised foam 2026-06-20"
    )
    assert [link.job for link in found.plan.job_by_code["b"].after] == ["a", "foam"]
    assert [one.job for one in found.facts] == ["foam"]
    assert found.touched == ("foam", "b")
    assert found.edits == ("job foam added: supplier bench, lead 2cd, after a", "job b: after adds foam")


def test_facts_come_in_order_and_remarks_with_them():
    found = tried("ordered a and approved b drawing and note run all well")
    assert [(one.kind, one.job) for one in found.facts] == [("ordered", "a"), ("given", "b"), ("note", "")]
    assert found.remarks[0].startswith("b does not wait for drawing")


def test_what_is_known_already_changes_nothing_and_what_cannot_be_is_refused():
    found = tried("ordered a and ordered a")
    assert (len(found.facts), found.remarks) == (1, ("a: that is known already, so it changes nothing",))
    with pytest.raises(Refused, match="ordered is logged already"):
        tried("ordered a and ordered a on 2026-06-09")


def test_a_delivery_may_come_twice():
    known = plan(TEXT, jobs={"a": {"quantity": 90}})
    found = read_try(("in", "a", "10", "and", "in", "a", "10"), known, day(0))
    assert progress_of(found.plan, found.plan.job_by_code["a"], day(0)).received == 20


def test_an_edit_that_changes_nothing_says_so():
    assert tried("set a lead=5wd").edits == ("nothing differs by that",)


def test_a_plan_that_would_not_hold_together_is_refused_whole():
    with pytest.raises(PlanProblems) as refused:
        tried("set a after=c")
    assert "ring" in str(refused.value.problems[0]) or "wait" in str(refused.value.problems[0])


@pytest.mark.parametrize(
    ("words", "message"),
    [
        ("add job", "add what? supplier, part, job or shipment, and its code"),
        ("set", "set which job, supplier, part or shipment?"),
        ("remove", "remove which job, supplier, part or shipment?"),
        ("remove a b", "remove takes one code, found 'a b'"),
        ("add thing x", "'thing' cannot be added"),
        ("promised a 2026-06-20 and b 2026-06-21", "after 'and' a step begins with a verb, but 'b' is none"),
        ("promised a 2026-06-20 and", "after 'and' a step begins with a verb, but nothing follows"),
        ("ordered a and b", "after 'and' a step begins with a verb, but 'b' is none"),
    ],
)  # fmt: skip
def test_words_that_cannot_be_read_are_refused_once(words, message):
    with pytest.raises(UsageError) as refused:
        tried(words)
    assert refused.value.message.startswith(message)
    assert refused.value.hint


def test_removing_takes_a_thing_away():
    assert "c" not in tried("set wave-1 after=b and remove c").plan.job_by_code


def test_decided_later_a_changed_job_begins_the_day_after_at_the_earliest():
    """Decided on Sat 6 June, so not before Sun 7 June, and its own next working day is Mon 8 June."""
    assert starts(tried("set a lead=1wd", begins=day(5)), "a") == 7
    assert starts(tried("set a lead=1wd", begins=day(2)), "a") == 3
    assert starts(tried("set a lead=1wd"), "a") == 1
    assert starts(tried("set a lead=1wd not_before=2026-06-20", begins=day(5)), "a") == 21


def test_decided_later_a_job_that_has_begun_is_not_held():
    found = tried("set a lead=9wd", today=3, facts=[fact("started", "a", 1)], begins=day(9))
    assert starts(found, "a", 3) == 1
    assert found.plan.job_by_code["a"].not_before is None


def test_decided_later_orders_go_out_on_that_day_or_on_the_later_one_named():
    assert starts(tried("ordered a", begins=day(7)), "a") == 8
    assert starts(tried("ordered a on 2026-06-03", begins=day(7)), "a") == 8
    assert starts(tried("ordered a on 2026-06-11", begins=day(7)), "a") == 11


def test_decided_in_the_past_is_decided_today():
    assert tried("ordered a", begins=date(2026, 1, 1)).facts[0].on == day(0)


def test_an_added_job_waits_for_its_order_and_for_the_day_it_is_decided():
    assert SHOP.code == "shop"
    found = tried("add job foam supplier=shop lead=2wd and ordered foam", begins=day(8))
    assert starts(found, "foam") == 9
