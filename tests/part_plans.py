"""Random plans with parts: what jobs take and make, lots, rework, contents of shipments, counts by part.

Some parts are in stock and some are made; a job takes what only jobs before it make, so there is no ring through
parts. Codes of parts, shares and contents fit together as the checks ask.
"""

from dataclasses import replace
from datetime import timedelta
from fractions import Fraction

from hypothesis import strategies as st

from tests.plans import WORDS, days, fractions, plans, quantities, small
from tracker.plan.model import Fact
from tracker.plan.parts import Content, Make, Part, Take

STOCK = ("bolt", "cable", "tape")
MEASURED = "tape"

percents = st.integers(0, 99).map(lambda n: Fraction(n, 100))


def made_parts(jobs, job):
    """The parts a job makes, for rework that does not say those of the job whose pieces it mends."""
    if job.makes or not job.rework_of:
        return [make.part for make in job.makes]
    return [make.part for one in jobs if one.code == job.rework_of for make in one.makes]


@st.composite
def makers(draw, job, before):
    """The job, which may come to make one part or two, a part that one before makes, too, or to mend pieces."""
    parents = [one for one in before if one.makes and not one.rework_of]
    form = draw(st.sampled_from(("nothing", "one", "two", *(["again", "rework"] if parents else ()))))
    if form == "nothing":
        return job
    if form == "one":
        return replace(job, makes=(Make(part=f"{job.code}-made"),), quantity=draw(st.none() | quantities))
    if form == "two":
        shares = draw(st.tuples(quantities, quantities))
        names = (f"{job.code}-made", f"{job.code}-other")
        both = tuple(Make(part=name, quantity=share) for name, share in zip(names, shares, strict=True))
        return replace(job, makes=both, quantity=draw(st.sampled_from((None, sum(shares)))))
    parent = draw(st.sampled_from(parents))
    made = (Make(part=draw(st.sampled_from(parent.makes)).part),)
    if form == "again":
        return replace(job, makes=made)
    silent = len(parent.makes) == 1 and draw(st.booleans())
    return replace(job, rework_of=parent.code, makes=() if silent else made)


@st.composite
def lots(draw, job, shipped, *, may_run):
    """The job, which makes a part, with a yield, lots and whom they serve."""
    pieces = job.quantity or sum(make.quantity or 0 for make in job.makes) or 100
    first = draw(st.integers(1, pieces))
    sizes = (first, pieces - first) if first < pieces else (pieces,)
    return replace(
        job,
        yields=1 - draw(percents),
        lots=draw(st.sampled_from((None, "shipments", min(first, 9), sizes))),
        one_by_one=draw(st.booleans()),
        serves=draw(st.lists(st.sampled_from(shipped), unique=True).map(tuple)) if shipped else (),
        rerun=may_run and draw(st.booleans()),
        unders=draw(percents),
        overs=draw(percents),
    )


@st.composite
def takers(draw, job, there, made):
    """The job, which takes some of the parts ``there``; a measured one in any fraction."""
    into = st.sampled_from(("", *made))
    whole = st.integers(1, 9).map(Fraction)
    takes = tuple(
        Take(part=part, per=draw(fractions if part == MEASURED else whole), into=draw(into))
        for part in draw(st.lists(st.sampled_from(there), unique=True, max_size=3))
    )
    return replace(job, takes=takes)


@st.composite
def working(draw, plain, shipped):
    """The jobs with what they make and take; one maker of a part at most runs again for a shortage."""
    making = []
    for job in plain:
        making.append(draw(makers(job, making)))
    last_maker = {part: n for n, job in enumerate(making) for part in made_parts(making, job)}
    found, running = [], set()
    for place, job in enumerate(making):
        made = made_parts(making, job)
        there = [*STOCK, *(part for part, last in last_maker.items() if last < place)]
        with_takes = draw(takers(job, there, made))
        may_run = not job.rework_of and running.isdisjoint(made)
        found.append(draw(lots(with_takes, shipped, may_run=may_run)) if made else with_takes)
        running.update(made if found[-1].rerun else ())
    return tuple(found)


@st.composite
def parts(draw, code):
    """A part named ``code``, with some here where it is one of the stock."""
    least = int(code in STOCK)
    return Part(
        code=code,
        name=draw(WORDS),
        public_name=draw(WORDS),
        unit="m" if code == MEASURED else "",
        here=draw(fractions if code == MEASURED else st.integers(least, 900).map(Fraction)),
        spares=draw(small),
        moq=draw(st.none() | quantities),
        multiple=draw(st.none() | quantities),
    )


@st.composite
def filled(draw, shipment, codes):
    """The shipment, which may hold parts, as many as it has pieces; then it need wait for no job."""
    held = draw(st.lists(st.sampled_from(codes), unique=True, max_size=2))
    if not held:
        return shipment
    contents = tuple(Content(part=code, quantity=draw(quantities)) for code in held)
    pieces = sum(content.quantity for content in contents)
    return replace(
        shipment, contents=contents, quantity=pieces, after=draw(st.sampled_from(((), shipment.after)))
    )


@st.composite
def part_facts(draw, plan):
    """Pieces scrapped later, wherever found, or a count that says which part it is of."""
    on = draw(days)
    more = {"on": on, "logged": on + timedelta(days=draw(st.integers(0, 5))), "note": draw(WORDS)}
    counted = {
        "job": [(job.code, part) for job in plan.jobs for part in made_parts(plan.jobs, job)],
        "shipment": [(wave.code, content.part) for wave in plan.shipments for content in wave.contents],
    }
    about = {"in": "job", "made": "job", "sorted": "job", "posted": "shipment"}
    kind = draw(st.sampled_from(("scrapped", *(kind for kind, name in about.items() if counted[name]))))
    if kind == "scrapped":
        part = draw(st.sampled_from(plan.parts)).code
        found_at = draw(st.sampled_from(("", *(job.code for job in plan.jobs))))
        return Fact(kind=kind, part=part, scrap=draw(quantities), job=found_at, **more)
    code, part = draw(st.sampled_from(counted[about[kind]]))
    return Fact(kind=kind, part=part, good=draw(quantities), **{about[kind]: code}, **more)


@st.composite
def part_plans(draw, max_jobs=6, max_facts=6, kinds=("finish-start",)):
    """A plan as ``plans`` draws it, with parts."""
    plain = draw(plans(max_jobs=max_jobs, max_facts=max_facts // 2, kinds=kinds))
    jobs = draw(working(plain.jobs, [wave.code for wave in plain.shipments]))
    codes = [*STOCK, *dict.fromkeys(part for job in jobs for part in made_parts(jobs, job))]
    plan = replace(
        plain,
        jobs=jobs,
        parts=tuple(draw(parts(code)) for code in draw(st.permutations(codes))),
        shipments=tuple(draw(filled(wave, codes)) for wave in plain.shipments),
        run=replace(plain.run, unit=draw(st.sampled_from(("", *codes)))),
    )
    more = draw(st.lists(part_facts(plan), max_size=max_facts - max_facts // 2))
    return replace(plan, facts=tuple(draw(st.permutations((*plan.facts, *more)))))
