"""What is to be ordered, or made again at our own bench: how many, why so many, by when, and what is too late."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import TypedDict

from tracker.plan.balance import Demand, JobNeed, Segment, good_of, pieces_for, rounded_up, takes_for
from tracker.plan.model import Job
from tracker.plan.second_attempt import free_code
from tracker.plan.span import Span
from tracker.report.order_days import OrderLot, TooLate, days_saved, order_lot, too_late
from tracker.report.picture import Picture
from tracker.schedule.bounds import missing_conditions, own_days


@dataclass(frozen=True, slots=True, kw_only=True)
class Again:
    """A job of its own for a re-run: a code not taken yet, its lead, and how many of which part a piece takes.

    ``travel``, ``clock`` (None for the default), ``yields`` and ``public_name`` are those of the job it repeats.
    """

    code: str
    lead: Span
    takes: Mapping[str, Fraction]
    travel: Span
    clock: tuple[str, ...] | None
    yields: Fraction
    public_name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderRow:
    """Pieces of one part to order from a job's supplier, or ordered and waiting for something else of ours.

    ``needed`` good pieces of them are for shipments, ``spares`` for spares; ``over`` pieces nobody asked for.
    ``yields``, ``moq`` and ``multiple`` are named where they add pieces, ``planned`` is the job's quantity where
    that is too few. ``what`` has yet to be given, by ``by`` so that no shipment moves, ``frees`` the one that would
    move first; what is made ``at_home`` needs no order, and ``by`` is the last day to begin. ``again`` tells of a
    re-run for a shortage, and ``costs`` the calendar days by which each shipment goes later for it.
    """

    job: str
    name: str
    supplier: str
    part: str
    makes: tuple[str, ...]
    pieces: int
    needed: int
    spares: int
    over: int
    yields: Fraction | None
    moq: int | None
    multiple: int | None
    planned: int | None
    what: tuple[str, ...]
    at_home: bool
    by: date | None
    frees: str
    too_late: TooLate | None
    again: Again | None
    costs: Mapping[str, int]
    lots: tuple[OrderLot, ...]

    @property
    def is_order(self) -> bool:
        """Whether it is to be ordered, and not only paid for, or given a drawing or a proof."""
        return self.again is not None or "order" in self.what


class _Amount(TypedDict):
    """How many, and why so many."""

    pieces: int
    needed: int
    spares: int
    over: int
    yields: Fraction | None
    moq: int | None
    multiple: int | None
    planned: int | None


def order_rows(picture: Picture) -> tuple[OrderRow, ...]:
    """Everything counted that waits for us: to be ordered, paid for or made again; soonest last day first."""
    demand = picture.forecast.network.demand
    if demand is None:
        return ()
    rows = [row for need in demand.jobs.values() for row in _rows(picture, demand, need)]
    return tuple(sorted(rows, key=lambda row: row.by or date.max))


def is_to_order(picture: Picture, lot: int) -> bool:
    """Whether a lot waits for an order of ours, or is a re-run that nobody has been asked for."""
    known = picture.forecast.network.lots[lot]
    again = known is not None and known.kind == "rerun"
    return _waits_for_us(picture, lot) and (again or "order" in _missing(picture, lot))


def _waits_for_us(picture: Picture, lot: int) -> bool:
    known = picture.forecast.network.lots[lot]
    if known is None or known.kind == "received" or not known.pieces:
        return False
    return known.kind == "rerun" or bool(_missing(picture, lot))


def _missing(picture: Picture, lot: int) -> tuple[str, ...]:
    network = picture.forecast.network
    return missing_conditions(picture.plan, network.jobs[lot], network.progress[lot])


def _rows(picture: Picture, demand: Demand, need: JobNeed) -> Iterator[OrderRow]:
    network = picture.forecast.network
    places = [lot for lot in picture.forecast.lots_of(need.job.code) if _waits_for_us(picture, lot)]
    for part in need.shares:
        lots = {}
        for place in places:
            lot = network.lots[place]
            pieces = 0 if lot is None else lot.put_in(part)
            if pieces:
                lots[place] = pieces
        if lots:
            yield _row(picture, demand, need, part, lots)


def _row(
    picture: Picture, demand: Demand, need: JobNeed, part: str, pieces_of: Mapping[int, int]
) -> OrderRow:
    network, job = picture.forecast.network, need.job
    kinds = {lot.kind for place in pieces_of if (lot := network.lots[place]) is not None}
    is_again, at_home = kinds == {"rerun"}, picture.plan.supplier_by_code[job.supplier].inhouse
    lots = {
        place: order_lot(picture, place, _missing(picture, place), pieces, at_home=at_home)
        for place, pieces in pieces_of.items()
    }
    first = min(lots, key=lambda place: lots[place].by or date.max)
    amount = _amount(picture, demand, need, part, is_again=is_again)
    return OrderRow(
        job=job.code,
        name=job.name,
        supplier=job.supplier,
        part=part,
        makes=tuple(need.shares),
        **amount,
        what=_missing(picture, first),
        at_home=at_home,
        by=lots[first].by,
        frees=lots[first].frees,
        too_late=too_late(picture, {place: _missing(picture, place) for place in lots}, at_home=at_home),
        again=_again(picture, need, part, amount["pieces"]) if is_again else None,
        costs=days_saved(picture, tuple(lots)) if is_again else {},
        lots=tuple(lots.values()),
    )


def _amount(picture: Picture, demand: Demand, need: JobNeed, part: str, *, is_again: bool) -> _Amount:
    """What to order of one part; too small a quantity not ordered yet is raised rather than ordered twice.

    A raised order brings the spares, too, which a re-run never covers.
    """
    open_ = [] if is_again else _of(need.remaining, part)
    rerun = _of(need.rerun, part)
    is_raised, job = bool(open_ and rerun), need.job
    firm, spares = _good(open_, demand.spare, job)
    again, _ = _good(rerun, demand.spare, job)
    more = demand.parts[part].spares_short if is_raised else 0
    total, asked = _upto(open_, demand.surplus), _upto(open_, demand.spare) + pieces_for(again + more, job)
    is_ours_to_set = need.decided or is_again or is_raised
    known = picture.plan.part_by_code.get(part)
    least = known.moq or 0 if known is not None and is_ours_to_set else 0
    step = known.multiple or 1 if known is not None and is_ours_to_set else 1
    return _Amount(
        pieces=rounded_up(known, total + pieces_for(again + more, job)) if rerun and known else total,
        needed=firm + again,
        spares=spares + more,
        over=0 if is_ours_to_set else total - asked,
        yields=job.yields if asked > firm + again + spares + more else None,
        moq=least if asked < least else None,
        multiple=step if max(asked, least) % step else None,
        planned=need.shares[part] if is_raised else None,
    )


def _good(segments: Sequence[Segment], spare: int, job: Job) -> tuple[int, int]:
    """Good pieces they bring for shipments, and for spares."""
    firm = good_of(_upto(segments, spare - 1), job)
    return firm, good_of(_upto(segments, spare), job) - firm


def _of(segments: Sequence[Segment], part: str) -> list[Segment]:
    return [segment for segment in segments if segment[1] == part]


def _upto(segments: Sequence[Segment], priority: int) -> int:
    """Pieces put in for priorities up to and including one."""
    return sum(pieces for one, _, pieces in segments if one <= priority)


def _again(picture: Picture, need: JobNeed, part: str, pieces: int) -> Again:
    """The job to add once a re-run is arranged; it takes what the job takes for this part."""
    job, plan = need.job, picture.plan
    days, working = own_days(job, pieces)
    return Again(
        code=free_code(f"{job.code}-again", set(plan.job_by_code)),
        lead=Span(days, "wd" if working else "cd"),
        takes={take.part: take.per for take in takes_for(job, part)},
        travel=job.travel,
        clock=job.clock,
        yields=job.yields,
        public_name=job.public_name,
    )
