"""A plan file's text to a plan, with every problem found on the way."""

import re
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from typing import Any

from tracker.errors import Problem
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
from tracker.planfile.faults import Fault, describe, in_quotes
from tracker.planfile.fields import (
    JOB,
    PLANNED_JOB,
    PLANNED_SHIPMENT,
    PUBLIC_HOLIDAYS,
    RUN,
    SHIPMENT,
    SUPPLIER,
    fact_table,
)
from tracker.planfile.tables import Table, read_fields

_LISTS = ("supplier", "job", "shipment", "fact", "first_plan", "public_holidays")
_POSITION = re.compile(r"(.*) \(at (?:line (\d+), column (\d+)|end of document)\)", re.DOTALL)
_STAND_INS: Mapping[str, Mapping[str, Any]] = {
    "supplier": {},
    "job": {"supplier": "", "lead": Lead(1, 1, 1, "wd")},
    "shipment": {"quantity": 1},
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Parsed:
    """What a plan file says.

    With problems, ``plan`` holds what could be read, with stand-ins for the rest, so that it can be checked
    further; it is not to be stored. ``unreadable`` are the codes of entries with problems, and ``""`` for
    references (and a run's code) that could not be read.
    """

    plan: Plan
    problems: tuple[Problem, ...]
    unreadable: frozenset[str]


@dataclass(slots=True)
class _Findings:
    """Problems so far, and the codes they spoil."""

    source: str
    problems: list[Problem] = field(default_factory=list)
    unreadable: set[str] = field(default_factory=set)

    def add(self, place: str, faults: list[Fault]) -> None:
        for fault in faults:
            where = ", ".join(part for part in (self.source, place, *fault.where) if part)
            self.problems.append(Problem(place=where, found=fault.found, remedy=fault.remedy))


def parse_plan(text: str, *, source: str, today: date) -> Parsed:
    r"""Read a plan from TOML.

    Parameters
    ----------
    text : str
        The file's text.
    source : str
        The file's name, which begins the place of every problem.
    today : date
        Stands in for the start of a run whose own start cannot be read.

    Returns
    -------
    Parsed
        The plan and all problems of form: syntax, unknown keys, wrong types, missing and doubled entries.
        What the entries mean together is for ``check_plan``.

    Examples
    --------
    >>> parsed = parse_plan('[run]\ncode = "dial-1"\nquantity = "12"\n', source="plan.toml", today=date(2026, 6, 1))
    >>> print(*parsed.problems, sep="\n")
    plan.toml, run dial-1, quantity: '12' is text; expected a whole number; write it without quotes and without a point, such as 240
    plan.toml, run dial-1: has no start; write start = 2026-06-15
    """
    findings = _Findings(source)
    raw = _parse(text.removeprefix("\ufeff"), findings)
    if raw is None:
        plan = Plan(run=_stand_in_run(today, {}))
        return Parsed(plan=plan, problems=tuple(findings.problems), unreadable=frozenset(("",)))
    _unknown_tables(raw, findings)
    plan = Plan(
        run=_run(raw.get("run"), today, findings),
        suppliers=_items(raw, SUPPLIER, findings),
        jobs=_items(raw, JOB, findings),
        shipments=_items(raw, SHIPMENT, findings),
        facts=tuple(_facts(raw, findings)),
        first_plan=_first_plan(raw, findings),
        holidays=tuple(_holidays(raw, findings)),
    )
    return Parsed(plan=plan, problems=tuple(findings.problems), unreadable=frozenset(findings.unreadable))


def _parse(text: str, findings: _Findings) -> dict[str, Any] | None:
    try:
        return tomllib.loads(text, parse_float=Decimal)
    except RecursionError:
        findings.add("", [Fault(found="brackets stand in brackets without end", remedy="close them")])
    except ValueError as error:
        findings.add(*_syntax(str(error), text))
    return None


def _syntax(message: str, text: str) -> tuple[str, list[Fault]]:
    """Place and fault of a TOML error, with the line it is in."""
    found = _POSITION.fullmatch(message)
    said = (found[1] if found else message).strip().rstrip(".")
    said = said[:1].lower() + said[1:]
    if found is None or found[2] is None:
        return "end of the file" if found else "", [
            Fault(found=said, remedy="close what is still open: a quote, a bracket or a brace")
        ]
    line = text.splitlines()[int(found[2]) - 1 :][:1]
    shown = f" in {in_quotes(line[0].strip())}" if line and line[0].strip() else ""
    remedy = (
        "each key and each [table] stands once; several suppliers, jobs or shipments are written [[job]]"
        if "overwrite" in said or "twice" in said or "declare" in said
        else 'text and days such as "12wd" stand in double quotes, dates such as 2026-06-15 in none'
    )
    return f"line {found[2]}, column {found[3]}", [Fault(found=f"{said}{shown}", remedy=remedy)]


def _unknown_tables(raw: Mapping[str, Any], findings: _Findings) -> None:
    known = ("run", *_LISTS)
    for name in raw:
        if name not in known:
            close = nearest(name, known)
            form = f"[{close}]" if close == "run" else f"[[{close}]]"
            remedy = (
                f"did you mean {form}?" if close else f"a plan file has [run] and [[{']], [['.join(_LISTS)}]]"
            )
            findings.add("", [Fault(found=f"there is no table {in_quotes(name)}", remedy=remedy)])


def _stand_in_run(start: date, values: Mapping[str, Any]) -> Run:
    return Run(**{"code": "", "quantity": 1, "start": start, **values})


def _run(raw: Any, today: date, findings: _Findings) -> Run:
    values: dict[str, Any] = {}
    if isinstance(raw, dict):
        values, faults = read_fields(raw, RUN)
        findings.add(f"run {values.get('code', '')}".strip(), faults)
        if faults and "code" in values:
            findings.unreadable.add(values["code"])
    elif raw is None:
        findings.add("", [Fault(found="has no [run]", remedy="write [run] with code, quantity and start")])
    else:
        fault = Fault(found=f"{describe(raw)}; expected one table", remedy="write [run] in single brackets")
        findings.add("run", [fault])
    if "code" not in values:
        findings.unreadable.add("")
    return _stand_in_run(today, values)


def _rows(raw: Mapping[str, Any], name: str, findings: _Findings) -> Iterator[tuple[int, dict[str, Any]]]:
    """The rows of a list of tables, numbered from 1."""
    rows = raw.get(name, [])
    if not isinstance(rows, list):
        remedy = f"write [[{name}]] in double brackets"
        findings.add(name, [Fault(found=f"{describe(rows)}; expected a list of tables", remedy=remedy)])
        return
    for number, row in enumerate(rows, start=1):
        if isinstance(row, dict):
            yield number, row
        else:
            fault = Fault(
                found=f"{describe(row)}; expected a table", remedy=f"write [[{name}]] and its keys below"
            )
            findings.add(f"{name} {number}", [fault])


def _items(raw: Mapping[str, Any], table: Table, findings: _Findings) -> tuple[Any, ...]:
    """Suppliers, jobs or shipments; the first of several with one code, stand-ins for what could not be read."""
    stand_ins = _STAND_INS[table.name]
    found: dict[str, Any] = {}
    for number, row in _rows(raw, table.name, findings):
        values, faults = read_fields(row, table)
        code = values.get("code")
        if code in found:
            faults.append(
                Fault(
                    found="stands in the file twice", remedy="keep one of the two, or give one another code"
                )
            )
        findings.add(f"{table.name} {number if code is None else code}", faults)
        if faults and code is not None:
            findings.unreadable.update((code, "") if stand_ins.keys() - values.keys() else (code,))
        if code is not None and code not in found:
            found[code] = table.makes(**{**stand_ins, **values})
    return tuple(found.values())


def _facts(raw: Mapping[str, Any], findings: _Findings) -> Iterator[Fact]:
    for number, row in _rows(raw, "fact", findings):
        kind = row.get("kind")
        if kind not in FACT_KINDS:
            findings.add(f"fact {number}", [_no_kind(kind)])
            continue
        values, faults = read_fields(row, fact_table(kind, row))
        if faults:
            about = next((str(row[key]) for key in ("job", "shipment", "supplier") if key in row), "")
            on = values["on"].isoformat() if "on" in values else ""
            findings.add(f"fact {number} ({' '.join(part for part in (kind, about, on) if part)})", faults)
        else:
            yield Fact(**values)


def _no_kind(kind: Any) -> Fault:
    if kind is None:
        return Fault(found="has no kind", remedy=f"write kind = one of {', '.join(FACT_KINDS)}")
    close = nearest(kind, FACT_KINDS) if isinstance(kind, str) else ""
    remedy = f"did you mean {close}?" if close else f"use one of {', '.join(FACT_KINDS)}"
    return Fault(found=f"{describe(kind)}; expected a kind of fact", remedy=remedy, where=("kind",))


def _first_plan(raw: Mapping[str, Any], findings: _Findings) -> FirstPlan | None:
    """The rows of the first plan; an empty list is a first plan without rows, none at all is no first plan."""
    if "first_plan" not in raw:
        return None
    jobs: list[PlannedJob] = []
    shipments: list[PlannedShipment] = []
    for number, row in _rows(raw, "first_plan", findings):
        table = PLANNED_SHIPMENT if "shipment" in row else PLANNED_JOB
        values, faults = read_fields(row, table)
        findings.add(f"first_plan {number}", faults)
        if not faults and table is PLANNED_JOB:
            jobs.append(PlannedJob(**values))
        elif not faults:
            shipments.append(PlannedShipment(**values))
    return FirstPlan(jobs=tuple(jobs), shipments=tuple(shipments))


def _holidays(raw: Mapping[str, Any], findings: _Findings) -> Iterator[PublicHolidays]:
    for number, row in _rows(raw, "public_holidays", findings):
        values, faults = read_fields(row, PUBLIC_HOLIDAYS)
        findings.add(f"public_holidays {number}", faults)
        if not faults:
            yield PublicHolidays(**values)
