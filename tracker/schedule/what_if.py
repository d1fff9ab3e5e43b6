"""Networks with one lot changed, and what that does to the shipments."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace

from tracker.schedule.bounds import later
from tracker.schedule.forecast import Forecast
from tracker.schedule.network import Fixed, Network, arrival, ready_by
from tracker.schedule.reason import Reason
from tracker.schedule.tails import Tail, followers_of


def drags(forecast: Forecast, lot: int) -> Mapping[str, int]:
    """Calendar days each open shipment would gain were the own length of this lot's job nothing.

    The lead of all its lots to come becomes 0 and its promise and logged start are dropped; travel, links, clock and
    not-before stay, and it is ready no earlier than yesterday evening. Never negative: a job begun before its
    inputs came, or promised sooner than its travel allows, has nothing to gain.

    Sources: S. A. Devaux, Total Project Control (1999), for drag on plain networks.
    """
    found = gains(forecast, _without_lead(forecast.network, _still_to_come(forecast, lot)))
    return {code: max(0, gain) for code, gain in found.items()}


def gains_if_arrived(forecast: Forecast, lots: Mapping[int, int]) -> Mapping[str, int]:
    """Calendar days each open shipment gains if the jobs of these lots arrive on the evenings given.

    Nothing that has not started moves before today: an earlier arrival counts as yesterday evening.
    """
    return gains(forecast, with_arrivals(forecast, lots))


def with_arrivals(forecast: Forecast, lots: Mapping[int, int]) -> Network:
    """The network of ``gains_if_arrived``: a lot's job has arrived whole, its other lots by then at the latest."""
    evenings = {}
    for given, day in lots.items():
        for lot in _still_to_come(forecast, given):
            arrive = max(day, forecast.today - 1)
            evenings[lot] = arrive if lot == given else min(arrive, forecast.times.arrive[lot])
    return _arrived(forecast, evenings)


def gains_if_promises_kept(forecast: Forecast, lots: Mapping[int, int]) -> Mapping[str, int]:
    """Calendar days each open shipment gains if these lots, and no others of their jobs, arrive on their evenings.

    No earlier than yesterday evening.
    """
    evenings = {lot: max(day, forecast.today - 1) for lot, day in lots.items()}
    return gains(forecast, _arrived(forecast, evenings))


def _arrived(forecast: Forecast, evenings: Mapping[int, int]) -> Network:
    network = forecast.network
    fixed = list(network.fixed)
    for lot, arrive in evenings.items():
        ready = ready_by(network, lot, arrive)
        start = min(forecast.times.start[lot], ready)
        fixed[lot] = Fixed(start, ready, arrive, Reason(kind="done", day=arrive))
    return replace(network, fixed=fixed)


def _still_to_come(forecast: Forecast, lot: int) -> tuple[int, ...]:
    """The lot, and the others of its job that are still to come."""
    others = forecast.lots_of(forecast.network.jobs[lot].code)
    return (lot, *(other for other in others if other != lot and forecast.is_open(other)))


def gains(forecast: Forecast, network: Network) -> Mapping[str, int]:
    """Calendar days by which each open shipment comes earlier in ``network`` (negative: later)."""
    changed = Forecast.of_network(network).shipment_dates
    found = {}
    for code in forecast.open_shipments:
        now, then = forecast.shipment_dates[code], changed[code]
        if now is not None and then is not None:
            found[code] = now - then
    return found


def dates_if_finished(forecast: Forecast, finishes: Mapping[int, int]) -> Mapping[int, Mapping[str, int]]:
    """Exact shipment dates if each lot, taken alone, were ready on the evening given (no earlier than now).

    A lot that stays within its limit moves nothing. Beyond it, the date a follower's readiness leads to is
    worked out once and remembered, so the cost stays near that of one pass for slips of similar size. A job
    that has not started slips whole, which tells for start-start links.
    """
    by_shipment = {code: tail.dates_after(finishes) for code, tail in _tails(forecast).items()}
    return {lot: {code: dates[lot] for code, dates in by_shipment.items()} for lot in finishes}


def dates_by_finish(forecast: Forecast) -> Callable[[int, int], Mapping[str, int]]:
    """What tells of a lot and an evening what ``dates_if_finished`` does; it remembers what follows for the next one."""
    tails = _tails(forecast)
    return lambda lot, ready: {code: tail.date_after(lot, ready) for code, tail in tails.items()}


def dates_if_here(forecast: Forecast, evenings: Mapping[int, int]) -> Mapping[int, Mapping[str, int]]:
    """Exact shipment dates if each lot, taken alone, arrived on the evening given (no earlier than now).

    When it began stays as it is, so nothing moves that waits for its start alone.
    """
    tails = _tails(forecast)
    return {
        lot: {code: tail.date_if_here(lot, evening) for code, tail in tails.items()}
        for lot, evening in evenings.items()
    }


def _tails(forecast: Forecast) -> Mapping[str, Tail]:
    followers = followers_of(forecast.network)
    return {code: Tail(forecast, code, followers) for code in forecast.open_shipments}


def _without_lead(network: Network, lots: Iterable[int]) -> Network:
    fixed, lead = list(network.fixed), list(network.lead)
    calendar, extra, flow = list(network.calendar), list(network.extra), dict(network.flow)
    for lot in lots:
        fixed[lot] = _gone_without_promise(network, lot)
        lead[lot], calendar[lot] = 0, None
        old = extra[lot]
        extra[lot] = None if old is None else replace(old, promised=None)
        if lot in flow:
            flow[lot] = replace(flow[lot], length=0)
    return replace(network, fixed=fixed, lead=lead, calendar=calendar, extra=extra, flow=flow, overdue={})


def _gone_without_promise(network: Network, lot: int) -> Fixed | None:
    """A lot made or on its way keeps its travel; only what was promised for it is dropped."""
    progress = network.progress[lot]
    extra = network.extra[lot]
    if progress.done is not None:
        return network.fixed[lot]
    if progress.left is not None:
        travel = network.jobs[lot].travel
        came = later(progress.left, travel.days, network.own_calendar[lot] if travel.unit == "wd" else None)
        arrive = max(came, network.today - 1)
        return Fixed(progress.left, arrive, arrive, Reason(kind="left", day=progress.left))
    if progress.made is not None:
        door = max(progress.made, network.today - 1, extra.leaves.day if extra and extra.leaves else 0)
        arrive = arrival(network, lot, door)
        return Fixed(door, door, arrive, Reason(kind="made", day=progress.made))
    return None
