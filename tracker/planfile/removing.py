"""Taking a job, a supplier or a shipment out of a plan, if nothing refers to it."""

from dataclasses import replace
from typing import Literal

from tracker.errors import Refused
from tracker.plan.model import FirstPlan, Plan


def without(plan: Plan, kind: Literal["run", "supplier", "job", "shipment"], code: str) -> Plan:
    """The plan without one thing.

    Raises
    ------
    Refused
        If something refers to it; the message names all that does.
    """
    if any(code in (fact.job, fact.supplier, fact.shipment) for fact in plan.facts):
        remedy = (
            f"'tracker called-off {code}' keeps the trail"
            if kind == "job"
            else "its facts keep it in the diary"
        )
        raise Refused(f"{code} has facts logged about it, so it cannot be removed", hint=remedy)
    if kind == "supplier":
        _refuse_used(
            code,
            [job.code for job in plan.jobs if job.supplier == code],
            "give these jobs another supplier first",
        )
        return replace(plan, suppliers=tuple(one for one in plan.suppliers if one.code != code))
    if kind == "shipment":
        kept = tuple(one for one in plan.shipments if one.code != code)
        return replace(plan, shipments=kept, first_plan=_first_plan_without(plan.first_plan, code))
    waiting = [
        job.code for job in plan.jobs if job.retry_of == code or any(link.job == code for link in job.after)
    ]
    waiting += [one.code for one in plan.shipments if code in one.after]
    _refuse_used(
        code, waiting, "take it out of their 'after' first, for example: tracker set JOB after=OTHER"
    )
    kept_jobs = tuple(one for one in plan.jobs if one.code != code)
    return replace(plan, jobs=kept_jobs, first_plan=_first_plan_without(plan.first_plan, code))


def _refuse_used(code: str, users: list[str], remedy: str) -> None:
    if users:
        raise Refused(f"{code} is needed by {', '.join(users)}", hint=remedy)


def _first_plan_without(first: FirstPlan | None, code: str) -> FirstPlan | None:
    if first is None:
        return None
    return FirstPlan(
        jobs=tuple(row for row in first.jobs if row.job != code),
        shipments=tuple(row for row in first.shipments if row.shipment != code),
    )
