"""Every promise ever made, by supplier and job, and what became of each."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

from tracker.plan.model import Fact, Job
from tracker.plan.progress import Progress
from tracker.report.picture import Picture
from tracker.report.promises import PromiseRow, promise_rows
from tracker.schedule.bounds import later

Became = Literal[
    "kept", "came late", "part came", "moved", "brought forward", "said again", "open", "no news", "ended",
    "not judged",
]  # fmt: skip


Step = Literal["came", "left", "made", "finished", "here"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Fate:
    """What became of a promise, on which day that was known, and ``days`` in calendar days.

    ``days`` counts from the promised day to the day it came (negative: before it), for one replaced the days to the
    new date, for one that passed without news the days since, for an open one the days to go. ``step`` is how what
    came was seen: ``here`` where a date to leave was given and nobody logged the leaving, so that the day it came is
    held against the promised day and its travel. ``short`` counts the pieces by which a job was closed short. One
    given on the day it came or later is not judged.
    """

    became: Became
    on: date | None
    days: int
    step: Step = "came"
    short: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptRow:
    """One promise and its fate."""

    promise: PromiseRow
    fate: Fate


@dataclass(frozen=True, slots=True, kw_only=True)
class JobRecord:
    """All promises of one job, oldest first.

    ``came`` is the day it left their door, where that was promised last and logged, or else was here.
    """

    job: str
    name: str
    state: str
    came: date | None
    promises: tuple[KeptRow, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SupplierRecord:
    """One supplier's promises added up; ``slips`` are dates moved later, ``slip_days`` their calendar days.

    A date given once it was here moved nothing.
    """

    supplier: str
    name: str
    promises: int
    kept: int
    came_late: int
    still_open: int
    slips: int
    slip_days: int
    jobs: tuple[JobRecord, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PromiseRecord:
    """The record of all suppliers who ever promised something, or of the one asked for, in plan order."""

    today: date
    asked: str
    suppliers: tuple[SupplierRecord, ...]


def promise_record(picture: Picture, supplier: str) -> PromiseRecord:
    """Gather the promises given up to today; ``supplier`` is a code, or empty for all."""
    wanted = [one for one in picture.plan.suppliers if supplier in ("", one.code)]
    found = []
    for one in wanted:
        jobs = [_job(picture, job) for job in picture.plan.jobs if job.supplier == one.code]
        jobs = [job for job in jobs if job.promises]
        if jobs:
            found.append(_added_up(one.code, one.name, jobs))
    return PromiseRecord(today=picture.today, asked=supplier, suppliers=tuple(found))


def _added_up(code: str, name: str, jobs: Sequence[JobRecord]) -> SupplierRecord:
    rows = [row for job in jobs for row in job.promises]
    judged = [row for row in rows if row.fate.became != "not judged"]
    slips = [slip for row in judged if (slip := row.promise.slip) is not None and slip > 0]
    fates = [row.fate.became for row in rows]
    return SupplierRecord(
        supplier=code,
        name=name,
        promises=len(rows),
        kept=fates.count("kept"),
        came_late=fates.count("came late"),
        still_open=fates.count("open") + fates.count("no news"),
        slips=len(slips),
        slip_days=sum(slips),
        jobs=tuple(jobs),
    )


def _job(picture: Picture, job: Job) -> JobRecord:
    rows = promise_rows(picture.plan, job.code, picture.today)
    followed = (*rows[1:], None)[: len(rows)]
    facts = _facts_after_each(picture, job)
    came = _came(picture, job, rows[-1]) if rows else None
    kept = tuple(
        KeptRow(promise=row, fate=_fate(picture, job, row, then, after))
        for row, then, after in zip(rows, followed, facts, strict=True)
    )
    return JobRecord(
        job=job.code,
        name=job.name,
        state=picture.standings[job.code].state,
        came=came.on if came else None,
        promises=kept,
    )


def _facts_after_each(picture: Picture, job: Job) -> list[list[Fact]]:
    """For each promise, the job's facts logged after it and before the next one."""
    found: list[list[Fact]] = []
    for fact in picture.plan.facts_by_job.get(job.code, ()):
        if fact.on > picture.today:
            continue
        if fact.kind == "promised" and fact.day is not None:
            found.append([])
        elif found:
            found[-1].append(fact)
    return found


@dataclass(frozen=True, slots=True)
class _Came:
    """The day something came, ``late`` in calendar days against what was promised, and how it was seen."""

    on: date
    late: int
    step: Step


def _fate(
    picture: Picture, job: Job, row: PromiseRow, then: PromiseRow | None, facts: Sequence[Fact]
) -> Fate:
    """What became of it: what came by the day counts first, then the date said next, then how it stands now."""
    failed = [fact.on for fact in facts if fact.kind == "failed"]
    if failed:
        return Fate(became="ended", on=failed[-1], days=0)
    came = _came(picture, job, row)
    if came is not None and (then is None or came.late <= 0 or then.given >= came.on):
        return _met(row, came, _short(picture, job))
    parts = [fact for fact in facts if fact.kind == "in" and fact.pieces]
    if not parts:
        return _replaced(row, then) if then else _still(picture, job, row)
    part = _here(picture, job, row, parts[-1].on)
    if row.good is not None and sum(fact.pieces for fact in parts) >= row.good:
        return _met(row, part)
    return Fate(became="part came", on=part.on, days=part.late, step=part.step)


def _met(row: PromiseRow, came: _Came, short: int = 0) -> Fate:
    if row.given >= came.on:
        return Fate(became="not judged", on=came.on, days=0, step=came.step, short=short)
    became: Became = "came late" if came.late > 0 else "kept"
    return Fate(became=became, on=came.on, days=came.late, step=came.step, short=short)


def _short(picture: Picture, job: Job) -> int:
    """Pieces that never came of a job closed short."""
    lot = picture.forecast.lot_of(job.code)
    if lot is None or job.quantity is None:
        return 0
    progress = picture.forecast.progress(lot)
    return max(0, job.quantity - progress.received) if progress.short else 0


def _here(picture: Picture, job: Job, row: PromiseRow, on: date) -> _Came:
    """What is here, against the day promised; of a date to leave, against that day and the travel after it."""
    lot = picture.forecast.lot_of(job.code)
    if row.means == "in hand" or lot is None:
        return _Came(on, (on - row.day).days, "came")
    calendar = picture.forecast.network.own_calendar[lot] if job.travel.unit == "wd" else None
    due = later(row.day.toordinal(), job.travel.days, calendar)
    return _Came(on, on.toordinal() - due, "here")


def _replaced(row: PromiseRow, then: PromiseRow) -> Fate:
    days = (then.day - row.day).days
    became: Became = "moved" if days > 0 else "brought forward" if days < 0 else "said again"
    return Fate(became=became, on=then.given, days=days)


def _still(picture: Picture, job: Job, row: PromiseRow) -> Fate:
    """A promise no other followed and of which nothing came yet: called off, passed, or open."""
    if picture.forecast.lot_of(job.code) is None:
        return Fate(became="ended", on=None, days=0)
    days = (row.day - picture.today).days
    return (
        Fate(became="open", on=None, days=days)
        if days >= 0
        else Fate(became="no news", on=row.day, days=-days)
    )


def _came(picture: Picture, job: Job, row: PromiseRow) -> _Came | None:
    """When the whole left their door, if that was promised and logged, or else was here; None until then.

    What left before a promise was given cannot have been meant by it.
    """
    lot = picture.forecast.lot_of(job.code)
    if lot is None:
        return None
    progress = picture.forecast.progress(lot)
    found = _left(progress, row, ours=bool(job.leave_when)) if row.means == "leaves" else None
    if found is None and progress.done is not None:
        found = _here(picture, job, row, date.fromordinal(picture.forecast.times.arrive[lot]))
    return None if found is None or found.on > picture.today else found


def _left(progress: Progress, row: PromiseRow, *, ours: bool) -> _Came | None:
    """What left their door once the promise was given; where leaving waits for us, when it was ready counts."""
    steps: tuple[Step, ...] = ("made", "left", "finished") if ours else ("left", "made", "finished")
    days = {"left": progress.left, "made": progress.made, "finished": progress.finished}
    seen = ((date.fromordinal(day), step) for step in steps if (day := days[step]) is not None)
    return next((_Came(on, (on - row.day).days, step) for on, step in seen if on >= row.given), None)
