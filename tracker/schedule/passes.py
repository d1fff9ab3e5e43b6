"""The forward and the backward pass on plain integer arrays.

Evenings: ``finish`` is the last day worked, ``arrive`` the day whose evening the result is there.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field

from tracker.plan.workdays import LAST_DAY, out_of_years
from tracker.schedule.bounds import later
from tracker.schedule.flow import advance, day_of, evening, retreat
from tracker.schedule.network import FREE, Network, SpecialLink, ready_by


@dataclass(slots=True)
class Times:
    """When each lot starts, finishes and arrives; ``overdue`` counts calendar days past an expected finish.

    ``ends`` gives, for lots worked in sequence, the moment within the day (see ``flow``).
    """

    start: list[int]
    finish: list[int]
    arrive: list[int]
    overdue: dict[int, int]
    ends: dict[int, int] = field(default_factory=dict)

    def add(self) -> None:
        """Make room for one more lot."""
        for days in (self.start, self.finish, self.arrive):
            days.append(0)


@dataclass(slots=True)
class Limits:
    """The latest each lot may be: ready (``finish``) and begun (``start``, own bound of day 1).

    ``FREE`` where nothing limits it. ``ends`` gives, for lots worked in sequence, the latest moment they may end.
    """

    finish: list[int]
    start: list[int]
    ends: dict[int, int] = field(default_factory=dict)


def forward(network: Network) -> Times:
    """Place every lot as early as its bounds, links and calendar allow.

    Cost is linear in lots and links. Lots in ``network.fixed`` keep their dates.
    """
    times = arrays_for(network)
    forward_some(network, times, network.order)
    return times


def arrays_for(network: Network) -> Times:
    """Dates of no lot yet."""
    count = len(network.jobs)
    return Times([0] * count, [0] * count, [0] * count, dict(network.overdue))


def forward_some(network: Network, times: Times, lots: Sequence[int]) -> None:
    """Place some lots, in this order, those they wait for having been placed."""
    while True:
        try:
            times.overdue.update(network.overdue)
            _forward(network, times, lots)
        except IndexError:
            _widen(network)
        else:
            if max((times.arrive[lot] for lot in lots), default=0) > LAST_DAY:
                raise out_of_years()
            return


def backward(network: Network, targets: dict[int, int]) -> Limits:
    """The latest dates at which no target is passed; ``targets`` gives the latest arrival of some lots.

    Fixed lots pass no limit on to what they waited for, since that cannot move them any more.
    """
    while True:
        try:
            return _backward(network, targets)
        except IndexError:
            _widen(network)


def _widen(network: Network) -> None:
    """Prepare more days in every calendar; refuse when none has more."""
    calendars = {id(calendar): calendar for calendar in network.own_calendar}.values()
    narrow = [calendar for calendar in calendars if not calendar.is_whole]
    for calendar in narrow or calendars:
        calendar.widen()


def _forward(network: Network, times: Times, lots: Sequence[int]) -> None:
    start, finish, arrive = times.start, times.finish, times.arrive
    fixed, floor, plain, special = network.fixed, network.floor, network.plain, network.special
    lead, travel, calendars, extras = network.lead, network.travel, network.calendar, network.extra
    today, flow = network.today, network.flow
    for lot in lots:
        known = fixed[lot]
        if known is not None:
            start[lot], finish[lot], arrive[lot] = known.start, known.finish, known.arrive
            continue
        day = floor[lot]
        for before in plain[lot]:
            if arrive[before] >= day:
                day = arrive[before] + 1
        calendar = calendars[lot]
        if special[lot] is not None or lot in flow:
            day, ready = _placed_apart(network, times, lot, day)
        elif calendar is None:
            ready = day + lead[lot] - 1
        else:
            place = calendar.before[day - calendar.first]
            day = calendar.days[place]
            ready = calendar.days[place + lead[lot] - 1]
        if ready < today:
            ready = _overdue_finish(network, times, lot, ready)
        start[lot], finish[lot], arrive[lot] = day, ready, ready + travel[lot]
        if extras[lot] is not None:
            _apply_extra(network, times, lot)


def _placed_apart(network: Network, times: Times, lot: int, day: int) -> tuple[int, int]:
    """Day 1 and last day of a lot with special links, or worked after another lot."""
    links = network.special[lot] or []
    if links:
        day = _special_day(links, times, day)
    calendar, lead = network.calendar[lot], network.lead[lot]
    if lot in network.flow:
        day, ready = _in_sequence(network, times, lot, day)
    elif calendar is None:
        ready = day + lead - 1
    else:
        day, ready = calendar.snap(day), calendar.finish(day, lead)
    return _finish_to_finish(network, times, lot, day, ready) if links else (day, ready)


def _in_sequence(network: Network, times: Times, lot: int, day: int) -> tuple[int, int]:
    flow = network.flow[lot]
    moment = begin_in_sequence(network, times, lot, day)
    begun, end = advance(moment, flow.length, flow.ticks, network.calendar[lot])
    times.ends[lot] = end
    return begun, day_of(end, flow.ticks)


def begins(network: Network, times: Times, lot: int) -> int:
    """The day a lot begins by its bounds and all it waits for, which are dated, whatever was logged of the lot."""
    day = max((network.floor[lot], *(times.arrive[before] + 1 for before in network.plain[lot])))
    calendar = network.calendar[lot]
    if network.special[lot] is None and lot not in network.flow:
        return calendar.snap(day) if calendar else day
    start, _ = _placed_apart(network, times, lot, day)
    times.ends.pop(lot, None)
    return start


def begin_in_sequence(network: Network, times: Times, lot: int, day: int) -> int:
    """The moment a lot worked in sequence begins, whose other bounds allow ``day`` as day 1."""
    flow = network.flow[lot]
    if flow.before is None:
        return day * flow.ticks
    return max(day * flow.ticks, end_of(network, times, flow.before))


def end_of(network: Network, times: Times, lot: int) -> int:
    """The moment a lot in a sequence ends: within the day, unless something else moved its finish."""
    flow, finish, known = network.flow[lot], times.finish[lot], network.fixed[lot]
    end = times.ends.get(lot, 0)
    if known is not None and known.reason.kind == "started" and flow.length:
        _, end = advance(known.start * flow.ticks, flow.length, flow.ticks, network.calendar[lot])
    return end if end and day_of(end, flow.ticks) == finish else evening(finish, flow.ticks)


def link_bound(link: SpecialLink, times: Times) -> int:
    """What a special link asks: an earliest day 1, or an earliest finish for finish-finish."""
    if link.kind == "start-start":
        return later(times.start[link.lot], link.lag, link.calendar)
    evening = later(times.arrive[link.lot], link.lag, link.calendar)
    return evening if link.kind == "finish-finish" else evening + 1


def _special_day(links: list[SpecialLink], times: Times, day: int) -> int:
    return max(day, *(link_bound(link, times) for link in links if link.kind != "finish-finish"), day)


def _finish_to_finish(network: Network, times: Times, lot: int, day: int, ready: int) -> tuple[int, int]:
    """A job held back at its finish is worked without a break, so its start moves with it."""
    links = network.special[lot] or ()
    wanted = max((link_bound(link, times) for link in links if link.kind == "finish-finish"), default=ready)
    if wanted <= ready:
        return day, ready
    calendar, lead = network.calendar[lot], network.lead[lot]
    if calendar is None:
        return wanted - lead + 1, wanted
    ready = calendar.snap(wanted)
    return calendar.latest_start(ready, lead), ready


def _overdue_finish(network: Network, times: Times, lot: int, ready: int) -> int:
    """Nothing unfinished finishes before today: the first own day from today, counted as overdue.

    A job of no length counts as ready the evening before today and is never overdue.
    """
    today = network.today
    if network.lead[lot] == 0:
        return max(ready, today - 1)
    extra = network.extra[lot]
    if extra is None or extra.promised is None:
        times.overdue[lot] = today - ready
    calendar = network.calendar[lot]
    return calendar.snap(today) if calendar else today


def _apply_extra(network: Network, times: Times, lot: int) -> None:
    extra = network.extra[lot]
    if extra is None:
        return
    ready = times.finish[lot]
    door = max(ready, extra.leaves.day) if extra.leaves else ready
    arrive = later(door, network.travel[lot], extra.travel)
    if extra.promised is not None and extra.promised > arrive:
        arrive = extra.promised
        times.finish[lot] = ready_by(network, lot, arrive)
    times.arrive[lot] = arrive


def _backward(network: Network, targets: dict[int, int]) -> Limits:
    count = len(network.jobs)
    arrive_by, begin_by = [FREE] * count, [FREE] * count
    limits = Limits([FREE] * count, [FREE] * count)
    for lot, day in targets.items():
        arrive_by[lot] = day
    fixed, plain, special, extras = network.fixed, network.plain, network.special, network.extra
    lead, travel, calendars, flow = network.lead, network.travel, network.calendar, network.flow
    for lot in reversed(network.order):
        by = arrive_by[lot]
        plainly = by != FREE and begin_by[lot] == FREE and fixed[lot] is None and extras[lot] is None
        if not plainly or lot in flow:
            ready, day = _limits_apart(network, limits, lot, by, begin_by[lot])
        else:
            ready = by - travel[lot]
            calendar = calendars[lot]
            if calendar is None:
                day = ready - lead[lot] + 1
            else:
                day = calendar.days[calendar.before[ready + 1 - calendar.first] - lead[lot]]
                if day > ready:  # an index ran below zero: the day lies before those prepared
                    day = calendar.latest_start(ready, lead[lot])
        limits.finish[lot], limits.start[lot] = ready, day
        if day == FREE:
            continue
        for before in plain[lot]:
            if day <= arrive_by[before]:
                arrive_by[before] = day - 1
        if special[lot] is not None:
            _pass_on(network, lot, limits, arrive_by, begin_by)
    return limits


def _limits_apart(network: Network, limits: Limits, lot: int, by: int, begin_by: int) -> tuple[int, int]:
    """Latest finish and day 1 of a lot that is fixed, has extras, or must begin by a day (any may be FREE)."""
    if lot in network.flow:
        return _limits_in_sequence(network, limits, lot, by, begin_by)
    ready = by if by == FREE else ready_by(network, lot, by)
    if network.fixed[lot] is not None or by == begin_by == FREE:
        return ready, FREE
    if ready == FREE:
        return _begun_by(network, lot, begin_by)
    calendar, lead = network.calendar[lot], network.lead[lot]
    day = calendar.latest_start(ready, lead) if calendar else ready - lead + 1
    return _begun_by(network, lot, begin_by) if begin_by < day else (ready, day)


def _limits_in_sequence(
    network: Network, limits: Limits, lot: int, by: int, begin_by: int
) -> tuple[int, int]:
    """Latest finish and day 1 of a lot worked in sequence, which must also end before the next one begins."""
    flow, calendar = network.flow[lot], network.calendar[lot]
    latest = limits.ends.get(lot, FREE)
    if by != FREE:
        latest = min(latest, evening(ready_by(network, lot, by), flow.ticks))
    if begin_by != FREE:
        latest = min(latest, advance(evening(begin_by, flow.ticks) - 1, flow.length, flow.ticks, calendar)[1])
    if latest == FREE:
        return FREE, FREE
    limits.ends[lot] = latest
    ready = latest // flow.ticks - 1
    if network.fixed[lot] is not None:
        return ready, FREE
    begin = retreat(latest, flow.length, flow.ticks, calendar)
    if flow.before is not None:
        limits.ends[flow.before] = begin
    return ready, begin // flow.ticks


def _begun_by(network: Network, lot: int, day: int) -> tuple[int, int]:
    """Latest finish and day 1 of a lot that must begin by ``day``, working days respected."""
    calendar, lead = network.calendar[lot], network.lead[lot]
    if calendar is None:
        return day + lead - 1, day
    day = calendar.snap_back(day)
    return calendar.finish(day, lead), day


def _pass_on(network: Network, lot: int, limits: Limits, arrive_by: list[int], begin_by: list[int]) -> None:
    for link in network.special[lot] or ():
        if link.kind == "start-start":
            latest = before_lag(limits.start[lot], link)
            begin_by[link.lot] = min(begin_by[link.lot], latest)
            continue
        calendar = network.calendar[lot]
        if link.kind == "finish-start":
            end = limits.start[lot] - 1
        else:
            end = calendar.snap_back(limits.finish[lot]) if calendar else limits.finish[lot]
        arrive_by[link.lot] = min(arrive_by[link.lot], before_lag(end, link))


def before_lag(day: int, link: SpecialLink) -> int:
    """The latest evening (or start) from which the link's lag does not pass ``day``."""
    if link.calendar is None:
        return day - link.lag
    return link.calendar.latest_before_adding(day, link.lag)
