"""A rework loop: the job that mends what a gate refused, and a second attempt at the gate."""

import re
from collections.abc import Collection
from dataclasses import dataclass, replace
from datetime import date

from tracker.errors import Refused
from tracker.plan.gates import gates_of, root_of
from tracker.plan.model import Job, Link, Plan
from tracker.plan.progress import latest_results
from tracker.plan.span import NO_DAYS, Lead, Span

_NUMBER = re.compile(r"-[0-9]+$")


@dataclass(frozen=True, slots=True, kw_only=True)
class Loop:
    """What a rework takes: who does it, its lead and travel, the words as heard, and how long the second check takes.

    ``check`` is None where that takes as long as the first.
    """

    supplier: str
    lead: Lead
    travel: Span = NO_DAYS
    check: Lead | None = None
    said: str = ""


def with_rework(plan: Plan, gate: Job, loop: Loop, today: date) -> Plan:
    """Add the rework job and the second check; what waits for the gate then waits for the second check.

    Raises
    ------
    Refused
        If the gate has not failed as of ``today``, has passed since, or has another attempt planned already.
    """
    gates = gates_of(plan, today)
    jobs = plan.job_by_code
    root = root_of(gate, jobs)
    family = [job for job in plan.jobs if root_of(job, jobs) == root]
    failed = [job for job in family if job.code in gates.failed_on]
    opener = gates.opener[gate.code]
    if not failed:
        raise Refused(
            f"{gate.code} has not failed, so there is nothing to rework",
            hint=f"log the result first: tracker failed {gate.code} WHY",
        )
    if opener not in gates.failed_on:
        tried = opener in latest_results(fact for fact in plan.facts if fact.on <= today)
        stands = "has passed since" if tried else "is planned as the next attempt already"
        raise Refused(
            f"{gate.code} needs no further rework: {opener} {stands}",
            hint=f"'tracker {opener}' shows it; 'tracker failed {opener} WHY' comes before another rework",
        )
    last = max(reversed(failed), key=lambda job: gates.failed_on[job.code])
    base = _NUMBER.sub("", last.code)
    named = next((job for job in family if job.code == base), last)
    codes = set(jobs)
    mended = _rework(last, named, loop, free_code(f"rework-{named.code}", codes))
    code = free_code(named.code, codes)
    again = replace(_attempt(named, loop, mended, number=len(family) + 1), code=code, retry_of=root)
    return replace(plan, jobs=(*plan.jobs, mended, again))


def _rework(failed: Job, named: Job, loop: Loop, code: str) -> Job:
    return Job(
        code=code,
        name=f"Rework after {named.name or named.code}",
        public_name=f"{named.public_name}: rework" if named.public_name else "",
        supplier=loop.supplier,
        lead=loop.lead,
        said=loop.said,
        travel=loop.travel,
        after=(Link(job=failed.code, on="fail"),),
    )


def _attempt(named: Job, loop: Loop, mended: Job, *, number: int) -> Job:
    """The gate again, under its own name and public name with the number of the attempt."""
    return replace(
        named,
        name=f"{named.name or named.code}, attempt {number}",
        public_name=f"{named.public_name}, attempt {number}" if named.public_name else "",
        lead=loop.check or named.lead,
        said="",
        after=(Link(job=mended.code),),
        not_before=None,
        gate=True,
    )


def free_code(wanted: str, codes: Collection[str]) -> str:
    """``wanted`` where no job has it, else with the first free number from 2."""
    number = 2
    code = wanted
    while code in codes:
        code, number = f"{wanted}-{number}", number + 1
    return code
