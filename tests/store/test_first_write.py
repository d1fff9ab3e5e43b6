"""A day's first write is preceded by a copy; refused commands and empty databases are not."""

import sqlite3
import subprocess
import sys
import textwrap
import threading
from contextlib import closing, contextmanager

import pytest

from tests.store.conftest import MONDAY, NOON
from tests.store.copied import DAY, add_fact, dump, grown, plan_in
from tracker.errors import Refused, StoreError
from tracker.store.copies import copies_folder, copy_for_day
from tracker.store.database import open_store, writing
from tracker.store.migrations import APPLICATION
from tracker.store.schema_1 import SCHEMA_1


@pytest.fixture
def copying(store):
    """The database as a command opens it on a day: the copies made are listed beside it."""

    @contextmanager
    def copying(day=DAY, patience=0.2):
        opened = open_store(store.path, patience=patience, before_change=lambda path: made(path, day))
        with writing(opened) as transaction:
            yield transaction

    def made(path, day):
        copies.append(copy_for_day(path, day))

    copies = copying.made = []
    return copying


def test_the_first_write_of_a_day_is_preceded_by_one_copy(copying, keep, plan, fact):
    keep(plan)
    with copying() as transaction:
        add_fact(transaction, fact, 10)
        add_fact(transaction, fact, 11)
    with copying() as transaction:
        add_fact(transaction, fact, 12)
    first, again = copying.made
    assert again is None
    assert plan_in(first) == plan


def test_an_undo_is_a_write_like_any_other(copying, keep, plan, fact):
    keep(plan)
    keep(grown(plan, fact), "in housing 10")
    with copying() as transaction:
        transaction.undo(None, "undo", MONDAY, NOON)
    assert plan_in(copying.made[0]) == grown(plan, fact)


def test_a_command_refused_before_it_writes_makes_no_copy(copying, keep, plan):
    keep(plan)
    with pytest.raises(Refused), copying() as transaction:
        transaction.undo(99, "undo 99", MONDAY, NOON)
    assert copying.made == []


def test_a_database_with_an_empty_diary_has_nothing_to_copy(copying, store, plan):
    with copying() as transaction:
        transaction.begin_entry("read", MONDAY, NOON)
        transaction.save(None, plan)
        transaction.begin_entry("note", MONDAY, NOON)
    assert copying.made == []
    assert not copies_folder(store.path).exists()


def test_the_database_stays_held_for_the_writer_after_the_copy(copying, store, keep, plan, fact):
    keep(plan)
    with copying() as transaction:
        add_fact(transaction, fact)
        assert len(copying.made) == 1
        other = textwrap.dedent("""
            import sqlite3, sys
            try:
                sqlite3.connect(sys.argv[1], timeout=0.1, isolation_level=None).execute("BEGIN IMMEDIATE")
            except sqlite3.OperationalError as error:
                print(error)
        """)
        command = [sys.executable, "-c", other, str(store.path)]
        done = subprocess.run(command, capture_output=True, text=True, check=True)
        assert done.stdout == "database is locked\n"
    assert plan_in(store.path) == grown(plan, fact)


def test_commands_at_once_make_one_copy_of_the_state_before_them_all(copying, keep, plan, fact):
    keep(plan)
    errors = []

    def command(good):
        try:
            with copying(patience=30) as transaction:
                add_fact(transaction, fact, good)
        except StoreError as error:
            errors.append(error)

    threads = [threading.Thread(target=command, args=(good,)) for good in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert errors == []
    (copy,) = [one for one in copying.made if one]
    assert len(copying.made) == len(threads)
    assert plan_in(copy) == plan


def test_an_older_database_is_copied_before_it_is_brought_to_the_newest_schema(tmp_path):
    path = tmp_path / "run.sqlite"
    with closing(sqlite3.connect(path)) as connection:
        for statement in SCHEMA_1:
            connection.execute(statement)
        connection.execute(f"PRAGMA application_id = {APPLICATION}")
        connection.execute("PRAGMA user_version = 1")
        connection.commit()
    before = dump(path)
    open_store(path, before_change=lambda database: copy_for_day(database, DAY))
    copy = copies_folder(path) / "run-2026-11-25.sqlite"
    assert dump(path) != before
    assert dump(copy) == before
