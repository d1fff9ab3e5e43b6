"""What jobs wait for: unknown, doubled and impossible links, retries of gates, and rings."""

from collections.abc import Iterator, Mapping
from itertools import pairwise

from tracker.errors import Problem
from tracker.plan.known import Known
from tracker.plan.model import Job, Link


def link_problems(job: Job, known: Known) -> Iterator[Problem]:
    """Problems of what one job waits for, link by link."""
    place = f"job {job.code}, after"
    seen: set[tuple[str, str]] = set()
    for link in job.after:
        if (link.job, link.kind) in seen:
            yield Problem(
                place=place, found=f"names {link.job} twice ({link.kind})", remedy="keep one of the two"
            )
        seen.add((link.job, link.kind))
        yield from _one_link(place, job, link, known)


def _one_link(place: str, job: Job, link: Link, known: Known) -> Iterator[Problem]:
    if link.job == job.code:
        yield Problem(
            place=place,
            found=f"{job.code} waits for itself",
            remedy="take it out, or name the job that was meant",
        )
    elif not known.is_known("job", link.job):
        yield known.unknown(place, "job", link.job)
    elif link.on == "fail" and link.job not in known.gates:
        yield Problem(
            place=place,
            found=f"runs after {link.job} has failed, but {link.job} is no gate and cannot fail",
            remedy=f"write gate = true in job {link.job}, or take out on = 'fail'",
        )


def retry_problems(job: Job, known: Known) -> Iterator[Problem]:
    """Problems of a second attempt at a gate: a known gate, and not itself."""
    place = f"job {job.code}, retry_of"
    if not job.retry_of:
        return
    if job.retry_of == job.code:
        yield Problem(
            place=place, found=f"{job.code} is a retry of itself", remedy="name the gate that failed first"
        )
        return
    if not known.is_known("job", job.retry_of):
        yield known.unknown(place, "job", job.retry_of)
        return
    if job.retry_of not in known.gates:
        yield Problem(
            place=place,
            found=f"{job.retry_of} is no gate, so there is nothing to retry",
            remedy=f"write gate = true in job {job.retry_of}",
        )
    for link in job.after:
        if link.on == "pass" and link.job != job.code and link.job in known.attempts.get(job.code, ()):
            yield Problem(
                place=f"job {job.code}, after",
                found=f"waits for {link.job} to pass, yet is there for the case that it fails",
                remedy=f"wait for the rework instead, or run after {link.job} on = 'fail'",
            )


def ring_problems(known: Known) -> tuple[Problem, ...]:
    """One problem for every ring of jobs that wait for each other, spelled out; rings share no link.

    Whoever waits for a gate to pass may come to wait for any of its retries; a retry waits for the gate to fail.
    """
    from graphlib import CycleError, TopologicalSorter

    waits = _waits(known)
    try:
        TopologicalSorter(waits).prepare()
    except CycleError:
        return tuple(_spell(ring) for ring in _rings(waits))
    return ()


def _waits(known: Known) -> dict[str, tuple[str, ...]]:
    """For each job, the known jobs it waits for, itself left out (that is reported with its link)."""
    waits = {}
    for job in known.plan.jobs:
        needed = [job.retry_of]
        for link in job.after:
            needed.append(link.job)
            family = known.attempts.get(link.job, ())
            if link.on == "pass" and job.code not in family:
                needed.extend(family)
        waits[job.code] = tuple(
            dict.fromkeys(n for n in needed if n in known.plan.job_by_code and n != job.code)
        )
    return waits


def _rings(waits: Mapping[str, tuple[str, ...]]) -> Iterator[list[str]]:
    """Rings that share no link, in plan order of the job each begins with."""
    import networkx as nx

    graph = nx.DiGraph([(job, other) for job, others in waits.items() for other in others])
    while True:
        try:
            edges = nx.find_cycle(graph)
        except nx.NetworkXNoCycle:
            return
        graph.remove_edges_from(edges)
        yield [edge[0] for edge in edges]


def _spell(ring: list[str]) -> Problem:
    steps = [f"{job} waits for {other}" for job, other in pairwise([*ring, ring[0]])]
    return Problem(
        place=f"job {ring[0]}, after",
        found=f"jobs wait for each other in a ring: {', '.join(steps)}",
        remedy="take one of these out of its job's after; a job that runs after a failure says on = 'fail'",
    )
