from datetime import UTC, date, datetime

import pytest

from tracker.plan.model import Fact, Job, Link, Plan, Run, Shipment, Supplier
from tracker.plan.span import Lead
from tracker.store.database import create_store, reading, writing
from tracker.store.diary import read_diary
from tracker.store.load import has_plan, load_plan

MONDAY = date(2026, 3, 2)
NOON = datetime(2026, 3, 2, 12, tzinfo=UTC)


@pytest.fixture
def store(tmp_path):
    return create_store(tmp_path / "run.sqlite", patience=0.2)


@pytest.fixture
def plan():
    """Housings from the mill, then packing on the bench, in one shipment; nothing logged."""
    lead = Lead(5, 5, 5, "wd")
    return Plan(
        run=Run(code="run-1", quantity=100, start=MONDAY),
        suppliers=(Supplier(code="mill"), Supplier(code="bench", inhouse=True)),
        jobs=(
            Job(code="housing", supplier="mill", lead=lead),
            Job(code="pack", supplier="bench", lead=lead, after=(Link(job="housing"),)),
        ),
        shipments=(Shipment(code="wave-1", quantity=100, after=("pack",)),),
    )


@pytest.fixture
def keep(store):
    """Store a plan as one entry named by its command; answer the entry's number."""

    def keep(after, command="read", day=MONDAY):
        with writing(store) as transaction:
            number = transaction.begin_entry(command, day, NOON)
            transaction.save(transaction.load(), after)
            return number

    return keep


@pytest.fixture
def stored(store):
    """The plan as a reader finds it, or None."""

    def stored():
        with reading(store) as connection:
            return load_plan(connection) if has_plan(connection) else None

    return stored


@pytest.fixture
def diary(store):
    def diary(**options):
        with reading(store) as connection:
            return read_diary(connection, **options)

    return diary


@pytest.fixture
def undo(store):
    def undo(number=None):
        with writing(store) as transaction:
            return transaction.undo(number, f"undo {number or ''}".strip(), MONDAY, NOON)

    return undo


@pytest.fixture
def fact():
    """Pieces in for a job on the first Monday."""

    def fact(job="housing", good=10, **more):
        return Fact(on=MONDAY, logged=MONDAY, kind="in", job=job, good=good, **more)

    return fact
