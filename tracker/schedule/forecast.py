"""The forecast of one plan on one day: dates, limits and floats, worked out when first asked for."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from functools import cached_property

from tracker.plan.model import Plan
from tracker.plan.progress import Progress
from tracker.schedule.flow import retreat
from tracker.schedule.network import FREE, Network, SpecialLink, ready_by, start_network
from tracker.schedule.passes import Limits, Times, backward, before_lag, forward
from tracker.schedule.placing import note_travel, place_facts
from tracker.schedule.supply import settle


@dataclass(frozen=True, slots=True, kw_only=True)
class Slack:
    """How far a job's finish may slip, against one shipment or all.

    ``late_finish`` is the latest calendar day it may be ready, ``harmless_until`` the last of its own days
    up to that. ``total_float`` counts its own days, ``spare_days`` calendar days, after the finish. A lot on its
    way is ready when it arrives, and all its days are calendar days.
    """

    late_finish: int
    harmless_until: int
    total_float: int
    spare_days: int


class Forecast:
    """Every lot's and shipment's date as things stand at the start of ``today``.

    Parameters
    ----------
    plan : Plan
        A plan without problems (see ``tracker.plan.checks``).
    today : date
        The status date; facts after it are not looked at.
    as_planned : bool
        Ignore all facts, with orders and clocks on time (the first plan).

    Raises
    ------
    Refused
        If jobs wait for each other in a ring, or dates leave the years 1990 to 2100.
    """

    def __init__(self, plan: Plan, today: date, *, as_planned: bool = False) -> None:
        self.plan = plan
        network = start_network(plan, today, as_planned=as_planned)
        self.network = network
        self.today = network.today
        if network.demand is not None:
            self.times: Times = settle(network, as_planned=as_planned)
            return
        if as_planned:
            note_travel(network, range(len(network.jobs)))
        else:
            place_facts(network)
        self.times = forward(network)

    @classmethod
    def of_network(cls, network: Network) -> "Forecast":
        """The forecast of a network that was changed after it was laid out (a what-if)."""
        made = cls.__new__(cls)
        made.plan, made.network, made.today = network.plan, network, network.today
        made.times = forward(network)
        return made

    @cached_property
    def shipment_dates(self) -> Mapping[str, int | None]:
        """Each shipment's date; the day of posting once it is gone, None while it waits for nothing.

        The rest of one posted in part, and one whose contents were in stock from the start, goes today at the
        earliest.
        """
        return {code: self._goes(code, lots) for code, lots in self.network.shipments.items()}

    def _goes(self, code: str, lots: Sequence[int]) -> int | None:
        if code in self.network.posted:
            return self.network.posted[code]
        days = [self.times.arrive[lot] for lot in lots]
        from_stock = not days and self.plan.shipment_by_code[code].contents
        if from_stock or code in self.network.part_posted:
            days.append(self.today)
        return max(days, default=None)

    @cached_property
    def open_shipments(self) -> tuple[str, ...]:
        """Codes of shipments not gone yet that have a date, in plan order."""
        return tuple(
            code
            for code, day in self.shipment_dates.items()
            if day is not None and code not in self.network.posted
        )

    @cached_property
    def last_shipment(self) -> str | None:
        """The shipment that goes last of all; the later in the plan where two go on one day."""
        dated = [(day, place, code) for place, (code, day) in enumerate(self.shipment_dates.items()) if day]
        return max(dated)[2] if dated else None

    @property
    def ship_date(self) -> int | None:
        """The day the last shipment goes."""
        return None if self.last_shipment is None else self.shipment_dates[self.last_shipment]

    def lot_of(self, job: str) -> int | None:
        """The lot that speaks for the job; None when called off or not needed as things stand.

        The last of its lots that a shipment needs and that is still to come.
        """
        return self.network.index.get(job)

    def lots_of(self, job: str) -> Sequence[int]:
        """All lots of a job: what came first, then the others in the order they are worked."""
        return self.network.lots_of.get(job, ())

    def is_open(self, lot: int) -> bool:
        """Whether the lot's job is still to be done."""
        return self.network.progress[lot].done is None

    def inputs_done(self, lot: int) -> bool:
        """Whether all the lot waits for is done: it is this job's turn."""
        return all(not self.is_open(other) for other in self.waits_for(lot))

    def waits_for(self, lot: int) -> tuple[int, ...]:
        """Lots this one waits for, by any kind of link."""
        special = self.network.special[lot] or ()
        flow = self.network.flow.get(lot)
        before = () if flow is None or flow.before is None else (flow.before,)
        return (*self.network.plain[lot], *(link.lot for link in special), *before)

    @cached_property
    def limits_by_shipment(self) -> Mapping[str, Limits]:
        """For each open shipment, the latest dates that do not move it."""
        return {code: self.limits_of(code) for code in self.open_shipments}

    def limits_of(self, shipment: str) -> Limits:
        """The latest dates that do not move one open shipment; worked out anew each time it is asked."""
        day = self.shipment_dates[shipment]
        assert day is not None  # noqa: S101 - open shipments have a date
        return backward(self.network, dict.fromkeys(self.network.shipments[shipment], day))

    @cached_property
    def limits(self) -> Limits:
        """The latest dates that move no shipment."""
        return _tightest(tuple(self.limits_by_shipment.values()), len(self.network.jobs))

    @cached_property
    def told_limits(self) -> Mapping[str, Limits]:
        """For each open shipment, the latest dates at which it still goes by the last day told for it."""
        found = {}
        for code in self.open_shipments:
            told = self.plan.days_told(self.plan.shipment_by_code[code], date.fromordinal(self.today))
            if told:
                targets = dict.fromkeys(self.network.shipments[code], told[-1].toordinal())
                found[code] = backward(self.network, targets)
        return found

    def slack(self, lot: int, shipment: str | None = None) -> Slack | None:
        """Float against one shipment, or all; None for done lots and those that can move no shipment."""
        limits = self.limits if shipment is None else self.limits_by_shipment.get(shipment)
        if limits is None or not self.is_open(lot) or limits.finish[lot] == FREE:
            return None
        finish = self.times.finish[lot]
        late = max(finish, limits.finish[lot])
        calendar = self.network.calendar[lot]
        return Slack(
            late_finish=late,
            harmless_until=max(finish, calendar.snap_back(late)) if calendar else late,
            total_float=self._own_days(lot, finish, late),
            spare_days=late - finish,
        )

    def tightest_lot(self, job: str) -> int | None:
        """The open lot of a job with the fewest spare days; where none can move a shipment, its speaker."""
        speaker = self.lot_of(job)
        lots = self.lots_of(job)
        if len(lots) < 2:  # noqa: PLR2004 - one lot has no other
            return speaker
        spare = {lot: slack.spare_days for lot in lots if (slack := self.slack(lot)) is not None}
        return min(spare, key=lambda lot: (spare[lot], lot != speaker), default=speaker)

    def room(self, lot: int) -> int | None:
        """Own days from the finish to the latest that keeps every date told; negative when it cannot."""
        shipment = self.room_of(lot)
        if shipment is None or not self.is_open(lot):
            return None
        return self._own_days(lot, self.times.finish[lot], self.told_limits[shipment].finish[lot])

    def room_of(self, lot: int) -> str | None:
        """The shipment whose date told leaves the lot least room; None where no date told concerns it."""
        told = {
            code: limits.finish[lot]
            for code, limits in self.told_limits.items()
            if limits.finish[lot] != FREE
        }
        return min(told, key=lambda code: told[code], default=None)

    def free_float(self, lot: int) -> int | None:
        """Own days the finish may slip without moving a successor's start (a shipment, for a last job)."""
        if self.slack(lot) is None:
            return None
        return self._own_days(lot, self.times.finish[lot], self._free_finish[lot])

    def latest_day1(self, lot: int) -> int | None:
        """The latest day 1 that moves no shipment; None for lots begun or free."""
        if self.network.fixed[lot] is not None or self.limits.start[lot] == FREE:
            return None
        return self.limits.start[lot]

    def overdue_behind(self, lots: tuple[int, ...]) -> tuple[int, ...]:
        """Lots whose date passed without news, among ``lots`` and all their dates rest on."""
        seen: set[int] = set()
        to_see = list(lots)
        while to_see:
            lot = to_see.pop()
            if lot in seen:
                continue
            seen.add(lot)
            if self.network.fixed[lot] is None:
                to_see.extend(self.waits_for(lot))
        return tuple(sorted(lot for lot in seen if lot in self.times.overdue))

    def progress(self, lot: int) -> Progress:
        """What was logged for the lot's job."""
        return self.network.progress[lot]

    def _own_days(self, lot: int, after: int, until: int) -> int:
        calendar = self.network.calendar[lot]
        return calendar.count(after + 1, until + 1) if calendar else until - after

    @cached_property
    def _free_finish(self) -> list[int]:
        """The latest finish that leaves every follower's start, or the shipment, where it is."""
        network, times = self.network, self.times
        arrive_by = [FREE] * len(network.jobs)
        finish_by = [FREE] * len(network.jobs)
        for code in self.open_shipments:
            for lot in network.shipments[code]:
                arrive_by[lot] = min(arrive_by[lot], self.shipment_dates[code] or FREE)
        for lot, before in enumerate(network.plain):
            if network.fixed[lot] is None:
                for other in before:
                    arrive_by[other] = min(arrive_by[other], times.start[lot] - 1)
        for lot, links in enumerate(network.special):
            if network.fixed[lot] is None:
                for link in links or ():
                    self._free_by_link(lot, link, arrive_by, finish_by)
        self._free_in_sequence(finish_by)
        return [min(finish_by[lot], _ready(network, lot, arrive_by[lot])) for lot in range(len(network.jobs))]

    def _free_in_sequence(self, finish_by: list[int]) -> None:
        """Lower the latest finish of what a lot in a sequence comes after."""
        network, times = self.network, self.times
        for lot, flow in network.flow.items():
            if flow.before is not None and network.fixed[lot] is None:
                begin = retreat(times.ends[lot], flow.length, flow.ticks, network.calendar[lot])
                latest = max(times.finish[flow.before], begin // flow.ticks - 1)
                finish_by[flow.before] = min(finish_by[flow.before], latest)

    def _free_by_link(self, lot: int, link: SpecialLink, arrive_by: list[int], finish_by: list[int]) -> None:
        """Lower the latest arrival, or finish, of what ``lot`` waits for by a special link."""
        start, other = self.times.start, link.lot
        if link.kind != "start-start":
            held = self.times.finish[lot] if link.kind == "finish-finish" else start[lot] - 1
            arrive_by[other] = min(arrive_by[other], before_lag(held, link))
        elif self.network.fixed[other] is None:
            slip = self._own_days(other, start[other], before_lag(start[lot], link))
            finish_by[other] = min(finish_by[other], self._slipped(other, slip))

    def _slipped(self, lot: int, days: int) -> int:
        """The finish slipped by so many own days."""
        finish, calendar = self.times.finish[lot], self.network.calendar[lot]
        return calendar.add(finish, days) if calendar else finish + days


def _ready(network: Network, lot: int, arrive: int) -> int:
    return arrive if arrive == FREE else ready_by(network, lot, arrive)


def _tightest(limits: tuple[Limits, ...], count: int) -> Limits:
    if not limits:
        return Limits([FREE] * count, [FREE] * count)
    if len(limits) == 1:
        return limits[0]
    return Limits(
        [min(days) for days in zip(*(one.finish for one in limits), strict=True)],
        [min(days) for days in zip(*(one.start for one in limits), strict=True)],
    )
