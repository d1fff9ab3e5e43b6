import sqlite3
from contextlib import closing
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta, timezone

import pytest

from tests.store.conftest import MONDAY, NOON
from tracker.plan.diary import RowChange
from tracker.store.database import writing
from tracker.store.schema import PLAN_TABLES


def test_entries_are_numbered_and_keep_time_day_and_command(store, diary):
    with writing(store) as transaction:
        assert transaction.begin_entry("new", MONDAY, NOON) == 1
        assert transaction.begin_entry("in boxes 5", MONDAY + timedelta(days=1), NOON) == 2
    assert [(e.number, e.at, e.day, e.command) for e in diary()] == [
        (1, "2026-03-02T12:00:00+00:00", MONDAY, "new"),
        (2, "2026-03-02T12:00:00+00:00", date(2026, 3, 3), "in boxes 5"),
    ]


def test_time_is_kept_in_utc(store, diary):
    east = datetime(2026, 3, 2, 1, 30, tzinfo=timezone(timedelta(hours=8)))
    with writing(store) as transaction:
        transaction.begin_entry("new", MONDAY, east)
    assert diary()[0].at == "2026-03-01T17:30:00+00:00"


def test_an_entry_day_is_never_before_the_previous_entrys(store, diary):
    with writing(store) as transaction:
        transaction.begin_entry("new", MONDAY, NOON)
        transaction.begin_entry("late", MONDAY - timedelta(days=9), NOON)
    with writing(store) as transaction:
        transaction.begin_entry("later", MONDAY + timedelta(days=1), NOON)
    assert [e.day for e in diary()] == [MONDAY, MONDAY, MONDAY + timedelta(days=1)]


def test_the_dates_a_command_printed_are_kept_on_its_entry(store, diary):
    with writing(store) as transaction:
        number = transaction.begin_entry("new", MONDAY, NOON)
        transaction.record_dates(number, {"wave-2": date(2026, 5, 1), "wave-1": date(2026, 4, 1)}, MONDAY)
    assert diary()[0].shipments == (("wave-2", date(2026, 5, 1)), ("wave-1", date(2026, 4, 1)))


def test_each_entry_holds_the_rows_it_changed_before_and_after(keep, diary, plan):
    keep(plan)
    keep(replace(plan, run=replace(plan.run, quantity=120)))
    first, second = diary(with_changes=True)
    assert [(c.table, c.key) for c in first.changes] == [
        ("run", "1"), ("supplier", "mill"), ("supplier", "bench"), ("job", "housing"), ("job", "pack"),
        ("link", "pack 0"), ("shipment", "wave-1"), ("shipment_after", "wave-1 0"),
    ]  # fmt: skip
    (change,) = second.changes
    assert isinstance(change, RowChange)
    assert (change.before["quantity"], change.after["quantity"]) == (100, 120)
    assert diary()[1].changes == ()


def test_entries_of_one_transaction_each_hold_their_own_changes(store, diary, plan, fact):
    with writing(store) as transaction:
        transaction.begin_entry("read", MONDAY, NOON)
        transaction.save(None, plan)
        transaction.begin_entry("in", MONDAY, NOON)
        transaction.save(plan, replace(plan, facts=(fact(),)))
    assert [[c.table for c in e.changes] for e in diary(with_changes=True)][1] == ["fact"]


@pytest.fixture
def by_hand(store, keep, plan, fact):
    """The database opened with another program, holding a plan and no open entry."""
    keep(replace(plan, facts=(fact(),)))
    with closing(sqlite3.connect(store.path, isolation_level=None)) as connection:
        yield connection


@pytest.mark.parametrize("table", PLAN_TABLES)
def test_every_table_of_the_plan_is_watched(by_hand, table):
    watched = by_hand.execute(
        "SELECT name FROM sqlite_master WHERE type = 'trigger' AND tbl_name = ?", (table,)
    )
    assert {name for (name,) in watched} == {
        f"diary {table} {event}" for event in ("insert", "update", "delete")
    }


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE job SET quantity = 5",
        "DELETE FROM fact",
        "INSERT INTO open_day VALUES ('mill', 0, '2026-03-07')",
        "INSERT OR REPLACE INTO open_day VALUES ('mill', 0, '2026-03-07')",
        "DELETE FROM run",
    ],
)
def test_a_write_past_the_diary_is_refused_by_the_database(by_hand, statement):
    with pytest.raises(sqlite3.IntegrityError, match="only under an open diary entry"):
        by_hand.execute(statement)


@pytest.mark.parametrize(
    "statement",
    ["UPDATE change SET after = '{}'", "DELETE FROM change", "DELETE FROM entry"],
)
def test_the_diary_is_not_rewritten(by_hand, statement):
    with pytest.raises(sqlite3.IntegrityError, match="the diary is not rewritten"):
        by_hand.execute(statement)


def test_no_entry_is_open_after_a_command(by_hand):
    assert by_hand.execute("SELECT count(*) FROM entry WHERE is_open").fetchone() == (0,)


def test_two_entries_are_never_open_at_once(by_hand):
    row = (
        "INSERT INTO entry (at, day, command, shipments, is_open) VALUES ('now', '2026-03-02', 'x', '{}', 1)"
    )
    by_hand.execute("BEGIN")
    by_hand.execute(row)
    with pytest.raises(sqlite3.IntegrityError, match="UNIQUE"):
        by_hand.execute(row)
    by_hand.execute("ROLLBACK")


def test_undo_writes_what_it_reverted_to_the_diary(keep, diary, undo, plan, fact):
    keep(plan)
    keep(replace(plan, facts=(fact(),)))
    undo()
    done, undone = diary(with_changes=True)[1:]
    assert [(c.before, c.after) for c in undone.changes] == [(c.after, c.before) for c in done.changes]


def test_the_undo_of_a_later_day_has_that_day(store, keep, diary, plan):
    keep(plan)
    with writing(store) as transaction:
        transaction.undo(None, "undo", MONDAY + timedelta(days=3), datetime(2026, 3, 5, 8, tzinfo=UTC))
    assert (diary()[1].day, diary()[1].at) == (date(2026, 3, 5), "2026-03-05T08:00:00+00:00")
