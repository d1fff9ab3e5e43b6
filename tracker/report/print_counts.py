"""Printed lots whose count may differ from what was ordered: what may come, and whether the least still does."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from tracker.plan.balance import Demand, JobNeed, Segment, pieces_for, rounded_up
from tracker.report.picture import Picture


@dataclass(frozen=True, slots=True, kw_only=True)
class CountRange:
    """How many pieces may come of ``quantity`` put in.

    ``needed`` of them are for shipments, ``spares`` for spares. ``short`` is what shipments lack at the ``least``
    count, ``spares_short`` what spares lack then. ``order`` is the quantity whose least count, ``order_least``,
    covers shipments and spares; both are None where shipments lack nothing.
    """

    job: str
    supplier: str
    part: str
    quantity: int
    least: int
    most: int
    needed: int
    spares: int
    short: int
    spares_short: int
    order: int | None
    order_least: int | None


def count_ranges(picture: Picture) -> tuple[CountRange, ...]:
    """All open jobs whose count may differ, in plan order."""
    demand = picture.forecast.network.demand
    if demand is None:
        return ()
    return tuple(row for need in demand.jobs.values() for row in _ranges(picture, demand, need))


def least_count(quantity: int, unders: Fraction) -> int:
    """The fewest pieces that may come, rounded down.

    Examples
    --------
    >>> least_count(250, Fraction(1, 10)), least_count(245, Fraction(1, 10))
    (225, 220)
    """
    return int(quantity * (1 - unders))


def _ranges(picture: Picture, demand: Demand, need: JobNeed) -> Iterator[CountRange]:
    if not (need.job.unders or need.job.overs):
        return
    for part, share in need.shares.items():
        still_open = _by_priority(need.remaining, part, demand)
        if any(still_open):
            firm, loose, over = still_open
            quantity = need.back[part] + firm + loose + over if share is None else share
            needed = need.back[part] + firm + sum(_by_priority(need.rerun, part, demand)[:1])
            short = demand.parts[part].spares_short if part else 0
            yield _range(picture, need, part, quantity, (needed, loose + pieces_for(short, need.job)))


def _by_priority(segments: Sequence[Segment], part: str, demand: Demand) -> tuple[int, int, int]:
    """Pieces put in of one part for shipments, for spares and for nobody."""
    mine = [(priority, pieces) for priority, one, pieces in segments if one == part]
    firm = sum(pieces for priority, pieces in mine if priority < demand.spare)
    loose = sum(pieces for priority, pieces in mine if priority == demand.spare)
    return firm, loose, sum(pieces for _, pieces in mine) - firm - loose


def _range(picture: Picture, need: JobNeed, part: str, quantity: int, wanted: tuple[int, int]) -> CountRange:
    job, (firm, loose) = need.job, wanted
    least = max(least_count(quantity, job.unders), need.back[part])
    short, spares_short = max(0, firm - least), min(loose, max(0, firm + loose - least))
    order = _covering(picture, need, part, firm + loose) if short else None
    return CountRange(
        job=job.code,
        supplier=job.supplier,
        part=part,
        quantity=quantity,
        least=least,
        most=-int(-quantity * (1 + job.overs) // 1),
        needed=firm,
        spares=loose,
        short=short,
        spares_short=spares_short,
        order=order,
        order_least=None if order is None else least_count(order, job.unders),
    )


def _covering(picture: Picture, need: JobNeed, part: str, wanted: int) -> int:
    """The quantity to order so that at least so many come: MOQ and multiple of the part count."""
    pieces = -(-wanted // (1 - need.job.unders))
    known = picture.plan.part_by_code.get(part)
    return pieces if known is None else rounded_up(known, pieces)
