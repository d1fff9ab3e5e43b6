"""What moved the shipments: lines that add up exactly, whatever was entered in whatever order."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from tempfile import TemporaryDirectory

import pytest

from tests.random_diaries import random_diary
from tracker.cli.looking_back import entries_between
from tracker.explain.gathering import closures_of, gathered
from tracker.explain.moved import movement
from tracker.explain.steps import Changed
from tracker.plan.diary import Entry
from tracker.plan.model import Closure, Fact, Job, Link, Plan, Run, Shipment, Supplier
from tracker.plan.span import Lead
from tracker.schedule.forecast import Forecast
from tracker.store.database import reading
from tracker.store.replay import read_replay

MONDAY = date(2026, 3, 2)


def day(text):
    return date.fromisoformat(f"2026-{text}")


def lead(days):
    return Lead(days, days, days, "wd")


def milled(**changes):
    """Ordered housings, then packing at our own bench, in one shipment."""
    plan = Plan(
        run=Run(code="run-1", quantity=100, start=MONDAY),
        suppliers=(Supplier(code="mill"), Supplier(code="bench", inhouse=True)),
        jobs=(
            Job(code="housing", supplier="mill", lead=lead(5)),
            Job(code="pack", supplier="bench", lead=lead(2), after=(Link(job="housing"),)),
        ),
        shipments=(Shipment(code="wave-1", quantity=100, after=("pack",)),),
        facts=(Fact(on=MONDAY, logged=MONDAY, kind="ordered", job="housing"),),
    )
    return replace(plan, **changes)


class Told:
    """A diary of plan values: each call is one entry."""

    def __init__(self, plan, since):
        self.start, self.plan, self.since, self.steps, self.number = plan, plan, since, [], 0

    def entry(self, on, plan, **more):
        self.number += 1
        entry = Entry(
            number=self.number, at=datetime(2026, 3, 2, tzinfo=UTC).isoformat(), day=on, command="set", **more
        )
        self.steps.append(Changed(entry, self.plan, plan))
        self.plan = plan

    def log(self, on, *facts):
        logged = tuple(Fact(logged=on, **{"on": on, **fact}) for fact in facts)
        self.entry(on, replace(self.plan, facts=(*self.plan.facts, *logged)))

    def until(self, on):
        return movement(self.start, self.since.toordinal(), self.steps, on.toordinal())


def effects(line):
    return {one.shipment: (one.days, one.blame.cause) for one in line.effects}


def told_lines(moved):
    return [line for line in moved.lines if line.effects]


def added_up(moved):
    """Days of all lines by shipment, for those with a date at both ends."""
    found = {code: 0 for code in moved.shipments if moved.total(code) is not None}
    for line in moved.lines:
        for one in line.effects:
            if one.shipment in found:
                found[one.shipment] += one.days or 0
    return found


@pytest.mark.parametrize("parts", [False, True])
@pytest.mark.parametrize("seed", range(100, 150))
def test_effects_add_up_exactly_over_any_stretch_of_any_diary(seed, parts):
    with TemporaryDirectory() as folder:
        diary = random_diary(seed, folder, parts=parts, entries=16)
        with reading(diary.store) as connection:
            replay = read_replay(connection)
        count = seed % 5
        since = replay.entries[count].day
        until = replay.entries[-1].day + timedelta(days=seed % 4)
        start = replay.plan_after(count)
        moved = movement(
            start, since.toordinal(), entries_between(replay, count, len(replay.entries)), until.toordinal()
        )
    assert dict(moved.start) == (dict(Forecast(start, since).shipment_dates) if start else {})
    assert dict(moved.end) == dict(Forecast(diary.plans[-1], until).shipment_dates)
    assert added_up(moved) == {code: moved.total(code) for code in added_up(moved)}
    for lines in (moved.lines, gathered(moved.lines).lines):
        reached = dict(moved.start)
        for line in lines:
            for one in line.effects:
                if one.days is not None:
                    assert one.after == one.before + one.days
                    assert reached.get(one.shipment) in (one.before, None)
                reached[one.shipment] = one.after
        assert {code: reached.get(code) for code in moved.end} == dict(moved.end)


@pytest.mark.parametrize("seed", range(20))
def test_the_order_in_which_facts_of_one_day_are_entered_changes_no_total(seed):
    told, other = Told(milled(), MONDAY), Told(milled(), MONDAY)
    facts = [
        {"kind": "promised", "job": "housing", "day": day("03-20")},
        {"kind": "paused", "job": "pack", "day": day("03-30")},
        {"kind": "note", "note": "nothing"},
    ]
    on = day("03-04")
    for fact in facts:
        told.log(on, fact)
    for fact in facts[seed % 3 :] + facts[: seed % 3]:
        other.log(on, fact)
    assert added_up(told.until(on)) == added_up(other.until(on)) == {"wave-1": told.until(on).total("wave-1")}


def test_a_promise_later_than_its_lead_is_the_suppliers():
    told = Told(milled(), MONDAY)
    told.log(day("03-03"), {"kind": "promised", "job": "housing", "day": day("03-16")})
    (line,) = told_lines(told.until(day("03-03")))
    assert line.step.entry.number == 1
    assert effects(line) == {"wave-1": (7, "supplier late")}


def test_days_without_the_order_are_our_own_delay():
    told = Told(milled(facts=()), MONDAY)
    (line,) = told_lines(told.until(day("03-04")))
    assert (line.step, line.first, line.last) == (None, MONDAY.toordinal(), day("03-04").toordinal())
    assert effects(line) == {"wave-1": (2, "our own delay")}


def test_days_after_a_promise_that_passed_without_news_are_the_suppliers():
    told = Told(milled(), MONDAY)
    told.log(MONDAY, {"kind": "promised", "job": "housing", "day": day("03-06")})
    promise, days = told_lines(told.until(day("03-12")))
    assert effects(promise) == {"wave-1": (-1, "supplier earlier")}
    assert effects(days) == {"wave-1": (6, "supplier late")}


def test_what_a_delivery_entered_late_takes_back_is_folded_into_its_line():
    """In on Friday 6 March, entered on Thursday 12: only the days our bench lost by not knowing stay, and are ours."""
    told = Told(milled(), MONDAY)
    told.log(MONDAY, {"kind": "promised", "job": "housing", "day": day("03-06")})
    told.log(day("03-12"), {"kind": "finished", "job": "housing", "on": day("03-06")})
    moved = told.until(day("03-12"))
    promise, days = told_lines(moved)
    assert effects(promise) == {"wave-1": (-1, "supplier earlier")}
    assert (days.first, days.last) == (day("03-06").toordinal(), day("03-12").toordinal())
    assert effects(days) == {"wave-1": (3, "our own delay")}
    assert moved.lines[-1].folded == {"wave-1": 3}
    assert added_up(moved) == {"wave-1": moved.total("wave-1")} == {"wave-1": 2}


def test_days_that_all_passed_after_a_late_entry_happened_are_held_by_what_is_known_then():
    told = Told(milled(), MONDAY)
    told.log(MONDAY, {"kind": "promised", "job": "housing", "day": day("03-06")})
    told.log(day("03-10"), {"kind": "note", "note": "no news"})
    told.log(day("03-12"), {"kind": "finished", "job": "housing", "on": day("03-10")})
    moved = told.until(day("03-12"))
    assert [effects(line)["wave-1"] for line in told_lines(moved)] == [
        (-1, "supplier earlier"),
        (2, "supplier late"),
        (1, "our own delay"),
    ]
    assert moved.lines[-1].folded == {"wave-1": 3}
    assert added_up(moved) == {"wave-1": moved.total("wave-1")}


def test_a_failed_check_its_loop_and_its_pass_are_rejects():
    checked = milled()
    gate = Job(code="check", supplier="bench", lead=lead(1), after=(Link(job="housing"),), gate=True)
    pack = replace(checked.job_by_code["pack"], after=(Link(job="check"),))
    told = Told(replace(checked, jobs=(checked.jobs[0], gate, pack)), MONDAY)
    told.log(day("03-06"), {"kind": "finished", "job": "housing"})
    told.log(day("03-09"), {"kind": "failed", "job": "check"})
    told.log(day("03-12"), {"kind": "passed", "job": "check"})
    moved = told.until(day("03-12"))
    causes = {one.blame.cause for line in moved.lines for one in line.effects if line.step or one.days > 0}
    assert causes <= {"rejects", "supplier late", "supplier earlier"}
    failed = [
        one.blame.cause
        for line in moved.lines
        for one in line.effects
        if line.last > day("03-09").toordinal()
    ]
    assert failed
    assert set(failed) == {"rejects"}


def test_a_longer_lead_is_a_plan_edited_and_undoing_it_takes_that_back():
    told = Told(milled(), MONDAY)
    longer = replace(told.plan, jobs=(replace(told.plan.jobs[0], lead=lead(9)), told.plan.jobs[1]))
    before = told.plan
    told.entry(MONDAY, longer)
    told.entry(MONDAY, before, undoes=1)
    moved = told.until(MONDAY)
    assert [effects(line) for line in told_lines(moved)] == [
        {"wave-1": (6, "plan edited")},
        {"wave-1": (-6, "plan edited")},
    ]
    assert moved.total("wave-1") == 0


def test_undoing_a_promise_bears_the_cause_of_the_promise():
    told = Told(milled(), MONDAY)
    before = told.plan
    told.log(MONDAY, {"kind": "promised", "job": "housing", "day": day("03-20")})
    told.entry(MONDAY, before, undoes=1)
    assert {cause for line in told_lines(told.until(MONDAY)) for _, cause in effects(line).values()} == {
        "supplier late"
    }


def test_a_shipment_that_comes_has_no_sum_and_one_that_goes_neither():
    told = Told(milled(), MONDAY)
    second = Shipment(code="wave-2", quantity=5, after=("housing",))
    told.entry(MONDAY, replace(told.plan, shipments=(*told.plan.shipments, second)))
    told.log(day("03-03"), {"kind": "promised", "job": "housing", "day": day("03-16")})
    told.entry(day("03-04"), replace(told.plan, shipments=(second,)))
    moved = told.until(day("03-04"))
    assert moved.total("wave-1") is None
    assert moved.total("wave-2") is None
    first, promise, last = told_lines(moved)
    assert effects(first)["wave-2"][0] is None
    assert effects(promise)["wave-2"][0] == 7
    assert (last.effects[0].shipment, last.effects[0].after, last.effects[0].days) == ("wave-1", None, None)


def test_a_shipment_taken_out_and_back_counts_from_where_it_was():
    told = Told(milled(), MONDAY)
    whole = told.plan
    told.entry(MONDAY, replace(whole, shipments=()))
    later = replace(whole.jobs[0], lead=lead(9))
    told.entry(MONDAY, replace(whole, jobs=(later, whole.jobs[1])))
    moved = told.until(MONDAY)
    assert [effects(line)["wave-1"][0] for line in told_lines(moved)] == [None, 6]
    assert added_up(moved) == {"wave-1": 6}


def test_facts_about_several_jobs_in_one_entry_are_told_job_by_job():
    told = Told(milled(), MONDAY)
    told.log(
        MONDAY,
        {"kind": "promised", "job": "housing", "day": day("03-16")},
        {"kind": "paused", "job": "pack", "day": day("03-30")},
    )
    lines = told_lines(told.until(MONDAY))
    assert [(line.step.entry.number, line.step.facts[0].job) for line in lines] == [
        (1, "housing"),
        (1, "pack"),
    ]
    assert [effects(line)["wave-1"][1] for line in lines] == ["supplier late", "our own delay"]


def test_a_date_that_was_printed_and_comes_out_differently_is_told_beside_the_sum():
    told = Told(milled(), MONDAY)
    printed = (("wave-1", day("03-20")),)
    told.entry(MONDAY, told.plan, shipments=printed, printed_for=MONDAY)
    told.entry(MONDAY, told.plan, shipments=printed, printed_for=day("03-05"))
    told.entry(MONDAY, told.plan, shipments=printed)
    moved = told.until(MONDAY)
    (changed,) = moved.recalculated
    assert (changed.entry, changed.printed, changed.now) == (1, day("03-20").toordinal(), moved.end["wave-1"])
    assert moved.total("wave-1") == 0


def test_the_closure_that_makes_most_of_a_move_is_named_with_its_days():
    """Ready on Friday the bench packs before it shuts; ready a Monday later it packs after ten days of closure."""
    plan = milled()
    bench = Supplier(
        code="bench",
        inhouse=True,
        closures=(Closure(first=day("03-16"), last=day("03-27"), why="spring break"),),
    )
    told = Told(replace(plan, suppliers=(plan.suppliers[0], bench)), MONDAY)
    told.log(MONDAY, {"kind": "promised", "job": "housing", "day": day("03-12")})
    (line,) = told_lines(told.until(MONDAY))
    share = closures_of(line)["wave-1"]
    assert effects(line)["wave-1"][0] == 19
    assert (share.supplier, share.why, share.days) == ("bench", ("spring break",), 14)


def test_days_that_pass_for_one_reason_are_joined_over_entries_that_move_nothing():
    told = Told(milled(facts=()), MONDAY)
    told.log(day("03-03"), {"kind": "note", "note": "nothing"})
    told.log(day("03-05"), {"kind": "note", "note": "nothing"})
    together = gathered(told.until(day("03-06")).lines)
    (line,) = together.lines
    assert (line.first, line.last) == (MONDAY.toordinal(), day("03-06").toordinal())
    assert together.quiet == (1, 2)
    assert effects(line) == {"wave-1": (6, "our own delay")}


def test_days_before_it_happened_are_not_folded_into_a_late_entry():
    """Two days without the order cost two; in on the third day, long before what they promised, is a gain of its own."""
    told = Told(milled(facts=()), MONDAY)
    told.log(
        day("03-04"),
        {"kind": "ordered", "job": "housing"},
        {"kind": "promised", "job": "housing", "day": day("03-20")},
    )
    told.log(day("03-12"), {"kind": "finished", "job": "housing", "on": day("03-04")})
    moved = told.until(day("03-12"))
    assert [effects(line)["wave-1"] for line in told_lines(moved)] == [
        (2, "our own delay"),
        (11, "supplier late"),
        (-11, "supplier earlier"),
    ]
    assert not moved.lines[-1].folded


def test_days_that_pass_for_different_reasons_stay_apart():
    told = Told(milled(facts=()), MONDAY)
    told.log(day("03-04"), {"kind": "ordered", "job": "housing"})
    told.log(day("03-04"), {"kind": "promised", "job": "housing", "day": day("03-11")})
    together = gathered(told.until(day("03-16")).lines)
    assert [effects(line)["wave-1"] for line in together.lines] == [
        (2, "our own delay"),
        (5, "supplier late"),
    ]


def test_a_shipment_that_appears_and_moves_while_days_pass_is_told_where_it_came_to():
    moved = Told(milled(facts=()), MONDAY).until(day("03-04"))
    (line,) = told_lines(moved)
    (effect,) = line.effects
    appeared = replace(line, effects=(replace(effect, before=None, days=None),))
    later = replace(line, effects=(replace(effect, before=effect.after, after=effect.after + 2),))
    (joined,) = gathered((appeared, later)).lines
    assert (joined.effects[0].before, joined.effects[0].after) == (None, effect.after + 2)
