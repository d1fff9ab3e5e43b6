"""The database refuses rows that cannot be, whoever writes them."""

import sqlite3
from contextlib import closing
from dataclasses import replace

import pytest

from tests.store.conftest import MONDAY
from tracker.errors import StoreError
from tracker.plan.model import FirstPlan, Job, Link, PlannedJob
from tracker.plan.parts import Make, Part, Take
from tracker.plan.span import Lead

JOB = ("code", "place", "supplier", "lead", "name", "public_name", "process", "said", "quantity", "travel",
       "not_before", "own_clock", "gate", "retry_of")  # fmt: skip
GOOD_JOB = dict(
    zip(JOB, ("boxes", 5, "mill", "5wd", "", "", "", "", 10, "4cd", None, 0, 0, None), strict=True)
)
GOOD_FACT = {
    "entry": 1, "on": "2026-03-02", "kind": "in", "logged": "2026-03-02", "job": "housing", "what": "",
    "exactly": 0, "words": "", "good": 5, "ref": "", "closes": 0, "note": "",
}  # fmt: skip
GOOD_TOLD = {
    "shipment": "wave-1",
    "place": 0,
    "on": "2026-03-02",
    "first": None,
    "last": "2026-05-01",
    "words": "",
}
GOOD_CLOSURE = {"supplier": "mill", "place": 0, "first": "2026-03-02", "last": "2026-03-02", "why": ""}
GOOD_LINK = {
    "job": "pack",
    "place": 3,
    "after_job": "housing",
    "kind": "finish-start",
    "lag": "0cd",
    "outcome": "pass",
}
GOOD_CONDITION = {"job": "pack", "stage": "clock", "place": 0, "what": "order"}
GOOD_PART = {
    "code": "screw", "place": 5, "name": "", "public_name": "", "unit": "", "here": "1600", "spares": 0, "moq": 500,
    "multiple": None,
}  # fmt: skip
GOOD_SCRAP = GOOD_FACT | {"kind": "scrapped", "part": "bezel", "scrap": 2, "good": None}
GOOD = {
    "job": GOOD_JOB, "fact": GOOD_FACT, "told": GOOD_TOLD, "closure": GOOD_CLOSURE, "link": GOOD_LINK,
    "condition": GOOD_CONDITION, "part": GOOD_PART,
    "take": {"job": "pack", "place": 0, "part": "bezel", "per": "7/20", "into": None},
    "make": {"job": "pack", "place": 0, "part": "bezel", "quantity": 74},
    "content": {"shipment": "wave-1", "place": 0, "part": "bezel", "quantity": 66},
    "job_serves": {"job": "pack", "place": 0, "shipment": "wave-1"},
    "run_unit": {"place": 0, "part": "bezel"},
}  # fmt: skip


@pytest.fixture
def insert(store, keep, plan):
    """Write a row by hand, a good one but for ``changes``, under an entry opened by hand."""
    keep(replace(plan, parts=(Part(code="bezel"),)))
    with closing(sqlite3.connect(store.path, isolation_level=None)) as connection:
        connection.execute("PRAGMA foreign_keys = ON")
        connection.execute("BEGIN")
        connection.execute("UPDATE entry SET is_open = 1 WHERE number = 1")

        def insert(table, **changes):
            row = GOOD[table] | changes
            names = ", ".join(f'"{name}"' for name in row)
            marks = ", ".join("?" * len(row))
            connection.execute(f"INSERT INTO {table} ({names}) VALUES ({marks})", tuple(row.values()))

        yield insert


@pytest.mark.parametrize("table", GOOD)
def test_a_good_row_is_taken(insert, table):
    insert(table)


@pytest.mark.parametrize(
    ("table", "changes"),
    [
        ("job", {"yields": "1"}),
        ("job", {"yields": "1/100", "unders": "99/100", "overs": "3/2"}),
        ("job", {"lots": "4"}),
        ("job", {"lots": "[100, 75]"}),
        ("job", {"lots": '"shipments"'}),
        ("job", {"rework_of": "pack"}),
        ("part", {"unit": "m", "here": "25/2"}),
        ("take", {"into": "bezel"}),
        ("make", {"quantity": None}),
        ("fact", {"part": "bezel"}),
        ("fact", GOOD_SCRAP),
        ("fact", GOOD_SCRAP | {"job": None}),
    ],
)
def test_a_row_with_parts_shares_or_lots_is_taken(insert, table, changes):
    insert(table, **changes)


@pytest.mark.parametrize(
    ("table", "changes", "said"),
    [
        ("job", {"quantity": 0}, "quantity is 1 or more"),
        ("job", {"quantity": "many"}, "quantity is 1 or more"),
        ("job", {"lead": "5 weeks"}, "the lead is days or a rate"),
        ("job", {"lead": "{not json}"}, "the lead is days or a rate"),
        ("job", {"travel": "4"}, "job travel is a number of days"),
        ("job", {"travel": "-4cd"}, "job travel is a number of days"),
        ("job", {"travel": "4x1cd"}, "job travel is a number of days"),
        ("job", {"gate": 2}, "job gate is yes or no"),
        ("job", {"not_before": "2026-02-30"}, "job not_before is a date"),
        ("job", {"retry_of": "boxes"}, "not a retry of itself"),
        ("job", {"code": ""}, "job code is not empty"),
        ("job", {"code": "pack"}, "UNIQUE"),
        ("job", {"supplier": "nobody"}, "FOREIGN KEY"),
        ("link", {"after_job": "pack"}, "does not wait for itself"),
        ("link", {"after_job": "nothing"}, "FOREIGN KEY"),
        ("link", {"kind": "finish-begin"}, "kind is finish-start"),
        ("link", {"outcome": "maybe"}, "pass or fail"),
        ("condition", {"what": "balance"}, "a clock waits for known things"),
        ("condition", {"stage": "leave"}, "leaving waits for known things"),
        ("closure", {"first": "2026-03-03"}, "the first day is not after the last"),
        ("closure", {"last": "soon"}, "closure last is a date"),
        ("closure", {"place": -1}, "closure place is 0 or more"),
        ("told", {"first": "2026-05-02"}, "the first day is not after the last"),
        ("told", {"shipment": "wave-9"}, "FOREIGN KEY"),
        ("fact", {"kind": "arrived"}, "kind is a known one"),
        ("fact", {"good": -1}, "fact good is 0 or more"),
        ("fact", {"good": "five"}, "fact good is 0 or more"),
        ("fact", {"good": 1.5}, "fact good is 0 or more"),
        ("fact", {"quantity": 0}, "quantity is 1 or more"),
        ("fact", {"on": "2026-03-03"}, "logged on the day it happened or later"),
        ("fact", {"job": None}, "names the job, shipment, supplier or part"),
        ("fact", {"shipment": "wave-1"}, "names the job, shipment, supplier or part"),
        ("fact", {"kind": "posted"}, "names the job, shipment, supplier or part"),
        ("fact", {"kind": "called"}, "names the job, shipment, supplier or part"),
        ("fact", {"kind": "given", "what": "applause"}, "something known is given"),
        ("fact", {"kind": "given", "what": "day1"}, "a promise and a day 1 have a day"),
        ("fact", {"kind": "promised"}, "a promise and a day 1 have a day"),
        ("fact", {"means": "somewhere"}, "dates mean in hand or leaves"),
        ("fact", {"job": "nothing"}, "FOREIGN KEY"),
        ("fact", {"entry": 99}, "FOREIGN KEY"),
        ("fact", {"part": "nothing"}, "FOREIGN KEY"),
        ("fact", {"kind": "started", "part": "bezel"}, "only counts and scrap name a part"),
        ("fact", GOOD_SCRAP | {"part": None}, "names the job, shipment, supplier or part"),
        ("fact", GOOD_SCRAP | {"scrap": None}, "names the job, shipment, supplier or part"),
        ("fact", GOOD_SCRAP | {"shipment": "wave-1"}, "names the job, shipment, supplier or part"),
        ("fact", GOOD_SCRAP | {"supplier": "mill"}, "names the job, shipment, supplier or part"),
        ("job", {"yields": "0"}, "more than nothing comes out good, and at most all"),
        ("job", {"yields": "0/5"}, "more than nothing comes out good, and at most all"),
        ("job", {"yields": "21/20"}, "more than nothing comes out good, and at most all"),
        ("job", {"yields": "2"}, "more than nothing comes out good, and at most all"),
        ("job", {"yields": "0.95"}, "yields is a fraction"),
        ("job", {"yields": "19/"}, "yields is a fraction"),
        ("job", {"yields": "/20"}, "yields is a fraction"),
        ("job", {"yields": "1/2/3"}, "yields is a fraction"),
        ("job", {"overs": "1/0"}, "overs is a fraction"),
        ("job", {"overs": "-1/10"}, "overs is a fraction"),
        ("job", {"unders": "1"}, "fewer may come by less than all"),
        ("job", {"unders": "3/2"}, "fewer may come by less than all"),
        ("job", {"lots": "0"}, "lots are a number, sizes or those of the shipments"),
        ("job", {"lots": "[]"}, "lots are a number, sizes or those of the shipments"),
        ("job", {"lots": "shipments"}, "lots are a number, sizes or those of the shipments"),
        ("job", {"lots": '"waves"'}, "lots are a number, sizes or those of the shipments"),
        ("job", {"one_by_one": 2}, "job one_by_one is yes or no"),
        ("job", {"rerun": 2}, "job rerun is yes or no"),
        ("job", {"rework_of": "boxes"}, "not rework of itself"),
        ("part", {"code": ""}, "part code is not empty"),
        ("part", {"here": "25/2"}, "pieces here are whole"),
        ("part", {"here": "-1"}, "here is a fraction"),
        ("part", {"spares": -1}, "part spares is 0 or more"),
        ("part", {"moq": 0}, "the least an order asks for is 1 or more"),
        ("part", {"multiple": 0}, "orders come in multiples of 1 or more"),
        ("take", {"per": "0"}, "a job takes more than nothing"),
        ("take", {"per": "0.35"}, "per is a fraction"),
        ("take", {"part": "nothing"}, "FOREIGN KEY"),
        ("take", {"into": "nothing"}, "FOREIGN KEY"),
        ("make", {"quantity": 0}, "a share is 1 or more"),
        ("make", {"job": "nothing"}, "FOREIGN KEY"),
        ("content", {"quantity": 0}, "quantity is 1 or more"),
        ("content", {"part": "nothing"}, "FOREIGN KEY"),
        ("job_serves", {"shipment": "wave-9"}, "FOREIGN KEY"),
        ("run_unit", {"part": "nothing"}, "FOREIGN KEY"),
    ],
)
def test_a_row_that_cannot_be_is_refused(insert, table, changes, said):
    with pytest.raises(sqlite3.IntegrityError, match=said):
        insert(table, **changes)


def test_there_is_one_run_in_a_database(store, keep, plan):
    keep(plan)
    with closing(sqlite3.connect(store.path)) as connection:
        connection.execute("UPDATE entry SET is_open = 1 WHERE number = 1")
        with pytest.raises(sqlite3.IntegrityError, match="there is one run"):
            connection.execute(
                "INSERT INTO run SELECT 2, code, product, quantity, currency, start, today, dates, 0 FROM run"
            )


def test_a_refused_row_is_told_in_its_own_words(keep, stored, plan):
    keep(plan)
    with pytest.raises(StoreError) as error:
        keep(replace(plan, run=replace(plan.run, quantity=0)))
    assert error.value.message.endswith("refuses a row: run: quantity is 1 or more; nothing was written")
    assert stored() == plan


def test_a_job_that_facts_speak_of_cannot_go(keep, stored, plan, fact):
    logged = replace(plan, facts=(fact("housing"),))
    keep(logged)
    with pytest.raises(StoreError, match="something still names what was to go"):
        keep(replace(logged, jobs=(replace(plan.jobs[1], after=()),)))
    assert stored() == logged


def test_a_run_speaks_of_a_known_part(keep, plan):
    with pytest.raises(StoreError, match="names something that is not there"):
        keep(replace(plan, run=replace(plan.run, unit="nothing")))


def test_a_part_that_is_taken_cannot_go(keep, stored, plan):
    bezel = Part(code="bezel")
    taking = replace(plan.jobs[1], takes=(Take(part="bezel"),))
    wanted = replace(plan, parts=(bezel,), jobs=(plan.jobs[0], taking))
    keep(wanted)
    with pytest.raises(StoreError, match="something still names what was to go"):
        keep(replace(wanted, parts=()))
    assert stored() == wanted


def test_rework_may_stand_before_the_job_it_mends_for(keep, stored, plan):
    making = replace(plan.jobs[1], makes=(Make(part="bezel"),))
    mending = Job(code="strip", supplier="bench", lead=Lead(1, 1, 1, "wd"), quantity=5, rework_of="pack")
    wanted = replace(plan, parts=(Part(code="bezel"),), jobs=(mending, plan.jobs[0], making))
    keep(wanted)
    assert stored() == wanted


def test_a_retry_may_stand_before_its_gate(keep, stored, plan):
    gate = Job(code="check", supplier="bench", lead=Lead(1, 1, 1, "wd"), gate=True)
    again = replace(gate, code="check-2", retry_of="check", after=(Link(job="check", on="fail"),))
    wanted = replace(plan, jobs=(*plan.jobs, again, gate))
    keep(wanted)
    assert stored() == wanted


def test_a_code_twice_is_refused(keep, stored, plan):
    with pytest.raises(StoreError, match="UNIQUE"):
        keep(replace(plan, jobs=(*plan.jobs, plan.jobs[0])))
    assert stored() is None


def test_the_first_plan_speaks_of_known_jobs(keep, plan):
    planned = PlannedJob(job="nothing", start=MONDAY, finish=MONDAY, arrives=MONDAY)
    with pytest.raises(StoreError, match="names something that is not there"):
        keep(replace(plan, first_plan=FirstPlan(jobs=(planned,))))
