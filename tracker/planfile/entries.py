"""The entries of a plan that have a code, by kind: the run, suppliers, parts, jobs, shipments and options."""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Any

from tracker.plan.model import Plan
from tracker.planfile.fields import JOB, OPTION, PART, RUN, SHIPMENT, SUPPLIER
from tracker.planfile.tables import Table

CODED: Mapping[str, Table] = {
    "supplier": SUPPLIER,
    "part": PART,
    "job": JOB,
    "shipment": SHIPMENT,
    "option": OPTION,
}
TABLES: Mapping[str, Table] = {"run": RUN, **CODED}


def entries(plan: Plan | None, kind: str) -> Mapping[str, Any]:
    """Entries of one kind by code, in plan order; none without a plan."""
    if plan is None:
        return {}
    found: Mapping[str, tuple[Any, ...]] = {
        "run": (plan.run,),
        "supplier": plan.suppliers,
        "part": plan.parts,
        "job": plan.jobs,
        "shipment": plan.shipments,
        "option": plan.options,
    }
    return {item.code: item for item in found[kind]}


def with_entries(plan: Plan, kind: str, items: Iterable[Any]) -> Plan:
    """The plan with all entries of one kind replaced; for the run, by the last of ``items``."""
    kept = tuple(items)
    match kind:
        case "run":
            return replace(plan, run=kept[-1])
        case "supplier":
            return replace(plan, suppliers=kept)
        case "part":
            return replace(plan, parts=kept)
        case "job":
            return replace(plan, jobs=kept)
        case "shipment":
            return replace(plan, shipments=kept)
        case _:
            return replace(plan, options=kept)
