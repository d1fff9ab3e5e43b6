"""What tests of copies look at: the content of a database, and a plan with one fact more."""

import sqlite3
from contextlib import closing
from dataclasses import replace
from datetime import date

from tests.store.conftest import MONDAY, NOON
from tracker.store.copies import copies_folder
from tracker.store.database import open_store, reading
from tracker.store.load import has_plan, load_plan

DAY = date(2026, 11, 25)


def dump(path):
    with closing(sqlite3.connect(path)) as connection:
        return list(connection.iterdump())


def in_folder(path):
    return sorted(one.name for one in copies_folder(path).iterdir())


def plan_in(path):
    with reading(open_store(path)) as connection:
        return load_plan(connection) if has_plan(connection) else None


def grown(plan, fact, good=10):
    return replace(plan, facts=(*plan.facts, fact(good=good)))


def add_fact(transaction, fact, good=10):
    before = transaction.load()
    transaction.begin_entry(f"in housing {good}", MONDAY, NOON)
    transaction.save(before, grown(before, fact, good))
