"""Sharing the demand for one part out among its makers: open quantity first, then a re-run for what is lacking."""

from collections.abc import Mapping, Sequence

from tracker.plan.balance import Demand, JobNeed, Pieces, good_of, pieces_for, rounded_up, segments_for
from tracker.plan.model import Plan

Makers = Mapping[str, Sequence[JobNeed]]


def makers_by_part(plan: Plan, demand: Demand) -> Makers:
    """Jobs still in the run by the part they make: those that serve an earlier shipment first, then plan order."""
    place = {shipment.code: n for n, shipment in enumerate(plan.shipments)}
    last = len(place)

    def first_served(need: JobNeed) -> int:
        return min((place.get(code, last) for code in need.job.serves), default=last)

    found: dict[str, list[JobNeed]] = {code: [] for code in demand.parts}
    for job in plan.jobs:
        need = demand.jobs.get(job.code)
        if need is not None:
            for part in need.shares:
                if part:
                    found[part].append(need)
    for needs in found.values():
        needs.sort(key=first_served)
    return found


def settle_part(
    plan: Plan, demand: Demand, makers: Makers, part: str, closed: Mapping[str, int], begun: frozenset[str]
) -> None:
    """Share out the demand for a part, once all who take it have asked for theirs.

    What is here and expected back from rework goes first, then the open quantity of its makers in turn; the
    first of them without a quantity makes all the rest. Else the rest is a re-run.
    """
    wanted = demand.parts[part].still_wanted()
    decided = None
    for need in makers[part]:
        if need.job.code in closed:
            continue
        if need.shares[part] is None:
            decided = decided or need
        else:
            wanted = _from_open(demand, need, part, wanted)
    if decided is not None:
        _decide(plan, demand, decided, part, wanted, is_ordered=decided.job.code in begun)
    else:
        _make_again(plan, demand, makers[part], part, wanted)


def _from_open(demand: Demand, need: JobNeed, part: str, wanted: Pieces) -> Pieces:
    """Give a job's open pieces to the demand in order; what is left of that is returned."""
    room = max(0, (need.shares[part] or 0) - need.back[part])
    balance = demand.parts[part]
    balance.expected += good_of(room, need.job) * balance.scale
    given, left = segments_for(need.job, part, wanted, room)
    rest = room - sum(pieces for _, _, pieces in given)
    if rest:
        given.append((demand.surplus, part, rest))
    need.remaining = sorted((*need.remaining, *given), key=lambda segment: segment[0])
    return left


def _decide(
    plan: Plan, demand: Demand, need: JobNeed, part: str, wanted: Pieces, *, is_ordered: bool
) -> None:
    """The need decides the quantity, rounded up for an order that has not gone out."""
    put_in = pieces_for(sum(number for _, number in wanted), need.job)
    total = put_in if is_ordered else rounded_up(plan.part_by_code[part], put_in)
    given, _ = segments_for(need.job, part, wanted, None)
    need.decided = True
    if total > put_in:
        given.append((demand.surplus, part, total - put_in))
    need.remaining = given
    balance = demand.parts[part]
    balance.expected += good_of(total, need.job) * balance.scale


def _make_again(plan: Plan, demand: Demand, makers: Sequence[JobNeed], part: str, wanted: Pieces) -> None:
    """What no open quantity covers: a re-run for shipments, never for spares."""
    balance = demand.parts[part]
    shipments = [(priority, number) for priority, number in wanted if priority < demand.spare]
    balance.spares_short = sum(number for priority, number in wanted if priority == demand.spare)
    lacking = balance.lacking = sum(number for _, number in shipments)
    if not lacking:
        return
    able = [need for need in makers if not need.job.rework_of]
    if not able:
        balance.short = lacking
        return
    need = next((one for one in able if one.job.rerun), able[-1])
    put_in = pieces_for(lacking, need.job)
    total = rounded_up(plan.part_by_code[part], put_in)
    given, _ = segments_for(need.job, part, shipments, None)
    if total > put_in:
        given.append((demand.surplus, part, total - put_in))
    need.rerun = [*need.rerun, *given]
    balance.expected += good_of(total, need.job) * balance.scale
