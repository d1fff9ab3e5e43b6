"""The first plan: the forecast with facts ignored, kept once the run is complete, or one kept in its place."""

from datetime import date

from tracker.plan.model import FirstPlan, Plan, PlannedJob, PlannedShipment
from tracker.schedule.forecast import Forecast


def first_plan_of(plan: Plan) -> FirstPlan:
    """Work out the first plan: today is the run's start, orders and clocks are on time, gates pass.

    Jobs that run only after a failure have no place in it.
    """
    return kept_as_plan(Forecast(plan, plan.run.start, as_planned=True))


def kept_as_plan(forecast: Forecast) -> FirstPlan:
    """A forecast as the plan to measure against: a job begins with its first lot and ends with the one that speaks for it."""
    times = forecast.times
    jobs = tuple(
        PlannedJob(
            job=code,
            start=date.fromordinal(
                min(min(times.start[lot], times.finish[lot] + 1) for lot in forecast.lots_of(code))
            ),
            finish=date.fromordinal(times.finish[speaker]),
            arrives=date.fromordinal(times.arrive[speaker]),
        )
        for code, speaker in forecast.network.index.items()
    )
    shipments = tuple(
        PlannedShipment(shipment=code, date=date.fromordinal(day))
        for code, day in forecast.shipment_dates.items()
        if day is not None
    )
    return FirstPlan(jobs=jobs, shipments=shipments)
