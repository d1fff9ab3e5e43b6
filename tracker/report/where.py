"""Where the pieces of a part are: every piece put in, by place and state, and those still to come."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import Literal

from tracker.plan.balance import Demand, JobNeed
from tracker.plan.counts import Delivery
from tracker.plan.model import Job
from tracker.report.ordering import is_to_order
from tracker.report.picture import Picture
from tracker.report.pieces import JobPieces, job_pieces
from tracker.report.where_used import Used, used_up
from tracker.schedule.supply import HELD

State = Literal[
    "here", "not judged", "on the way", "made", "in work", "in rework", "drawn", "used", "posted", "scrapped",
    "found bad", "never came", "ordered", "not ordered", "not begun", "no inputs", "again",
]  # fmt: skip
STATES: tuple[State, ...] = (
    "here", "not judged", "on the way", "made", "in work", "in rework", "drawn", "used", "posted", "scrapped",
    "found bad", "never came", "ordered", "not ordered", "not begun", "no inputs", "again",
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceRow:
    """So many pieces at one place, in one state.

    ``place`` is the supplier that has them, empty for ours and for what is gone. ``job`` is the job at work on
    them, that brought, used or drew them, or where they were found bad; ``shipment`` the one they went with.
    ``due`` is when they are here. ``made`` are ready at their door, ``drawn`` at work in lots that have begun
    further on, ``found bad`` after they had come in good, ``never came`` of a delivery closed short.
    """

    state: State
    pieces: Fraction
    place: str = ""
    job: str = ""
    shipment: str = ""
    due: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PartPlaces:
    """All pieces of one part: ``places`` and ``ahead`` add up to ``at_start`` + all ``put_in`` + ``beyond``.

    ``put_in`` gives the pieces put in by job; those a rework job took over count once, with the job they came from.
    ``ahead`` are those not begun; ``again`` are wanted from a re-run and put in nowhere yet. ``beyond`` is what was
    used beyond all that ever came.
    """

    part: str
    name: str
    unit: str
    at_start: Fraction
    put_in: Mapping[str, int]
    beyond: Fraction
    places: tuple[PlaceRow, ...]
    ahead: tuple[PlaceRow, ...]
    again: tuple[PlaceRow, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Where:
    """The answer for one part, or for every part a job makes."""

    today: date
    asked: str
    parts: tuple[PartPlaces, ...]


_BY_KIND: Mapping[str, State] = {
    "on the way": "on the way", "made": "made", "rerun": "again", "rework": "in rework",
}  # fmt: skip
_AHEAD = ("ordered", "not ordered", "not begun", "no inputs")


def where(picture: Picture, asked: str) -> Where:
    """Where the pieces are of a part, or of all parts that a job makes."""
    plan = picture.plan
    job = None if asked in plan.part_by_code else plan.job_by_code[asked]
    codes = (asked,) if job is None else tuple(make.part for make in plan.makes_of(job))
    return Where(today=picture.today, asked=asked, parts=tuple(_places(picture, code) for code in codes))


def _places(picture: Picture, code: str) -> PartPlaces:
    demand = picture.forecast.network.exploded
    part = picture.plan.part_by_code[code]
    needs = [need for need in demand.jobs.values() if code in need.shares]
    counted = {need.job.code: _pieces_of(picture, need, code) for need in needs}
    gone = _called_off(demand, code)
    every: tuple[JobPieces | Delivery, ...] = (*counted.values(), *gone.values())
    good, unjudged = sum(one.good for one in every), sum(one.unjudged for one in every)
    used = used_up(picture, demand, code, part.here + good, unjudged)
    rows = [*_of_stock(picture, used), *_not_judged({**counted, **gone}, unjudged - used.unjudged)]
    for job, one in gone.items():
        rows.append(PlaceRow(state="scrapped", pieces=Fraction(one.scrap), job=job))
        place = picture.plan.job_by_code[job].supplier
        rows.append(PlaceRow(state="in rework", pieces=Fraction(one.rework), place=place, job=job))
    for need in needs:
        rows += _of_maker(picture, need, counted[need.job.code])
    rows = sorted((row for row in rows if row.pieces), key=lambda row: STATES.index(row.state))
    return PartPlaces(
        part=code,
        name=part.name,
        unit=part.unit,
        at_start=part.here,
        put_in={
            **{need.job.code: pieces for need in needs if (pieces := _put_in(need, counted, demand))},
            **{job: one.pieces for job, one in gone.items()},
        },
        beyond=used.beyond,
        places=tuple(row for row in rows if row.state not in (*_AHEAD, "again")),
        ahead=tuple(row for row in rows if row.state in _AHEAD),
        again=tuple(row for row in rows if row.state == "again"),
    )


def _pieces_of(picture: Picture, need: JobNeed, code: str) -> JobPieces:
    return next(one for one in job_pieces(picture, need.job.code) if one.part == code)


def _put_in(need: JobNeed, counted: Mapping[str, JobPieces], demand: Demand) -> int:
    """Pieces put in by a job; a rework job puts in only what it was not handed by the job it is for."""
    mine = counted[need.job.code]
    whole = max(mine.put_in or 0, mine.back + mine.still_open)
    if not need.job.rework_of or need.job.rework_of not in counted:
        return whole
    handed = _handed_over(counted[need.job.rework_of])
    for other in demand.jobs.values():
        if other is need:
            break
        if other.job.rework_of == need.job.rework_of and other.job.code in counted:
            handed -= counted[other.job.code].put_in or 0
    return max(0, whole - max(0, handed))


def _handed_over(pieces: JobPieces) -> int:
    """Rework pieces that jobs of their own took over."""
    returned = pieces.good + pieces.rework + pieces.scrap + pieces.unjudged - pieces.back
    return pieces.rework - returned - pieces.in_rework


def _of_stock(picture: Picture, used: Used) -> Iterator[PlaceRow]:
    """Good pieces: here, at work further on, used, posted and found bad."""
    yield PlaceRow(state="here", pieces=used.here)
    suppliers = {job.code: job.supplier for job in picture.plan.jobs}
    for job, pieces in used.drawn.items():
        yield PlaceRow(state="drawn", pieces=pieces, place=suppliers[job], job=job)
    for job, pieces in used.used.items():
        yield PlaceRow(state="used", pieces=pieces, job=job)
    for shipment, pieces in used.posted.items():
        yield PlaceRow(state="posted", pieces=pieces, shipment=shipment)
    for job, pieces in used.scrapped.items():
        yield PlaceRow(state="found bad", pieces=pieces, job=job)


def _called_off(demand: Demand, code: str) -> dict[str, Delivery]:
    """What came of a part from jobs called off since, added up by job."""
    found = {}
    for job, counted in demand.gone.items():
        came = [one for one in counted.deliveries if one.part == code]
        if came:
            found[job] = Delivery(
                day=came[-1].day,
                part=code,
                good=sum(one.good for one in came),
                rework=sum(one.rework for one in came),
                scrap=sum(one.scrap for one in came),
                unjudged=sum(one.unjudged for one in came),
            )
    return found


def _not_judged(counted: Mapping[str, JobPieces | Delivery], left: Fraction) -> Iterator[PlaceRow]:
    """Pieces counted but not looked at, less those used all the same."""
    for job, one in counted.items():
        pieces = min(Fraction(one.unjudged), left)
        left -= pieces
        yield PlaceRow(state="not judged", pieces=pieces, job=job)


def _of_maker(picture: Picture, need: JobNeed, one: JobPieces) -> Iterator[PlaceRow]:
    """What is not good and here of one maker's pieces, or not yet."""
    job = need.job
    yield PlaceRow(state="scrapped", pieces=Fraction(one.scrap), job=job.code)
    lots = list(_open_lots(picture, job, one))
    yield from lots
    still = sum((row.pieces for row in lots if row.state != "again"), Fraction(-one.in_rework))
    yield PlaceRow(state="no inputs", pieces=one.still_open - still, place=job.supplier, job=job.code)
    missing = (one.put_in or 0) - one.back - one.still_open
    yield PlaceRow(state="never came", pieces=Fraction(max(0, missing)), place=job.supplier, job=job.code)


def _open_lots(picture: Picture, job: Job, one: JobPieces) -> Iterator[PlaceRow]:
    forecast, network = picture.forecast, picture.forecast.network
    for place in forecast.lots_of(job.code):
        lot = network.lots[place]
        if lot is None or lot.kind == "received":
            continue
        pieces = lot.put_in(one.part)
        yield PlaceRow(
            state=_state(picture, place, job),
            pieces=Fraction(one.in_rework if lot.kind == "rework" else pieces),
            place=job.supplier,
            job=job.code,
            due=date.fromordinal(forecast.times.arrive[place]),
        )


def _state(picture: Picture, place: int, job: Job) -> State:
    lot = picture.forecast.network.lots[place]
    known = _BY_KIND.get("" if lot is None else lot.kind)
    if known is not None:
        return known
    if _at_work(picture, place, job):
        return "in rework" if job.rework_of else "in work"
    if is_to_order(picture, place):
        return "not ordered"
    return "not begun" if picture.plan.supplier_by_code[job.supplier].inhouse else "ordered"


def _at_work(picture: Picture, place: int, job: Job) -> bool:
    """Whether a lot has begun: its inputs are drawn, or where it takes none, something shows that it has."""
    network = picture.forecast.network
    if job.takes:
        stocks = (network.stocks[take.part] for take in job.takes)
        return any(draw.lot == place and draw.priority == HELD for stock in stocks for draw in stock.draws)
    progress = network.progress[place]
    return progress.started is not None or progress.seen is not None
