"""From the rows of a plan's tables to the plan, the same for text files and workbooks."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from tracker.errors import Problem
from tracker.plan.check_facts import fact_name
from tracker.plan.model import (
    FACT_KINDS,
    Fact,
    FirstPlan,
    Plan,
    PlannedJob,
    PlannedShipment,
    PublicHolidays,
    Run,
)
from tracker.plan.nearest import nearest
from tracker.plan.span import Lead
from tracker.planfile.faults import Fault, describe
from tracker.planfile.fields import (
    JOB,
    OPTION,
    PART,
    PLANNED_JOB,
    PLANNED_SHIPMENT,
    PUBLIC_HOLIDAYS,
    RUN,
    SHIPMENT,
    SUPPLIER,
    fact_table,
    subjects,
)
from tracker.planfile.tables import Table, Way, read_fields

LISTS = ("supplier", "part", "job", "shipment", "option", "fact", "first_plan", "public_holidays")
_STAND_INS: Mapping[str, Mapping[str, Any]] = {
    "supplier": {},
    "part": {},
    "job": {"supplier": "", "lead": Lead(1, 1, 1, "wd")},
    "shipment": {"quantity": 1},
    "option": {"words": "", "on": date.min},
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One entry as its source has it: values by key, blank ones left out, and how messages find it.

    ``place`` names a row of a sheet and ``cells`` the cell of each key in it; without a place an entry is named
    by its table and code, or its number among its like (from 1).
    """

    number: int
    values: Mapping[str, Any]
    place: str = ""
    cells: Mapping[str, str] = field(default_factory=dict)


@dataclass(slots=True)
class Findings:
    """Problems so far, the codes they spoil, and rows of sheets by the name of what they hold."""

    source: str
    problems: list[Problem] = field(default_factory=list)
    unreadable: set[str] = field(default_factory=set)
    rows: dict[str, tuple[Row, ...]] = field(default_factory=dict)

    def add(self, place: str, faults: Iterable[Fault]) -> None:
        """Note faults of the thing at ``place``; those without a finding have been told already."""
        for fault in faults:
            if not fault.found:
                continue
            where = ", ".join(part for part in (self.source, place, *fault.where) if part)
            self.problems.append(Problem(place=where, found=fault.found, remedy=fault.remedy))

    def add_row(self, row: Row, name: str, faults: Iterable[Fault]) -> None:
        """Note faults of a row, named ``name`` where it has no place, and where the row is to be found."""
        self.add(row.place or name, (fault.at(row.cells) for fault in faults))
        if row.place:
            self.rows[name] = (*self.rows.get(name, ()), row)


def gather(
    run: Row | None, lists: Mapping[str, Iterable[Row]], way: Way, today: date, findings: Findings
) -> Plan:
    """Read all rows; what cannot be read has a stand-in and stands among the findings.

    ``today`` is the start of a run that has none. A first plan that ``lists`` does not hold is None, one
    without rows is empty.
    """
    return Plan(
        run=_run(run, way, today, findings),
        suppliers=_items(lists, SUPPLIER, way, findings),
        parts=_items(lists, PART, way, findings),
        jobs=_items(lists, JOB, way, findings),
        shipments=_items(lists, SHIPMENT, way, findings),
        options=_items(lists, OPTION, way, findings),
        facts=tuple(_facts(lists.get("fact", ()), way, findings)),
        first_plan=_first_plan(lists["first_plan"], way, findings) if "first_plan" in lists else None,
        holidays=tuple(_holidays(lists.get("public_holidays", ()), way, findings)),
    )


def stand_in_run(start: date, values: Mapping[str, Any]) -> Run:
    """A run with these values; without code, of one piece and from ``start`` where they do not say."""
    return Run(**{"code": "", "quantity": 1, "start": start, **values})


def _run(row: Row | None, way: Way, today: date, findings: Findings) -> Run:
    values: dict[str, Any] = {}
    if row is not None:
        values, faults = read_fields(row.values, RUN, way)
        findings.add_row(row, f"run {values.get('code', '')}".strip(), faults)
        if faults and "code" in values:
            findings.unreadable.add(values["code"])
    if "code" not in values:
        findings.unreadable.add("")
    return stand_in_run(today, values)


def _items(lists: Mapping[str, Iterable[Row]], table: Table, way: Way, findings: Findings) -> tuple[Any, ...]:
    """Entries with a code; the first of several with one code, stand-ins for what could not be read."""
    stand_ins = _STAND_INS[table.name]
    found: dict[str, Any] = {}
    for row in lists.get(table.name, ()):
        values, faults = read_fields(row.values, table, way)
        code = values.get("code")
        if code in found:
            faults.append(
                Fault(
                    found="stands in the file twice", remedy="keep one of the two, or give one another code"
                )
            )
        findings.add_row(row, f"{table.name} {row.number if code is None else code}", faults)
        if faults and code is not None:
            findings.unreadable.update((code, "") if stand_ins.keys() - values.keys() else (code,))
        if code is not None and code not in found:
            found[code] = table.makes(**{**stand_ins, **values})
    return tuple(found.values())


def _facts(rows: Iterable[Row], way: Way, findings: Findings) -> Iterator[Fact]:
    for row in rows:
        kind = row.values.get("kind")
        if kind not in FACT_KINDS:
            findings.add_row(row, f"fact {row.number}", [_no_kind(kind)])
            continue
        values, faults = read_fields(row.values, fact_table(kind, row.values), way)
        if faults:
            about = next((str(row.values[key]) for key in subjects(kind) if key in row.values), "")
            on = values["on"].isoformat() if "on" in values else ""
            said = " ".join(part for part in (kind, about, on) if part)
            findings.add_row(row, f"fact {row.number} ({said})", faults)
            continue
        fact = Fact(**values)
        findings.add_row(row, f"fact {fact_name(fact)}", ())
        yield fact


def _no_kind(kind: Any) -> Fault:
    if kind is None:
        return Fault(found="has no kind", remedy=f"write kind = one of {', '.join(FACT_KINDS)}")
    close = nearest(kind, FACT_KINDS) if isinstance(kind, str) else ""
    remedy = f"did you mean {close}?" if close else f"use one of {', '.join(FACT_KINDS)}"
    return Fault(found=f"{describe(kind)}; expected a kind of fact", remedy=remedy, where=("kind",))


def _first_plan(rows: Iterable[Row], way: Way, findings: Findings) -> FirstPlan:
    jobs: list[PlannedJob] = []
    shipments: list[PlannedShipment] = []
    for row in rows:
        table = PLANNED_SHIPMENT if "shipment" in row.values else PLANNED_JOB
        values, faults = read_fields(row.values, table, way)
        if faults:
            findings.add_row(row, f"first_plan {row.number}", faults)
        elif table is PLANNED_JOB:
            jobs.append(PlannedJob(**values))
            findings.add_row(row, f"first plan, job {values['job']}", ())
        else:
            shipments.append(PlannedShipment(**values))
            findings.add_row(row, f"first plan, shipment {values['shipment']}", ())
    return FirstPlan(jobs=tuple(jobs), shipments=tuple(shipments))


def _holidays(rows: Iterable[Row], way: Way, findings: Findings) -> Iterator[PublicHolidays]:
    for row in rows:
        values, faults = read_fields(row.values, PUBLIC_HOLIDAYS, way)
        if faults:
            findings.add_row(row, f"public_holidays {row.number}", faults)
            continue
        kept = PublicHolidays(**values)
        findings.add_row(row, f"public holidays {kept.country} {kept.subdivision}".rstrip(), ())
        yield kept
