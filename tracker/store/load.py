"""From rows to a plan, with one select of columns a table."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from datetime import date
from fractions import Fraction
from functools import cache
from typing import Any, TypeVar

from sqlalchemy import Connection, func, select

from tracker.plan.model import (
    Closure,
    Fact,
    FirstPlan,
    Job,
    Link,
    Plan,
    PlannedJob,
    PlannedShipment,
    PublicHolidays,
    Run,
    Shipment,
    Supplier,
    Told,
)
from tracker.plan.parts import Content, Make, Part, Take
from tracker.plan.span import parse_span
from tracker.store.leads import read_lead
from tracker.store.lots import read_lots
from tracker.store.schema import TABLES, key_columns

Kind = TypeVar("Kind")
Values = dict[str, Any]

_EMPTY_WHEN_ABSENT = frozenset(("job", "shipment", "supplier", "part", "into", "retry_of", "rework_of"))


def has_plan(connection: Connection) -> bool:
    """Whether a run has been entered; a new database has none."""
    return connection.execute(select(TABLES["run"].c.id)).first() is not None


def load_plan(connection: Connection) -> Plan:
    """The whole plan as stored; ``has_plan`` must be true."""
    run = _read(connection, "run")[0]
    kept = run.pop("first_plan")
    run.pop("id")
    return Plan(
        run=Run(**run, unit=", ".join(row["part"] for row in _read(connection, "run_unit"))),
        suppliers=_suppliers(connection),
        parts=tuple(Part(**row | {"here": Fraction(row["here"])}) for row in _read(connection, "part")),
        jobs=_jobs(connection),
        shipments=_shipments(connection),
        facts=_facts(connection),
        first_plan=_first_plan(connection) if kept else None,
        holidays=_holidays(connection),
    )


def fact_entries(connection: Connection) -> list[int]:
    """For each fact, in the order of the plan's facts, the diary entry that logged it."""
    fact = TABLES["fact"]
    return list(connection.execute(select(fact.c.entry).order_by(fact.c.id)).scalars())


def _suppliers(connection: Connection) -> tuple[Supplier, ...]:
    closures = _by("supplier", Closure, _read(connection, "closure"))
    opens: defaultdict[str, list[date]] = defaultdict(list)
    for row in _read(connection, "open_day"):
        opens[row["supplier"]].append(row["day"])
    span = cache(parse_span)
    return tuple(
        Supplier(
            **row | {"bank": span(row["bank"])},
            closures=tuple(closures.get(row["code"], ())),
            opens=tuple(opens.get(row["code"], ())),
        )
        for row in _read(connection, "supplier")
    )


def _jobs(connection: Connection) -> tuple[Job, ...]:
    span, lead, share, lots = cache(parse_span), cache(read_lead), cache(Fraction), cache(read_lots)
    after, conditions = _links(connection), _conditions(connection)
    takes, makes = _takes(connection), _by("job", Make, _read(connection, "make"))
    serves = _by("job", lambda shipment: shipment, _read(connection, "job_serves"))
    jobs = []
    for row in _read(connection, "job"):
        code = row["code"]
        row["travel"], row["lead"], row["lots"] = span(row["travel"]), lead(row["lead"]), lots(row["lots"])
        for name in ("yields", "unders", "overs"):
            row[name] = share(row[name])
        has_own_clock = row.pop("own_clock")
        job = Job(
            **row,
            after=tuple(after.get(code, ())),
            clock=tuple(conditions.get((code, "clock"), ())) if has_own_clock else None,
            leave_when=tuple(conditions.get((code, "leave"), ())),
            takes=tuple(takes.get(code, ())),
            makes=tuple(makes.get(code, ())),
            serves=tuple(serves.get(code, ())),
        )
        jobs.append(job)
    return tuple(jobs)


def _links(connection: Connection) -> Mapping[str, list[Link]]:
    span = cache(parse_span)
    after: defaultdict[str, list[Link]] = defaultdict(list)
    for row in _read(connection, "link"):
        link = Link(job=row["after_job"], kind=row["kind"], lag=span(row["lag"]), on=row["outcome"])
        after[row["job"]].append(link)
    return after


def _conditions(connection: Connection) -> Mapping[tuple[str, str], list[str]]:
    """What a job waits for, by job and stage."""
    found: defaultdict[tuple[str, str], list[str]] = defaultdict(list)
    for row in _read(connection, "condition"):
        found[row["job"], row["stage"]].append(row["what"])
    return found


def _takes(connection: Connection) -> Mapping[str, list[Take]]:
    rows = _read(connection, "take")
    return _by("job", Take, (row | {"per": Fraction(row["per"])} for row in rows))


def _shipments(connection: Connection) -> tuple[Shipment, ...]:
    told = _by("shipment", Told, _read(connection, "told"))
    contents = _by("shipment", Content, _read(connection, "content"))
    after: defaultdict[str, list[str]] = defaultdict(list)
    for row in _read(connection, "shipment_after"):
        after[row["shipment"]].append(row["job"])
    return tuple(
        Shipment(
            **row,
            after=tuple(after.get(row["code"], ())),
            told=tuple(told.get(row["code"], ())),
            contents=tuple(contents.get(row["code"], ())),
        )
        for row in _read(connection, "shipment")
    )


def _facts(connection: Connection) -> tuple[Fact, ...]:
    return tuple(Fact(**row) for row in _read(connection, "fact", without=("id", "entry")))


def _first_plan(connection: Connection) -> FirstPlan:
    return FirstPlan(
        jobs=tuple(PlannedJob(**row) for row in _read(connection, "first_plan_job")),
        shipments=tuple(
            PlannedShipment(shipment=row["shipment"], date=row["day"])
            for row in _read(connection, "first_plan_shipment")
        ),
    )


def _holidays(connection: Connection) -> tuple[PublicHolidays, ...]:
    return tuple(
        PublicHolidays(**row | {"days": tuple(date.fromisoformat(day) for day in row["days"].split())})
        for row in _read(connection, "public_holidays")
    )


def _by(owner: str, kind: Callable[..., Kind], rows: Iterable[Values]) -> Mapping[str, list[Kind]]:
    """One value a row, listed by the thing it belongs to."""
    found: defaultdict[str, list[Kind]] = defaultdict(list)
    for row in rows:
        found[row.pop(owner)].append(kind(**row))
    return found


def _read(connection: Connection, table: str, without: tuple[str, ...] = ()) -> list[Values]:
    """The rows of a table in their order, by column name; the place itself is left out.

    An empty table is found so before its select is built, which takes far longer.
    """
    if connection.exec_driver_sql(f'SELECT 1 FROM "{table}" LIMIT 1').first() is None:
        return []
    source = TABLES[table]
    columns = [
        func.coalesce(column, "").label(column.name) if column.name in _EMPTY_WHEN_ABSENT else column
        for column in source.columns
        if column.name not in ("place", *without)
    ]
    names = [column.name for column in columns]
    keys = key_columns(table)
    order = keys if "place" in keys or "place" not in source.c else ("place", *keys)
    rows = connection.execute(select(*columns).order_by(*(source.c[name] for name in order))).all()
    return [dict(zip(names, row, strict=True)) for row in rows]
