"""A second source: a job, and where asked for a check of it, in place of the open work it makes needless."""

from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction

from tracker.errors import Refused
from tracker.plan.model import Fact, Job, Link, Plan
from tracker.plan.parts import Make
from tracker.plan.piece_rework import our_bench
from tracker.plan.progress import progress_of
from tracker.plan.second_attempt import free_code
from tracker.plan.span import NO_DAYS, Lead, Span
from tracker.trying.facts import with_facts
from tracker.trying.replaced import Replaced


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """Who could bring it and how long that takes; ``check`` is the lead of a check by ``checker`` or our own bench.

    ``pieces`` is what is ordered; None leaves it to the need, or to the job it replaces.
    """

    supplier: str
    lead: Lead
    travel: Span = NO_DAYS
    check: Lead | None = None
    checker: str = ""
    said: str = ""
    pieces: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SecondSource:
    """The plan with it, the jobs it adds, the last of which what followed now waits for, and who that is."""

    plan: Plan
    jobs: tuple[Job, ...]
    followers: tuple[str, ...]


def with_second_source(
    plan: Plan, what: str, replaced: Replaced, offer: Offer, today: date, begins: date
) -> SecondSource:
    """Order it on ``begins``, so that the day after is its day 1, and call off the work it replaces.

    It waits for and takes what the job does whose work is done again; a part that comes ready waits for the order
    alone. What followed the replaced jobs follows the last of its own.

    Raises
    ------
    Refused
        If it is not clear which bench is to check, or how many pieces to take inputs for.
    """
    jobs = _jobs(plan, what, replaced, offer, today)
    gone, last = {job.code for job in replaced.jobs}, jobs[-1].code
    changed = _followed(plan, gone, last)
    facts = [Fact(on=today, logged=today, kind="called_off", job=job.code) for job in replaced.jobs]
    if not plan.supplier_by_code[offer.supplier].inhouse:
        facts.append(Fact(on=begins, logged=begins, kind="ordered", job=jobs[0].code))
    followers = (
        job.code
        for job in changed.jobs
        if job.code not in gone and (_links_to(job, last) or _takes(job, replaced.part))
    )
    whole = replace(changed, jobs=(*changed.jobs, *jobs))
    return SecondSource(plan=with_facts(whole, tuple(facts), today), jobs=jobs, followers=tuple(followers))


def _followed(plan: Plan, gone: set[str], last: str) -> Plan:
    """The plan in which what waited for jobs that are gone waits for ``last``."""
    jobs = (job if job.code in gone else _follows(job, gone, last) for job in plan.jobs)
    shipments = (
        replace(one, after=tuple(dict.fromkeys(last if code in gone else code for code in one.after)))
        for one in plan.shipments
    )
    return replace(plan, jobs=tuple(jobs), shipments=tuple(shipments))


def _jobs(plan: Plan, what: str, replaced: Replaced, offer: Offer, today: date) -> tuple[Job, ...]:
    """The job by the second source, and the check of it."""
    like = replaced.like
    known = plan.part_by_code.get(what)
    name = (like.name if like else known.name if known else "") or what
    job = Job(
        code=free_code(f"{what}-{offer.supplier}", _codes(plan)),
        name=f"{name}, by {offer.supplier}",
        supplier=offer.supplier,
        lead=offer.lead,
        said=offer.said,
        travel=offer.travel,
        process=like.process if like else "",
        after=like.after if like else (),
        takes=like.takes if like else (),
        quantity=_pieces(plan, replaced, offer, today),
        makes=(Make(part=replaced.part),) if replaced.part else (),
        yields=like.yields if like else Fraction(1),
    )
    return (job,) if offer.check is None else _with_check(plan, what, job, offer, offer.check)


def _with_check(plan: Plan, what: str, job: Job, offer: Offer, lead: Lead) -> tuple[Job, Job]:
    """The job without what it makes, and a check that brings that once it has looked at it."""
    again = f"tracker try instead {what} 100 by {offer.supplier} lead {offer.lead} check"
    if job.takes and job.quantity is None:
        raise Refused(
            f"{what} takes parts, and how many pieces are to be checked is left to the need",
            hint=f"say how many: {again} {lead}",
        )
    bench = offer.checker or our_bench(plan, offer.supplier, lambda who: f"{again} {who} {lead}").code
    check = Job(
        code=free_code(f"check-{job.code}", {*_codes(plan), job.code}),
        name=f"{job.name}: check",
        supplier=bench,
        lead=lead,
        after=(Link(job=job.code),),
        quantity=job.quantity,
        makes=job.makes,
        yields=job.yields,
    )
    return replace(job, makes=(), yields=Fraction(1)), check


def _codes(plan: Plan) -> set[str]:
    return {
        *plan.job_by_code,
        *plan.supplier_by_code,
        *plan.part_by_code,
        *plan.shipment_by_code,
        *plan.option_by_code,
    }


def _pieces(plan: Plan, replaced: Replaced, offer: Offer, today: date) -> int | None:
    """What was said; of a job of which nothing came what that one puts in, else what the need asks for."""
    like = replaced.like
    if offer.pieces is not None or like is None or like not in replaced.jobs:
        return offer.pieces
    return None if replaced.part and progress_of(plan, like, today).received else like.quantity


def _follows(job: Job, gone: set[str], last: str) -> Job:
    if not any(link.job in gone for link in job.after):
        return job
    links = (replace(link, job=last) if link.job in gone else link for link in job.after)
    return replace(job, after=tuple(dict.fromkeys(links)))


def _links_to(job: Job, code: str) -> bool:
    return any(link.job == code for link in job.after)


def _takes(job: Job, part: str) -> bool:
    return bool(part) and any(take.part == part for take in job.takes)
