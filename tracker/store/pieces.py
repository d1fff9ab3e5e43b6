"""From rows to the pieces of a plan, wherever the rows come from."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from datetime import date
from fractions import Fraction
from functools import cache
from typing import Any, Protocol, TypeVar

from tracker.plan.model import (
    Closure,
    Fact,
    FirstPlan,
    Job,
    Link,
    PlannedJob,
    PlannedShipment,
    PublicHolidays,
    Run,
    Shipment,
    Supplier,
    Told,
)
from tracker.plan.options import Option
from tracker.plan.parts import Content, Make, Part, Take
from tracker.plan.span import parse_span
from tracker.store.leads import read_lead
from tracker.store.lots import read_lots
from tracker.store.schema import TABLES, key_columns

Kind = TypeVar("Kind")
Values = dict[str, Any]

EMPTY_WHEN_ABSENT = frozenset(
    ("job", "shipment", "supplier", "part", "option", "into", "retry_of", "rework_of")
)
"""Columns whose absent value a plan has as an empty text."""
NOT_OF_FACTS = ("id", "entry")
"""Columns of a fact that say which entry logged it, not what it says."""


class Read(Protocol):
    """Gives the rows of a table in their order, fresh, by column name without ``place``."""

    def __call__(self, table: str, without: tuple[str, ...] = ()) -> list[Values]:
        """The rows, less the columns named in ``without``."""


def order_of(table: str) -> tuple[str, ...]:
    """The columns by which rows of a table are ordered."""
    keys = key_columns(table)
    return keys if "place" in keys or "place" not in TABLES[table].c else ("place", *keys)


def _run(read: Read) -> Run:
    row = read("run")[0]
    row.pop("id")
    row.pop("first_plan")
    return Run(**row, unit=", ".join(one["part"] for one in read("run_unit")))


def _parts(read: Read) -> tuple[Part, ...]:
    return tuple(Part(**row | {"here": Fraction(row["here"])}) for row in read("part"))


def _suppliers(read: Read) -> tuple[Supplier, ...]:
    closures = _by("supplier", Closure, read("closure"))
    opens: defaultdict[str, list[date]] = defaultdict(list)
    for row in read("open_day"):
        opens[row["supplier"]].append(row["day"])
    span = cache(parse_span)
    return tuple(
        Supplier(
            **row | {"bank": span(row["bank"])},
            closures=tuple(closures.get(row["code"], ())),
            opens=tuple(opens.get(row["code"], ())),
        )
        for row in read("supplier")
    )


def _jobs(read: Read) -> tuple[Job, ...]:
    span, lead, share, lots = cache(parse_span), cache(read_lead), cache(Fraction), cache(read_lots)
    after, conditions = _links(read), _conditions(read)
    takes, makes = _takes(read), _by("job", Make, read("make"))
    serves = _by("job", lambda shipment: shipment, read("job_serves"))
    jobs = []
    for row in read("job"):
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


def _links(read: Read) -> Mapping[str, list[Link]]:
    span = cache(parse_span)
    after: defaultdict[str, list[Link]] = defaultdict(list)
    for row in read("link"):
        link = Link(job=row["after_job"], kind=row["kind"], lag=span(row["lag"]), on=row["outcome"])
        after[row["job"]].append(link)
    return after


def _conditions(read: Read) -> Mapping[tuple[str, str], list[str]]:
    """What a job waits for, by job and stage."""
    found: defaultdict[tuple[str, str], list[str]] = defaultdict(list)
    for row in read("condition"):
        found[row["job"], row["stage"]].append(row["what"])
    return found


def _takes(read: Read) -> Mapping[str, list[Take]]:
    rows = read("take")
    return _by("job", Take, (row | {"per": Fraction(row["per"])} for row in rows))


def _shipments(read: Read) -> tuple[Shipment, ...]:
    told = _by("shipment", Told, read("told"))
    contents = _by("shipment", Content, read("content"))
    after: defaultdict[str, list[str]] = defaultdict(list)
    for row in read("shipment_after"):
        after[row["shipment"]].append(row["job"])
    return tuple(
        Shipment(
            **row,
            after=tuple(after.get(row["code"], ())),
            told=tuple(told.get(row["code"], ())),
            contents=tuple(contents.get(row["code"], ())),
        )
        for row in read("shipment")
    )


def _options(read: Read) -> tuple[Option, ...]:
    return tuple(Option(**row) for row in read("option"))


def _facts(read: Read) -> tuple[Fact, ...]:
    return tuple(Fact(**row) for row in read("fact", without=NOT_OF_FACTS))


def _first_plan(read: Read) -> FirstPlan | None:
    if not read("run")[0]["first_plan"]:
        return None
    return FirstPlan(
        jobs=tuple(PlannedJob(**row) for row in read("first_plan_job")),
        shipments=tuple(
            PlannedShipment(shipment=row["shipment"], date=row["day"]) for row in read("first_plan_shipment")
        ),
    )


def _holidays(read: Read) -> tuple[PublicHolidays, ...]:
    return tuple(
        PublicHolidays(**row | {"days": tuple(date.fromisoformat(day) for day in row["days"].split())})
        for row in read("public_holidays")
    )


def _by(owner: str, kind: Callable[..., Kind], rows: Iterable[Values]) -> Mapping[str, list[Kind]]:
    """One value a row, listed by the thing it belongs to."""
    found: defaultdict[str, list[Kind]] = defaultdict(list)
    for row in rows:
        found[row.pop(owner)].append(kind(**row))
    return found


PIECES: Mapping[str, tuple[Callable[[Read], Any], tuple[str, ...]]] = {
    "run": (_run, ("run", "run_unit")),
    "suppliers": (_suppliers, ("supplier", "closure", "open_day")),
    "parts": (_parts, ("part",)),
    "jobs": (_jobs, ("job", "link", "condition", "take", "make", "job_serves")),
    "shipments": (_shipments, ("shipment", "shipment_after", "content", "told")),
    "options": (_options, ("option",)),
    "facts": (_facts, ("fact",)),
    "first_plan": (_first_plan, ("run", "first_plan_job", "first_plan_shipment")),
    "holidays": (_holidays, ("public_holidays",)),
}
"""How each attribute of a plan is built, and from which tables."""
