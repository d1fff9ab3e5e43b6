"""What does not add up, by name: parts nobody makes, pieces used that never came, rework nobody takes, spares short."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import Literal

from tracker.plan.balance import Demand, amount, takes_for
from tracker.plan.parts import Part
from tracker.report.picture import Picture
from tracker.schedule.forecast import Forecast
from tracker.schedule.stock import Draw, Entry

ShortageKind = Literal["nobody makes", "used beyond", "rework waits", "spares wait", "spares short"]
ALARMS: tuple[ShortageKind, ...] = ("nobody makes", "used beyond")
"""Kinds that somebody has to put right; the others are only to be known."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shortage:
    """One thing that does not add up.

    - ``nobody makes``: shipments lack ``pieces``, ``shipment`` first; ``jobs`` would make it but are called off,
      ``came`` were here at the start.
    - ``used beyond``: ``jobs``, shipments among them, used ``used`` of it; only ``came`` came, by ``made_by``.
    - ``rework waits``: ``pieces`` of the one job in ``jobs`` go back without a date; counted as back on ``day``.
    - ``spares wait``: spares that are short until rework, of the job in ``jobs``, is back on ``day``.
    - ``spares short``: spares that nothing planned brings; they hold no shipment.
    """

    kind: ShortageKind
    part: str
    pieces: Fraction
    unit: str = ""
    jobs: tuple[str, ...] = ()
    made_by: tuple[str, ...] = ()
    shipment: str = ""
    day: date | None = None
    used: Fraction | None = None
    came: Fraction | None = None


def shortages(picture: Picture) -> tuple[Shortage, ...]:
    """All of them, those that hold shipments first, each kind in plan order."""
    demand = picture.forecast.network.demand
    if demand is None:
        return ()
    parts = picture.plan.parts
    return (
        *(row for part in parts for row in _nobody_makes(picture, demand, part)),
        *(row for part in parts for row in _used_beyond(demand, part)),
        *_rework_waits(picture, demand),
        *(row for part in parts for row in _spares(picture, demand, part)),
    )


def short_shipments(forecast: Forecast) -> frozenset[str]:
    """Shipments for which pieces are lacking that nobody makes, so that their dates stand for parcels short of them."""
    network = forecast.network
    if network.demand is None:
        return frozenset()
    lacking = (
        draw
        for part, need in network.demand.parts.items()
        if need.short
        for draw in _lacking(network.stocks[part].draws, network.demand)
    )
    return frozenset(forecast.plan.shipments[draw.priority].code for draw in lacking if draw.priority >= 0)


def _lacking(draws: Iterable[Draw], demand: Demand) -> list[Draw]:
    """Draws that are not covered, those of spares left out."""
    return [draw for draw in draws if draw.priority < demand.spare and draw.covered < draw.amount]


def _nobody_makes(picture: Picture, demand: Demand, part: Part) -> Iterator[Shortage]:
    need = demand.parts[part.code]
    if not need.short:
        return
    network = picture.forecast.network
    lacking = _lacking(network.stocks[part.code].draws, demand)
    first = min((draw.priority for draw in lacking if draw.priority >= 0), default=None)
    off = (job.code for job in picture.plan.makers_of[part.code] if job.code in network.left_out)
    yield Shortage(
        kind="nobody makes",
        part=part.code,
        pieces=Fraction(need.short),
        unit=part.unit,
        jobs=tuple(off),
        came=part.here,
        shipment="" if first is None else picture.plan.shipments[first].code,
    )


def _used_beyond(demand: Demand, part: Part) -> Iterator[Shortage]:
    need = demand.parts[part.code]
    if not need.unaccounted:
        return
    users = [
        one.job.code
        for one in demand.jobs.values()
        if any(
            amount(take.per, one.back[made], need.scale)
            for made in one.shares
            for take in takes_for(one.job, made)
            if take.part == part.code
        )
    ]
    users += [code for code, gone in demand.posted.items() if gone.get(part.code)]
    yield Shortage(
        kind="used beyond",
        part=part.code,
        pieces=Fraction(need.unaccounted, need.scale),
        unit=part.unit,
        jobs=tuple(users),
        made_by=tuple(one.job.code for one in demand.jobs.values() if part.code in one.shares),
        used=Fraction(need.counted, need.scale),
        came=Fraction(need.came, need.scale),
    )


def _rework_waits(picture: Picture, demand: Demand) -> Iterator[Shortage]:
    """Pieces that go round again in their own job, with no word when."""
    forecast = picture.forecast
    for code, need in demand.jobs.items():
        for place in forecast.lots_of(code):
            lot = forecast.network.lots[place]
            if lot is None or lot.kind != "rework" or lot.progress.promises:
                continue
            for part, pieces in need.in_rework.items():
                if pieces:
                    yield Shortage(
                        kind="rework waits",
                        part=part,
                        pieces=Fraction(pieces),
                        jobs=(code,),
                        day=date.fromordinal(forecast.times.arrive[place]),
                    )


def _spares(picture: Picture, demand: Demand, part: Part) -> Iterator[Shortage]:
    """Spares that wait for rework, and those nothing brings."""
    stock = picture.forecast.network.stocks[part.code]
    draws = [draw for draw in stock.draws if draw.priority == demand.spare]
    never = sum(draw.amount - draw.covered for draw in draws)
    if never:
        yield Shortage(
            kind="spares short", part=part.code, pieces=Fraction(never, stock.scale), unit=part.unit
        )
    reworked = [entry for entry in stock.entries if is_rework(picture, entry)]
    plain = sum(entry.amount for entry in stock.entries) - sum(entry.amount for entry in reworked)
    plain -= sum(draw.amount for draw in stock.draws if draw.priority < demand.spare)
    wanted = sum(draw.amount for draw in stock.draws if draw.priority == demand.spare)
    back = sum(entry.amount for entry in reworked) - max(0, -plain)
    waiting = min(wanted - max(0, plain), back)
    if waiting > 0:
        last = max(reworked, key=lambda entry: entry.arrive)
        yield Shortage(
            kind="spares wait",
            part=part.code,
            pieces=Fraction(waiting, stock.scale),
            unit=part.unit,
            jobs=(_job_of(picture, last),),
            day=date.fromordinal(last.arrive),
        )


def is_rework(picture: Picture, entry: Entry) -> bool:
    """Whether an entry brings pieces from rework that is not back yet."""
    if entry.lot is None:
        return False
    lot = picture.forecast.network.lots[entry.lot]
    return lot is not None and lot.goes_round


def _job_of(picture: Picture, entry: Entry) -> str:
    return "" if entry.lot is None else picture.forecast.network.jobs[entry.lot].code
