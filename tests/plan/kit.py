"""A small sound plan with parts: magnets and screws go into units, units are packed and sent."""

from dataclasses import replace
from datetime import date
from fractions import Fraction

from tests.plan.dial import BENCH, MILL, RUN, lines
from tracker.plan.model import Fact, Job, Plan, Shipment
from tracker.plan.parts import Content, Make, Part, Take
from tracker.plan.span import parse_lead

TODAY = date(2026, 6, 30)


def of(**counted):
    """What a job takes for each piece: ``of(magnet=2, tape="0.35")``."""
    return tuple(Take(part=part, per=Fraction(per)) for part, per in counted.items())


def job(code, takes="", makes="", supplier="bench", **more):
    """A job of one day; a part it takes may be given by its code, and so the part it makes."""
    used = of(**{takes: 1}) if takes and isinstance(takes, str) else tuple(takes)
    made = (Make(part=makes),) if makes else ()
    return Job(code=code, supplier=supplier, lead=parse_lead("1wd"), takes=used, makes=made, **more)


def rework(code, parent, quantity=5, **more):
    """A job that mends pieces of another."""
    return job(code, rework_of=parent, quantity=quantity, **more)


MAGNETS = job("magnets", makes="magnet", supplier="mill", quantity=520)
BUILD = job("build", takes=of(magnet=2, screw=6), makes="unit")
PACK = job("pack", takes="unit", makes="packed")
FINISH = job("finish", makes="lid", supplier="mill")
WAVE = Shipment(code="wave-1", quantity=80, contents=(Content(part="packed", quantity=80),))
PARTS = (
    Part(code="magnet"),
    Part(code="screw", here=Fraction(1600)),
    Part(code="tape", unit="m", here=Fraction(25, 2)),
    Part(code="unit", spares=4),
    Part(code="packed"),
    Part(code="lid"),
)
PLAN = Plan(
    run=replace(RUN, unit="unit"),
    suppliers=(BENCH, MILL),
    parts=PARTS,
    jobs=(MAGNETS, BUILD, PACK),
    shipments=(WAVE,),
)


def only(plan):
    (line,) = lines(plan)
    return line


def with_jobs(*changed):
    """The plan with these jobs in the place of those of the same code, new ones at the end."""
    by_code = {one.code: one for one in (*PLAN.jobs, *changed)}
    return replace(PLAN, jobs=tuple(by_code.values()))


def with_job(base=BUILD, **changes):
    return with_jobs(replace(base, **changes))


def with_part(code, **changes):
    """The plan with one part changed."""
    parts = tuple(replace(one, **changes) if one.code == code else one for one in PARTS)
    return replace(PLAN, parts=parts)


def with_wave(**changes):
    return replace(PLAN, shipments=(replace(WAVE, **changes),))


def with_fact(kind, **fields):
    return replace(PLAN, facts=(Fact(on=TODAY, kind=kind, logged=TODAY, **fields),))
