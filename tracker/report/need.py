"""The requirement explosion as people read it: what to order by when, what does not add up, every part and job."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from tracker.plan.model import Job
from tracker.report.ordering import OrderRow, is_to_order, order_rows
from tracker.report.picture import Picture
from tracker.report.pieces import JobPieces, PartRow, job_pieces, part_row
from tracker.report.print_counts import CountRange, count_ranges
from tracker.report.shortages import Shortage, shortages


@dataclass(frozen=True, slots=True, kw_only=True)
class NeededPart:
    """One part's balance: ``used`` + ``here`` + ``in_process`` + ``to_order`` - ``needed`` - ``spares`` = ``left``.

    ``needed`` is for shipments, ``spares`` beyond that, both with what has been used already. ``used`` counts
    pieces at work in lots that have begun further on; ``here`` are good ones nobody has taken. ``in_process`` is
    ordered, at work, in rework or ours to make, ``to_order`` not ordered yet, a re-run among it. ``left`` below 0
    are spares, or where nobody makes it pieces, that are ``short``. ``again`` of ``to_order`` or ``in_process`` must
    come from a re-run. ``order_by`` is the first last day to order any of it, ``next_in`` the next day any arrives.
    """

    part: str
    name: str
    unit: str
    needed: Fraction
    spares: Fraction
    used: Fraction
    here: Fraction
    in_process: Fraction
    to_order: Fraction
    again: Fraction
    left: Fraction
    short: int
    made_by: tuple[str, ...]
    order_by: date | None
    frees: str
    next_in: date | None


@dataclass(frozen=True, slots=True, kw_only=True)
class NeededJob:
    """One job's pieces of one part (``""`` for a job that makes none).

    ``put_in`` is the quantity, or what the need sets; None while nothing says how many. ``in_process`` have not
    come and are ordered or ours to make, ``to_order`` wait for our order, raised where the quantity is too few; ``again`` are to be put in for a re-run.
    ``in_rework`` of ``rework`` are still to come back in this job. ``arrives`` is when the last of it is here.
    """

    job: str
    name: str
    supplier: str
    part: str
    put_in: int | None
    good: int
    rework: int
    in_rework: int
    scrap: int
    unjudged: int
    in_process: int
    to_order: int
    again: int
    arrives: date | None
    order_by: date | None
    frees: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """What is needed: orders to place, counts that may differ, what does not add up, parts and jobs in plan order."""

    today: date
    orders: tuple[OrderRow, ...]
    printed: tuple[CountRange, ...]
    shortages: tuple[Shortage, ...]
    parts: tuple[NeededPart, ...]
    jobs: tuple[NeededJob, ...]


def need_view(picture: Picture) -> Need:
    """Gather it all; every list is empty for a plan without parts."""
    orders = order_rows(picture)
    demand = picture.forecast.network.demand
    return Need(
        today=picture.today,
        orders=orders,
        printed=count_ranges(picture),
        shortages=shortages(picture),
        parts=()
        if demand is None
        else tuple(needed_part(picture, one.code, orders) for one in picture.plan.parts),
        jobs=tuple(row for job in picture.plan.jobs for row in needed_jobs(picture, job, orders)),
    )


def needed_part(picture: Picture, code: str, orders: Sequence[OrderRow]) -> NeededPart:
    """The balance of one part of a plan that counts pieces; ``orders`` are all that are to be placed."""
    row = part_row(picture, code)
    to_order = _not_ordered(picture, row)
    first = next((one for one in orders if one.part == code and one.is_order), None)
    return NeededPart(
        part=code,
        name=row.name,
        unit=row.unit,
        needed=row.needed,
        spares=row.for_spares,
        used=row.used + row.drawn,
        here=row.here - row.drawn,
        in_process=row.to_come - to_order,
        to_order=to_order,
        again=row.again,
        left=row.to_spare + row.unaccounted,
        short=row.nobody_makes,
        made_by=row.made_by,
        order_by=first.by if first else None,
        frees=first.frees if first else "",
        next_in=_next_in(picture, code),
    )


def _not_ordered(picture: Picture, row: PartRow) -> Fraction:
    """Good pieces expected of what waits for our order; what our own bench makes again needs none."""
    return Fraction(sum(_not_ordered_of(picture, job, row.code) for job in row.made_by))


def _not_ordered_of(picture: Picture, code: str, part: str) -> int:
    network, job = picture.forecast.network, picture.plan.job_by_code[code]
    at_home = picture.plan.supplier_by_code[job.supplier].inhouse
    return sum(
        lot.good.get(part, 0)
        for place in picture.forecast.lots_of(code)
        if is_to_order(picture, place) and (lot := network.lots[place]) is not None
        if lot.kind != "rerun" or not at_home
    )


def _next_in(picture: Picture, code: str) -> date | None:
    entries = picture.forecast.network.stocks[code].entries
    coming = (
        entry.arrive for entry in entries if entry.lot is not None and picture.forecast.is_open(entry.lot)
    )
    return min((date.fromordinal(day) for day in coming), default=None)


def needed_jobs(picture: Picture, job: Job, orders: Sequence[OrderRow]) -> tuple[NeededJob, ...]:
    """A job's pieces, a row for each part it makes; none for a job that counts no pieces."""
    return tuple(_job(picture, pieces, orders) for pieces in job_pieces(picture, job.code))


def _job(picture: Picture, pieces: JobPieces, orders: Sequence[OrderRow]) -> NeededJob:
    job = picture.plan.job_by_code[pieces.job]
    mine = (one for one in orders if one.is_order and (one.job, one.part) == (pieces.job, pieces.part))
    order = next(mine, None)
    is_first, at_home = (False, False) if order is None else (order.again is None, order.at_home)
    coming = [lot for lot in picture.forecast.lots_of(job.code) if picture.forecast.is_open(lot)]
    arrives = max((picture.forecast.times.arrive[lot] for lot in coming), default=None)
    return NeededJob(
        job=job.code,
        name=job.name,
        supplier=job.supplier,
        part=pieces.part,
        put_in=pieces.put_in,
        good=pieces.good,
        rework=pieces.rework,
        in_rework=pieces.in_rework,
        scrap=pieces.scrap,
        unjudged=pieces.unjudged,
        in_process=(0 if is_first else pieces.still_open) + (pieces.again if at_home else 0),
        to_order=0 if order is None or at_home else order.pieces,
        again=pieces.again,
        arrives=None if arrives is None else date.fromordinal(arrives),
        order_by=order.by if order else None,
        frees=order.frees if order else "",
    )
