"""What stands whatever was logged: shut gates, dates without news, inputs that come too late, what we owe.

Each row comes with whether it is fresh, that is, was not so when the last mail went out.
"""

from collections.abc import Container, Iterator, Mapping
from dataclasses import replace
from datetime import date, timedelta

from tracker.explain.state import cannot_hold
from tracker.plan.model import Job
from tracker.report.gates import GateRow
from tracker.report.jobs import JobRow, job_row
from tracker.report.mail_case import Case
from tracker.report.mail_rows import GoAheadRow, OwingRow, ReadyRow, Silence, SilenceRow, Step, StopRow
from tracker.schedule.passes import link_bound

ASK_AGAIN = 7
_BEGINS = ("ordered", "started", "made", "given")
_GONE = ("left", "done")


def shut_gates(case: Case) -> Mapping[str, tuple[StopRow, bool]]:
    """By job code, work let out behind a gate that is not open; a failure tells before a check still to come."""
    found: dict[str, tuple[StopRow, bool]] = {}
    jobs = {job.code: job for job in case.jobs}
    for gate in case.gates:
        failed_on = gate.results[-1].on if gate.state == "failed" else None
        failed_since = any(fact.kind == "failed" and fact.job in gate.attempts for fact in case.news.facts)
        held = (row for hold in gate.shut.hold for row in hold.jobs) if gate.shut else ()
        for row in held:
            if row.job in jobs and row.job not in found and row.step not in _GONE:
                stop = StopRow(job=case.name(jobs[row.job]), failed_on=failed_on, step=_step(row.step))
                found[row.job] = stop, failed_since
    return found


def _step(step: str) -> Step:
    if step == "made":
        return "made"
    return "in work" if step in ("started", "part in") else "ordered"


def go_aheads(case: Case, stopped: Container[str]) -> Iterator[GoAheadRow]:
    """Open jobs let out before a gate above them that has passed since, unless another one is still shut."""
    passed = {gate.opener: gate for gate in case.gates if _passed_since(case, gate)}
    for job in case.jobs if passed else ():
        lot = case.open_lot(job)
        if lot is None or job.code in stopped:
            continue
        days = [gate.passed_on for code in _above(case, lot) if (gate := passed.get(code)) and gate.passed_on]
        facts = case.picture.plan.facts_by_job.get(job.code, ())
        if days and any(fact.kind in _BEGINS and fact.on <= max(days) for fact in facts):
            yield GoAheadRow(job=case.name(job), passed_on=max(days))


def _passed_since(case: Case, gate: GateRow) -> bool:
    passes = (fact for fact in case.news.facts if fact.kind == "passed")
    return gate.state == "passed" and any(fact.job == gate.opener for fact in passes)


def _above(case: Case, lot: int) -> set[str]:
    """Codes of all jobs that stand before a lot, near or far."""
    forecast, seen, to_see = case.picture.forecast, set[int](), [lot]
    while to_see:
        new = set(forecast.waits_for(to_see.pop())) - seen
        seen |= new
        to_see += new
    return {forecast.network.jobs[other].code for other in seen}


def silences(case: Case, stopped: Container[str]) -> Iterator[tuple[SilenceRow, bool]]:
    """Dates that passed without news, of jobs that are theirs to go on with; asked again after a week."""
    again = case.picture.today - case.news.since >= timedelta(days=ASK_AGAIN)
    for job, row in _open_rows(case, stopped):
        passed = row.date_passed is not None or row.undated is not None
        if not passed or row.state == "PAUSED" or _waits_for_us(case, job):
            continue
        found = SilenceRow(
            job=case.name(job), kind=_silence(case, row), day=row.date_passed, pieces=row.undated
        )
        if found.kind == "no date":
            found = replace(found, day=None)
        yield found, again or (row.date_passed or date.min) >= case.news.since


def _waits_for_us(case: Case, job: Job) -> bool:
    """Whether it cannot go on for want of inputs by others, or of what we owe."""
    stands = case.picture.standings[job.code]
    owed = bool(stands.missing) or (stands.state == "MADE" and bool(stands.to_leave))
    return owed or _others_inputs(case, job)[0] is not None


def _silence(case: Case, row: JobRow) -> Silence:
    if row.undated is not None:
        return "no date"
    if row.promise != row.date_passed:
        return "due here" if row.left else "expected"
    lot = case.picture.forecast.lot_of(row.code)
    promise = None if lot is None else case.picture.forecast.progress(lot).promise
    return promise.means if promise else "expected"


def late_inputs(case: Case, stopped: Container[str]) -> Iterator[tuple[ReadyRow, bool]]:
    """Promises that cannot be met because what others give them is not here yet."""
    for job, row in _open_rows(case, stopped):
        lot = case.open_lot(job)
        ready, inputs = _others_inputs(case, job)
        if lot is None or ready is None or row.promise is None:
            continue
        if cannot_hold(case.picture.forecast, lot):
            fresh = any(fact.job in (job.code, *inputs) for fact in case.news.facts)
            yield ReadyRow(job=case.name(job), promised=row.promise, ready=ready), fresh


def _others_inputs(case: Case, job: Job) -> tuple[date | None, tuple[str, ...]]:
    """The day the last open input is there, and the inputs' codes; None where none or their own work holds it."""
    lot, forecast = case.open_lot(job), case.picture.forecast
    if lot is None or forecast.network.fixed[lot] is not None:
        return None, ()
    network, times = forecast.network, forecast.times
    arrivals = {other: times.arrive[other] for other in network.plain[lot]}
    for link in network.special[lot] or ():
        arrivals[link.lot] = max(link_bound(link, times) - 1, arrivals.get(link.lot, 0))
    still = {other: day for other, day in arrivals.items() if forecast.is_open(other)}
    codes = tuple(network.jobs[other].code for other in still)
    if not still:
        return None, codes
    last = max(still, key=lambda other: (still[other], network.jobs[other].supplier != job.supplier))
    theirs = network.jobs[last].supplier == job.supplier
    return (None if theirs else date.fromordinal(still[last])), codes


def owing(case: Case, stopped: Container[str]) -> Iterator[OwingRow]:
    """What we have not given to jobs that are ordered and wait for it now."""
    for job, row in _open_rows(case, stopped):
        for owed in row.owes:
            if owed.presses and "order" not in owed.what:
                yield OwingRow(job=case.name(job), what=owed.what, to_leave=owed.to_leave)


def _open_rows(case: Case, stopped: Container[str]) -> Iterator[tuple[Job, JobRow]]:
    for job in case.jobs:
        if case.open_lot(job) is not None and job.code not in stopped:
            yield job, job_row(case.picture, job, detail=False)
