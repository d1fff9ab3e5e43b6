"""One forecast with what every report asks of it, each worked out once."""

from collections.abc import Mapping
from datetime import date
from functools import cached_property

from tracker.explain.state import Standing, standing
from tracker.plan.model import Plan
from tracker.schedule.forecast import Forecast
from tracker.schedule.holders import Holding, holding


class Picture:
    """A forecast, its holders and every job's standing."""

    def __init__(self, forecast: Forecast) -> None:
        self.forecast = forecast
        self.plan: Plan = forecast.plan
        self.today = date.fromordinal(forecast.today)

    @cached_property
    def holdings(self) -> Mapping[str, Holding]:
        """What holds each open shipment."""
        found = {code: holding(self.forecast, code) for code in self.forecast.open_shipments}
        return {code: held for code, held in found.items() if held is not None}

    @cached_property
    def standings(self) -> Mapping[str, Standing]:
        """Every job's state and flags by code, in plan order."""
        return {job.code: standing(self.forecast, job) for job in self.plan.jobs}

    @cached_property
    def holds(self) -> Mapping[str, tuple[str, ...]]:
        """For each job on a holding chain, the shipments it holds."""
        found: dict[str, list[str]] = {}
        for code, held in self.holdings.items():
            for job in held.jobs:
                found.setdefault(job, []).append(code)
        return {job: tuple(codes) for job, codes in found.items()}

    @cached_property
    def owed_beginnings(self) -> frozenset[str]:
        """Jobs with which a holding chain of an open shipment begins because of something we owe."""
        return frozenset(
            begin.job
            for held in self.holdings.values()
            for begin in held.begins
            if any(reason.owed_by for reason in begin.reasons)
        )

    @cached_property
    def at_best(self) -> Mapping[str, tuple[str, ...]]:
        """For each open shipment, jobs its date rests on whose own date passed without news."""
        network = self.forecast.network
        return {
            code: tuple(
                network.jobs[lot].code for lot in self.forecast.overdue_behind(tuple(network.shipments[code]))
            )
            for code in self.forecast.open_shipments
        }

    @cached_property
    def first_jobs(self) -> Mapping[str, tuple[date, date, date]]:
        """First-plan start, finish and arrival by job code."""
        first = self.plan.first_plan
        return {row.job: (row.start, row.finish, row.arrives) for row in first.jobs} if first else {}

    @cached_property
    def first_shipments(self) -> Mapping[str, date]:
        """First-plan dates by shipment code."""
        first = self.plan.first_plan
        return {row.shipment: row.date for row in first.shipments} if first else {}


def day_or_none(day: int | None) -> date | None:
    """A day number as a date; None stays None."""
    return None if day is None else date.fromordinal(day)
