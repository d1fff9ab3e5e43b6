"""Pieces of one job as counted so far, and when the others come."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from tracker.plan.model import Job
from tracker.plan.progress import Progress, progress_of
from tracker.report.picture import Picture
from tracker.report.pieces import JobPieces, job_pieces


@dataclass(frozen=True, slots=True, kw_only=True)
class Coming:
    """Pieces of one lot still to come and the day they are here; ``silent`` where their date passed without news.

    ``kind`` is on the way, made, promised or to come.
    """

    pieces: int
    kind: str
    day: date
    silent: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class CountRow:
    """Pieces of a job so far, ``made`` where they are made; ``to_come`` here is None where no quantity was set."""

    job: str
    quantity: int | None
    good: int
    rework: int
    scrap: int
    unjudged: int
    made: int
    to_come: int | None
    closed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class PartCountRow(CountRow):
    """Pieces of a job that counts parts; ``part`` is the one meant of several it makes.

    ``back`` counts pieces put in that have come back, those reworked since only once, in so many ``deliveries``;
    at our own bench (``at_home``) what is made is here. ``coming`` has the lots of the order still to come, rework
    and re-runs not among them.
    """

    part: str
    back: int
    deliveries: int
    at_home: bool
    coming: tuple[Coming, ...]


def count_row(picture: Picture, code: str, part: str = "") -> CountRow:
    """The pieces of one job as counted so far; of one of the parts it makes where that is named."""
    job = picture.plan.job_by_code[code]
    progress = progress_of(picture.plan, job, picture.today)
    rows = job_pieces(picture, code)
    if rows:
        mine = [row for row in rows if part in ("", row.part)] or list(rows)
        return _of_parts(picture, job, mine, progress, is_one=1 == len(mine) < len(rows))
    return CountRow(
        job=code,
        quantity=job.quantity,
        good=progress.good,
        rework=progress.rework,
        scrap=progress.scrap,
        unjudged=progress.unjudged,
        made=progress.made_pieces,
        to_come=None if job.quantity is None else max(0, job.quantity - progress.received),
        closed=progress.done is not None,
    )


def _of_parts(
    picture: Picture, job: Job, rows: Sequence[JobPieces], progress: Progress, *, is_one: bool
) -> PartCountRow:
    """Of all its parts together, or of the one part meant."""
    demand = picture.forecast.network.exploded
    known = [row.put_in for row in rows if row.put_in is not None]
    parts, came = {row.part for row in rows}, demand.jobs[job.code].counted.deliveries
    at_home = picture.plan.supplier_by_code[job.supplier].inhouse
    return PartCountRow(
        job=job.code,
        quantity=sum(known) if len(known) == len(rows) else None,
        good=sum(row.good for row in rows),
        rework=sum(row.rework for row in rows),
        scrap=sum(row.scrap for row in rows),
        unjudged=sum(row.unjudged for row in rows),
        made=sum(row.good for row in rows) if at_home else progress.made_pieces,
        to_come=sum(row.still_open for row in rows),
        closed=progress.done is not None,
        part=rows[0].part if is_one else "",
        back=sum(row.back for row in rows),
        deliveries=sum(one.part in parts and one.pieces > 0 for one in came),
        at_home=at_home,
        coming=tuple(_coming(picture, job.code, parts)),
    )


def _coming(picture: Picture, code: str, parts: set[str]) -> Iterator[Coming]:
    """Open pieces of the order in the order they are worked, those of one kind and day together."""
    forecast = picture.forecast
    found: dict[tuple[str, int, bool], int] = {}
    for place in forecast.lots_of(code):
        lot = forecast.network.lots[place]
        if lot is None or lot.kind in ("received", "rework", "rerun"):
            continue
        pieces = sum(lot.put_in(part) for part in parts)
        key = (lot.kind, forecast.times.arrive[place], place in forecast.times.overdue)
        if pieces:
            found[key] = found.get(key, 0) + pieces
    for (kind, day, silent), pieces in found.items():
        yield Coming(pieces=pieces, kind=kind, day=date.fromordinal(day), silent=silent)
