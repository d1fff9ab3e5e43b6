"""What became of the good pieces of a part: here, drawn, used, posted, or found bad later."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from tracker.plan.balance import Demand, amount, takes_for
from tracker.plan.model import Job
from tracker.report.picture import Picture
from tracker.schedule.supply import HELD


@dataclass(frozen=True, slots=True, kw_only=True)
class Used:
    """Good pieces of one part by what became of them.

    ``drawn`` are at work in lots of a job that have begun, ``used`` went into pieces of a job that came back,
    ``posted`` went with a shipment, ``scrapped`` were found bad at a job (``""`` where none was named). ``unjudged``
    of them had been counted without being looked at, ``beyond`` never came.
    """

    here: Fraction
    drawn: Mapping[str, Fraction]
    used: Mapping[str, Fraction]
    posted: Mapping[str, Fraction]
    scrapped: Mapping[str, Fraction]
    unjudged: Fraction
    beyond: Fraction


def used_up(picture: Picture, demand: Demand, code: str, good: Fraction, unjudged: int) -> Used:
    """Sort ``good`` pieces by what became of them; where more was used, those not judged were among them.

    Lots that have begun without all they take have drawn what there was.
    """
    used = dict(_used_by(demand, picture.plan.job_by_code, code))
    posted = {shipment: Fraction(gone[code]) for shipment, gone in demand.posted.items() if gone.get(code)}
    scrapped = _found_bad(picture, code)
    left = good - sum(used.values()) - sum(posted.values()) - sum(scrapped.values())
    of_unjudged = min(Fraction(unjudged), max(Fraction(0), -left))
    left += of_unjudged
    beyond = max(Fraction(0), -left)
    left = max(Fraction(0), left)
    drawn = {}
    for job, wanted in _drawn_by(picture, code):
        drawn[job] = min(wanted, left)
        left -= drawn[job]
    return Used(
        here=left,
        drawn=drawn,
        used=used,
        posted=posted,
        scrapped=scrapped,
        unjudged=of_unjudged,
        beyond=beyond,
    )


def _used_by(demand: Demand, jobs: Mapping[str, Job], code: str) -> Iterable[tuple[str, Fraction]]:
    """What went into pieces further on that came, those of jobs called off since among them."""
    scale = demand.parts[code].scale
    for job, need in demand.jobs.items():
        total = sum(
            amount(take.per, need.back[made], scale)
            for made in need.shares
            for take in takes_for(need.job, made)
            if take.part == code
        )
        if total:
            yield job, Fraction(total, scale)
    for job, counted in demand.gone.items():
        came = [
            (one.pieces, take.per)
            for one in counted.deliveries
            for take in takes_for(jobs[job], one.part)
            if take.part == code
        ]
        if came:
            yield job, Fraction(sum(amount(per, pieces, scale) for pieces, per in came), scale)


def _drawn_by(picture: Picture, code: str) -> Iterable[tuple[str, Fraction]]:
    """What lots that have begun have drawn, by job in the order they draw."""
    network = picture.forecast.network
    stock = network.stocks[code]
    found: dict[str, int] = {}
    for draw in stock.draws:
        if draw.priority == HELD and draw.lot is not None:
            job = network.jobs[draw.lot].code
            found[job] = found.get(job, 0) + draw.amount
    return ((job, Fraction(number, stock.scale)) for job, number in found.items())


def _found_bad(picture: Picture, code: str) -> Mapping[str, Fraction]:
    found: dict[str, Fraction] = {}
    for fact in picture.plan.facts:
        if fact.kind == "scrapped" and fact.part == code and fact.on <= picture.today:
            found[fact.job] = found.get(fact.job, Fraction(0)) + (fact.scrap or 0)
    return found
