"""Everything about one job, one supplier or one shipment."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from tracker.plan.model import Fact, Job, Link, Plan, Supplier
from tracker.plan.parts import Content
from tracker.plan.span import Lead, Span
from tracker.report.cautions import caution_for
from tracker.report.counts import CountRow, count_row
from tracker.report.coverage import Coverage, coverage_of
from tracker.report.drawing import DrawnPart, brought_for, drawn_parts
from tracker.report.jobs import JobRow, job_row
from tracker.report.logged import NO_ENTRIES, Entries, LoggedFact, logged_facts
from tracker.report.next_day import LaterCost, next_day_costs
from tracker.report.picture import Picture, day_or_none
from tracker.report.pieces import JobPieces, job_pieces
from tracker.report.promises import PromiseRow, promise_rows
from tracker.report.shipments import HeldBy, ShipmentRow, chains_of, reason_of, shipment_rows
from tracker.schedule.bounds import own_days


@dataclass(frozen=True, slots=True, kw_only=True)
class InputRow:
    """What a job waits for: ``opener`` is the job itself, or for a gate the attempt that opens it.

    ``day`` is when it arrives, for a link on failure when the gate failed; ``done`` whether that has happened.
    """

    link: Link
    opener: str
    day: date | None
    done: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class JobPage:
    """One job: its row, lead as kept and as heard, links both ways, facts, promises, caution.

    ``planned`` is what its lead comes to, ``pieces`` the quantity where that decides. ``retries`` are the second
    attempts at a gate. Where parts are counted, ``makes`` gives the pieces put in by part (None: the need decides
    and none is needed), ``draws`` the parts taken with where they come from, ``coverage`` how what it makes stands
    against the need.
    """

    today: date
    row: JobRow
    job: Job
    supplier: Supplier
    reason: HeldBy | None
    planned: Span
    pieces: int | None
    retries: tuple[str, ...]
    waits_for: tuple[InputRow, ...]
    needed_by: tuple[str, ...]
    counts: CountRow | None
    makes: tuple[JobPieces, ...]
    draws: tuple[DrawnPart, ...]
    coverage: tuple[Coverage, ...]
    facts: tuple[LoggedFact, ...]
    promises: tuple[PromiseRow, ...]
    next_day: tuple[LaterCost, ...]
    caution: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SupplierPage:
    """One supplier: calendar, contact, jobs, facts about them."""

    today: date
    supplier: Supplier
    rows: tuple[JobRow, ...]
    promises: tuple[tuple[str, PromiseRow], ...]
    facts: tuple[LoggedFact, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ShipmentPage:
    """One shipment: its row, every chain as long as the one that holds it, the jobs on them, every date told.

    ``contents`` name the jobs that bring each part.
    """

    today: date
    row: ShipmentRow
    chains: tuple[tuple[HeldBy, tuple[str, ...]], ...]
    jobs: tuple[JobRow, ...]
    after: tuple[str, ...]
    contents: tuple[tuple[Content, tuple[str, ...]], ...]
    facts: tuple[LoggedFact, ...]
    cautions: tuple[tuple[str, str], ...]


def job_page(picture: Picture, code: str, entries: Entries = NO_ENTRIES) -> JobPage:
    """The page of one job; ``entries`` tells which entries logged and corrected each fact."""
    plan = picture.plan
    job = plan.job_by_code[code]
    lot, tight = picture.forecast.lot_of(code), picture.forecast.tightest_lot(code)
    is_open = lot is not None and picture.forecast.is_open(lot)
    facts = logged_facts(picture, entries, lambda fact: fact.job == code)
    days, working = own_days(job, plan.run.quantity)
    makes = job_pieces(picture, code)
    covered = (coverage_of(picture, row.part) for row in makes if row.part)
    return JobPage(
        today=picture.today,
        row=job_row(picture, job),
        job=job,
        supplier=plan.supplier_by_code[job.supplier],
        reason=reason_of(picture, code) if is_open else None,
        planned=Span(days, "wd" if working else "cd"),
        pieces=None if isinstance(job.lead, Lead) else job.quantity or plan.run.quantity,
        retries=tuple(one.code for one in plan.jobs if one.retry_of == code),
        waits_for=tuple(_input(picture, link) for link in job.after),
        needed_by=_needed_by(plan, code),
        counts=count_row(picture, code) if makes or _counted(one.row.fact for one in facts) else None,
        makes=makes,
        draws=drawn_parts(picture, job),
        coverage=tuple(one for one in covered if one is not None),
        facts=facts,
        promises=promise_rows(plan, code, picture.today),
        next_day=() if tight is None else next_day_costs(picture, (tight,)).get(tight, ()),
        caution=caution_for(job.process),
    )


def supplier_page(picture: Picture, code: str, entries: Entries = NO_ENTRIES) -> SupplierPage:
    """The page of one supplier, its jobs in plan order."""
    plan = picture.plan
    theirs = [job for job in plan.jobs if job.supplier == code]
    return SupplierPage(
        today=picture.today,
        supplier=plan.supplier_by_code[code],
        rows=tuple(job_row(picture, job, detail=False) for job in theirs),
        promises=tuple(
            (job.code, row) for job in theirs for row in promise_rows(plan, job.code, picture.today)
        ),
        facts=logged_facts(picture, entries, lambda fact: fact.supplier == code),
    )


def shipment_page(picture: Picture, code: str, entries: Entries = NO_ENTRIES) -> ShipmentPage:
    """The page of one shipment with every tied chain."""
    plan = picture.plan
    row = next(one for one in shipment_rows(picture) if one.code == code)
    jobs = [plan.job_by_code[job] for job in row.critical_jobs]
    return ShipmentPage(
        today=picture.today,
        row=row,
        chains=chains_of(picture, code),
        jobs=tuple(job_row(picture, job) for job in jobs),
        after=plan.shipment_by_code[code].after,
        contents=tuple(
            (one, brought_for(picture, code, one.part)) for one in plan.shipment_by_code[code].contents
        ),
        facts=logged_facts(picture, entries, lambda fact: fact.shipment == code),
        cautions=_transport_cautions(plan),
    )


def _transport_cautions(plan: Plan) -> tuple[tuple[str, str], ...]:
    """Cautions that matter where shipping is planned: magnets, lithium cells, anything by air."""
    carried = ("magnets", "magnets-by-air", "lithium-cells", "batteries")
    found: dict[str, str] = {}
    for job in plan.jobs:
        process = job.process.lower().replace(" ", "-")
        if process in carried:
            found.setdefault(caution_for(process), job.code)
    return tuple((code, text) for text, code in found.items())


def _counted(facts: Iterable[Fact]) -> bool:
    return any(fact.kind in ("in", "sorted") or (fact.kind == "made" and fact.good) for fact in facts)


def _input(picture: Picture, link: Link) -> InputRow:
    forecast, gates = picture.forecast, picture.forecast.network.gates
    if link.on == "fail":
        failed = gates.failed_on.get(link.job)
        return InputRow(link=link, opener=link.job, day=day_or_none(failed), done=failed is not None)
    opener = gates.opener.get(link.job, link.job)
    lot = forecast.lot_of(opener)
    if lot is None:
        return InputRow(link=link, opener=opener, day=None, done=False)
    day = date.fromordinal(forecast.times.arrive[lot])
    return InputRow(link=link, opener=opener, day=day, done=not forecast.is_open(lot))


def _needed_by(plan: Plan, code: str) -> tuple[str, ...]:
    """Jobs and shipments that wait for it, or take a part it makes."""
    made = {make.part for make in plan.makes_of(plan.job_by_code[code])}
    jobs = (
        job.code
        for job in plan.jobs
        if any(link.job == code for link in job.after) or made.intersection(take.part for take in job.takes)
    )
    shipments = (
        one.code
        for one in plan.shipments
        if code in one.after or made.intersection(content.part for content in one.contents)
    )
    return (*jobs, *shipments)
