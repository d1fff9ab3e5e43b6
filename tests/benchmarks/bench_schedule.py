"""How fast the engine is beside a longest path on the same graph, measured side by side.

Run with ``python -m tests.benchmarks.bench_schedule``; it prints ratios and asserts nothing.
"""

import gc
import math
import random
import time
from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from statistics import median

import networkx as nx

from tracker.plan.model import FirstPlan, Job, Link, Plan, PlannedJob, Run, Shipment, Supplier
from tracker.plan.span import Lead
from tracker.report.lateness import late_report
from tracker.report.picture import Picture
from tracker.schedule.forecast import Forecast
from tracker.schedule.network import Network, start_network
from tracker.schedule.passes import backward, forward
from tracker.schedule.placing import place_facts
from tracker.schedule.what_if import dates_if_finished

START = date(2026, 6, 15)
SIZES = (300, 3_000, 100_000)
DEEP = 6_000  # days in sequence that still fit before the year 2100
SLIPS = (1, 5, 20)


def layered(count: int, seed: int = 1) -> Plan:
    """Layers of jobs, each waiting for two or three of the layer before; working-day leads."""
    rng = random.Random(seed)
    width = max(10, count // 60)
    jobs, before = [], []
    while len(jobs) < count:
        layer = []
        for _ in range(min(width, count - len(jobs))):
            links = tuple(Link(job=code) for code in rng.sample(before, min(len(before), rng.choice((2, 3)))))
            job = _job(len(jobs), rng.randint(1, 15), links)
            jobs.append(job)
            layer.append(job.code)
        before = layer
    return _plan(jobs)


def deep(count: int) -> Plan:
    """One chain of one-day jobs, side by side as often as needed to keep inside the calendar."""
    jobs = []
    for place in range(count):
        links = () if place % DEEP == 0 else (Link(job=f"j{place - 1}"),)
        jobs.append(_job(place, 1, links))
    return _plan(jobs)


def _job(place: int, days: int, links: tuple[Link, ...]) -> Job:
    return Job(code=f"j{place}", supplier=f"s{place % 10}", lead=Lead(days, days, days, "wd"), after=links)


def _plan(jobs: list[Job]) -> Plan:
    followed = {link.job for job in jobs for link in job.after}
    last = tuple(job.code for job in jobs if job.code not in followed)
    return Plan(
        run=Run(code="run-1", quantity=100, start=START),
        suppliers=tuple(Supplier(code=f"s{n}", inhouse=n < 5) for n in range(10)),
        jobs=tuple(jobs),
        shipments=(Shipment(code="wave-1", quantity=100, after=last),),
    )


def two_passes(plan: Plan) -> Network:
    """Build the network, place facts, go forward and once backward."""
    network = start_network(plan, START)
    place_facts(network)
    times = forward(network)
    ends = network.shipments["wave-1"]
    backward(network, dict.fromkeys(ends, max(times.arrive[lot] for lot in ends)))
    return network


def graph_of(plan: Plan) -> nx.DiGraph:
    """The same graph, a job's length on each link that leaves it."""
    graph = nx.DiGraph()
    graph.add_nodes_from(job.code for job in plan.jobs)
    for job in plan.jobs:
        for link in job.after:
            before = plan.job_by_code[link.job].lead
            graph.add_edge(link.job, job.code, weight=before.planned if isinstance(before, Lead) else 1)
    return graph


def side_by_side(
    ours: Callable[[], object], theirs: Callable[[], object], rounds: int = 7
) -> tuple[float, float]:
    """Median seconds of both, taken in turns with nothing to collect in between."""
    mine, other = [], []
    ours()
    theirs()
    for _ in range(rounds):
        for measured, call in ((mine, ours), (other, theirs)):
            gc.collect()
            gc.freeze()
            begin = time.perf_counter()
            call()
            measured.append(time.perf_counter() - begin)
            gc.unfreeze()
    return median(mine), median(other)


def main() -> None:
    """Print ratios for wide and deep graphs, the growth of cost, and the cost of slipping or ranking every job."""
    for name, make in (("layered", layered), ("deep", deep)):
        taken = []
        for count in SIZES:
            plan = make(count)
            graph = graph_of(plan)
            ours, theirs = side_by_side(
                lambda plan=plan: two_passes(plan),
                lambda graph=graph: nx.dag_longest_path(graph),
                rounds=7 if count > 10_000 else 25,
            )
            taken.append(ours)
            print(f"{name:8} {count:7}: {ours * 1e3:9.2f} ms, ratio {ours / theirs:.2f}")
        growth = math.log(taken[-1] / taken[0]) / math.log(SIZES[-1] / SIZES[0])
        print(f"{name:8} growth exponent {growth:.2f}")
    _print_slips()
    _print_late()


def _print_slips() -> None:
    plan = layered(300)
    forecast = Forecast(plan, START)
    for days in SLIPS:
        finishes = {lot: forecast.times.finish[lot] + days for lot in range(300)}
        slips, passes = side_by_side(
            lambda finishes=finishes: dates_if_finished(forecast, finishes),
            lambda: two_passes(plan),
            rounds=25,
        )
        print(f"every one of 300 jobs slipped by {days:2} days: {slips / passes:.2f} of one two-pass")


def _print_late() -> None:
    """Forecast, gains of every late job and the pairs that hide each other, all 300 jobs being late."""
    plan = layered(300)
    yesterday = START - timedelta(days=1)
    rows = (PlannedJob(job=job.code, start=START, finish=yesterday, arrives=yesterday) for job in plan.jobs)
    plan = replace(plan, first_plan=FirstPlan(jobs=tuple(rows)))
    late, passes = side_by_side(
        lambda: late_report(Picture(Forecast(plan, START))), lambda: two_passes(plan), rounds=25
    )
    print(f"late with 300 late jobs: {late / passes:.1f} two-passes (goal 50)")


if __name__ == "__main__":
    main()
