"""Which open work a second source makes needless, and what follows that work."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from tracker.errors import Refused
from tracker.plan.model import Job, Plan
from tracker.plan.part_waits import part_waits
from tracker.plan.progress import progress_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Replaced:
    """Open jobs that a second source takes the place of, in plan order.

    ``like`` is the job whose work is done again, None for a part that comes ready from elsewhere; ``part`` is what
    comes, empty where the plan counts nothing there. ``staying`` are open makers of that part which go on, since
    other parts they bring are taken.
    """

    jobs: tuple[Job, ...]
    like: Job | None
    part: str = ""
    staying: tuple[str, ...] = ()


def of_part(plan: Plan, part: str, today: date) -> Replaced:
    """The makers of a part of which nothing came yet, with the open work that leads to nothing else.

    A maker of other parts, too, goes on where these are taken by work that stays or go into a shipment.
    """
    makers = [
        job
        for job in plan.makers_of.get(part, ())
        if not job.rework_of and _is_open(plan, job, today) and not progress_of(plan, job, today).received
    ]
    leaving, staying = makers, [*makers]
    gone: set[str] = set()
    while staying:
        gone = _with_needless(plan, {job.code for job in leaving}, today)
        staying = [job for job in leaving if _brings_others(plan, job, part, gone, today)]
        leaving = [job for job in leaving if job not in staying]
    went_on = tuple(job.code for job in makers if job not in leaving)
    return Replaced(jobs=_in_order(plan, gone), like=None, part=part, staying=went_on)


def _with_needless(plan: Plan, gone: set[str], today: date) -> set[str]:
    """Jobs that are gone, with the open work that leads to nothing else."""
    followers = _followers(plan)
    more = gone
    while more:
        more = {
            job.code
            for job in plan.jobs
            if job.code not in gone and followers[job.code] and followers[job.code] <= gone
            if _is_open(plan, job, today) and not _is_gate(job)
        }
        gone = gone | more
    return gone


def _brings_others(plan: Plan, job: Job, part: str, gone: set[str], today: date) -> bool:
    """Whether a maker of ``part`` brings another part that open work which stays, or a shipment, takes."""
    takers = (one for one in plan.jobs if one.code not in gone and _is_open(plan, one, today))
    taken = {take.part for one in takers for take in one.takes}
    taken |= {content.part for one in plan.shipments for content in one.contents}
    return any(make.part != part and make.part in taken for make in plan.makes_of(job))


def of_job(plan: Plan, job: Job, today: date) -> Replaced:
    """An open job alone; for one that is done the outside jobs that only carry its result on.

    Raises
    ------
    Refused
        If the job is a gate or called off, or is done and nothing is left that only carries it on.
    """
    if _is_gate(job):
        raise Refused(
            f"{job.code} is a gate, and no other source takes its place",
            hint=f"try another supplier for it: tracker try set {job.code} supplier=CODE lead=10wd",
        )
    if progress_of(plan, job, today).called_off:
        raise Refused(f"{job.code} was called off", hint="name the part or the job that is missing now")
    if _is_open(plan, job, today):
        return Replaced(jobs=(job,), like=job, part=_only_part(plan, (job,)))
    left = tuple(one for one in _in_order(plan, _carrying(plan, job)) if _is_open(plan, one, today))
    if not left:
        raise Refused(
            f"{job.code} is done, and no open job only carries on what came of it",
            hint="name the open job to replace, or the part that is missing: tracker try instead PART by SUPPLIER lead 10wd",
        )
    return Replaced(jobs=left, like=job, part=_only_part(plan, left))


def _carrying(plan: Plan, job: Job) -> set[str]:
    """The jobs that do nothing but carry a job's result on, itself among them.

    They end where anything else joins, at a gate, and at our own bench, where work begins again.
    """
    waits = _waits(plan)
    found = {job.code}
    more = found
    while more:
        more = {
            one.code
            for one in plan.jobs
            if one.code not in found and waits[one.code] and waits[one.code] <= found
            if not _is_gate(one) and not plan.supplier_by_code[one.supplier].inhouse
        }
        found |= more
    return found


def _only_part(plan: Plan, jobs: tuple[Job, ...]) -> str:
    """The part that goes on from these jobs; none where they make nothing."""
    inside = {job.code for job in jobs}
    taken = {take.part for job in plan.jobs if job.code not in inside for take in job.takes}
    taken |= {content.part for one in plan.shipments for content in one.contents}
    made = list(dict.fromkeys(make.part for job in jobs for make in plan.makes_of(job)))
    parts = [part for part in made if part in taken] or made[-1:]
    if len(parts) > 1:
        names = ", ".join(job.code for job in jobs)
        raise Refused(
            f"{names} bring {' and '.join(parts)}: a second source brings one part",
            hint=f"name it: tracker try instead {parts[0]} by SUPPLIER lead 10wd",
        )
    return parts[0] if parts else ""


def _waits(plan: Plan) -> Mapping[str, set[str]]:
    """For each job, those it waits for by links and through parts."""
    links = {job.code: {link.job for link in job.after} for job in plan.jobs}
    through = part_waits(plan, links)
    return {code: {*before, *through.get(code, ())} for code, before in links.items()}


def _followers(plan: Plan) -> Mapping[str, set[str]]:
    """For each job, the jobs and shipments that wait for it."""
    found: dict[str, set[str]] = {job.code: set() for job in plan.jobs}
    held = [
        (one.code, {*one.after, *(job.code for part in one.contents for job in plan.makers_of[part.part])})
        for one in plan.shipments
    ]
    for code, before in (*_waits(plan).items(), *held):
        for other in before & found.keys():
            found[other].add(code)
    return found


def _in_order(plan: Plan, codes: Iterable[str]) -> tuple[Job, ...]:
    wanted = set(codes)
    return tuple(job for job in plan.jobs if job.code in wanted)


def _is_gate(job: Job) -> bool:
    return job.gate or bool(job.retry_of)


def _is_open(plan: Plan, job: Job, today: date) -> bool:
    known = progress_of(plan, job, today)
    return known.done is None and not known.called_off
