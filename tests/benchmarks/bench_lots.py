"""The whole forecast of a plan that counts pieces beside two passes over as many lots, measured side by side.

Run with ``python -m tests.benchmarks.bench_lots``; it prints ratios and asserts nothing.
"""

import gc
import random
import time
from collections.abc import Callable
from fractions import Fraction
from functools import partial
from statistics import median

from tests.benchmarks.bench_schedule import START, layered, two_passes
from tracker.plan.model import Job, Plan, Run, Shipment, Supplier
from tracker.plan.parts import Content, Make, Part, Take
from tracker.plan.span import Lead
from tracker.schedule.forecast import Forecast

JOBS, LOTS, STAGES, POOL, ROUNDS = 500, 4, 10, 2, 9
PIECES = 100


def pooled(jobs: int = JOBS, lots: int = LOTS, seed: int = 1) -> Plan:
    """Stages of jobs in lots; two make each part, and each job takes two parts of the stage before."""
    rng = random.Random(seed)
    width = jobs // STAGES
    pools = width // POOL
    made = []
    for stage in range(STAGES):
        for place in range(width):
            taken = rng.sample(range(pools), 2) if stage else ()
            made.append(
                Job(
                    code=f"j{stage}-{place}",
                    supplier=f"s{place % 10}",
                    lead=Lead(3, 3, 3, "wd"),
                    quantity=PIECES,
                    takes=tuple(Take(part=f"p{stage - 1}-{pool}") for pool in taken),
                    makes=(Make(part=f"p{stage}-{place // POOL}"),),
                    yields=Fraction(19, 20) if stage % 2 else Fraction(1),
                    lots=lots,
                )
            )
    contents = tuple(Content(part=f"p{STAGES - 1}-{pool}", quantity=50) for pool in range(pools))
    return Plan(
        run=Run(code="run-1", quantity=PIECES, start=START),
        suppliers=tuple(Supplier(code=f"s{n}", inhouse=n < 5) for n in range(10)),
        parts=tuple(Part(code=f"p{stage}-{pool}") for stage in range(STAGES) for pool in range(pools)),
        jobs=tuple(made),
        shipments=tuple(
            Shipment(code=f"wave-{n}", quantity=50 * pools, contents=contents) for n in range(1, 4)
        ),
    )


def seconds(work: Callable[[], object]) -> float:
    """How long one run takes, the collector out of the way."""
    gc.collect()
    gc.freeze()
    begun = time.perf_counter()
    work()
    return time.perf_counter() - begun


def main() -> None:
    """Print the ratio for plans of growing size, runs interleaved."""
    for jobs in (JOBS // 4, JOBS, JOBS * 4):
        plan = pooled(jobs)
        lots = len(Forecast(plan, START).network.jobs)
        plain = layered(lots)
        timed = [
            (seconds(partial(two_passes, plain)), seconds(partial(Forecast, plan, START)))
            for _ in range(ROUNDS)
        ]
        floor, whole = (median(column) for column in zip(*timed, strict=True))
        print(
            f"{jobs:>5} jobs in {lots:>5} lots: whole forecast {whole * 1e3:7.1f} ms,"
            f" two passes over {lots} jobs {floor * 1e3:6.1f} ms, ratio {whole / floor:5.1f} (goal 6)"
        )


if __name__ == "__main__":
    main()
