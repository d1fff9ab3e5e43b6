"""Options and decisions about them in the database, and the status date of the dates an entry printed."""

import json
import sqlite3
from contextlib import closing
from dataclasses import replace
from datetime import date, timedelta

import pytest

from tests.store.conftest import MONDAY, NOON
from tests.store.test_migrations import described
from tracker.errors import Refused, StoreError
from tracker.plan.model import Fact, Plan, Run, Supplier
from tracker.plan.options import Option
from tracker.store import migrations
from tracker.store.database import create_store, open_store, reading, writing
from tracker.store.load import load_plan
from tracker.store.replay import read_replay
from tracker.store.schema_1 import SCHEMA_1
from tracker.store.schema_2 import SCHEMA_2
from tracker.store.schema_3 import SCHEMA_3

RINGS = Option(code="rings", words="set housing lead=3wd", on=MONDAY, cost="EUR 90")
BENCH = Option(code="second-bench", words="set pack lead=2wd", on=MONDAY)
DECIDED = Fact(on=MONDAY, logged=MONDAY, kind="decided", option="rings", note="go")


@pytest.fixture
def optional(plan):
    return replace(plan, options=(RINGS, BENCH))


def test_options_and_decisions_are_loaded_as_they_were_saved(keep, stored, optional):
    decided = replace(optional, facts=(DECIDED,))
    keep(decided)
    assert stored() == decided


def test_an_option_changed_is_one_row_changed(keep, stored, diary, optional):
    keep(optional)
    dearer = replace(optional, options=(replace(RINGS, cost="EUR 120"), BENCH))
    keep(dearer, "option rings cost EUR 120")
    (change,) = diary(with_changes=True)[1].changes
    assert (change.table, change.key, change.before["cost"], change.after["cost"]) == (
        "option", "rings", "EUR 90", "EUR 120",
    )  # fmt: skip
    assert stored() == dearer


def test_an_option_taken_out_comes_back_by_undo_where_it_stood(keep, stored, undo, optional):
    keep(optional)
    keep(replace(optional, options=(BENCH,)), "remove rings")
    assert stored().options == (BENCH,)
    undo()
    assert stored() == optional


def test_keeping_an_option_is_not_undone_while_a_decision_rests_on_it(keep, stored, undo, plan, optional):
    keep(plan)
    keep(optional, "option rings")
    keep(replace(optional, facts=(DECIDED,)), "decided rings go")
    with pytest.raises(
        Refused, match=r"entry 2 \(option rings\) cannot be undone: entry 3 \(decided rings go\)"
    ):
        undo(2)
    undo(3)
    undo(2)
    assert stored() == plan


def test_replay_gives_back_each_state_of_the_options(store, keep, plan, optional):
    states = [plan, optional, replace(optional, facts=(DECIDED,))]
    for state in states:
        keep(state)
    with reading(store) as connection:
        replay = read_replay(connection)
    assert [replay.plan_after(count) for count in (1, 2, 3)] == states


def run(store, sql):
    with writing(store) as transaction:
        transaction.begin_entry("edit", MONDAY, NOON)
        transaction.connection.exec_driver_sql(sql)


@pytest.mark.parametrize(
    ("sql", "said"),
    [
        ("INSERT INTO option VALUES ('x', 9, '', '2026-03-02', '')", "option words is not empty"),
        ("INSERT INTO option VALUES ('', 9, 'w', '2026-03-02', '')", "option code is not empty"),
        ("INSERT INTO option VALUES ('x', 9, 'w', '2026-02-30', '')", "option on is a date"),
        ("UPDATE fact SET kind = 'note' WHERE option = 'rings'", "only a decision names an option"),
        ("UPDATE fact SET option = 'gone' WHERE option = 'rings'", "names something that is not there"),
        ("DELETE FROM option WHERE code = 'rings'", "names something that is not there"),
        ("UPDATE entry SET printed_for = 'soon'", "entry printed_for is a date"),
    ],
)  # fmt: skip
def test_the_database_refuses_what_cannot_be(store, keep, optional, sql, said):
    keep(replace(optional, facts=(DECIDED,)))
    with pytest.raises(StoreError, match=said):
        run(store, sql)


def test_an_entry_keeps_the_status_date_of_the_dates_it_printed_and_others_none(store, diary):
    later = MONDAY + timedelta(days=3)
    with writing(store) as transaction:
        transaction.begin_entry("new", MONDAY, NOON)
        number = transaction.begin_entry("read", MONDAY, NOON)
        transaction.record_dates(number, {"wave-1": date(2026, 4, 1)}, later)
    assert [entry.printed_for for entry in diary()] == [None, later]


@pytest.fixture
def third_schema(tmp_path):
    """A file as the program of schema 3 left it: a decision logged, undone, and two entries, one of them printed."""
    path = tmp_path / "old.sqlite"
    gone = {
        "id": 2, "entry": 2, "on": "2026-03-02", "kind": "decided", "logged": "2026-03-02", "job": None, "shipment": None,
        "supplier": "mill", "what": "", "day": None, "first": None, "worst": None, "means": None, "exactly": 0, "words": "",
        "good": None, "rework": None, "scrap": None, "count": None, "quantity": None, "ref": "", "closes": 0, "note": "no",
        "part": None,
    }  # fmt: skip
    kept = "(1, 1, '2026-03-02', 'decided', '2026-03-02', NULL, NULL, 'mill', '', NULL, NULL, NULL, NULL, 0, '', NULL, NULL, NULL, NULL, NULL, '', 0, 'yes', NULL)"
    with closing(sqlite3.connect(path)) as connection:
        for statement in (*SCHEMA_1, *SCHEMA_2, *SCHEMA_3):
            connection.execute(statement)
        for table, row in (
            ("run", "(1, 'run-1', '', 100, '', '2026-03-02', NULL, NULL, 0)"),
            ("supplier", "('mill', 0, '', '', '', 'mon-fri', 'in hand', '0wd', '', '', 0)"),
            (
                "entry",
                "(1, '2026-03-02T12:00:00+00:00', '2026-03-02', 'read', NULL, '{\"wave-1\": \"2026-04-01\"}', 0)",
            ),
            ("entry", "(2, '2026-03-02T12:00:00+00:00', '2026-03-02', 'decided mill no', NULL, '{}', 0)"),
            ("entry", "(3, '2026-03-02T12:00:00+00:00', '2026-03-02', 'undo', 2, '{}', 0)"),
            ("fact", kept),
            ("fact", kept.replace("(1, 1", "(2, 2")),
        ):
            connection.execute(f"INSERT INTO {table} VALUES {row}")
        connection.execute("DELETE FROM fact WHERE id = 2")
        connection.executemany(
            "INSERT INTO change (entry, table_name, key, before, after) VALUES (?, 'fact', '2', ?, ?)",
            [(2, None, json.dumps(gone)), (3, json.dumps(gone), None)],
        )
        connection.execute(f"PRAGMA application_id = {migrations.APPLICATION}")
        connection.execute("PRAGMA user_version = 3")
        connection.commit()
    return path


def test_a_database_of_the_third_schema_keeps_its_plan_and_its_diary(third_schema, tmp_path):
    store = open_store(third_schema)
    decision = Fact(on=MONDAY, logged=MONDAY, kind="decided", supplier="mill", note="yes")
    with reading(store) as connection:
        assert load_plan(connection) == Plan(
            run=Run(code="run-1", quantity=100, start=MONDAY),
            suppliers=(Supplier(code="mill"),),
            facts=(decision,),
        )
        entries = read_replay(connection).entries
    assert [(one.number, one.undoes, one.printed_for) for one in entries] == [
        (1, None, None), (2, None, None), (3, 2, None),
    ]  # fmt: skip
    assert entries[0].shipments == (("wave-1", date(2026, 4, 1)),)
    assert described(store.engine) == described(create_store(tmp_path / "new.sqlite").engine)


def test_numbers_of_the_third_schema_are_never_used_again(third_schema):
    with writing(open_store(third_schema)) as transaction:
        assert transaction.begin_entry("note", MONDAY, NOON) == 4
        plan = transaction.load()
        more = Fact(on=MONDAY, logged=MONDAY, kind="note", note="x")
        transaction.save(plan, replace(plan, facts=(*plan.facts, more)))
        ids = transaction.connection.exec_driver_sql("SELECT id FROM fact").scalars().all()
    assert ids == [1, 3]


def test_a_fact_of_the_third_schema_comes_back_by_undoing_its_undo(third_schema):
    with writing(open_store(third_schema)) as transaction:
        transaction.undo(3, "undo 3", MONDAY, NOON)
        notes = [(fact.note, fact.option) for fact in transaction.load().facts]
    assert notes == [("yes", ""), ("no", "")]


def test_at_most_one_entry_is_open_after_the_migration_too(third_schema):
    with (
        pytest.raises(StoreError, match="UNIQUE"),
        writing(open_store(third_schema)) as transaction,
    ):
        transaction.connection.exec_driver_sql("UPDATE entry SET is_open = 1")
