"""Random plans from a seed: calendars, closures, leads, travel, lags, clocks, and facts up to a day."""

import random
from collections.abc import Callable
from datetime import date, timedelta

from tracker.plan.model import Closure, Fact, Job, Link, Plan, Run, Shipment, Supplier
from tracker.plan.span import Lead, Span

START = date(2026, 6, 1)
CHANCES = {
    "none": {},
    "clocks": {"ordered": 0.8},
    "started": {"ordered": 0.8, "started": 1},
    "made": {"ordered": 0.8, "started": 0.8, "made": 1},
    "left": {"ordered": 0.8, "started": 0.8, "made": 0.5, "left": 1},
    "in": {"ordered": 0.8, "started": 0.8, "made": 0.5, "left": 0.5, "in": 1},
    "finished": {"ordered": 0.8, "started": 0.8, "in": 1},
}
WORKDAYS = ("mon-fri", "mon-fri", "mon-sat", "sun-thu", "mon,wed,fri", "all")


def random_plan(
    seed: int,
    *,
    jobs: int = 9,
    facts: bool = True,
    special: bool = False,
    plain: bool = False,
    today: int | None = None,
) -> tuple[Plan, date]:
    """A plan of some suppliers and jobs and the day it is looked at.

    ``special`` adds start-start and finish-finish links; ``plain`` leaves calendars, clocks and extras out.
    """
    rng = random.Random(seed)
    suppliers = [_supplier(rng, n, plain=plain) for n in range(4)]
    made = [_job(rng, n, suppliers, special=special, plain=plain) for n in range(rng.randint(2, jobs))]
    now = START + timedelta(days=rng.randint(0, 50) if today is None else today)
    logged = [f for job in made for f in _facts(rng, job, now)] if facts else []
    codes = [job.code for job in made]
    waves = tuple(
        Shipment(
            code=f"wave-{n}", quantity=50, after=tuple(rng.sample(codes, min(len(codes), rng.randint(1, 3))))
        )
        for n in range(1, rng.randint(2, 4))
    )
    plan = Plan(
        run=Run(code="run-1", quantity=100, start=START),
        suppliers=tuple(suppliers),
        jobs=tuple(made),
        shipments=waves,
        facts=tuple(logged),
    )
    return plan, now


def _supplier(rng: random.Random, n: int, *, plain: bool) -> Supplier:
    if plain:
        return Supplier(code=f"s{n}", workdays="all", inhouse=True)
    closures = []
    for _ in range(rng.randint(0, 3)):
        first = START + timedelta(days=rng.randint(-5, 90))
        closures.append(Closure(first=first, last=first + timedelta(days=rng.randint(0, 9))))
    return Supplier(
        code=f"s{n}",
        workdays=rng.choice(WORKDAYS),
        closures=tuple(closures),
        opens=tuple(START + timedelta(days=rng.randint(0, 90)) for _ in range(rng.randint(0, 2))),
        dates_mean=rng.choice(("in hand", "leaves")),
        bank=Span(rng.choice((0, 0, 1, 3)), rng.choice(("wd", "cd"))),
        inhouse=n == 0,
    )


def _job(rng: random.Random, n: int, suppliers: list[Supplier], *, special: bool, plain: bool) -> Job:
    before = rng.sample(range(n), min(n, rng.choice((0, 1, 1, 2, 2, 3))))
    if plain:
        days = rng.randint(0, 9)
        links = tuple(Link(job=f"j{b}") for b in before)
        return Job(code=f"j{n}", supplier=f"s{n % 4}", lead=Lead(days, days, days, "cd"), after=links)
    days = rng.choice((0, 1, 2, 3, 5, 8, 12))
    return Job(
        code=f"j{n}",
        supplier=rng.choice(suppliers).code,
        lead=Lead(days, days, days, rng.choice(("wd", "wd", "cd"))),
        after=tuple(_link(rng, b, special=special) for b in before),
        travel=_span(rng, 5),
        not_before=START + timedelta(days=rng.randint(0, 60)) if rng.random() < 0.15 else None,
        clock=rng.choice((None, None, None, (), ("order", "payment"), ("payment", "drawing"))),
        leave_when=rng.choice(((), (), (), (), ("balance",), ("balance", "papers"))),
    )


def _link(rng: random.Random, before: int, *, special: bool) -> Link:
    kind = rng.choice(("start-start", "finish-finish")) if special and rng.random() < 0.3 else "finish-start"
    return Link(job=f"j{before}", kind=kind, lag=_span(rng, 4))


def _span(rng: random.Random, most: int) -> Span:
    return Span(rng.choice((0, 0, 0, rng.randint(1, most))), rng.choice(("wd", "cd")))


def _facts(rng: random.Random, job: Job, now: date) -> list[Fact]:
    """Some steps of the job's life in order, on days up to now, and up to two promises on days of their own."""
    past = (now - START).days
    fate = rng.choice(("none", *CHANCES))
    if fate == "none" or past < 6:
        return []
    days = sorted(rng.sample(range(past + 1), 6))
    found = []

    def log(kind: str, on: int, **fields: object) -> None:
        when = START + timedelta(days=on)
        found.append(Fact(on=when, logged=when, kind=kind, job=job.code, **fields))

    for what in ("payment", "drawing", "balance", "papers"):
        if rng.random() < 0.6:
            log("given", rng.choice(days[:4]), what=what)
    for kind, on in zip(("ordered", "started", "made", "left", "in"), (0, 1, 3, 4, 5), strict=True):
        if rng.random() < CHANCES[fate].get(kind, 0):
            log("finished" if fate == "finished" and kind == "in" else kind, days[on])
    if fate != "made" and rng.random() < 0.6:
        known = days[5] if fate in ("in", "finished") else past + 1
        for on in rng.sample(range(known), min(known, rng.randint(1, 2))):
            _promise(rng, log, on)
    return found


def _promise(rng: random.Random, log: Callable[..., None], on: int) -> None:
    until = START + timedelta(days=on + rng.randint(0, 40))
    means = rng.choice((None, None, "in hand", "leaves"))
    log("promised", on, day=until, means=means, exactly=rng.random() < 0.2)
