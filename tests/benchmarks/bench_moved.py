"""Going through a diary of 500 entries about 200 jobs, end to end, beside as many plain forecasts and the imports.

Run with ``python -m tests.benchmarks.bench_moved``; it prints ratios and asserts nothing.
"""

import subprocess
import sys
import tempfile
import time
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path
from statistics import median

from tests.benchmarks.big_run import START, big_plan
from tracker.plan.model import Plan
from tracker.plan.span import Lead
from tracker.schedule.forecast import Forecast
from tracker.schedule.passes import backward
from tracker.store.database import Store, create_store, writing

ENTRIES, JOBS, ROUNDS = 500, 200, 7
EDITED = 5  # every fifth entry changes a lead
NOON = datetime(2026, 8, 1, 12, tzinfo=UTC)


def long_diary(path: Path) -> Plan:
    """A run whose facts were entered one at a time over the months, with leads changed in between."""
    whole = big_plan(JOBS, ENTRIES)
    facts = list(whole.facts)
    store = create_store(path)
    plan = replace(whole, facts=())
    _keep(store, None, plan, START)
    for number in range(1, ENTRIES):
        if number % EDITED or not facts:
            fact = facts.pop(0)
            after, day = replace(plan, facts=(*plan.facts, fact)), fact.logged
        else:
            after, day = _longer(plan, number), START
        _keep(store, plan, after, day)
        plan = after
    return plan


def _longer(plan: Plan, number: int) -> Plan:
    place = number * 7 % len(plan.jobs)
    job = plan.jobs[place]
    days = number % 12 + 1
    jobs = (*plan.jobs[:place], replace(job, lead=Lead(days, days, days, "wd")), *plan.jobs[place + 1 :])
    return replace(plan, jobs=jobs)


def _keep(store: Store, before: Plan | None, after: Plan, day: date) -> None:
    with writing(store) as transaction:
        transaction.begin_entry("set", day, NOON)
        transaction.save(before, after)


def _seconds(*command: str) -> float:
    begin = time.perf_counter()
    subprocess.run(command, check=True, capture_output=True)
    return time.perf_counter() - begin


def _two_passes(plan: Plan, today: date) -> float:
    begin = time.perf_counter()
    forecast = Forecast(plan, today)
    last = forecast.last_shipment or ""
    backward(forecast.network, dict.fromkeys(forecast.network.shipments[last], forecast.ship_date or 0))
    return time.perf_counter() - begin


def main() -> None:
    """Print the ratio and what it is made of."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "long.sqlite"
        plan = long_diary(path)
        today = plan.run.today or START
        moved = (sys.executable, "-m", "tracker", "--db", str(path), "moved", "since", START.isoformat())
        taken, floors, passes = [], [], []
        for _ in range(ROUNDS):
            taken.append(_seconds(*moved))
            floors.append(_seconds(sys.executable, "-c", "import typer, sqlmodel"))
            passes += [_two_passes(plan, today) for _ in range(50)]
    against = ENTRIES * median(passes) + median(floors)
    print(
        f"moved over {ENTRIES} entries, {JOBS} jobs: {median(taken):.2f} s ({min(taken):.2f} to {max(taken):.2f})"
    )
    print(f"{ENTRIES} two-passes {ENTRIES * median(passes):.2f} s and the imports {median(floors):.2f} s")
    print(f"ratio {median(taken) / against:.2f}")


if __name__ == "__main__":
    main()
