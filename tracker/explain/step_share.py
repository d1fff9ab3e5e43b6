"""What closures make of one own day more of a single lot, each worked out on the network with a supplier at work."""

from dataclasses import replace
from datetime import date

from tracker.explain.closure_share import ClosureShare, Opened, closure_share
from tracker.plan.calendars import calendars_of
from tracker.plan.model import Plan, Supplier
from tracker.plan.workdays import Calendar
from tracker.schedule.forecast import Forecast
from tracker.schedule.network import Extra, Network, SpecialLink
from tracker.schedule.tails import Followers, Tail, followers_of


class StepShares:
    """Answers for one forecast; what is worked out for one closure serves all lots.

    Dates that facts fix and pieces as shared out stay as they are with the supplier at work.
    """

    def __init__(self, forecast: Forecast) -> None:
        self.forecast = forecast
        self.followers = followers_of(forecast.network)
        self.opened: dict[tuple[str, tuple[date, ...]], tuple[Forecast, Followers]] = {}
        self.tails: dict[tuple[str, tuple[date, ...], str], Tail] = {}

    def of(self, lot: int, shipment: str, last: int, next_day: int) -> ClosureShare | None:
        """The closure that makes most of a shipment's move when the lot is ready on its own day after ``last`` instead.

        Sought among the suppliers of that lot and of those it then holds up; None where none makes a day of it.
        """
        tail = Tail(self.forecast, shipment, self.followers)
        here, later = tail.date_after(lot, last), tail.date_after(lot, next_day)
        jobs = self.forecast.network.jobs
        suppliers = sorted({jobs[other].supplier for other in tail.pushed(lot, next_day)})
        return closure_share(
            self.forecast.plan,
            suppliers,
            last + 1,
            later,
            later - here,
            lambda opened: self._days_with(opened, lot, shipment, last),
        )

    def _days_with(self, opened: Opened, lot: int, shipment: str, last: int) -> int:
        """The same step with a supplier at work: from ``last`` to the own day after it there."""
        plan = opened(self.forecast.plan)
        suppliers = zip(plan.suppliers, self.forecast.plan.suppliers, strict=True)
        tail = self._tail(plan, next(one for one, was in suppliers if one.opens != was.opens), shipment)
        own = tail.network.calendar[lot]
        return tail.date_after(lot, own.add(last, 1) if own else last + 1) - tail.date_after(lot, last)

    def _tail(self, plan: Plan, opened: Supplier, shipment: str) -> Tail:
        closure = (opened.code, opened.opens)
        if closure not in self.opened:
            network = _at_work(self.forecast.network, opened.code, calendars_of(plan)[opened.code])
            self.opened[closure] = Forecast.of_network(network), followers_of(network)
        if (*closure, shipment) not in self.tails:
            then, followers = self.opened[closure]
            self.tails[*closure, shipment] = Tail(then, shipment, followers, then.limits_of(shipment))
        return self.tails[*closure, shipment]


def _at_work(network: Network, supplier: str, calendar: Calendar) -> Network:
    """The network with another calendar of one supplier, wherever its days count."""
    theirs = [job.supplier == supplier for job in network.jobs]

    def special(links: list[SpecialLink] | None) -> list[SpecialLink] | None:
        return links and [
            replace(link, calendar=calendar) if link.calendar and theirs[link.lot] else link for link in links
        ]

    def extra(known: Extra | None) -> Extra | None:
        return replace(known, travel=calendar) if known and known.travel else known

    def own(calendars: list[Calendar | None]) -> list[Calendar | None]:
        return [calendar if known and mine else known for known, mine in zip(calendars, theirs, strict=True)]

    return replace(
        network,
        calendar=own(network.calendar),
        own_calendar=[
            calendar if mine else known for known, mine in zip(network.own_calendar, theirs, strict=True)
        ],
        special=[special(links) for links in network.special],
        extra=[extra(known) if mine else known for known, mine in zip(network.extra, theirs, strict=True)],
    )
