"""Random plans that a run could really have, small enough to read when one fails.

Links only lead to jobs before, so there is no ring; facts name what their kind needs and lie at or before the
day they were logged.
"""

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

from hypothesis import strategies as st

from tracker.plan.model import (
    CLOCK_CONDITIONS,
    LEAVE_CONDITIONS,
    Closure,
    Fact,
    FirstPlan,
    Job,
    Link,
    Plan,
    PlannedJob,
    PlannedShipment,
    PublicHolidays,
    Run,
    Shipment,
    Supplier,
    Told,
)
from tracker.plan.options import Option
from tracker.plan.span import DayRate, HourRate, Lead, Span

START = date(2026, 3, 2)
JOBS = ("housing", "boards", "boxes", "screws", "finish", "fit-check", "build", "pack")
SUPPLIERS = ("mill", "smt", "print", "bench")
SHIPMENTS = ("wave-1", "wave-2")
OPTIONS = ("quick-rings", "second-bench")
WORDS = st.sampled_from(
    ("", "box", "Gehäuse, natur", 'they said "Wednesday"', "=1+1", "50 % 'now'\nthe rest later")
)

days = st.integers(0, 300).map(lambda n: START + timedelta(days=n))
small = st.integers(0, 30)
counts = st.integers(0, 500)
spans = st.builds(Span, st.integers(0, 9), st.sampled_from(("wd", "cd")))
quantities = st.integers(1, 5000)
fractions = st.fractions(min_value=Fraction(1, 8), max_value=200, max_denominator=8)


@st.composite
def leads(draw):
    """Every form of lead: one value, a range, three values, a rate by the day or by the hour."""
    form = draw(st.sampled_from(("one", "range", "three", "per day", "hours")))
    if form == "per day":
        return DayRate(setup=draw(small), per_day=draw(fractions))
    if form == "hours":
        return HourRate(
            setup_h=draw(fractions),
            minutes_each=draw(fractions),
            hours_per_day=Fraction(draw(st.integers(1, 24))),
            machines=draw(st.integers(1, 4)),
        )
    low, likely, high = sorted(draw(st.tuples(small, small, small)))
    unit = draw(st.sampled_from(("wd", "cd")))
    if form == "one":
        return Lead(low, low, low, unit)
    return Lead(low, None if form == "range" else likely, high, unit)


@st.composite
def closures(draw):
    """Up to a month shut."""
    first = draw(days)
    return Closure(first=first, last=first + timedelta(days=draw(small)), why=draw(WORDS))


def suppliers(code):
    """A supplier named ``code``; the bench is in house."""
    return st.builds(
        Supplier,
        code=st.just(code),
        name=WORDS,
        country=st.sampled_from(("", "GB", "DE")),
        workdays=st.sampled_from(("mon-fri", "mon-sat", "mon,tue,thu", "all")),
        closures=st.lists(closures(), max_size=3).map(tuple),
        opens=st.lists(days, max_size=2).map(tuple),
        dates_mean=st.sampled_from(("in hand", "leaves")),
        bank=spans,
        contact=WORDS,
        public_name=WORDS,
        inhouse=st.just(code == "bench"),
    )


@st.composite
def jobs(draw, code, before, owners, kinds=("finish-start",)):
    """A job named ``code`` that may wait for any of the jobs ``before``, and retry a gate among them."""
    waits = (
        draw(st.lists(st.sampled_from([j.code for j in before]), unique=True, max_size=3)) if before else []
    )
    retry_of = draw(st.sampled_from(("", *(j.code for j in before if j.gate))))
    links = tuple(
        Link(job=job, kind=draw(st.sampled_from(kinds)), lag=draw(st.sampled_from((Span(0), Span(2, "wd")))))
        for job in waits
    )
    conditions = st.lists(st.sampled_from(CLOCK_CONDITIONS), unique=True, max_size=3).map(tuple)
    return Job(
        code=code,
        supplier=draw(st.sampled_from(owners)),
        lead=draw(leads()),
        name=draw(WORDS),
        public_name=draw(WORDS),
        process=draw(st.sampled_from(("", "anodizing"))),
        said=draw(WORDS),
        after=links,
        quantity=draw(quantities),
        travel=draw(spans),
        not_before=draw(st.none() | days),
        clock=draw(st.none() | conditions),
        leave_when=draw(st.lists(st.sampled_from(LEAVE_CONDITIONS), unique=True, max_size=2).map(tuple)),
        gate=bool(retry_of) or draw(st.booleans()),
        retry_of=retry_of,
    )


@st.composite
def told(draw):
    """A day or a span told to backers."""
    on = draw(days)
    last = on + timedelta(days=draw(counts))
    first = last - timedelta(days=draw(small)) if draw(st.booleans()) else None
    return Told(on=on, last=last, first=first, words=draw(WORDS))


@st.composite
def facts(draw, job_codes, gate_codes, shipment_codes, supplier_codes):
    """A fact of any kind with what its kind needs; what gates and shipments do only where there are some."""
    on = draw(days)
    ahead = small.map(lambda n: on + timedelta(days=n))
    kinds = {
        "ordered": {"quantity": st.none() | quantities},
        "given": {"what": st.sampled_from((*CLOCK_CONDITIONS[1:], *LEAVE_CONDITIONS))},
        "started": {},
        "promised": {"day": ahead, "good": st.none() | counts, "means": st.sampled_from((None, "in hand", "leaves")),
                     "exactly": st.booleans(), "words": WORDS},
        "made": {"good": counts},
        "left": {},
        "in": {"good": counts, "rework": st.none() | counts, "scrap": st.none() | counts, "ref": WORDS,
               "closes": st.booleans()},
        "finished": {}, "paused": {"day": st.none() | ahead}, "resumed": {},
        "note": {}, "decided": {},
        "called": {"day": st.none() | ahead},
    }  # fmt: skip
    if gate_codes:
        kinds |= {"passed": {}, "failed": {}}
    if shipment_codes:
        kinds |= {"posted": {"good": counts}, "told": {"day": ahead, "words": WORDS}}
    kind = draw(st.sampled_from(tuple(kinds)))
    about = {
        "called": ("supplier", supplier_codes), "posted": ("shipment", shipment_codes),
        "told": ("shipment", shipment_codes), "passed": ("job", gate_codes), "failed": ("job", gate_codes),
    }  # fmt: skip
    name, codes = about.get(kind, ("job", job_codes))
    more = {field: draw(values) for field, values in kinds[kind].items()}
    logged = on + timedelta(days=draw(st.integers(0, 5)))
    return Fact(
        on=on, kind=kind, logged=logged, note=draw(WORDS), **{name: draw(st.sampled_from(codes))}, **more
    )


@st.composite
def first_plans(draw, job_codes, shipment_codes):
    """A first plan of some of the jobs and all shipments."""
    planned = []
    for code in draw(st.lists(st.sampled_from(job_codes), unique=True)):
        start = draw(days)
        finish = start + timedelta(days=draw(small))
        planned.append(
            PlannedJob(job=code, start=start, finish=finish, arrives=finish + timedelta(days=draw(small)))
        )
    waves = tuple(PlannedShipment(shipment=code, date=draw(days)) for code in shipment_codes)
    return FirstPlan(jobs=tuple(planned), shipments=waves)


def options(code):
    """Something that could be decided; its words need not be readable."""
    words = st.sampled_from(("set boxes lead=12wd", 'promised boards 2026-12-04 said "for sure"'))
    return st.builds(Option, code=st.just(code), words=words, on=days, cost=WORDS)


def about_options(fact, codes):
    """The fact, a decision about an option where there is one."""
    return replace(fact, job="", option=codes[0]) if fact.kind == "decided" and codes else fact


@st.composite
def holidays(draw):
    """The holidays of one country for some years."""
    found = draw(st.lists(days, unique=True, max_size=4).map(sorted))
    return PublicHolidays(
        country=draw(st.sampled_from(("GB", "DE"))), first_year=2026, last_year=2028, days=tuple(found)
    )


@st.composite
def plans(draw, max_jobs=6, max_facts=6, kinds=("finish-start",)):
    """A plan with at least one supplier and one job; ``kinds`` are the link kinds used."""
    owners = SUPPLIERS[: draw(st.integers(1, len(SUPPLIERS)))]
    codes = draw(st.permutations(JOBS))[: draw(st.integers(1, max_jobs))]
    made = []
    for code in codes:
        made.append(draw(jobs(code, made, owners, kinds)))
    gates = [job.code for job in made if job.gate]
    shipped = SHIPMENTS[: draw(st.integers(0, len(SHIPMENTS)))]
    after = st.lists(st.sampled_from(codes), unique=True, min_size=1, max_size=3).map(tuple)
    waves = tuple(
        Shipment(
            code=code, quantity=draw(quantities), name=draw(WORDS), public_name=draw(WORDS), after=draw(after),
            told=draw(st.lists(told(), max_size=2).map(tuple)),
        )
        for code in shipped
    )  # fmt: skip
    run = Run(
        code="run-1", quantity=draw(quantities), start=START, product=draw(WORDS),
        currency=draw(st.sampled_from(("", "EUR"))), today=draw(st.none() | days),
        dates=draw(st.sampled_from((None, "day first", "month first"))),
    )  # fmt: skip
    kept = OPTIONS[: draw(st.integers(0, len(OPTIONS)))]
    logged = draw(st.lists(facts(codes, gates, shipped, owners), max_size=max_facts))
    return Plan(
        run=run,
        suppliers=tuple(draw(suppliers(code)) for code in owners),
        jobs=tuple(made),
        shipments=waves,
        options=tuple(draw(options(code)) for code in kept),
        facts=tuple(about_options(fact, kept) for fact in logged),
        first_plan=draw(st.none() | first_plans(codes, shipped)),
        holidays=tuple(draw(st.lists(holidays(), max_size=1))),
    )
