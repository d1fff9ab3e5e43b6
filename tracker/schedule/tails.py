"""What one lot's readiness leads to: the date of a shipment on the chains through that lot alone."""

from collections.abc import Iterable, Iterator, Mapping

from tracker.plan.workdays import Calendar
from tracker.schedule.bounds import later
from tracker.schedule.flow import advance, day_of, evening
from tracker.schedule.forecast import Forecast
from tracker.schedule.network import FREE, Network, SpecialLink, arrival
from tracker.schedule.passes import Limits

Followers = list[list[tuple[int, SpecialLink | None]]]
Steps = list[tuple[int, int]]
"""Lots pushed past their limit, each with its readiness."""
Plain = list[tuple[int, int, Calendar | None, int]]
"""Followers by plain links: the lot, its lead, its calendar and its limit."""


def followers_of(network: Network) -> Followers:
    """For each lot, the lots not fixed that wait for it, with the link where it is not a plain one.

    The lot worked next in a sequence is not among them.
    """
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
    """The dates of one shipment, remembered by lot and readiness; within limits it does not move.

    Readiness is an evening, or for lots worked in sequence the moment they end, so that fractions are carried.
    ``limits`` are those of the shipment, of which the forecast knows where it works out all of them.
    """

    def __init__(
        self, forecast: Forecast, shipment: str, followers: Followers, limits: Limits | None = None
    ) -> None:
        self.forecast = forecast
        self.network = forecast.network
        limits = limits or forecast.limits_by_shipment[shipment]
        self.late, self.late_ends = limits.finish, limits.ends
        flow = self.network.flow
        self.next = {one.before: lot for lot, one in flow.items() if one.before is not None}
        self.date = forecast.shipment_dates[shipment] or 0
        self.ends = frozenset(self.network.shipments[shipment])
        self.followers = followers
        self.known: dict[tuple[int, int], int] = {}
        self.plain: dict[int, Plain | None] = {}

    def dates_after(self, finishes: Mapping[int, int]) -> Mapping[int, int]:
        """``date_after`` of many lots, what follows them being worked out in one go through the network."""
        finish = self.forecast.times.finish
        first = {
            lot: self._steps_after(lot, ready)
            for lot, ready in finishes.items()
            if ready > self.late[lot] and ready > finish[lot]
        }
        self._sweep(step for steps in first.values() for step in steps)
        found = dict.fromkeys(finishes, self.date)
        for lot, steps in first.items():
            arrive = self._arrive(lot, self._state(lot, finishes[lot])) if lot in self.ends else 0
            found[lot] = self._latest(arrive, lot, steps)
        return found

    def _sweep(self, first: Iterable[tuple[int, int]]) -> None:
        """Fill ``known`` for some steps and all that follows from them: forward in the network's order, then back."""
        pending: list[set[int]] = [set() for _ in self.followers]
        for lot, ready in first:
            pending[lot].add(ready)
        swept: list[tuple[int, int, Steps]] = []
        for lot in self.network.order:
            if pending[lot]:
                swept += self._spread(lot, pending[lot], pending)
        known, ends, date = self.known, self.ends, self.date
        for lot, ready, steps in reversed(swept):
            latest = max(date, self._arrive(lot, ready)) if lot in ends else date
            for step in steps:
                if known[step] > latest:  # noqa: PLR1730 - the innermost loop, where a call costs a fifth of it all
                    latest = known[step]
            known[lot, ready] = latest

    def _latest(self, arrive: int, lot: int, steps: Steps) -> int:
        """The shipment's date where a lot arrives then and pushes others so far."""
        known = self.known
        latest = max(self.date, arrive) if lot in self.ends else self.date
        for step in steps:
            if step not in known:
                self._settle(step)
            latest = max(latest, known[step])
        return latest

    def _spread(
        self, lot: int, states: Iterable[int], pending: list[set[int]]
    ) -> Iterator[tuple[int, int, Steps]]:
        """For each readiness of a lot the followers it pushes past their limit, which are noted as pending."""
        plain, travel = self._plain(lot), self.network.travel[lot]
        for ready in states:
            if plain is None:
                steps = self._steps(lot, self._arrive(lot, ready), None, ready)
            else:
                steps = _pushed_plainly(plain, ready + travel + 1)
            for other, then in steps:
                pending[other].add(then)
            yield lot, ready, steps

    def _plain(self, lot: int) -> Plain | None:
        """The followers of a lot where all of them follow by plain links."""
        if lot not in self.plain:
            self.plain[lot] = self._plain_followers(lot)
        return self.plain[lot]

    def _plain_followers(self, lot: int) -> Plain | None:
        network, late = self.network, self.late
        if lot in network.flow or network.extra[lot] is not None:
            return None
        found = []
        for other, link in self.followers[lot]:
            if link is not None or other in network.flow:
                return None
            found.append((other, network.lead[other], network.calendar[other], late[other]))
        return found

    def date_after(self, lot: int, ready: int) -> int:
        """The shipment's date once ``lot`` is ready on that evening, all else unchanged."""
        if ready <= max(self.late[lot], self.forecast.times.finish[lot]):
            return self.date
        state = self._state(lot, ready)
        return self._date(lot, self._arrive(lot, state), self._slipped_start(lot, ready), state)

    def date_if_here(self, lot: int, arrive: int) -> int:
        """The shipment's date once ``lot`` arrives on that evening, begun when it is now."""
        return self._date(lot, arrive, self.forecast.times.start[lot], None)

    def pushed(self, lot: int, ready: int) -> frozenset[int]:
        """The lots that lot being ready on that evening puts past their latest finish, itself included."""
        to_see = self._steps_after(lot, ready)
        seen = set(to_see)
        while to_see:
            other, state = to_see.pop()
            steps = [
                step
                for step in self._steps(other, self._arrive(other, state), None, state)
                if step not in seen
            ]
            seen.update(steps)
            to_see += steps
        return frozenset((lot, *(other for other, _ in seen)))

    def _steps_after(self, lot: int, ready: int) -> Steps:
        """Followers pushed past their limit once ``lot`` slips whole to that evening."""
        plain = self._plain(lot)
        if plain is not None:
            return _pushed_plainly(plain, ready + self.network.travel[lot] + 1)
        state = self._state(lot, ready)
        return self._steps(lot, self._arrive(lot, state), self._slipped_start(lot, ready), state)

    def _state(self, lot: int, ready: int) -> int:
        """Ready on that evening, as this lot's readiness is kept."""
        flow = self.network.flow.get(lot)
        return ready if flow is None else evening(ready, flow.ticks)

    def _date(self, lot: int, arrive: int, begin: int, state: int | None) -> int:
        return self._latest(arrive, lot, self._steps(lot, arrive, begin, state))

    def _settle(self, step: tuple[int, int]) -> None:
        """Work out the date of one lot and readiness, those that follow first."""
        known = self.known
        waiting = [step]
        steps_of: dict[tuple[int, int], Steps] = {}
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

    def _steps(self, lot: int, arrive: int, begin: int | None, state: int | None) -> Steps:
        """Followers pushed past their limit, with the readiness of each.

        A follower that other bounds hold back further is within its limit, so they need no look here.
        """
        network, late = self.network, self.late
        leads, calendars, flow = network.lead, network.calendar, network.flow
        found = []
        if lot in self.next and state is not None:
            found += self._in_sequence(self.next[lot], state)
        for other, link in self.followers[lot]:
            if link is not None:
                then = self._ready_by_link(
                    other, link, arrive, self._start(lot, state or 0) if begin is None else begin
                )
            elif other in flow:
                found += self._in_sequence(other, evening(arrive, flow[other].ticks))
                continue
            else:
                calendar, lead = calendars[other], leads[other]
                then = arrive + lead if calendar is None else calendar.finish(arrive + 1, lead)
            if then > late[other]:
                found.append((other, then))
        return found

    def _in_sequence(self, lot: int, moment: int) -> Steps:
        """The lot and the moment it ends when it begins at a moment, if that is past its limit."""
        network, flow = self.network, self.network.flow[lot]
        if network.fixed[lot] is not None:
            return []
        _, end = advance(moment, flow.length, flow.ticks, network.calendar[lot])
        return [(lot, end)] if end > self.late_ends.get(lot, FREE) else []

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

    def _arrive(self, lot: int, state: int) -> int:
        flow = self.network.flow.get(lot)
        ready = state if flow is None else day_of(state, flow.ticks)
        extra = self.network.extra[lot]
        if extra is None:
            return ready + self.network.travel[lot]
        door = max(ready, extra.leaves.day) if extra.leaves else ready
        return max(arrival(self.network, lot, door), extra.promised or 0)

    def _start(self, lot: int, state: int) -> int:
        """The day a lot that is worked without a break begins when it is ready on that evening."""
        flow = self.network.flow.get(lot)
        ready = state if flow is None else day_of(state, flow.ticks)
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


def _pushed_plainly(followers: Plain, day: int) -> Steps:
    """Followers that are ready past their limit once they begin on ``day`` at the earliest."""
    found = []
    for other, lead, calendar, limit in followers:
        if calendar is None:
            then = day + lead - 1
        else:
            try:
                then = calendar.days[calendar.before[day - calendar.first] + lead - 1]
            except IndexError:
                then = calendar.finish(day, lead)
        if then > limit:
            found.append((other, then))
    return found
