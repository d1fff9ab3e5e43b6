"""Taking an entry out of a plan, if nothing refers to it."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Literal

from tracker.errors import Refused
from tracker.plan.check_facts import fact_name
from tracker.plan.day_text import full_day
from tracker.plan.model import Fact, FirstPlan, Plan
from tracker.planfile.contents import held
from tracker.planfile.entries import entries, with_entries

_MOST_NAMED = 4


def without(
    plan: Plan, kind: Literal["run", "supplier", "part", "job", "shipment", "option"], code: str
) -> Plan:
    """The plan without one thing.

    Raises
    ------
    Refused
        If something refers to it; the message names all that does.
    """
    _refuse_told(plan, kind, code)
    users: list[str]
    match kind:
        case "supplier":
            users = [job.code for job in plan.jobs if job.supplier == code]
            _refuse_used(code, users, "give these jobs another supplier first")
        case "part":
            _refuse_part_used(plan, code)
        case "shipment":
            users = [job.code for job in plan.jobs if code in job.serves]
            _refuse_used(
                code, users, "take it out of their 'serves' first, for example: tracker set JOB serves=OTHER"
            )
        case "job":
            _refuse_job_used(plan, code)
    kept = (item for item in entries(plan, kind).values() if item.code != code)
    return replace(with_entries(plan, kind, kept), first_plan=_first_plan_without(plan.first_plan, code))


def _refuse_told(plan: Plan, kind: str, code: str) -> None:
    facts = [fact for fact in plan.facts if code in _codes_of(fact)]
    if not facts:
        return
    if kind == "option":
        raise Refused(
            f"{code} was decided on {full_day(facts[-1].on)}, so it cannot be removed",
            hint=f"the decision keeps it in the diary; take that back first: 'tracker diary {code}' names the entry",
        )
    if kind == "part":
        names = list(dict.fromkeys(map(fact_name, facts)))
        named = ", ".join(names[:_MOST_NAMED]) + (", ..." if len(names) > _MOST_NAMED else "")
        remedy = f"undo what logged them first: 'tracker diary {code}' names the entries"
        raise Refused(f"{code} is counted by facts, so it cannot be removed: {named}", hint=remedy)
    remedy = (
        f"'tracker called-off {code}' keeps the trail" if kind == "job" else "its facts keep it in the diary"
    )
    raise Refused(f"{code} has facts logged about it, so it cannot be removed", hint=remedy)


def _codes_of(fact: Fact) -> tuple[str, ...]:
    return fact.job, fact.supplier, fact.shipment, fact.part, fact.option


def _refuse_job_used(plan: Plan, code: str) -> None:
    mending = [job.code for job in plan.jobs if job.rework_of == code]
    if mending:
        _refuse_used(code, mending, f"its pieces are mended there: tracker remove {mending[0]}")
    waiting = [
        job.code for job in plan.jobs if job.retry_of == code or any(link.job == code for link in job.after)
    ]
    waiting += [one.code for one in plan.shipments if code in one.after]
    _refuse_used(
        code, waiting, "take it out of their 'after' first, for example: tracker set JOB after=OTHER"
    )


def _refuse_part_used(plan: Plan, code: str) -> None:
    users = list(_part_users(plan, code))
    if users:
        user, key = users[0]
        _refuse_used(
            code,
            [f"{one} ({key})" for one, key in users],
            f"change these first, for example: tracker set {user} {key}=OTHER",
        )


def _part_users(plan: Plan, code: str) -> Iterator[tuple[str, str]]:
    """Who names a part, and in which of its keys."""
    if code in plan.run.units:
        yield "run", "unit"
    for job in plan.jobs:
        if any(code in (take.part, take.into) for take in job.takes):
            yield job.code, "takes"
        if any(make.part == code for make in job.makes):
            yield job.code, "makes"
    for shipment in plan.shipments:
        if any(content.part == code for content in shipment.contents):
            yield shipment.code, "part" if held(shipment) == code else "contents"


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
