"""A small run with parts to ask its views of: housings in two colours, boards, magnets, boxes.

Invented scenario with the quantities of a run of 240: 266 machined sets, 170 and 96 of them finished in two
colours, 200 boards of which 191 are good and 80 more to come, boxes printed 10% under or over.
"""

from dataclasses import replace
from datetime import date
from fractions import Fraction

from tracker.plan.model import Fact, Job, Plan, Run, Shipment, Supplier, Told
from tracker.plan.parts import Content, Make, Part, Take
from tracker.plan.span import Span, parse_lead
from tracker.report.picture import Picture
from tracker.schedule.forecast import Forecast

TODAY = date(2026, 11, 24)  # a Tuesday


def takes(**counted):
    """What a job takes for each piece: ``takes(board=1, tape="0.35")``; dashes are written as ``__``."""
    return tuple(Take(part=part.replace("__", "-"), per=Fraction(str(per))) for part, per in counted.items())


def job(code, supplier, lead, makes=None, takes=(), **more):
    """A job; ``makes`` is a part's code, or a quantity for each of several."""
    made = {makes: None} if isinstance(makes, str) else makes or {}
    return Job(
        code=code,
        supplier=supplier,
        lead=parse_lead(lead),
        makes=tuple(Make(part=part, quantity=quantity) for part, quantity in made.items()),
        takes=takes,
        **more,
    )


def fact(kind, about, on, **more):
    """A fact about a job, or a shipment where it was posted or told, or a part where it was scrapped."""
    who = {"posted": "shipment", "told": "shipment", "scrapped": "part"}.get(kind, "job")
    return Fact(on=on, logged=on, kind=kind, **{who: about}, **more)


SUPPLIERS = (
    Supplier(code="bench", inhouse=True),
    Supplier(code="tolmark"),
    Supplier(code="varne"),
    Supplier(code="orlice"),
    Supplier(code="qingsha"),
    Supplier(code="moinho", bank=Span(2, "wd")),
)
PARTS = (
    Part(code="base-milled"),
    Part(code="housing-graphite"),
    Part(code="housing-natural"),
    Part(code="board"),
    Part(code="magnet"),
    Part(code="screw", here=Fraction(1600)),
    Part(code="box", spares=12, multiple=10),
    Part(code="unit-graphite", spares=8),
    Part(code="unit-natural", spares=4),
    Part(code="packed-graphite"),
    Part(code="packed-natural"),
)
KIT = takes(board=1, magnet=2, screw=6)
JOBS = (
    job("bases", "tolmark", "20wd", "base-milled", quantity=275, yields=Fraction(97, 100)),
    job(
        "finish-graphite", "varne", "10wd", "housing-graphite", takes(base__milled=1), quantity=170,
        yields=Fraction(92, 100),
    ),
    job(
        "finish-natural", "varne", "8wd", "housing-natural", takes(base__milled=1), quantity=96,
        yields=Fraction(92, 100),
    ),
    job("rework-graphite", "varne", "8wd", rework_of="finish-graphite", quantity=15, yields=Fraction(92, 100)),
    job("boards", "orlice", "12wd", "board", quantity=200, yields=Fraction(95, 100)),
    job("boards-2", "orlice", "8wd", "board", quantity=80, yields=Fraction(95, 100)),
    job("magnets", "qingsha", "20wd", "magnet", quantity=520),
    job("boxes", "moinho", "20wd", "box", quantity=250, clock=("order", "payment"), unders=Fraction(1, 10), overs=Fraction(1, 10)),
    job("build-graphite", "bench", "6wd", "unit-graphite", (*KIT, *takes(housing__graphite=1))),
    job("build-natural", "bench", "8wd", "unit-natural", (*KIT, *takes(housing__natural=1))),
    job("pack-graphite", "bench", "4wd", "packed-graphite", takes(unit__graphite=1, box=1)),
    job("pack-natural", "bench", "4wd", "packed-natural", takes(unit__natural=1, box=1)),
)  # fmt: skip
SHIPMENTS = (
    Shipment(
        code="wave-1", quantity=80, contents=(Content(part="packed-graphite", quantity=80),),
        told=(Told(on=date(2026, 10, 16), last=date(2027, 1, 20)),),
    ),
    Shipment(
        code="wave-2", quantity=148,
        contents=(Content(part="packed-graphite", quantity=66), Content(part="packed-natural", quantity=82)),
        told=(Told(on=date(2026, 10, 16), last=date(2027, 1, 20)),),
    ),
)  # fmt: skip
CAME = (
    fact("ordered", "bases", date(2026, 8, 14)),
    fact("in", "bases", date(2026, 9, 7), good=97, scrap=3),
    fact("in", "bases", date(2026, 9, 21), good=96, scrap=4),
    fact("in", "bases", date(2026, 10, 2), good=73, scrap=2),
    fact("started", "finish-graphite", date(2026, 10, 26)),
    fact("in", "boards", date(2026, 11, 5), good=191, rework=6, scrap=3),
    fact("in", "finish-graphite", date(2026, 11, 10), good=149, rework=15, scrap=6),
    fact("started", "finish-natural", date(2026, 11, 11)),
    fact("started", "rework-graphite", date(2026, 11, 16)),
    fact("ordered", "boards-2", date(2026, 11, 6)),
    fact("promised", "boards-2", date(2026, 11, 19), day=date(2026, 12, 4)),
    fact("promised", "finish-natural", date(2026, 11, 19), day=date(2026, 11, 25)),
)
PLAN = Plan(
    run=Run(code="dial-1", quantity=240, start=date(2026, 6, 15)),
    suppliers=SUPPLIERS,
    parts=PARTS,
    jobs=JOBS,
    shipments=SHIPMENTS,
    facts=CAME,
)


def with_jobs(plan, *changed):
    """The plan with these jobs in the place of those of the same code, new ones at the end."""
    by_code = {one.code: one for one in (*plan.jobs, *changed)}
    return replace(plan, jobs=tuple(by_code.values()))


def with_job(plan, code, **changes):
    return with_jobs(plan, replace(plan.job_by_code[code], **changes))


def with_part(plan, code, **changes):
    parts = tuple(replace(one, **changes) if one.code == code else one for one in plan.parts)
    return replace(plan, parts=parts)


def with_facts(plan, *facts):
    return replace(plan, facts=(*plan.facts, *facts))


def picture(plan, today=TODAY):
    return Picture(Forecast(plan, today))


def told(plan, last):
    """The plan with ``last`` as the one day told for every shipment."""
    day = Told(on=plan.run.start, last=last)
    return replace(plan, shipments=tuple(replace(one, told=(day,)) for one in plan.shipments))


def judged(plan, code, on=TODAY, **counted):
    """The plan once a delivery of the job has come and was looked at."""
    return with_facts(plan, fact("in", code, on, **counted))
