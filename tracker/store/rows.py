"""A plan as rows, table by table, in the form the database holds them."""

from collections.abc import Callable, Sequence
from datetime import date
from typing import Any

from tracker.plan.diary import Cell, Row
from tracker.plan.model import Fact, FirstPlan, Plan
from tracker.plan.span import DayRate, HourRate, Lead
from tracker.store.leads import lead_text
from tracker.store.lots import lots_text
from tracker.store.schema import TABLES

Rows = dict[str, list[Row]]


def rows_that_differ(before: Plan | None, after: Plan) -> Rows:
    """All rows of ``after`` for each table that may differ from ``before``; facts are left out.

    Tables whose part of the plan is the same are not mentioned; a table whose rows all go has an empty list.
    """
    found: Rows = {}
    for part, rows in _PARTS:
        if before is None or part(before) != part(after):
            found |= rows(after)
    return found


def fact_rows(facts: Sequence[Fact], entry: int) -> list[Row]:
    """The rows of facts logged by ``entry``; the database numbers them."""
    names = [column.name for column in TABLES["fact"].columns if column.name not in {"id", "entry"}]
    nullable = {name for name in names if TABLES["fact"].c[name].nullable}
    return [
        {"entry": entry} | {name: _stored(getattr(fact, name), absent=name in nullable) for name in names}
        for fact in facts
    ]


def _run_rows(plan: Plan) -> Rows:
    return {
        "run": [_row("run", plan.run, id=1, first_plan=int(plan.first_plan is not None))],
        "run_unit": [{"place": place, "part": unit} for place, unit in enumerate(plan.run.units)],
    }


def _holiday_rows(plan: Plan) -> Rows:
    rows = [
        _row("public_holidays", kept, place=place, days=" ".join(day.isoformat() for day in kept.days))
        for place, kept in enumerate(plan.holidays)
    ]
    return {"public_holidays": rows}


def _supplier_rows(plan: Plan) -> Rows:
    rows: Rows = {"supplier": [], "closure": [], "open_day": []}
    for supplier in plan.suppliers:
        code = supplier.code
        rows["supplier"].append(_row("supplier", supplier, place=None))
        for place, closure in enumerate(supplier.closures):
            rows["closure"].append(_row("closure", closure, supplier=code, place=place))
        for place, day in enumerate(supplier.opens):
            rows["open_day"].append({"supplier": code, "place": place, "day": day.isoformat()})
    return rows


def _part_rows(plan: Plan) -> Rows:
    return {"part": [_row("part", part, place=None) for part in plan.parts]}


def _job_rows(plan: Plan) -> Rows:
    rows: Rows = {"job": [], "link": [], "condition": [], "take": [], "make": [], "job_serves": []}
    for job in plan.jobs:
        code = job.code
        own_clock = int(job.clock is not None)
        rows["job"].append(_row("job", job, place=None, own_clock=own_clock, lots=lots_text(job.lots)))
        for place, link in enumerate(job.after):
            waits = _row("link", link, job=code, place=place, after_job=link.job, outcome=link.on)
            rows["link"].append(waits)
        for stage, conditions in (("clock", job.clock or ()), ("leave", job.leave_when)):
            for place, what in enumerate(conditions):
                rows["condition"].append({"job": code, "stage": stage, "place": place, "what": what})
        rows["take"] += [_row("take", take, job=code, place=n) for n, take in enumerate(job.takes)]
        rows["make"] += [_row("make", make, job=code, place=n) for n, make in enumerate(job.makes)]
        rows["job_serves"] += [
            {"job": code, "place": n, "shipment": served} for n, served in enumerate(job.serves)
        ]
    return rows


def _shipment_rows(plan: Plan) -> Rows:
    rows: Rows = {"shipment": [], "shipment_after": [], "content": [], "told": []}
    for shipment in plan.shipments:
        code = shipment.code
        rows["shipment"].append(_row("shipment", shipment, place=None))
        for place, job in enumerate(shipment.after):
            rows["shipment_after"].append({"shipment": code, "place": place, "job": job})
        for place, content in enumerate(shipment.contents):
            rows["content"].append(_row("content", content, shipment=code, place=place))
        for place, told in enumerate(shipment.told):
            rows["told"].append(_row("told", told, shipment=code, place=place))
    return rows


def _option_rows(plan: Plan) -> Rows:
    return {"option": [_row("option", option, place=None) for option in plan.options]}


def _first_plan_rows(plan: Plan) -> Rows:
    first = plan.first_plan or FirstPlan()
    return {
        "first_plan_job": [_row("first_plan_job", planned, place=None) for planned in first.jobs],
        "first_plan_shipment": [
            {"shipment": planned.shipment, "place": None, "day": planned.date.isoformat()}
            for planned in first.shipments
        ],
    }


_PARTS: tuple[tuple[Callable[[Plan], Any], Callable[[Plan], Rows]], ...] = (
    (lambda plan: (plan.run, plan.first_plan is None), _run_rows),
    (lambda plan: plan.holidays, _holiday_rows),
    (lambda plan: plan.suppliers, _supplier_rows),
    (lambda plan: plan.parts, _part_rows),
    (lambda plan: plan.jobs, _job_rows),
    (lambda plan: plan.shipments, _shipment_rows),
    (lambda plan: plan.options, _option_rows),
    (lambda plan: plan.first_plan, _first_plan_rows),
)


def _row(table: str, value: object, **more: Cell) -> Row:
    """The row of ``value``: its attributes by column name, and ``more`` for what is named otherwise."""
    return {
        column.name: more[column.name]
        if column.name in more
        else _stored(getattr(value, column.name), absent=bool(column.nullable))
        for column in TABLES[table].columns
    }


def _stored(value: object, *, absent: bool) -> Cell:
    if value is None:
        return None
    if isinstance(value, str):
        return None if absent and not value else value
    if isinstance(value, int):
        return int(value)
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, (Lead, DayRate, HourRate)):
        return lead_text(value)
    return str(value)
