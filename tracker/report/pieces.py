"""Pieces as people count them: each part's balance, and each job's deliveries against what was put in.

Numbers are whole pieces; of a part measured in a unit they may be fractions.
"""

from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from tracker.plan.balance import JobNeed, PartNeed, put_in_for
from tracker.report.picture import Picture, day_or_none
from tracker.schedule.supply import HELD


@dataclass(frozen=True, slots=True, kw_only=True)
class PartRow:
    """One part's balance.

    ``needed`` is what shipments need of it in all, pieces used already among them; ``spares`` what is wanted
    beyond, ``for_spares`` with those of the parts it goes into. ``here`` is good stock now, ``drawn`` of it is at
    work in lots that have begun; ``used`` is what went into pieces further on, was posted or scrapped later
    (``scrapped`` of it). ``to_come`` is what open lots and rework should bring, ``again`` what of it a re-run
    must bring. ``to_spare`` is what is left beyond orders and spares (negative: so many spares are short).
    ``lacking`` is what shipments lack without a re-run, ``nobody_makes`` what of it nobody in the run can make;
    ``unaccounted`` what was used beyond all that ever came.
    """

    code: str
    name: str
    public_name: str
    unit: str
    needed: Fraction
    spares: int
    for_spares: Fraction
    here: Fraction
    drawn: Fraction
    used: Fraction
    scrapped: Fraction
    to_come: Fraction
    again: Fraction
    to_spare: Fraction
    lacking: int
    nobody_makes: int
    unaccounted: Fraction
    made_by: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class JobPieces:
    """One job's pieces of one part it makes (``""`` for a job that makes nothing).

    ``put_in`` is None while nothing says how many; ``decided`` tells that the need set it. ``back`` counts pieces
    put in that have come back, ``rework`` all that came to go back, ``in_rework`` those still out in this job
    (``reworked_by`` names the jobs that took the others). ``still_open`` have not come, ``expected`` good pieces
    come of all that is open, ``again`` are to be put in for a re-run.
    """

    job: str
    part: str
    put_in: int | None
    decided: bool
    back: int
    good: int
    rework: int
    scrap: int
    unjudged: int
    in_rework: int
    reworked_by: tuple[str, ...]
    still_open: int
    expected: int
    again: int


@dataclass(frozen=True, slots=True, kw_only=True)
class LotPieces:
    """One lot of a job: its pieces and its own dates, floats and holders' shipments.

    ``kind`` is received, on the way, made, promised, to come, rework or rerun. Dates are None for pieces that
    are not made because their inputs never come.
    """

    number: int
    kind: str
    pieces: int
    good: int
    rework: int
    scrap: int
    unjudged: int
    ref: str
    start: date | None
    finish: date | None
    arrives: date | None
    harmless_until: date | None
    spare_days: int | None
    for_shipments: tuple[str, ...]


def part_row(picture: Picture, code: str) -> PartRow:
    """The balance of one part of a plan that counts pieces."""
    need, spare = _part_need(picture, code), len(picture.plan.shipments)
    scale = need.scale
    draws = picture.forecast.network.stocks[code].draws
    needed = sum(draw.amount for draw in draws if draw.priority < spare) + need.unaccounted
    spares = sum(draw.amount for draw in draws if draw.priority == spare)
    to_come, again = _still_to_come(picture, code)
    part = picture.plan.part_by_code[code]
    return PartRow(
        code=code,
        name=part.name,
        public_name=part.public_name,
        unit=part.unit,
        needed=Fraction(needed, scale),
        spares=part.spares,
        for_spares=Fraction(spares, scale),
        here=Fraction(max(0, need.came - need.counted), scale),
        drawn=Fraction(min(max(0, need.came - need.counted), _held(picture, code)), scale),
        used=Fraction(need.counted, scale),
        scrapped=Fraction(need.scrapped, scale),
        to_come=Fraction(to_come),
        again=Fraction(again),
        to_spare=Fraction(need.came - needed - spares, scale) + to_come,
        lacking=need.lacking,
        nobody_makes=need.short,
        unaccounted=Fraction(need.unaccounted, scale),
        made_by=tuple(one.job.code for one in _makers(picture, code)),
    )


def job_pieces(picture: Picture, code: str) -> tuple[JobPieces, ...]:
    """A job's pieces, one row for each part it makes; empty for a job that counts none or is out of the run."""
    demand = picture.forecast.network.demand
    need = None if demand is None else demand.jobs.get(code)
    return () if need is None else tuple(_job_row(picture, need, part) for part in need.shares)


def _job_row(picture: Picture, need: JobNeed, part: str) -> JobPieces:
    came = [one for one in need.counted.deliveries if one.part == part]
    still_open = put_in_for(need.remaining, part)
    again = put_in_for(need.rerun, part)
    lots = [picture.forecast.network.lots[lot] for lot in picture.forecast.lots_of(need.job.code)]
    expected = sum(lot.good.get(part, 0) for lot in lots if lot is not None and lot.kind != "received")
    share = need.shares[part]
    return JobPieces(
        job=need.job.code,
        part=part,
        put_in=need.back[part] + still_open if share is None and need.decided else share,
        decided=need.decided and share is None,
        back=need.back[part],
        good=need.good[part],
        rework=sum(one.rework for one in came),
        scrap=sum(one.scrap for one in came),
        unjudged=sum(one.unjudged for one in came),
        in_rework=need.in_rework[part],
        reworked_by=tuple(job.code for job in picture.plan.jobs if job.rework_of == need.job.code),
        still_open=still_open,
        expected=expected,
        again=again,
    )


def lot_rows(picture: Picture, code: str) -> tuple[LotPieces, ...]:
    """A job's lots: those that came first, then the others in the order they are worked."""
    forecast = picture.forecast
    return tuple(
        _lot_row(picture, place, number) for number, place in enumerate(forecast.lots_of(code), start=1)
    )


def _lot_row(picture: Picture, place: int, number: int) -> LotPieces:
    forecast, network = picture.forecast, picture.forecast.network
    lot, slack = network.lots[place], forecast.slack(place)
    came = None if lot is None else lot.delivery
    limits = forecast.limits_by_shipment
    return LotPieces(
        number=number,
        kind="to come" if lot is None else lot.kind,
        pieces=0 if lot is None else lot.pieces,
        good=0 if lot is None else came.good if came else sum(lot.good.values()),
        rework=came.rework if came else 0,
        scrap=came.scrap if came else 0,
        unjudged=came.unjudged if came else 0,
        ref=came.ref if came else "",
        start=date.fromordinal(forecast.times.start[place]),
        finish=date.fromordinal(forecast.times.finish[place]),
        arrives=date.fromordinal(forecast.times.arrive[place]),
        harmless_until=day_or_none(slack.harmless_until if slack else None),
        spare_days=slack.spare_days if slack else None,
        for_shipments=tuple(one for one in limits if forecast.slack(place, one) is not None),
    )


def _part_need(picture: Picture, code: str) -> PartNeed:
    demand = picture.forecast.network.exploded
    return demand.parts[code]


def _held(picture: Picture, code: str) -> int:
    """What lots that have begun draw of the part, on its grid."""
    draws = picture.forecast.network.stocks[code].draws
    return sum(draw.amount for draw in draws if draw.priority == HELD)


def _makers(picture: Picture, code: str) -> list[JobNeed]:
    demand = picture.forecast.network.exploded
    return [need for need in demand.jobs.values() if code in need.shares]


def _still_to_come(picture: Picture, part: str) -> tuple[int, int]:
    """Good pieces expected of all lots that have not come, and of re-runs among them."""
    lots = [lot for lot in picture.forecast.network.lots if lot is not None and lot.kind != "received"]
    again = sum(lot.good.get(part, 0) for lot in lots if lot.kind == "rerun")
    return sum(lot.good.get(part, 0) for lot in lots), again
