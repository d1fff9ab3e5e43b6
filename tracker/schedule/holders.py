"""Who holds a shipment: the chain of jobs that sets its date, traced back to the reason it begins with."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from tracker.schedule.bounds import later, starting_bounds
from tracker.schedule.flow import advance
from tracker.schedule.forecast import Forecast
from tracker.schedule.network import Network
from tracker.schedule.passes import end_of, link_bound
from tracker.schedule.reason import Reason


@dataclass(frozen=True, slots=True, kw_only=True)
class Beginning:
    """Where a chain begins: a job and why its dates are what they are."""

    job: str
    reasons: tuple[Reason, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Holding:
    """All that holds one shipment.

    ``path`` is one chain from its beginning to the shipment: one that begins with what is owed by us, where
    there is one (further ties go to the first code in the alphabet); ``jobs`` are all jobs on any tied chain, in
    the same direction; ``driven_by`` gives for each of them the jobs whose arrival sets its start. A job may
    both begin a chain and be driven by others.
    """

    shipment: str
    path: tuple[str, ...]
    jobs: tuple[str, ...]
    begins: tuple[Beginning, ...]
    driven_by: dict[str, tuple[str, ...]]
    ends: tuple[str, ...]

    @property
    def held_by(self) -> Beginning:
        """The beginning of ``path``."""
        return next(begin for begin in self.begins if begin.job == self.path[0])

    @property
    def tied(self) -> bool:
        """Whether more than one chain sets the date."""
        drivers = max(len(others) for others in self.driven_by.values())
        return len(self.begins) > 1 or len(self.ends) > 1 or drivers > 1

    def chains(self, limit: int = 50) -> Iterator[tuple[str, ...]]:
        """Every tied chain, at most ``limit`` of them."""
        if not self.tied:
            return iter((self.path,))
        from itertools import islice

        import networkx as nx

        links: nx.DiGraph[str] = nx.DiGraph()
        links.add_nodes_from(self.jobs)
        links.add_edges_from((before, job) for job, befores in self.driven_by.items() for before in befores)
        sources = sorted(begin.job for begin in self.begins)
        found = (
            tuple(chain)
            for source in sources
            for end in self.ends
            for chain in ([[source]] if source == end else nx.all_simple_paths(links, source, end))
        )
        return islice(found, limit)


@dataclass(frozen=True, slots=True, kw_only=True)
class Chains:
    """Lots on the chains that set a date: the last of each, and for every lot the lots and own reasons that set it."""

    ends: tuple[int, ...]
    driven: Mapping[int, tuple[int, ...]]
    begins: Mapping[int, tuple[Reason, ...]]

    def all_pass(self, lots: Iterable[int]) -> bool:
        """Whether every chain passes one of these lots: the date stays where it is while one chain passes none."""
        passed = set(lots)
        to_see = [lot for lot in self.ends if lot not in passed]
        while to_see:
            lot = to_see.pop()
            if self.begins[lot]:
                return False
            passed.add(lot)
            to_see += [other for other in self.driven[lot] if other not in passed]
        return True


def holding(forecast: Forecast, shipment: str) -> Holding | None:
    """Trace back from a shipment through holding links only.

    None for one that is gone, has no date, or waits for nothing but the rest of its posting.
    """
    found = chains_to(forecast, shipment)
    if found is None:
        return None
    network, ends, driven, begins = forecast.network, found.ends, found.driven, found.begins
    codes = [job.code for job in network.jobs]
    return Holding(
        shipment=shipment,
        path=_once(codes[lot] for lot in _one_path(ends, driven, begins, codes)),
        jobs=_once(codes[lot] for lot in network.order if lot in driven),
        begins=_begins_by_job(network, begins),
        driven_by=_driven_by_job(codes, driven),
        ends=_once(codes[lot] for lot in ends),
    )


def chains_to(forecast: Forecast, shipment: str) -> Chains | None:
    """The lots on the chains that set a shipment's date; None where ``holding`` has none."""
    if shipment not in forecast.open_shipments:
        return None
    network, arrive = forecast.network, forecast.times.arrive
    date = forecast.shipment_dates[shipment]
    ends = sorted(
        {lot for lot in network.shipments[shipment] if arrive[lot] == date},
        key=lambda lot: network.jobs[lot].code,
    )
    if not ends:
        return None
    begins: dict[int, tuple[Reason, ...]] = {}
    driven: dict[int, tuple[int, ...]] = {}
    to_see = list(ends)
    while to_see:
        lot = to_see.pop()
        if lot in driven:
            continue
        driven[lot], begins[lot] = what_sets(forecast, lot)
        to_see.extend(driven[lot])
    return Chains(ends=tuple(ends), driven=driven, begins=begins)


def _once(codes: Iterable[str]) -> tuple[str, ...]:
    """Each code once, where it comes first: lots of one job stand for the job."""
    return tuple(dict.fromkeys(codes))


def _begins_by_job(network: Network, begins: Mapping[int, tuple[Reason, ...]]) -> tuple[Beginning, ...]:
    found: dict[str, tuple[Reason, ...]] = {}
    for lot in network.order:
        if begins.get(lot):
            code = network.jobs[lot].code
            found[code] = tuple(dict.fromkeys((*found.get(code, ()), *begins[lot])))
    return tuple(Beginning(job=code, reasons=reasons) for code, reasons in found.items())


def _driven_by_job(codes: Sequence[str], driven: Mapping[int, tuple[int, ...]]) -> dict[str, tuple[str, ...]]:
    found: dict[str, tuple[str, ...]] = {}
    for lot, others in driven.items():
        code = codes[lot]
        drivers = (codes[other] for other in others if codes[other] != code)
        found[code] = _once((*found.get(code, ()), *drivers))
    return found


def what_sets(forecast: Forecast, lot: int) -> tuple[tuple[int, ...], tuple[Reason, ...]]:
    """The lots and the own reasons that set this lot's dates; ties give several, and there is always one."""
    network, times = forecast.network, forecast.times
    fixed = network.fixed[lot]
    if fixed is not None:
        return (), (fixed.reason,)
    ending = _ending_reasons(forecast, lot)
    if ending and ending[1]:
        return (), ending[0]
    calendar = network.calendar[lot]
    gives_start, lots = _start_givers(forecast, lot)
    lots += [other for other in network.plain[lot] if gives_start(times.arrive[other] + 1)]
    for link in network.special[lot] or ():
        bound = link_bound(link, times)
        if link.kind == "finish-finish":
            held = (calendar.snap(bound) if calendar else bound) == times.finish[lot]
        else:
            held = gives_start(bound)
        if held:
            lots.append(link.lot)
    reasons = tuple(bound for bound in _bounds(forecast, lot) if gives_start(bound.day))
    lots = sorted(set(lots), key=lambda other: network.jobs[other].code)
    found = (*(ending[0] if ending else ()), *_telling(reasons, held=bool(lots)))
    if not lots and not found:
        found = (Reason(kind="today", day=forecast.today),)
    return tuple(lots), found


def _start_givers(forecast: Forecast, lot: int) -> tuple[Callable[[int], bool], list[int]]:
    """A test whether a day 1 gives the lot's start, and the lot before it where that does.

    In a sequence what counts is the moment within the day.
    """
    network, times = forecast.network, forecast.times
    calendar, start, flow = network.calendar[lot], times.start[lot], network.flow.get(lot)
    if flow is None:
        return (lambda day: (calendar.snap(day) if calendar else day) == start), []

    def ends(moment: int) -> int:
        return advance(moment, flow.length, flow.ticks, calendar)[1]

    bounds = [network.floor[lot], *(times.arrive[other] + 1 for other in network.plain[lot])]
    bounds += [link_bound(one, times) for one in network.special[lot] or () if one.kind != "finish-finish"]
    moments = [max(bounds) * flow.ticks]
    if flow.before is not None:
        moments.append(end_of(network, times, flow.before))
    end = ends(max(moments))
    before = [flow.before] if flow.before is not None and ends(moments[-1]) == end else []
    return (lambda day: ends(day * flow.ticks) == end), before


def earliest_arrival(forecast: Forecast, lot: int) -> int:
    """When a lot would arrive by its lead and links alone, whatever was promised."""
    network, times = forecast.network, forecast.times
    ready = _own_ready(forecast, lot)
    extra = network.extra[lot]
    door = max(ready, extra.leaves.day) if extra and extra.leaves else ready
    if extra is None or extra.promised is None:
        return times.arrive[lot]
    return later(door, network.travel[lot], extra.travel)


def _own_ready(forecast: Forecast, lot: int) -> int:
    """The finish by lead and links, before a promise moved it."""
    network, times = forecast.network, forecast.times
    extra = network.extra[lot]
    if extra is None or extra.promised is None or times.arrive[lot] > extra.promised:
        return times.finish[lot]
    calendar, lead, start = network.calendar[lot], network.lead[lot], times.start[lot]
    return calendar.finish(start, lead) if calendar else start + lead - 1


def _ending_reasons(forecast: Forecast, lot: int) -> tuple[tuple[Reason, ...], bool] | None:
    """Reasons that set the arrival after the work itself, and whether they alone do."""
    network, times, today = forecast.network, forecast.times, forecast.today
    extra = network.extra[lot]
    found: list[Reason] = []
    alone = False
    promise = network.progress[lot].promise
    if promise is not None and extra is not None and extra.promised == times.arrive[lot]:
        found.append(Reason(kind="promise", day=promise.day))
        alone = earliest_arrival(forecast, lot) < times.arrive[lot]
    if not alone and extra is not None and extra.leaves is not None:
        ready = _own_ready(forecast, lot)
        alone = extra.leaves.day > ready
        if alone or (extra.leaves.day == ready and extra.leaves.owed_by):
            found.append(extra.leaves)
    waits = extra is not None and extra.promised is not None and times.arrive[lot] > extra.promised
    if not alone and lot in times.overdue and not waits:
        found.append(Reason(kind="overdue", day=today - times.overdue[lot]))
        alone = True
    if not alone and network.lead[lot] == 0 and times.finish[lot] > times.start[lot] - 1:
        found.append(Reason(kind="today", day=today))
        alone = True
    return (tuple(found), alone) if found else None


def _bounds(forecast: Forecast, lot: int) -> list[Reason]:
    network = forecast.network
    if lot in network.bounds:
        return network.bounds[lot]
    return starting_bounds(
        forecast.plan,
        network.jobs[lot],
        network.progress[lot],
        network.own_calendar[lot],
        forecast.today,
        network.gates.failed_on,
    )


def _telling(reasons: tuple[Reason, ...], *, held: bool) -> tuple[Reason, ...]:
    """Leave out the run's start and today where anything more telling holds, and conditions already given."""
    plain = ("today", "run start")
    telling = tuple(reason for reason in reasons if reason.kind not in plain)
    owed = tuple(reason for reason in telling if reason.owed_by)
    if owed or telling:
        return owed or telling
    return () if held else reasons


def _one_path(
    ends: Sequence[int],
    driven: Mapping[int, tuple[int, ...]],
    begins: Mapping[int, tuple[Reason, ...]],
    codes: list[str],
) -> list[int]:
    """One chain, back from an end: to what is owed by us where anything is, else to the first beginning met."""
    owed = [lot for lot, reasons in begins.items() if any(reason.owed_by for reason in reasons)]
    first = min(owed, key=lambda lot: codes[lot], default=None)
    through = set(driven) if first is None else _led_to(first, driven)
    path = [next(lot for lot in ends if lot in through)]
    while path[-1] != first and driven[path[-1]]:
        path.append(next(lot for lot in driven[path[-1]] if lot in through))
    return path[::-1]


def _led_to(first: int, driven: Mapping[int, tuple[int, ...]]) -> set[int]:
    """The lot and all whose dates it sets."""
    followers: dict[int, list[int]] = {}
    for lot, others in driven.items():
        for other in others:
            followers.setdefault(other, []).append(lot)
    found, to_see = {first}, [first]
    while to_see:
        new = [lot for lot in followers.get(to_see.pop(), ()) if lot not in found]
        found.update(new)
        to_see += new
    return found
