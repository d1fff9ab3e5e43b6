"""What one lot's readiness leads to: the date of a shipment on the chains through that lot alone."""

from tracker.schedule.bounds import later
from tracker.schedule.forecast import Forecast
from tracker.schedule.network import Network, SpecialLink, arrival

Followers = list[list[tuple[int, SpecialLink | None]]]


def followers_of(network: Network) -> Followers:
    """For each lot, the lots not fixed that wait for it, with the link where it is not a plain one."""
    found: Followers = [[] for _ in network.jobs]
    for lot, before in enumerate(network.plain):
        if network.fixed[lot] is not None:
            continue
        for other in before:
            found[other].append((lot, None))
        for link in network.special[lot] or ():
            found[link.lot].append((lot, link))
    return found


class Tail:
    """The dates of one shipment, remembered by lot and evening of readiness; within limits it does not move."""

    def __init__(self, forecast: Forecast, shipment: str, followers: Followers) -> None:
        self.forecast = forecast
        self.network = forecast.network
        self.late = forecast.limits_by_shipment[shipment].finish
        self.date = forecast.shipment_dates[shipment] or 0
        self.ends = frozenset(self.network.shipments[shipment])
        self.followers = followers
        self.known: dict[tuple[int, int], int] = {}

    def date_after(self, lot: int, ready: int) -> int:
        """The shipment's date once ``lot`` is ready on that evening, all else unchanged."""
        if ready <= self.late[lot]:
            return self.date
        return self._date(lot, self._arrive(lot, ready), self._slipped_start(lot, ready))

    def date_if_here(self, lot: int, evening: int) -> int:
        """The shipment's date once ``lot`` arrives on that evening, begun when it is now."""
        return self._date(lot, evening, self.forecast.times.start[lot])

    def _date(self, lot: int, arrive: int, begin: int) -> int:
        steps = self._steps(lot, arrive, begin)
        for step in steps:
            if step not in self.known:
                self._settle(step)
        own = arrive if lot in self.ends else 0
        return max((self.date, own, *(self.known[step] for step in steps)))

    def _settle(self, step: tuple[int, int]) -> None:
        """Work out the date of one lot and evening, those that follow first."""
        known = self.known
        waiting = [step]
        steps_of: dict[tuple[int, int], list[tuple[int, int]]] = {}
        while waiting:
            step = waiting[-1]
            lot, ready = step
            steps = steps_of.get(step)
            if steps is None:
                steps_of[step] = steps = self._steps(lot, self._arrive(lot, ready), None, ready)
                unknown = [other for other in steps if other not in known]
                if unknown:
                    waiting.extend(unknown)
                    continue
            own = self._arrive(lot, ready) if lot in self.ends else 0
            known[step] = max((self.date, own, *[known[other] for other in steps]))
            waiting.pop()

    def _steps(self, lot: int, arrive: int, begin: int | None, ready: int = 0) -> list[tuple[int, int]]:
        """Followers pushed past their limit, with the evening each is then ready.

        A follower that other bounds hold back further is within its limit, so they need no look here.
        """
        network, late = self.network, self.late
        leads, calendars = network.lead, network.calendar
        found = []
        for other, link in self.followers[lot]:
            if link is not None:
                then = self._ready_by_link(
                    other, link, arrive, self._start(lot, ready) if begin is None else begin
                )
            else:
                calendar, lead = calendars[other], leads[other]
                then = arrive + lead if calendar is None else calendar.finish(arrive + 1, lead)
            if then > late[other]:
                found.append((other, then))
        return found

    def _ready_by_link(self, other: int, link: SpecialLink, arrive: int, begin: int) -> int:
        """When a follower by a special link is ready."""
        network = self.network
        calendar, lead = network.calendar[other], network.lead[other]
        base = begin if link.kind == "start-start" else arrive
        bound = later(base, link.lag, link.calendar)
        if link.kind == "finish-finish":
            return calendar.snap(bound) if calendar else bound
        day = bound + (link.kind == "finish-start")
        return calendar.finish(day, lead) if calendar else day + lead - 1

    def _arrive(self, lot: int, ready: int) -> int:
        extra = self.network.extra[lot]
        if extra is None:
            return ready + self.network.travel[lot]
        door = max(ready, extra.leaves.day) if extra.leaves else ready
        return max(arrival(self.network, lot, door), extra.promised or 0)

    def _start(self, lot: int, ready: int) -> int:
        """The day a lot that is worked without a break begins when it is ready on that evening."""
        calendar, lead = self.network.calendar[lot], self.network.lead[lot]
        return calendar.latest_start(ready, lead) if calendar else ready - lead + 1

    def _slipped_start(self, lot: int, ready: int) -> int:
        """The start of a lot whose finish slipped to that evening: as many own days later, unless logged."""
        times, calendar = self.forecast.times, self.network.calendar[lot]
        start, finish = times.start[lot], times.finish[lot]
        if self.network.fixed[lot] is not None or ready <= finish:
            return start
        if calendar is None:
            return start + ready - finish
        return calendar.add(start, calendar.count(finish + 1, ready + 1))
