"""The network of lots as plain integer arrays, built from a plan and a status date.

A job that counts no pieces is one lot; the others have a lot for each quantity that moves together. Jobs called
off or not needed as things stand are left out and named. Days are integers. An *evening* is named by its day: a
result that arrives on day d can be used from day d + 1.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date

from tracker.errors import Refused
from tracker.plan.balance import Demand
from tracker.plan.calendars import calendars_of
from tracker.plan.gates import NO_GATES, Gates, gates_of
from tracker.plan.lots import Lot
from tracker.plan.model import Job, LinkKind, Plan
from tracker.plan.progress import NOTHING, Progress, progress_of
from tracker.plan.workdays import Calendar
from tracker.schedule.bounds import later, own_days, planned_bounds, starting_bounds
from tracker.schedule.cutting import Cut, cut_into_lots, days_of, has_rate
from tracker.schedule.flow import Flow
from tracker.schedule.reason import Reason
from tracker.schedule.stock import Stock

FREE = 1 << 60  # a limit that nothing sets


@dataclass(frozen=True, slots=True)
class SpecialLink:
    """A link that is not plain finish-start without a lag; ``calendar`` counts a lag in working days."""

    lot: int
    kind: LinkKind
    lag: int
    calendar: Calendar | None


@dataclass(frozen=True, slots=True)
class Fixed:
    """Dates that no other job can move: first day worked, last day worked, evening of arrival."""

    start: int
    finish: int
    arrive: int
    reason: Reason


@dataclass(frozen=True, slots=True)
class Extra:
    """What only few lots have: a promise that does not replace the lead, conditions to leave, travel in working days.

    ``promised`` is the promise's arrival; ``leaves`` the evening before which the lot may not leave the
    supplier's door, with its reason; ``travel`` the supplier's calendar when travel counts working days.
    """

    promised: int | None = None
    leaves: Reason | None = None
    travel: Calendar | None = None


@dataclass(slots=True, kw_only=True)
class Network:
    """Lots by index, in plan order; every list has one value a lot.

    ``jobs`` and ``progress`` are those of each lot; ``progress`` is what was logged, as it bears on that lot.
    ``calendar`` is None where the lead counts calendar days or is 0. ``floor`` is the latest own bound of
    day 1. ``posted`` gives the day a shipment was gone, ``part_posted`` the pieces of one not gone yet. ``plain`` holds the lots whose arrival the lot waits for; ``special`` all other links, ``flow`` the
    places of lots worked one after another.

    ``lots_of`` gives the lots of each job, ``index`` the one that speaks for it. Where pieces are counted,
    ``lots`` holds what each lot is, ``demand`` the explosion, ``stocks`` who draws from which lot, and
    ``unmade`` the pieces (job, priority, part, pieces) whose inputs never come: spares, or asked for by nobody.
    ``linked`` are the lots waited for by a link of the job, not for their parts.
    """

    plan: Plan
    today: int
    jobs: list[Job]
    progress: list[Progress]
    index: dict[str, int]
    own_calendar: list[Calendar]
    order: Sequence[int] = ()
    calendar: list[Calendar | None] = field(default_factory=list)
    lead: list[int] = field(default_factory=list)
    travel: list[int] = field(default_factory=list)
    floor: list[int] = field(default_factory=list)
    bounds: dict[int, list[Reason]] = field(default_factory=dict)
    plain: list[list[int]] = field(default_factory=list)
    special: list[list[SpecialLink] | None] = field(default_factory=list)
    fixed: list[Fixed | None] = field(default_factory=list)
    extra: list[Extra | None] = field(default_factory=list)
    overdue: dict[int, int] = field(default_factory=dict)
    shipments: dict[str, list[int]] = field(default_factory=dict)
    posted: dict[str, int] = field(default_factory=dict)
    part_posted: dict[str, int] = field(default_factory=dict)
    gates: Gates = NO_GATES
    left_out: dict[str, str] = field(default_factory=dict)
    lots_of: dict[str, list[int]] = field(default_factory=dict)
    flow: dict[int, Flow] = field(default_factory=dict)
    lots: list[Lot | None] = field(default_factory=list)
    demand: Demand | None = None
    stocks: dict[str, Stock] = field(default_factory=dict)
    unmade: list[tuple[str, int, str, int]] = field(default_factory=list)
    linked: dict[int, tuple[int, ...]] = field(default_factory=dict)
    job_order: Sequence[Job] = ()

    @property
    def exploded(self) -> Demand:
        """The explosion of a plan known to count pieces."""
        assert self.demand is not None  # noqa: S101 - asked for only where the plan has parts
        return self.demand

    def add_lot(self, lot: Lot, like: int) -> int:
        """Add a lot of the same job as ``like``, with its links but none of its inputs; return its place."""
        here = len(self.jobs)
        self.jobs.append(lot.job)
        self.progress.append(lot.progress)
        self.lots.append(lot)
        self.lots_of[lot.job.code].append(here)
        self.own_calendar.append(self.own_calendar[like])
        self.calendar.append(self.calendar[like])
        self.travel.append(self.travel[like])
        self.floor.append(self.floor[like])
        self.lead.append(days_of(lot))
        if like in self.bounds:
            self.bounds[here] = self.bounds[like]
        self.plain.append(list(self.linked.get(like, ())))
        self.special.append(self.special[like])
        self.fixed.append(None)
        self.extra.append(None)
        return here


def arrival(network: Network, lot: int, ready: int) -> int:
    """The evening a lot arrives that leaves its supplier's door on the evening ``ready``."""
    extra = network.extra[lot]
    return later(ready, network.travel[lot], extra.travel if extra else None)


def ready_by(network: Network, lot: int, arrive: int) -> int:
    """The latest evening a lot may be ready and still arrive by the evening ``arrive``."""
    extra = network.extra[lot]
    if extra is not None and extra.travel is not None:
        return extra.travel.latest_before_adding(arrive, network.travel[lot])
    return arrive - network.travel[lot]


def start_network(plan: Plan, today: date, *, as_planned: bool = False) -> Network:
    """Lay out lots, links and own bounds; ``as_planned`` ignores all facts, with clocks on time.

    Raises
    ------
    Refused
        If jobs wait for each other in a ring.
    """
    gates = gates_of(plan, today, as_planned=as_planned)
    calendars = calendars_of(plan)
    left_out: dict[str, str] = dict.fromkeys(gates.dormant, "not needed")
    jobs, progress = _needed_jobs(plan, today, gates, left_out, as_planned=as_planned)
    cut = None
    if plan.parts:
        cut = cut_into_lots(plan, today, jobs, progress, gates.opener, as_planned=as_planned)
        jobs, progress = cut.jobs, cut.progress
    index = {job.code: place for place, job in enumerate(jobs)}
    network = Network(
        plan=plan,
        today=today.toordinal(),
        jobs=jobs,
        progress=progress,
        index=index,
        own_calendar=[calendars[job.supplier] for job in jobs],
        gates=gates,
        left_out=left_out,
        lots_of={code: [lot] for code, lot in index.items()} if cut is None else cut.lots_of,
    )
    if cut is None:
        stands_in_order = _lay_links(network, calendars)
        _lay_days(network, as_planned=as_planned)
        network.order = range(len(jobs)) if stands_in_order else _order(network)
        return network
    _lay_lots(network, cut, calendars)
    _lay_days(network, as_planned=as_planned)
    for place, lot in enumerate(network.lots):
        if lot is not None and has_rate(lot):
            network.lead[place] = days_of(lot)
            if not network.lead[place]:
                network.calendar[place] = None
    return network


def _lay_lots(network: Network, cut: Cut, calendars: Mapping[str, Calendar]) -> None:
    """Links between lots where pieces are counted: a follower waits for the needed lots of what it names."""
    network.demand, network.lots, network.flow = cut.demand, cut.lots, cut.flow
    network.job_order = cut.job_order
    network.left_out.update(dict.fromkeys(cut.left_out, "not needed"))
    opener = network.gates.opener
    for here, job in enumerate(network.jobs):
        plain: list[int] = []
        special: list[SpecialLink] = []
        for link in job.after:
            code = opener.get(link.job, link.job)
            if link.on == "fail" or code not in cut.needed:
                continue
            if link.kind == "finish-start" and not link.lag.days:
                plain += cut.needed[code]
                continue
            lots = cut.lots_of[code][:1] if link.kind == "start-start" else cut.needed[code]
            sender = cut.jobs[lots[0]].supplier
            lag_calendar = calendars[sender] if link.lag.unit == "wd" else None
            special += [SpecialLink(lot, link.kind, link.lag.days, lag_calendar) for lot in lots]
        network.plain.append(plain)
        network.special.append(special or None)
        if plain:
            network.linked[here] = tuple(plain)
    for shipment in network.plan.shipments:
        codes = (opener.get(code, code) for code in shipment.after)
        network.shipments[shipment.code] = [lot for code in codes for lot in cut.needed.get(code, ())]


def _needed_jobs(
    plan: Plan, today: date, gates: Gates, left_out: dict[str, str], *, as_planned: bool
) -> tuple[list[Job], list[Progress]]:
    """Jobs still part of the run and what was logged for each; the others go into ``left_out``."""
    logged = {} if as_planned else plan.facts_by_job
    if not logged and not left_out and not plan.parts:
        return list(plan.jobs), [NOTHING] * len(plan.jobs)
    jobs, found = [], []
    for job in plan.jobs:
        progress = progress_of(plan, job, today) if job.code in logged else NOTHING
        if as_planned and job.rework_of:
            left_out[job.code] = "not needed"
        elif progress.called_off:
            left_out[job.code] = "called off"
        elif job.code not in left_out:
            if progress.outcome == "fail" and gates.opener[job.code] != job.code:
                progress = replace(progress, done=progress.outcome_day)
            jobs.append(job)
            found.append(progress)
    return jobs, found


def _lay_links(network: Network, calendars: Mapping[str, Calendar]) -> bool:
    """Turn links into lots; True when every job stands after all it waits for."""
    lots = _lots_by_code(network)
    in_order = True
    all_plain, all_special = network.plain, network.special
    for here, job in enumerate(network.jobs):
        plain: list[int] = []
        special: list[SpecialLink] | None = None
        for link in job.after:
            lot = lots.get(link.job)
            if lot is None or link.on == "fail":
                continue
            if lot >= here:
                in_order = False
            if link.kind == "finish-start" and not link.lag.days:
                plain.append(lot)
            else:
                sender = network.jobs[lot].supplier
                lag_calendar = calendars[sender] if link.lag.unit == "wd" else None
                special = special or []
                special.append(SpecialLink(lot, link.kind, link.lag.days, lag_calendar))
        all_plain.append(plain)
        all_special.append(special)
    for shipment in network.plan.shipments:
        network.shipments[shipment.code] = [lots[code] for code in shipment.after if code in lots]
    return in_order


def _lots_by_code(network: Network) -> Mapping[str, int]:
    """The lot to wait for where a job is named: its own, or for a gate the attempt that opens it."""
    index, opener = network.index, network.gates.opener
    if not opener:
        return index
    opened = {gate: index[attempt] for gate, attempt in opener.items() if attempt in index}
    return {**{code: lot for code, lot in index.items() if code not in opener}, **opened}


def _lay_days(network: Network, *, as_planned: bool) -> None:
    plan, today, jobs = network.plan, network.today, network.jobs
    quantity = plan.run.quantity
    run_start = plan.run.start.toordinal()
    untouched = {
        supplier.code: run_start if as_planned else max(run_start, today + (not supplier.inhouse))
        for supplier in plan.suppliers
    }
    network.floor = [untouched[job.supplier] for job in jobs]
    network.fixed, network.extra = [None] * len(jobs), [None] * len(jobs)
    network.travel = [job.travel.days for job in jobs]
    failed_on = network.gates.failed_on
    all_leads, all_calendars = network.lead, network.calendar
    for lot, job, progress, own_calendar in zip(
        range(len(jobs)), jobs, network.progress, network.own_calendar, strict=True
    ):
        days, working = own_days(job, quantity)
        all_leads.append(days)
        all_calendars.append(own_calendar if working and days else None)
        if (
            progress is NOTHING
            and job.clock is None
            and job.not_before is None
            and not (failed_on and any(link.on == "fail" for link in job.after))
        ):
            continue
        if as_planned:
            bounds = planned_bounds(plan, job)
        else:
            bounds = starting_bounds(plan, job, progress, own_calendar, today, failed_on)
        network.bounds[lot] = bounds
        network.floor[lot] = max(bound.day for bound in bounds)


def _order(network: Network) -> Sequence[int]:
    """Lots so that each stands after all it waits for."""
    count = len(network.jobs)
    waits = [
        before if links is None else [*before, *(link.lot for link in links)]
        for before, links in zip(network.plain, network.special, strict=True)
    ]
    followers: list[list[int]] = [[] for _ in range(count)]
    for lot, before in enumerate(waits):
        for other in before:
            followers[other].append(lot)
    open_links = [len(before) for before in waits]
    order = [lot for lot in range(count) if not open_links[lot]]
    for lot in order:
        for follower in followers[lot]:
            open_links[follower] -= 1
            if not open_links[follower]:
                order.append(follower)
    if len(order) < count:
        stuck = ", ".join(network.jobs[lot].code for lot in range(count) if open_links[lot])
        raise Refused(
            f"jobs wait for each other in a ring among: {stuck}",
            hint="take one link out with 'tracker set JOB after=...'",
        )
    return order
