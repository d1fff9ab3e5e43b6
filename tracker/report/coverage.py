"""Whether what is here and to come covers what is needed of a part: to spare, short, or covered once rework is back."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from typing import Literal

from tracker.plan.balance import Demand
from tracker.plan.model import Fact, Plan
from tracker.report.ordering import OrderRow, order_rows
from tracker.report.picture import Picture
from tracker.report.pieces import PartRow, part_row
from tracker.report.shortages import ALARMS, Shortage, is_rework, shortages
from tracker.schedule.stock import Entry

Verdict = Literal["covered", "after rework", "spares after rework", "spares short", "again", "nobody makes"]
_COUNTS = ("in", "made", "sorted", "scrapped", "called_off")


@dataclass(frozen=True, slots=True, kw_only=True)
class Coverage:
    """One part's balance as a verdict.

    ``needed`` counts shipments and spares, pieces used already and ``scrapped`` later among them.

    - ``covered``: ``to_spare`` beyond all of it.
    - ``after rework``: shipments are covered once rework, of ``jobs``, is back on ``day``; ``spares after rework``:
      shipments are, ``short`` spares not until then; ``spares short``: so many spares that nothing planned brings.
    - ``again``: ``short`` for ``shipment``; ``order`` is what covers them.
    - ``nobody makes``: ``short`` for ``shipment``, and nobody in the run can make them.

    ``aside`` marks parts that an answer does not speak of first: what was logged makes others short, too.
    """

    verdict: Verdict
    part: str
    unit: str
    needed: Fraction
    scrapped: Fraction
    to_spare: Fraction
    short: Fraction = Fraction(0)
    shipment: str = ""
    jobs: tuple[str, ...] = ()
    day: date | None = None
    order: OrderRow | None = None
    aside: bool = False


def coverage_after(
    before: Picture | None, after: Picture, facts: Iterable[Fact], edited: Iterable[str] = ()
) -> tuple[Coverage, ...]:
    """Parts that facts or ``edited`` rework jobs speak of, then those that lack more or fewer pieces than before.

    Those are aside of what was logged; where nothing was, they are what an edit or an undoing did.
    """
    facts = tuple(facts)
    plan, demand = after.plan, after.forecast.network.demand
    if demand is None:
        return ()
    jobs = [plan.job_by_code[code] for code in edited if code in plan.job_by_code]
    mended = [make.part for job in jobs if job.rework_of for make in plan.makes_of(job)]
    meant = dict.fromkeys((*(part for fact in facts for part in _parts_of(plan, fact)), *mended))
    earlier = None if before is None else before.forecast.network.demand
    others = [code for code in demand.parts if code not in meant and _lacks_otherwise(earlier, demand, code)]
    rows = ((coverage_of(after, code), code in meant) for code in (*meant, *others))
    return tuple(
        replace(row, aside=bool(facts) and not is_meant) for row, is_meant in rows if row is not None
    )


def _parts_of(plan: Plan, fact: Fact) -> tuple[str, ...]:
    says_how_many = (fact.kind == "promised" and fact.good) or (fact.kind == "ordered" and fact.quantity)
    if fact.kind not in _COUNTS and not says_how_many:
        return ()
    if fact.part:
        return (fact.part,)
    job = plan.job_by_code.get(fact.job)
    return () if job is None else tuple(make.part for make in plan.makes_of(job))


def _lacks_otherwise(earlier: Demand | None, demand: Demand, code: str) -> bool:
    known = None if earlier is None else earlier.parts.get(code)
    return known is not None and known.lacking != demand.parts[code].lacking


def coverage_of(picture: Picture, code: str) -> Coverage | None:
    """The verdict on one part of a plan that counts pieces; None where nobody needs any."""
    row = part_row(picture, code)
    needed = row.needed + row.for_spares
    plain = Coverage(
        verdict="covered",
        part=code,
        unit=row.unit,
        needed=needed,
        scrapped=row.scrapped,
        to_spare=row.to_spare,
    )
    return next(_verdicts(picture, row, plain), plain) if needed else None


def _verdicts(picture: Picture, row: PartRow, plain: Coverage) -> Iterator[Coverage]:
    """What keeps the part from being covered, the worst first."""
    mine = [one for one in shortages(picture) if one.part == row.code]
    for one in mine:
        if one.kind == "nobody makes":
            yield replace(plain, verdict="nobody makes", short=one.pieces, shipment=one.shipment)
    if row.lacking:
        yield replace(
            plain,
            verdict="again",
            short=Fraction(row.lacking),
            shipment=_first_short(picture, row.code),
            order=_order_for(picture, row.code),
        )
    back = _reworked(picture, row.code)
    if back and _short_without(picture, row.code, back):
        jobs = dict.fromkeys(
            picture.forecast.network.jobs[one.lot].code for one in back if one.lot is not None
        )
        day = date.fromordinal(max(one.arrive for one in back))
        yield replace(plain, verdict="after rework", jobs=tuple(jobs), day=day)
    for one in mine:
        if one.kind == "spares wait":
            yield replace(plain, verdict="spares after rework", short=one.pieces, jobs=one.jobs, day=one.day)
        if one.kind == "spares short":
            yield replace(plain, verdict="spares short", short=one.pieces)


def _first_short(picture: Picture, code: str) -> str:
    """The first shipment for which the part must be made again; none where pieces used already are."""
    demand = picture.forecast.network.exploded
    places = [priority for need in demand.jobs.values() for priority, part, _ in need.rerun if part == code]
    first = min(places, default=demand.spare)
    return picture.plan.shipments[first].code if 0 <= first < demand.spare else ""


def _order_for(picture: Picture, code: str) -> OrderRow | None:
    rows = (one for one in order_rows(picture) if one.part == code)
    return next((one for one in rows if one.again is not None or one.planned is not None), None)


def _reworked(picture: Picture, code: str) -> list[Entry]:
    return [one for one in picture.forecast.network.stocks[code].entries if is_rework(picture, one)]


def _short_without(picture: Picture, code: str, back: Sequence[Entry]) -> bool:
    """Whether shipments lack pieces until rework is back."""
    stock, demand = picture.forecast.network.stocks[code], picture.forecast.network.demand
    spare = 0 if demand is None else demand.spare
    plain = sum(one.amount for one in stock.entries) - sum(one.amount for one in back)
    return plain < sum(draw.amount for draw in stock.draws if draw.priority < spare)


def problems(picture: Picture) -> tuple[Shortage, ...]:
    """What does not add up and somebody has to put right."""
    return tuple(one for one in shortages(picture) if one.kind in ALARMS)


def new_problems(before: Picture | None, after: Picture) -> tuple[Shortage, ...]:
    """Those that were not there before, or stood otherwise."""
    known = () if before is None else problems(before)
    return tuple(one for one in problems(after) if one not in known)


def rework_waiting(picture: Picture, facts: Iterable[Fact]) -> tuple[Shortage, ...]:
    """Rework without a date of the jobs that facts brought some of."""
    jobs = {fact.job for fact in facts if fact.kind in ("in", "sorted") and fact.rework}
    found = shortages(picture) if jobs else ()
    return tuple(one for one in found if one.kind == "rework waits" and jobs.intersection(one.jobs))
