"""The requirement explosion: from shipments down through takes to what each job has to put in, and for whom."""

from collections.abc import Mapping, Sequence
from datetime import date
from math import lcm

from tracker.plan.balance import Demand, JobNeed, PartNeed, amount, good_of, takes_for
from tracker.plan.counts import Counted, pieces_scrapped_later, shares_of
from tracker.plan.model import Job, Plan
from tracker.plan.sharing import Makers, makers_by_part, settle_part


def explode(
    plan: Plan,
    today: date,
    order: Sequence[Job],
    counted: Mapping[str, Counted] | None,
    closed: Mapping[str, int],
    begun: frozenset[str],
    gone: Mapping[str, Counted],
) -> Demand:
    """Work out what every job still in the run has to put in.

    Parameters
    ----------
    order : sequence of Job
        The jobs still in the run, each after all it waits for and takes from.
    counted : mapping, optional
        Pieces logged by job; None for a plan looked at without its facts.
    closed : mapping
        Jobs that are done, with the pieces that had come by then: what they still lack is a re-run.
    begun : frozenset of str
        Jobs whose open pieces already hold their inputs.
    gone : mapping
        Pieces that came from jobs called off since: they stay in stock.

    Notes
    -----
    Pieces scrapped downstream raise the need upstream, since what went into them counts as used. Spares are
    met last and never by a re-run.
    """
    demand = _laid_out(plan, today, order, counted)
    demand.gone = gone
    _keep_what_came(plan, demand)
    reworked = _sent_to_rework(demand)
    for job in order:
        if job.code in demand.jobs:
            _book_counts(plan, demand, demand.jobs[job.code], reworked, closed.get(job.code))
    _ask_for_shipments(plan, demand)
    makers = makers_by_part(plan, demand)
    waited = _waited_for(plan, order)
    settled: set[str] = set()
    for job in reversed(order):
        need = demand.jobs.get(job.code)
        if need is None:
            continue
        for part in need.shares:
            if part and part not in settled:
                settled.add(part)
                settle_part(plan, demand, makers, part, closed, begun)
        _pass_on(demand, need, waited.get(job.code, demand.surplus), closed, begun)
    _settle_the_rest(plan, demand, makers, settled, closed, begun)
    return demand


def _laid_out(plan: Plan, today: date, order: Sequence[Job], counted: Mapping[str, Counted] | None) -> Demand:
    spare = len(plan.shipments)
    demand = Demand(
        parts={part.code: PartNeed(part=part.code) for part in plan.parts},
        jobs={},
        spare=spare,
        surplus=spare + 1,
        posted={} if counted is None else _posted(plan, today),
        gone={},
    )
    for job in order:
        if job.counts_pieces:
            shares = shares_of(plan, job, as_planned=counted is None)
            known = Counted(quantity=None) if counted is None else counted[job.code]
            demand.jobs[job.code] = JobNeed(job=job, counted=known, shares=shares)
            for take in job.takes:
                need = demand.parts[take.part]
                need.scale = lcm(need.scale, take.per.denominator)
    scrapped = {} if counted is None else pieces_scrapped_later(plan, today)
    for part in plan.parts:
        need = demand.parts[part.code]
        need.scale = lcm(need.scale, part.here.denominator)
        need.came = int(part.here * need.scale)
        need.want(spare, part.spares * need.scale)
        lost = scrapped.get(part.code, 0) * need.scale
        need.scrapped = lost
        need.used += lost
        need.counted += lost
    return demand


def _keep_what_came(plan: Plan, demand: Demand) -> None:
    """What came of a job before it was called off is here, and what went into it is used."""
    for code, counted in demand.gone.items():
        job = plan.job_by_code[code]
        for one in counted.deliveries:
            if one.part:
                balance = demand.parts[one.part]
                balance.came += (one.good + good_of(one.unjudged, job)) * balance.scale
            for take in takes_for(job, one.part):
                other = demand.parts[take.part]
                used = amount(take.per, one.pieces, other.scale)
                other.used += used
                other.counted += used


def _book_counts(
    plan: Plan, demand: Demand, need: JobNeed, reworked: Mapping[tuple[str, str], int], whole: int | None
) -> None:
    """Book what came of a job and what that used of its inputs; those it takes from were booked before.

    Pieces beyond the share, or where there is none beyond the ``whole`` of a job that is done, are back from rework.
    """
    job = need.job
    for part, share in need.shares.items():
        came = need.counted.came_of(part)
        received = sum(one.pieces for one in came)
        rework = sum(one.rework for one in came)
        returned = need.counted.back_from_rework(part, share, whole)
        need.back[part] = received - returned
        need.good[part] = sum(one.good for one in came)
        need.in_rework[part] = max(0, rework - reworked.get((job.code, part), 0) - returned)
        need.rework_good[part] = good_of(need.in_rework[part], job)
        if whole is not None and need.counted.rest_good is not None:
            rest = _uncounted(plan, demand, need, part)
            need.good[part] += rest
            need.back[part] += rest
        for take in takes_for(job, part):
            other = demand.parts[take.part]
            used = amount(take.per, need.back[part], other.scale)
            other.used += used
            other.counted += used
        if part:
            balance = demand.parts[part]
            unjudged = good_of(sum(one.unjudged for one in came), job)
            balance.came += (need.good[part] + unjudged) * balance.scale
            balance.expected += need.rework_good[part] * balance.scale


def _sent_to_rework(demand: Demand) -> Mapping[tuple[str, str], int]:
    """Pieces that went to rework jobs of their own, by the job they came from and part."""
    found: dict[tuple[str, str], int] = {}
    for other in demand.jobs.values():
        if other.job.rework_of:
            for part, share in other.shares.items():
                key = (other.job.rework_of, part)
                found[key] = found.get(key, 0) + (share or 0)
    return found


def _uncounted(plan: Plan, demand: Demand, need: JobNeed, part: str) -> int:
    """Pieces of a job finished without a count: what was put in, as far as its inputs had come."""
    share = need.shares[part]
    put_in = plan.run.quantity if share is None else share
    rest = max(0, put_in - need.back[part])
    for take in takes_for(need.job, part):
        other = demand.parts[take.part]
        rest = min(rest, max(0, other.came - other.counted) // amount(take.per, 1, other.scale))
    return rest


def _ask_for_shipments(plan: Plan, demand: Demand) -> None:
    for priority, shipment in enumerate(plan.shipments):
        gone = demand.posted.get(shipment.code, {})
        for content in shipment.contents:
            need = demand.parts[content.part]
            posted = min(content.quantity, gone.get(content.part, 0)) * need.scale
            need.used += posted
            need.counted += posted
            need.want(priority, content.quantity * need.scale - posted)


def _pass_on(
    demand: Demand, need: JobNeed, waited: int, closed: Mapping[str, int], begun: frozenset[str]
) -> None:
    """Ask the parts a job takes for what it still has to put in.

    A job whose pieces nobody asks for is needed by what waits for it, if anything does.
    """
    code = need.job.code
    if "" in need.shares and code not in closed:
        left = (need.shares[""] or 0) - need.back[""]
        need.remaining = [(waited, "", left)] if left > 0 else []
    if all(priority == demand.surplus for priority, _, _ in need.remaining):
        need.remaining = [(waited, part, pieces) for _, part, pieces in need.remaining]
    for segments, is_used in ((need.remaining, code in begun), (need.rerun, False)):
        for priority, part, pieces in segments:
            for take in takes_for(need.job, part):
                other = demand.parts[take.part]
                drawn = amount(take.per, pieces, other.scale)
                if is_used:
                    other.used += drawn
                else:
                    other.want(priority, drawn)


def _settle_the_rest(
    plan: Plan,
    demand: Demand,
    makers: Makers,
    settled: set[str],
    closed: Mapping[str, int],
    begun: frozenset[str],
) -> None:
    """Parts nobody in the run makes: what is here must do."""
    for part in demand.parts:
        if part not in settled:
            settle_part(plan, demand, makers, part, closed, begun)


def _posted(plan: Plan, today: date) -> Mapping[str, Mapping[str, int]]:
    """Pieces posted by shipment and part; a posting that names no part takes the contents in turn."""
    found: dict[str, dict[str, int]] = {}
    for fact in plan.facts:
        if fact.kind != "posted" or fact.on > today:
            continue
        gone = found.setdefault(fact.shipment, {})
        left = fact.good or 0
        for content in plan.shipment_by_code[fact.shipment].contents:
            if fact.part in ("", content.part):
                taken = min(left, content.quantity - gone.get(content.part, 0))
                gone[content.part] = gone.get(content.part, 0) + taken
                left -= taken
    return found


def _waited_for(plan: Plan, order: Sequence[Job]) -> Mapping[str, int]:
    """For each job that something waits for by a plain link, the place of the first shipment behind that."""
    waited: dict[str, int] = {}
    behind: dict[str, int] = {}
    for priority, shipment in reversed(list(enumerate(plan.shipments))):
        waited.update(dict.fromkeys(shipment.after, priority))
        for content in shipment.contents:
            behind.update({job.code: priority for job in plan.makers_of.get(content.part, ())})
    last = len(plan.shipments)
    for job in reversed(order):
        first = min(waited.get(job.code, last), behind.get(job.code, last))
        if first == last:
            continue
        for link in job.after:
            waited[link.job] = min(first, waited.get(link.job, last))
        for take in job.takes:
            for maker in plan.makers_of.get(take.part, ()):
                behind[maker.code] = min(first, behind.get(maker.code, last))
    return waited
