"""A run as large as small-batch makers have them: 200 jobs, 2,000 facts, 12 suppliers, 4 shipments."""

import random
from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import Any

from tracker.cli.plan_files import store_intake, take_in
from tracker.plan.model import Closure, Fact, Job, Link, Plan, PlannedJob, Run, Shipment, Supplier, Told
from tracker.plan.span import Lead, Span
from tracker.planfile.reading import parse_plan
from tracker.planfile.writing import write_plan
from tracker.schedule.first_plan import first_plan_of
from tracker.store.database import create_store, writing

START = date(2026, 1, 5)
JOBS, FACTS, SUPPLIERS, WIDTH, WAVES = 200, 2_000, 12, 10, 4
DONE_SHARE = 0.6
PARTS = ("housing", "lid", "dial", "boards", "gasket", "screws", "foam", "boxes", "label", "pointer")
COUNTRIES = ("GB", "DE", "PT", "")


def big_plan(jobs: int = JOBS, facts: int = FACTS, seed: int = 1) -> Plan:
    """Twenty layers of jobs, the first three fifths in, told dates that slipped once, and facts on every job."""
    rng = random.Random(seed)
    made = _jobs(jobs, rng)
    run = Run(code="run-1", product="Tide dial", quantity=400, start=START, currency="GBP")
    plan = Plan(run=run, suppliers=_suppliers(), jobs=made, shipments=_shipments(made))
    plan = replace(plan, first_plan=first_plan_of(plan))
    arrivals = sorted(row.arrives for row in plan.first_plan.jobs)
    today = arrivals[int(len(arrivals) * DONE_SHARE)]
    plan = replace(plan, run=replace(run, today=today), shipments=_told(plan))
    return replace(plan, facts=tuple(_facts(plan, facts, today, rng)))


def make_database(plan: Plan, path: Path) -> None:
    """Store the plan as reading its plan file would: checked, one entry for each day something was logged."""
    with writing(create_store(path)) as transaction:
        parsed = parse_plan(write_plan(plan), source="plan.toml", today=plan.run.today or START)
        store_intake(transaction, take_in(None, parsed, "plan.toml", ""), "read plan.toml")


def job_under_way(plan: Plan) -> Job:
    """A job of which part has come in and the rest is to come."""
    closed = {fact.job for fact in plan.facts if fact.closes}
    begun = {fact.job for fact in plan.facts if fact.kind == "in"}
    return next(job for job in plan.jobs if job.code in begun - closed)


def _suppliers() -> tuple[Supplier, ...]:
    return tuple(
        Supplier(
            code=f"maker-{place}",
            name=f"Maker {place}",
            country=COUNTRIES[place % len(COUNTRIES)],
            closures=(
                Closure(first=date(2026, 8, 3 + place), last=date(2026, 8, 14 + place), why="summer"),
                Closure(first=date(2026, 12, 23), last=date(2027, 1, 3), why="works shut"),
            ),
            dates_mean="leaves" if place % 3 == 0 else "in hand",
            public_name=f"maker number {place}",
            inhouse=place == SUPPLIERS - 1,
        )
        for place in range(SUPPLIERS)
    )


def _jobs(count: int, rng: random.Random) -> tuple[Job, ...]:
    made: list[Job] = []
    for place in range(count):
        begins = place // WIDTH * WIDTH
        layer_before = range(begins - WIDTH, begins) if begins else ()
        after = rng.sample(layer_before, 2 if begins else 0)
        name = PARTS[place % len(PARTS)]
        days = rng.randint(2, 12)
        made.append(
            Job(
                code=f"{name}-{place}",
                supplier=f"maker-{rng.randrange(SUPPLIERS)}",
                lead=Lead(days, days + 1, days + 3, "wd"),
                name=f"{name.capitalize()}, step {place}",
                public_name=f"{name.capitalize()} {place}",
                after=tuple(Link(job=made[before].code) for before in after),
                quantity=400,
                travel=Span(rng.randint(0, 5), "cd"),
                clock=("order", "payment") if place % 4 == 0 else None,
            )
        )
    return tuple(made)


def _shipments(jobs: tuple[Job, ...]) -> tuple[Shipment, ...]:
    followed = {link.job for job in jobs for link in job.after}
    last = [job.code for job in jobs if job.code not in followed]
    return tuple(
        Shipment(code=f"wave-{wave + 1}", quantity=100, after=tuple(last[wave::WAVES]))
        for wave in range(WAVES)
    )


def _told(plan: Plan) -> tuple[Shipment, ...]:
    assert plan.first_plan is not None
    days = {row.shipment: row.date for row in plan.first_plan.shipments}
    return tuple(
        replace(
            one,
            told=(
                Told(on=START, last=days[one.code]),
                Told(
                    on=START + timedelta(days=90),
                    last=days[one.code] + timedelta(days=14),
                    words="two weeks on",
                ),
            ),
        )
        for one in plan.shipments
    )


def _facts(plan: Plan, wanted: int, today: date, rng: random.Random) -> list[Fact]:
    assert plan.first_plan is not None
    found: list[Fact] = []
    for job, row in zip(plan.jobs, plan.first_plan.jobs, strict=True):
        slip = timedelta(days=rng.choice((0, 0, 0, 4, 11)))
        late = replace(row, start=row.start + slip, arrives=row.arrives + slip)
        found.extend(fact for fact in _story(plan, job, late) if fact.on <= today)
    while len(found) < wanted:
        on = START + timedelta(days=rng.randrange((today - START).days))
        job = rng.choice(plan.jobs)
        found.append(Fact(on=on, logged=on, kind="note", job=job.code, note=f"remark {len(found)}"))
    return sorted(found[:wanted], key=lambda fact: fact.logged)


def _story(plan: Plan, job: Job, row: PlannedJob) -> Iterator[Fact]:
    """What is logged of one job in time: ordered, paid, started, three promises, and two deliveries."""
    begun, arrives = row.start - timedelta(days=1), row.arrives

    def fact(on: date, kind: str, **more: Any) -> Fact:
        return Fact(on=on, logged=on, kind=kind, job=job.code, **more)

    if "order" in plan.clock_of(job):
        yield fact(begun, "ordered", quantity=job.quantity)
    if "payment" in plan.clock_of(job):
        yield fact(begun, "given", what="payment")
    yield fact(row.start, "started")
    for late in range(3):
        said = row.start + timedelta(days=late)
        if said < arrives:
            yield fact(said, "promised", day=arrives + timedelta(days=late), words=f"said {late}")
    if row.start < arrives:
        yield fact(row.start, "in", good=100, scrap=1, ref=f"{job.code}-1")
    yield fact(arrives, "in", good=297, scrap=2, closes=True, ref=f"{job.code}-2")
