"""Every table by name, the order in which rows may be written, and what names a row."""

from collections.abc import Mapping

from sqlalchemy import Table

from tracker.plan.diary import Row
from tracker.store import part_tables  # noqa: F401 - so that its tables are known
from tracker.store.log_tables import Fact

TABLES: Mapping[str, Table] = Fact.metadata.tables
PLAN_TABLES = (
    "part", "run", "run_unit", "public_holidays", "supplier", "closure", "open_day", "job", "link", "condition",
    "take", "make", "shipment", "shipment_after", "content", "job_serves", "told", "option", "first_plan_job",
    "first_plan_shipment", "fact",
)  # fmt: skip
"""The tables the diary watches, each after those it refers to."""


def key_columns(table: str) -> tuple[str, ...]:
    """The names of the columns that together name a row of ``table``."""
    return tuple(column.name for column in TABLES[table].primary_key)


def key_of(table: str, row: Row) -> str:
    """The row's name within its table, as the diary writes it: ``boxes``, or ``boxes 2`` for its third link."""
    return " ".join(str(row[column]) for column in key_columns(table))
