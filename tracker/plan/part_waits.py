"""Who waits for whom through parts: takers for makers, rework for the job whose pieces it mends."""

from collections.abc import Iterable, Mapping

from tracker.plan.model import Job, Plan

PartWaits = Mapping[str, Mapping[str, str]]
"""For each job, the jobs it waits for through parts with the part taken; ``""`` for pieces it mends."""


def part_waits(plan: Plan, links: Mapping[str, Iterable[str]]) -> PartWaits:
    """Whom each job that counts pieces waits for through parts; unknown jobs and the job itself are left out.

    A taker waits for all makers of the part, but not for a rework job that by ``links`` (for each job, those it
    waits for in other ways) or through parts comes to wait for the taker: pieces that are found bad there go on
    from the rework, and closing a ring over them would help no one. A rework job waits for the job whose pieces
    it mends, and not for other makers of what it makes.
    """
    waits = {job.code: _waits_of(plan, job) for job in plan.jobs if job.counts_pieces}
    mended = [job.code for job in plan.jobs if job.rework_of]
    rings = [(taker, rework) for rework in mended for taker in _behind(rework, links, waits)]
    for taker, rework in rings:
        if waits.get(taker, {}).get(rework):
            del waits[taker][rework]
    return waits


def _waits_of(plan: Plan, job: Job) -> dict[str, str]:
    found: dict[str, str] = {}
    if job.rework_of in plan.job_by_code:
        found[job.rework_of] = ""
    made = {make.part for make in plan.makes_of(job)} if job.rework_of else ()
    for take in job.takes:
        if take.part not in made:
            for maker in plan.makers_of.get(take.part, ()):
                found.setdefault(maker.code, take.part)
    found.pop(job.code, None)
    return found


def _behind(job: str, links: Mapping[str, Iterable[str]], waits: PartWaits) -> set[str]:
    """All jobs that ``job`` waits for, at however many removes."""
    found: set[str] = set()
    left = [job]
    while left:
        code = left.pop()
        for other in (*links.get(code, ()), *waits.get(code, ())):
            if other not in found:
                found.add(other)
                left.append(other)
    return found
