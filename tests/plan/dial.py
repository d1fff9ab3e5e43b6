"""A small sound plan to break in one place at a time."""

from dataclasses import replace
from datetime import date

from tracker.plan.checks import check_plan
from tracker.plan.model import Fact, Job, Link, Plan, Run, Shipment, Supplier
from tracker.plan.span import parse_lead

TODAY = date(2026, 6, 30)
RUN = Run(code="dial-1", quantity=240, start=date(2026, 6, 15))
BENCH = Supplier(code="bench", inhouse=True)
MILL = Supplier(code="mill")
HOUSING = Job(code="housing", supplier="mill", lead=parse_lead("12wd"))
FIT = Job(code="fit", supplier="bench", lead=parse_lead("2wd"), after=(Link(job="housing"),), gate=True)
PACK = Job(code="pack", supplier="bench", lead=parse_lead("3wd"), after=(Link(job="fit"),))
WAVE = Shipment(code="wave-1", quantity=80, after=("pack",))
PLAN = Plan(run=RUN, suppliers=(BENCH, MILL), jobs=(HOUSING, FIT, PACK), shipments=(WAVE,))


def lines(plan, unreadable=frozenset()):
    return [str(problem) for problem in check_plan(plan, TODAY, unreadable=unreadable)]


def only(plan):
    (line,) = lines(plan)
    return line


def with_job(job=HOUSING, **changes):
    changed = replace(job, **changes)
    return replace(PLAN, jobs=tuple(changed if one.code == job.code else one for one in PLAN.jobs))


def with_supplier(**changes):
    return replace(PLAN, suppliers=(BENCH, replace(MILL, **changes)))


def with_wave(**changes):
    return replace(PLAN, shipments=(replace(WAVE, **changes),))


def with_fact(kind, on=TODAY, logged=None, **fields):
    return replace(PLAN, facts=(Fact(on=on, kind=kind, logged=logged or on, **fields),))


def gate(code, *after, retry_of=""):
    links = tuple(
        Link(job=name.removesuffix(":fail"), on="fail" if name.endswith(":fail") else "pass")
        for name in after
    )
    return Job(code=code, supplier="bench", lead=parse_lead("1wd"), after=links, gate=True, retry_of=retry_of)


def ring_lines(*jobs):
    return lines(replace(PLAN, jobs=jobs, shipments=()))
