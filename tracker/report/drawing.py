"""What a job draws of the parts it takes: from which jobs, and when it is all here."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from tracker.plan.model import Job
from tracker.report.picture import Picture
from tracker.schedule.stock import Draw, Entry, Stock


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnPart:
    """A part a job takes: ``jobs`` bring what it draws, ``from_stock`` tells that some was here at the start.

    ``day`` is when all of it is here, None where some never comes; ``done`` whether it is all here.
    """

    part: str
    jobs: tuple[str, ...]
    from_stock: bool
    day: date | None
    done: bool
    short: Fraction


def drawn_parts(picture: Picture, job: Job) -> tuple[DrawnPart, ...]:
    """The parts a job takes, as drawn in the forecast; none for a job that takes none or is out of the run."""
    parts = dict.fromkeys(take.part for take in job.takes)
    if not parts or picture.forecast.network.demand is None:
        return ()
    return tuple(drawn for part in parts if (drawn := _drawn(picture, job, part)) is not None)


def brought_for(picture: Picture, shipment: str, part: str) -> tuple[str, ...]:
    """The jobs whose pieces of a part go into a shipment, as drawn in the forecast."""
    stock = picture.forecast.network.stocks[part]
    draws = [draw for draw in stock.draws if draw.lot is None and draw.name == shipment]
    return _makers(picture, _sources(stock, draws))


def _drawn(picture: Picture, job: Job, part: str) -> DrawnPart | None:
    forecast = picture.forecast
    stock, lots = forecast.network.stocks[part], set(forecast.lots_of(job.code))
    draws = [draw for draw in stock.draws if draw.lot in lots]
    if not draws:
        return None
    entries = _sources(stock, draws)
    short = sum(draw.amount - draw.covered for draw in draws)
    return DrawnPart(
        part=part,
        jobs=_makers(picture, entries),
        from_stock=any(entry.lot is None for entry in entries),
        day=None if short or not entries else date.fromordinal(max(entry.arrive for entry in entries)),
        done=not short
        and not any(entry.lot is not None and forecast.is_open(entry.lot) for entry in entries),
        short=Fraction(short, stock.scale),
    )


def _sources(stock: Stock, draws: Iterable[Draw]) -> list[Entry]:
    return list(dict.fromkeys(entry for draw in draws for entry in stock.sources(draw)))


def _makers(picture: Picture, entries: Iterable[Entry]) -> tuple[str, ...]:
    """Who brought them, in plan order."""
    jobs = picture.forecast.network.jobs
    codes = {jobs[entry.lot].code for entry in entries if entry.lot is not None}
    return tuple(job.code for job in picture.plan.jobs if job.code in codes)
