"""What bounds a job's day 1 by itself: run start, clock, not-before, pauses, today; and its own finish.

Days are integers. A bound names the first day that may be worked.
"""

from collections.abc import Mapping

from tracker.plan.model import Job, Plan, Supplier
from tracker.plan.progress import Progress
from tracker.plan.span import Lead
from tracker.plan.workdays import Calendar
from tracker.schedule.reason import Reason


def own_days(job: Job, run_quantity: int) -> tuple[int, bool]:
    """The job's planned lead as (days, counted in working days)."""
    lead = job.lead
    if isinstance(lead, Lead):
        return lead.planned, lead.unit == "wd"
    return lead.days(job.quantity or run_quantity), True


def starting_bounds(
    plan: Plan, job: Job, progress: Progress, calendar: Calendar, today: int, failed_on: Mapping[str, int]
) -> list[Reason]:
    """All own bounds of a job that has not started, the missing clock conditions among them."""
    supplier = plan.supplier_by_code[job.supplier]
    found = [Reason(kind="run start", day=plan.run.start.toordinal())]
    if job.not_before is not None:
        found.append(Reason(kind="not before", day=job.not_before.toordinal()))
    found += [
        Reason(kind="after failure", day=failed_on[link.job] + 1, what=link.job)
        for link in job.after
        if link.on == "fail" and link.job in failed_on
    ]
    if progress.paused:
        until = progress.pauses[-1][1]
        found.append(Reason(kind="paused", day=today + 1 if until is None else until))
    if progress.day1 is not None:
        found.append(Reason(kind="day 1", day=progress.day1))
    else:
        found += _clock_bounds(plan, job, progress, calendar, today)
    if progress.outcome == "fail":
        found.append(
            Reason(kind="second attempt", day=today if supplier.inhouse else today + 1, what=job.code)
        )
    elif supplier.inhouse and progress.seen is None:
        found.append(Reason(kind="today", day=today))
    return found


def planned_bounds(plan: Plan, job: Job) -> list[Reason]:
    """The own bounds of a job in the first plan: facts ignored, orders and clocks on time."""
    found = [Reason(kind="run start", day=plan.run.start.toordinal())]
    if job.not_before is not None:
        found.append(Reason(kind="not before", day=job.not_before.toordinal()))
    return found


def missing_conditions(plan: Plan, job: Job, progress: Progress) -> tuple[str, ...]:
    """Clock conditions not given yet; none once the work has visibly begun or day 1 was written down."""
    begun = progress.started is not None or progress.seen is not None or progress.done is not None
    if begun or progress.day1 is not None:
        return ()
    return tuple(what for what in plan.clock_of(job) if _given_day(what, progress) is None)


def credited(what: str, sent: int, supplier: Supplier, calendar: Calendar) -> int:
    """The day a condition counts from: for money the day sent plus the supplier's bank days."""
    if what not in ("payment", "balance"):
        return sent
    return later(sent, supplier.bank.days, calendar if supplier.bank.unit == "wd" else None)


def later(day: int, days: int, calendar: Calendar | None) -> int:
    """``days`` after ``day``: working days of ``calendar``, or calendar days where it is None."""
    return day + days if calendar is None else calendar.add(day, days)


def own_finish(progress: Progress, start: int, days: int, calendar: Calendar | None, today: int) -> int:
    """The last day of ``days`` own days from ``start``, with pauses left out.

    A pause stops work on its first day; the remaining own days resume on the day it ends (tomorrow while
    no end is known).
    """
    begin, remaining = start, days
    for paused, until in progress.pauses:
        if paused > begin:
            worked = calendar.count(begin, paused) if calendar else paused - begin
            remaining = max(1, remaining - worked)
        begin = max(begin, today + 1 if until is None else until)
    if remaining == 0:
        return begin - 1
    return calendar.finish(begin, remaining) if calendar else begin + remaining - 1


def _given_day(what: str, progress: Progress) -> int | None:
    return progress.ordered if what == "order" else progress.given.get(what)


def _clock_bounds(plan: Plan, job: Job, progress: Progress, calendar: Calendar, today: int) -> list[Reason]:
    supplier = plan.supplier_by_code[job.supplier]
    found = []
    for what in plan.clock_of(job):
        given = _given_day(what, progress)
        if given is None and (progress.seen is not None or progress.started is not None):
            continue
        counts_from = credited(what, today if given is None else given, supplier, calendar)
        owed_by = "us" if given is None else ""
        found.append(Reason(kind="clock", day=counts_from + 1, what=what, owed_by=owed_by))
    return found
