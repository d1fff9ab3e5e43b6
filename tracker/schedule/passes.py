"""The forward and the backward pass on plain integer arrays.

Evenings: ``finish`` is the last day worked, ``arrive`` the day whose evening the result is there.
"""

from dataclasses import dataclass

from tracker.plan.workdays import LAST_DAY, out_of_years
from tracker.schedule.bounds import later
from tracker.schedule.network import FREE, Network, SpecialLink, ready_by


@dataclass(slots=True)
class Times:
    """When each lot starts, finishes and arrives; ``overdue`` counts calendar days past an expected finish."""

    start: list[int]
    finish: list[int]
    arrive: list[int]
    overdue: dict[int, int]


@dataclass(slots=True)
class Limits:
    """The latest each lot may be: ready (``finish``) and begun (``start``, own bound of day 1).

    ``FREE`` where nothing limits it.
    """

    finish: list[int]
    start: list[int]


def forward(network: Network) -> Times:
    """Place every lot as early as its bounds, links and calendar allow.

    Cost is linear in lots and links. Lots in ``network.fixed`` keep their dates.
    """
    while True:
        try:
            return _within_years(_forward(network))
        except IndexError:
            _widen(network)


def backward(network: Network, targets: dict[int, int]) -> Limits:
    """The latest dates at which no target is passed; ``targets`` gives the latest arrival of some lots.

    Fixed lots pass no limit on to what they waited for, since that cannot move them any more.
    """
    while True:
        try:
            return _backward(network, targets)
        except IndexError:
            _widen(network)


def _within_years(times: Times) -> Times:
    if max(times.arrive, default=0) > LAST_DAY:
        raise out_of_years()
    return times


def _widen(network: Network) -> None:
    """Prepare more days in every calendar; refuse when none has more."""
    calendars = {id(calendar): calendar for calendar in network.own_calendar}.values()
    narrow = [calendar for calendar in calendars if not calendar.is_whole]
    for calendar in narrow or calendars:
        calendar.widen()


def _forward(network: Network) -> Times:
    count = len(network.jobs)
    start, finish, arrive = [0] * count, [0] * count, [0] * count
    times = Times(start, finish, arrive, dict(network.overdue))
    fixed, floor, plain, special = network.fixed, network.floor, network.plain, network.special
    lead, travel, calendars, extras = network.lead, network.travel, network.calendar, network.extra
    today = network.today
    for lot in network.order:
        known = fixed[lot]
        if known is not None:
            start[lot], finish[lot], arrive[lot] = known.start, known.finish, known.arrive
            continue
        day = floor[lot]
        for before in plain[lot]:
            if arrive[before] >= day:
                day = arrive[before] + 1
        if special[lot] is not None:
            day = _special_day(special[lot] or [], times, day)
        calendar = calendars[lot]
        if calendar is None:
            ready = day + lead[lot] - 1
        else:
            place = calendar.before[day - calendar.first]
            day = calendar.days[place]
            ready = calendar.days[place + lead[lot] - 1]
        if special[lot] is not None:
            day, ready = _finish_to_finish(network, times, lot, day, ready)
        if ready < today:
            ready = _overdue_finish(network, times, lot, ready)
        start[lot], finish[lot], arrive[lot] = day, ready, ready + travel[lot]
        if extras[lot] is not None:
            _apply_extra(network, times, lot)
    return times


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
    lead, travel, calendars = network.lead, network.travel, network.calendar
    for lot in reversed(network.order):
        by = arrive_by[lot]
        if by == FREE or begin_by[lot] != FREE or fixed[lot] is not None or extras[lot] is not None:
            ready, day = _limits_apart(network, lot, by, begin_by[lot])
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


def _limits_apart(network: Network, lot: int, by: int, begin_by: int) -> tuple[int, int]:
    """Latest finish and day 1 of a lot that is fixed, has extras, or must begin by a day (any may be FREE)."""
    ready = by if by == FREE else ready_by(network, lot, by)
    if network.fixed[lot] is not None or by == begin_by == FREE:
        return ready, FREE
    if ready == FREE:
        return _begun_by(network, lot, begin_by)
    calendar, lead = network.calendar[lot], network.lead[lot]
    day = calendar.latest_start(ready, lead) if calendar else ready - lead + 1
    return _begun_by(network, lot, begin_by) if begin_by < day else (ready, day)


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
