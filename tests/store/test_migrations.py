import json
import sqlite3
from contextlib import closing
from dataclasses import replace
from fractions import Fraction

import pytest
from sqlalchemy import create_engine, inspect
from sqlalchemy.pool import NullPool

from tests.store.conftest import MONDAY, NOON
from tracker.errors import StoreError
from tracker.plan.model import Fact as PlanFact
from tracker.plan.model import FirstPlan, Job, Link, Make, Part, Plan, Run, Shipment, Supplier
from tracker.plan.span import Lead, Span
from tracker.store import database, migrations
from tracker.store.database import create_store, open_store, reading, writing
from tracker.store.load import load_plan
from tracker.store.log_tables import Fact
from tracker.store.migrations import Migration
from tracker.store.schema import PLAN_TABLES, TABLES
from tracker.store.schema_1 import SCHEMA_1
from tracker.store.schema_2 import SCHEMA_2


def described(engine):
    """Every table by its columns (type, nullability, key), CHECKs, foreign keys, indexes and numbering."""
    inspector = inspect(engine)
    with engine.connect() as connection:
        never_again = set(
            connection.exec_driver_sql(
                "SELECT name FROM sqlite_master WHERE sql LIKE '%AUTOINCREMENT%'"
            ).scalars()
        )
    return {
        table: {
            "columns": [(c["name"], str(c["type"]), c["nullable"], c["primary_key"]) for c in inspector.get_columns(table)],
            "checks": sorted((c["name"], c["sqltext"]) for c in inspector.get_check_constraints(table)),
            "keys": sorted(
                (k["constrained_columns"], k["referred_table"], k["referred_columns"], sorted(k["options"].items()))
                for k in inspector.get_foreign_keys(table)
            ),
            "numbers are used once": table in never_again,
            "indexes": sorted((i["name"], i["column_names"], i["unique"]) for i in inspector.get_indexes(table)),
        }
        for table in inspector.get_table_names()
    }  # fmt: skip


def test_the_migrated_schema_is_the_one_the_tables_describe(store, tmp_path):
    fresh = create_engine(f"sqlite:///{tmp_path / 'fresh.sqlite'}", poolclass=NullPool)
    Fact.metadata.create_all(fresh)
    assert described(store.engine) == described(fresh)
    assert described(fresh).keys() == TABLES.keys()


def test_the_diary_watches_every_table_but_its_own():
    assert TABLES.keys() - set(PLAN_TABLES) == {"entry", "change", "sheet_reading"}


def test_tables_come_after_those_they_refer_to():
    for place, name in enumerate(PLAN_TABLES):
        referred = {key.column.table.name for key in TABLES[name].foreign_keys}
        assert referred <= {"entry", *PLAN_TABLES[: place + 1]}


def test_steps_are_numbered_without_gaps():
    assert [m.version for m in migrations.MIGRATIONS] == list(range(1, migrations.LATEST + 1))


def test_a_database_of_the_first_schema_keeps_its_facts_and_never_uses_their_numbers_again(tmp_path):
    path = tmp_path / "old.sqlite"
    with closing(sqlite3.connect(path)) as connection:
        for statement in SCHEMA_1:
            connection.execute(statement)
        connection.execute(
            "INSERT INTO supplier VALUES ('varne', 0, '', '', '', 'mon-fri', 'in hand', '0wd', '', '', 0)"
        )
        connection.execute(
            "INSERT INTO entry VALUES (1, '2026-06-01T08:00:00+00:00', '2026-06-01', 'called varne', NULL, '{}', 0)"
        )
        row = "({}, 1, '2026-06-01', 'called', '2026-06-01', NULL, NULL, 'varne', '', NULL, NULL, NULL, NULL, 0, '', NULL, NULL, NULL, NULL, NULL, '', 0, '{}')"
        for number in (1, 2, 3):
            connection.execute(f"INSERT INTO fact VALUES {row.format(number, f'call {number}')}")
        connection.execute("DELETE FROM fact WHERE id = 3")
        connection.execute(f"PRAGMA application_id = {migrations.APPLICATION}")
        connection.execute("PRAGMA user_version = 1")
        connection.commit()
    store = open_store(path)
    with reading(store) as connection:
        assert connection.exec_driver_sql("SELECT id, note FROM fact").all() == [(1, "call 1"), (2, "call 2")]
        assert connection.exec_driver_sql("SELECT seq FROM sqlite_sequence WHERE name = 'fact'").all() == [
            (3,)
        ]
        assert connection.exec_driver_sql("PRAGMA user_version").scalar_one() == migrations.LATEST
    assert described(store.engine) == described(create_store(tmp_path / "new.sqlite").engine)


@pytest.fixture
def second_schema(tmp_path):
    """A file as the program of schema 2 left it: two jobs with a link and a fact, and a third removed again."""
    path = tmp_path / "old.sqlite"
    job = "('{}', {}, 'mill', '5wd', '', '', '', '', 100, '4cd', NULL, 0, {}, {})"
    gone = {"code": "boxes", "place": 2, "supplier": "mill", "lead": "5wd", "name": "Boxes", "public_name": "",
            "process": "", "said": "", "quantity": 100, "travel": "4cd", "not_before": None, "own_clock": 0, "gate": 0,
            "retry_of": None}  # fmt: skip
    with closing(sqlite3.connect(path)) as connection:
        for statement in (*SCHEMA_1, *SCHEMA_2):
            connection.execute(statement)
        for table, row in (
            ("run", "(1, 'run-1', 'Dial', 100, 'EUR', '2026-03-02', NULL, NULL, 1)"),
            ("supplier", "('mill', 0, '', '', '', 'mon-fri', 'in hand', '0wd', '', '', 0)"),
            ("job", job.format("housing", 0, 1, "NULL")),
            ("job", job.format("fit", 1, 1, "'housing'")),
            ("link", "('fit', 0, 'housing', 'finish-start', '0cd', 'fail')"),
            ("shipment", "('wave-1', 0, '', '', 100)"),
            ("shipment_after", "('wave-1', 0, 'fit')"),
            ("entry", "(1, '2026-03-02T12:00:00+00:00', '2026-03-02', 'read', NULL, '{}', 0)"),
            ("entry", "(2, '2026-03-02T12:00:00+00:00', '2026-03-02', 'remove boxes', NULL, '{}', 0)"),
            (
                "fact",
                "(1, 1, '2026-03-02', 'in', '2026-03-02', 'housing', NULL, NULL, '', NULL, NULL, NULL, NULL, 0, '', 5, NULL, NULL, NULL, NULL, '', 0, 'x')",
            ),
        ):
            connection.execute(f"INSERT INTO {table} VALUES {row}")
        connection.execute(
            "INSERT INTO change (entry, table_name, key, before) VALUES (2, 'job', 'boxes', ?)",
            (json.dumps(gone),),
        )
        connection.execute(f"PRAGMA application_id = {migrations.APPLICATION}")
        connection.execute("PRAGMA user_version = 2")
        connection.commit()
    return path


def test_a_plan_of_the_second_schema_is_read_as_one_without_parts(second_schema, tmp_path):
    store = open_store(second_schema)
    with reading(store) as connection:
        plan = load_plan(connection)
    housing = Job(
        code="housing", supplier="mill", lead=Lead(5, 5, 5, "wd"), quantity=100, travel=Span(4), gate=True
    )
    fit = replace(housing, code="fit", retry_of="housing", after=(Link(job="housing", on="fail"),))
    assert plan == Plan(
        run=Run(code="run-1", product="Dial", quantity=100, currency="EUR", start=MONDAY),
        suppliers=(Supplier(code="mill"),),
        jobs=(housing, fit),
        shipments=(Shipment(code="wave-1", quantity=100, after=("fit",)),),
        facts=(PlanFact(on=MONDAY, logged=MONDAY, kind="in", job="housing", good=5, note="x"),),
        first_plan=FirstPlan(),
    )
    assert described(store.engine) == described(create_store(tmp_path / "new.sqlite").engine)


def test_a_job_removed_under_the_second_schema_comes_back_by_undo(second_schema):
    store = open_store(second_schema)
    with writing(store) as transaction:
        transaction.undo(2, "undo 2", MONDAY, NOON)
        boxes = transaction.load().job_by_code["boxes"]
    lead = Lead(5, 5, 5, "wd")
    assert boxes == Job(code="boxes", name="Boxes", supplier="mill", lead=lead, quantity=100, travel=Span(4))


def test_rows_of_the_second_schema_can_be_changed_and_refer_to_each_other_still(second_schema):
    store = open_store(second_schema)
    with writing(store) as transaction:
        plan = transaction.load()
        transaction.begin_entry("set", MONDAY, NOON)
        making = replace(plan.jobs[0], makes=(Make(part="case"),), yields=Fraction(9, 10))
        changed = replace(
            plan, parts=(Part(code="case"),), jobs=(making, plan.jobs[1]), run=replace(plan.run, unit="case")
        )
        transaction.save(plan, changed)
        assert transaction.load() == changed
    with closing(sqlite3.connect(second_schema)) as connection:
        connection.execute("PRAGMA foreign_keys = ON")
        connection.execute("UPDATE entry SET is_open = 1 WHERE number = 1")
        with pytest.raises(sqlite3.IntegrityError, match="FOREIGN KEY"):
            connection.execute("DELETE FROM job WHERE code = 'housing'")


@pytest.fixture
def steps(monkeypatch):
    """Let the program know further steps, each a statement, as a later version would."""

    def steps(*statements):
        def step(version, statement):
            return Migration(version=version, apply=lambda connection: connection.exec_driver_sql(statement))

        later = [step(migrations.LATEST + n, statement) for n, statement in enumerate(statements, start=1)]
        every = (*migrations.MIGRATIONS, *later)
        monkeypatch.setattr(migrations.migrate, "__defaults__", (every,))
        monkeypatch.setattr(database, "LATEST", every[-1].version)

    return steps


def dump(path):
    with closing(sqlite3.connect(path)) as connection:
        version = connection.execute("PRAGMA user_version").fetchone()
        return version, list(connection.iterdump())


def test_an_older_database_takes_every_step_in_order(store, keep, steps, plan):
    keep(plan)
    steps(
        "ALTER TABLE supplier ADD COLUMN city VARCHAR NOT NULL DEFAULT ''",
        "UPDATE supplier SET city = 'Leeds'",
    )
    with reading(open_store(store.path)) as connection:
        assert connection.exec_driver_sql("SELECT DISTINCT city FROM supplier").scalars().all() == ["Leeds"]
        assert connection.exec_driver_sql("PRAGMA user_version").scalar_one() == migrations.LATEST + 2
        triggers = connection.exec_driver_sql(
            "SELECT count(*) FROM sqlite_master WHERE type = 'trigger'"
        ).scalar_one()
    assert triggers == 3 * len(PLAN_TABLES) + 3


@pytest.mark.parametrize(
    ("statement", "said"),
    [
        ("UPDATE nowhere SET x = 1", "no such table: nowhere"),
        ("UPDATE job SET quantity = -1", "quantity is 1 or more"),
        ("DELETE FROM supplier", "rows of 'job' would refer to nothing"),
    ],
)
def test_a_failing_step_leaves_the_file_as_it_was_and_is_told(store, keep, steps, plan, statement, said):
    keep(plan)
    before = dump(store.path)
    steps("ALTER TABLE supplier ADD COLUMN city VARCHAR NOT NULL DEFAULT ''", statement)
    with pytest.raises(StoreError, match=said) as error:
        open_store(store.path)
    assert f"could not be brought to schema {migrations.LATEST + 2}" in error.value.message
    assert "the file was left as it was" in error.value.message
    assert dump(store.path) == before


def test_a_database_that_cannot_be_made_leaves_no_file(tmp_path, steps):
    steps("UPDATE nowhere SET x = 1")
    with pytest.raises(StoreError, match="no such table: nowhere"):
        create_store(tmp_path / "run.sqlite")
    assert list(tmp_path.iterdir()) == []


def test_a_database_of_this_schema_is_not_touched_on_opening(store):
    content = store.path.read_bytes()
    open_store(store.path)
    assert store.path.read_bytes() == content
