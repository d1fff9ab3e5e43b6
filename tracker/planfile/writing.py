"""A plan to the text of a plan file: readable by hand, defaults left out, nothing lost."""

from collections.abc import Iterable, Iterator
from typing import Any

from tracker.plan.model import Plan
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
    table_of_fact,
)
from tracker.planfile.tables import Table


def write_plan(plan: Plan) -> str:
    """Write a plan as TOML that ``parse_plan`` reads back to an equal plan.

    Entries and facts keep their order; the text ends with a line break.

    Examples
    --------
    >>> from datetime import date
    >>> from tracker.plan.model import Run
    >>> print(write_plan(Plan(run=Run(code="dial-1", quantity=240, start=date(2026, 6, 15)))), end="")
    [run]
    code = "dial-1"
    quantity = 240
    start = 2026-06-15
    """
    return "\n".join(_tables(plan))


def _tables(plan: Plan) -> Iterator[str]:
    first_plan = plan.first_plan
    if first_plan is not None and not (first_plan.jobs or first_plan.shipments):
        yield "first_plan = []\n"
    yield _table("[run]", RUN, plan.run)
    for name, table, items in (
        ("supplier", SUPPLIER, plan.suppliers),
        ("part", PART, plan.parts),
        ("job", JOB, plan.jobs),
        ("shipment", SHIPMENT, plan.shipments),
        ("option", OPTION, plan.options),
    ):
        yield from _many(name, table, items)
    for fact in plan.facts:
        yield _table("[[fact]]", table_of_fact(fact), fact)
    if first_plan is not None:
        yield from _many("first_plan", PLANNED_JOB, first_plan.jobs)
        yield from _many("first_plan", PLANNED_SHIPMENT, first_plan.shipments)
    yield from _many("public_holidays", PUBLIC_HOLIDAYS, plan.holidays)


def _many(name: str, table: Table, items: Iterable[Any]) -> Iterator[str]:
    for item in items:
        yield _table(f"[[{name}]]", table, item)


def _table(heading: str, table: Table, item: Any) -> str:
    lines = [heading, *(f"{key} = {value}" for key, value in table.pairs(item))]
    return "\n".join(lines) + "\n"
