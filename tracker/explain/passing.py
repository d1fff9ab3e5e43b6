"""Whose doing it is that a shipment moves while days pass and nothing is logged."""

from tracker.explain.steps import US, Blame, Cause
from tracker.schedule.forecast import Forecast
from tracker.schedule.holders import holding


def blame_of_days(after: Forecast | None, shipment: str) -> Blame:
    """Blame what holds the shipment once the days have passed.

    A check that failed and waits to be tried again is a reject; ours is what we owe or what waits at our own bench;
    a supplier's, a date of theirs that passed without news. Anything else is time itself, such as work paused.
    """
    held = None if after is None else holding(after, shipment)
    if after is None or held is None:
        return Blame(cause="time passing")
    begin = held.held_by
    job = after.plan.job_by_code[begin.job]
    cause: Cause = "time passing"
    if {reason.kind for reason in begin.reasons} & {"second attempt", "after failure"}:
        cause = "rejects"
    elif any(reason.owed_by for reason in begin.reasons) or after.plan.supplier_by_code[job.supplier].inhouse:
        cause = "our own delay"
    elif any(after.network.jobs[lot].code == job.code for lot in after.times.overdue):
        cause = "supplier late"
    ours = cause == "our own delay" or after.plan.supplier_by_code[job.supplier].inhouse
    return Blame(cause=cause, job=job.code, supplier=US if ours else job.supplier)
