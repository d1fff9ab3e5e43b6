"""What a sheet's rows tell that happened: ordered on a day, promised for one, a note."""

from collections.abc import Iterator
from datetime import date

from tracker.plan.day_text import full_day
from tracker.plan.model import Fact, Plan
from tracker.planfile.faults import bad


def ordered(job: str, day: date, plan: Plan, today: date) -> Iterator[Fact]:
    """The order of a job, unless it is logged already.

    Raises
    ------
    BadValue
        If it lies after today, or another day is logged: the first order counts.
    """
    if day > today:
        raise bad(
            f"{full_day(day)} is after today, {full_day(today)}",
            "an order is logged once it is placed: clear the cell until then",
        )
    logged = [fact.on for fact in plan.facts_by_job.get(job, ()) if fact.kind == "ordered"]
    if logged and day not in logged:
        raise bad(
            f"{full_day(day)} is not the day logged, {full_day(logged[0])}",
            "correct the cell, or take the logged order back with 'tracker undo' (tracker diary shows its number)",
        )
    if not logged:
        yield Fact(on=day, kind="ordered", logged=today, job=job)


def promised(job: str, day: date, plan: Plan, today: date) -> Iterator[Fact]:
    """A promise given today, unless that day was promised before: an old sheet brings no old promise back."""
    if not any(fact.kind == "promised" and fact.day == day for fact in plan.facts_by_job.get(job, ())):
        yield Fact(on=today, kind="promised", logged=today, job=job, day=day)


def noted(job: str, note: str, plan: Plan, today: date) -> Iterator[Fact]:
    """A note on a job, unless it is logged already."""
    if note and not any(fact.kind == "note" and fact.note == note for fact in plan.facts_by_job.get(job, ())):
        yield Fact(on=today, kind="note", logged=today, job=job, note=note)
