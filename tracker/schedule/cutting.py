"""From jobs to lots: the order of jobs, the explosion of the demand, and each job's lots side by side."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from tracker.errors import Refused
from tracker.plan.balance import Demand
from tracker.plan.counts import Counted, count_pieces
from tracker.plan.demand import explode
from tracker.plan.lots import Lot, lots_of
from tracker.plan.model import Job, Plan
from tracker.plan.part_waits import part_waits
from tracker.plan.progress import NOTHING, Progress
from tracker.plan.span import Lead
from tracker.schedule.flow import Flow, length_of, ticks_of


@dataclass(slots=True, kw_only=True)
class Cut:
    """Lots by index, in plan order of their jobs; a job that counts no pieces is one lot without a ``Lot``.

    ``job_order`` has each job after all it waits for and takes from. ``needed`` gives the lots of a job that
    a plain follower waits for: what came, and what shipments need; not what goes round again.
    """

    demand: Demand
    job_order: list[Job]
    jobs: list[Job] = field(default_factory=list)
    progress: list[Progress] = field(default_factory=list)
    lots: list[Lot | None] = field(default_factory=list)
    lots_of: dict[str, list[int]] = field(default_factory=dict)
    needed: dict[str, list[int]] = field(default_factory=dict)
    flow: dict[int, Flow] = field(default_factory=dict)
    left_out: list[str] = field(default_factory=list)


def cut_into_lots(
    plan: Plan,
    today: date,
    jobs: Sequence[Job],
    progress: Sequence[Progress],
    opener: Mapping[str, str],
    *,
    as_planned: bool,
) -> Cut:
    """Explode the demand and cut every job into lots; ``as_planned`` looks at no facts.

    Raises
    ------
    Refused
        If jobs wait for each other, or for each other's parts, in a ring.
    """
    logged = {job.code: known for job, known in zip(jobs, progress, strict=True)}
    order = _in_order(plan, jobs, opener)
    counting = [job for job in jobs if job.counts_pieces]
    counted = None if as_planned else {job.code: count_pieces(plan, job, today) for job in counting}
    closed = {job.code: logged[job.code].whole for job in counting if logged[job.code].done is not None}
    begun = frozenset(job.code for job in counting if has_begun(plan, job, logged[job.code]))
    gone = {} if as_planned else _called_off(plan, today, logged)
    cut = Cut(demand=explode(plan, today, order, counted, closed, begun, gone), job_order=order)
    for job, known in zip(jobs, progress, strict=True):
        if job.counts_pieces:
            need = cut.demand.jobs[job.code]
            at_home = plan.supplier_by_code[job.supplier].inhouse
            lots = lots_of(need, known, cut.demand.spare, at_home=at_home)
            if not lots and known is NOTHING:
                cut.left_out.append(job.code)
                continue
            _add_counting(cut, job, lots or [Lot(job=job, kind="to come", pieces=0, progress=known)])
        else:
            _add(cut, job, known, None)
            cut.needed[job.code] = cut.lots_of[job.code]
    return cut


def _called_off(plan: Plan, today: date, in_run: Collection[str]) -> dict[str, Counted]:
    """Pieces that came from jobs that are no longer in the run."""
    out = (job for job in plan.jobs if job.counts_pieces and job.code not in in_run)
    counted = {job.code: count_pieces(plan, job, today) for job in out}
    return {code: one for code, one in counted.items() if one.deliveries}


def has_begun(plan: Plan, job: Job, progress: Progress) -> bool:
    """Whether open pieces hold their inputs: work was started, or something came from a supplier.

    Pieces our own bench counts day by day take theirs as they are made.
    """
    if progress.started is not None or progress.left is not None or progress.made is not None:
        return True
    return progress.seen is not None and not plan.supplier_by_code[job.supplier].inhouse


def _add(cut: Cut, job: Job, progress: Progress, lot: Lot | None) -> None:
    cut.lots_of.setdefault(job.code, []).append(len(cut.jobs))
    cut.jobs.append(job)
    cut.progress.append(progress)
    cut.lots.append(lot)


def _add_counting(cut: Cut, job: Job, lots: Sequence[Lot]) -> None:
    for lot in lots:
        _add(cut, job, lot.progress, lot)
    places = cut.lots_of[job.code]
    spare = cut.demand.spare
    needed = [
        place
        for place, lot in zip(places, lots, strict=True)
        if lot.kind == "received" or lot.is_for_shipments(spare)
    ]
    cut.needed[job.code] = needed or places
    for place, lot in zip(places, lots, strict=True):
        if lot.waits:
            follow(cut.flow, place, lot, place - 1, lots[place - 1 - places[0]])


def follow(flow: dict[int, Flow], place: int, lot: Lot, before: int, lot_before: Lot) -> None:
    """Have a lot worked after another one of its job, fractions of a day carried."""
    ticks = ticks_of(lot.job)
    if before not in flow:
        flow[before] = Flow(ticks, _length(lot_before), None)
    flow[place] = Flow(ticks, _length(lot), before)


def _length(lot: Lot) -> int:
    return length_of(lot.job, lot.booked, sets_up=lot.sets_up)


def days_of(lot: Lot) -> int:
    """Whole own days a lot takes, the last begun day counted."""
    return -(-_length(lot) // ticks_of(lot.job))


def has_rate(lot: Lot | None) -> bool:
    """Whether the lot's time follows its pieces."""
    return lot is not None and not isinstance(lot.job.lead, Lead)


def _in_order(plan: Plan, jobs: Sequence[Job], opener: Mapping[str, str]) -> list[Job]:
    """Jobs so that each stands after those it waits for and those that make what it takes."""
    in_run = {job.code: job for job in jobs}
    links = {
        job.code: {opener.get(link.job, link.job) for link in job.after if link.on == "pass"} for job in jobs
    }
    through_parts = part_waits(plan, links)
    waits: dict[str, set[str]] = {}
    for code, before in links.items():
        others = {*before, *through_parts.get(code, ())}
        waits[code] = {other for other in others if other in in_run and other != code}
    followers: dict[str, list[str]] = {code: [] for code in in_run}
    for code, before in waits.items():
        for other in before:
            followers[other].append(code)
    open_links = {code: len(before) for code, before in waits.items()}
    order = [code for code, count in open_links.items() if not count]
    for code in order:
        for follower in followers[code]:
            open_links[follower] -= 1
            if not open_links[follower]:
                order.append(follower)
    if len(order) < len(in_run):
        stuck = ", ".join(code for code, count in open_links.items() if count)
        raise Refused(
            f"jobs wait for each other, or for each other's parts, in a ring among: {stuck}",
            hint="take one link or one part out with 'tracker set JOB after=...' or 'takes=...'",
        )
    return [in_run[code] for code in order]
