"""Small plans that count pieces, and what the engine makes of them; day 0 is Monday 1 June 2026."""

from datetime import date, timedelta

from tests.plan.dial import BENCH, MILL
from tests.plan.kit import job, of
from tracker.plan.model import Fact, Plan, Run, Shipment
from tracker.plan.parts import Content, Part
from tracker.schedule.forecast import Forecast

START = date(2026, 6, 1)
TODAY = START + timedelta(days=28)


def day(count):
    return START + timedelta(days=count)


def fact(kind, about, on, **more):
    """A fact about a job, a part that was scrapped, or a shipment that was posted."""
    who = {"posted": "shipment", "scrapped": "part"}.get(kind, "job")
    return Fact(on=day(on), logged=day(on), kind=kind, **{who: about}, **more)


def wave(number, **contents):
    held = tuple(Content(part=part, quantity=quantity) for part, quantity in contents.items())
    return Shipment(code=f"wave-{number}", quantity=sum(contents.values()), contents=held)


def plan(*jobs, waves=(), facts=(), parts=()):
    """A plan of these jobs; parts that are only named in takes, makes and contents need not be given."""
    given = {part.code: part for part in parts}
    named = [make.part for one in jobs for make in one.makes] + [
        take.part for one in jobs for take in one.takes
    ]
    named += [content.part for one in waves for content in one.contents]
    return Plan(
        run=Run(code="run-1", quantity=100, start=START),
        suppliers=(BENCH, MILL),
        jobs=jobs,
        shipments=tuple(waves),
        facts=tuple(facts),
        parts=tuple({**{code: Part(code=code) for code in named}, **given}.values()),
    )


def network(*jobs, today=TODAY, **more):
    return Forecast(plan(*jobs, **more), today).network


def needed(found, code):
    """Pieces a job still has to put in: of its order by priority, and of a re-run."""
    need = found.demand.jobs[code]
    return ([(priority, n) for priority, _, n in need.remaining], [(p, n) for p, _, n in need.rerun])


def lots(found, code):
    """A job's lots as (kind, pieces, good ones)."""
    made = (found.lots[place] for place in found.lots_of.get(code, ()))
    return [(lot.kind, lot.pieces, sum(lot.good.values())) for lot in made]


__all__ = [
    "BENCH",
    "MILL",
    "START",
    "TODAY",
    "day",
    "fact",
    "job",
    "lots",
    "needed",
    "network",
    "of",
    "plan",
    "wave",
]
