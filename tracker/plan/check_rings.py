"""Rings of jobs that wait for each other, through links and through parts."""

from collections.abc import Iterable, Iterator, Mapping
from itertools import pairwise

from tracker.errors import Problem
from tracker.plan.known import Known
from tracker.plan.part_waits import PartWaits, part_waits


def ring_problems(known: Known) -> tuple[Problem, ...]:
    """One problem for every ring of jobs that wait for each other, spelled out; rings share no link.

    Whoever waits for a gate to pass may come to wait for any of its retries; a retry waits for the gate to fail.
    A taker waits for the makers of its parts, a rework job for the job whose pieces it mends.
    """
    from graphlib import CycleError, TopologicalSorter

    links = _links(known)
    parts = part_waits(known.plan, links)
    waits = {job: (*others, *parts.get(job, ())) for job, others in links.items()} if parts else links
    try:
        TopologicalSorter(waits).prepare()
    except CycleError:
        return tuple(_spell(ring, links, parts) for ring in _rings(waits))
    return ()


def _links(known: Known) -> dict[str, tuple[str, ...]]:
    """For each job, the known jobs it waits for by links, itself left out (that is reported with its link)."""
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


def _rings(waits: Mapping[str, Iterable[str]]) -> Iterator[list[str]]:
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


def _spell(ring: list[str], links: Mapping[str, tuple[str, ...]], parts: PartWaits) -> Problem:
    steps = list(pairwise([*ring, ring[0]]))
    if all(other in links[job] for job, other in steps):
        spelled = ", ".join(f"{job} waits for {other}" for job, other in steps)
        return Problem(
            place=f"job {ring[0]}, after",
            found=f"jobs wait for each other in a ring: {spelled}",
            remedy="take one of these out of its job's after; a job that runs after a failure says on = 'fail'",
        )
    spelled = "; ".join(_step(job, other, links, parts) for job, other in steps)
    return Problem(
        place=f"job {ring[0]}",
        found=f"jobs wait for each other in a ring: {spelled}",
        remedy="take one of these out: a part out of takes or makes, or a job out of after",
    )


def _step(job: str, other: str, links: Mapping[str, tuple[str, ...]], parts: PartWaits) -> str:
    if other in links[job]:
        return f"{job} waits for {other}"
    part = parts[job][other]
    return f"{job} takes {part}, which {other} makes" if part else f"{job} mends pieces of {other}"
