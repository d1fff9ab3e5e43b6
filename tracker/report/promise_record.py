"""Every promise ever made, by supplier and job, and what became of each."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

from tracker.plan.model import Fact, Job
from tracker.plan.progress import Progress
from tracker.report.picture import Picture
from tracker.report.promises import PromiseRow, promise_rows
from tracker.schedule.network import ready_by

Became = Literal[
    "kept", "came late", "part came", "moved", "brought forward", "said again", "open", "no news", "ended"
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Fate:
    """What became of a promise, on which day that was known, and ``days`` in calendar days.

    ``days`` counts from the promised day to the day it came (negative: before it), for one replaced the days to the
    new date, for one that passed without news the days since, for an open one the days to go.
    """

    became: Became
    on: date | None
    days: int


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptRow:
    """One promise and its fate."""

    promise: PromiseRow
    fate: Fate


@dataclass(frozen=True, slots=True, kw_only=True)
class JobRecord:
    """All promises of one job, oldest first; ``came`` is the day it left their door or was here, as promised."""

    job: str
    name: str
    state: str
    came: date | None
    promises: tuple[KeptRow, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SupplierRecord:
    """One supplier's promises added up; ``slips`` are dates moved later, ``slip_days`` their calendar days."""

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
    slips = [row.promise.slip for row in rows if row.promise.slip is not None and row.promise.slip > 0]
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
    kept = tuple(
        KeptRow(promise=row, fate=_fate(picture, job, row, then, after))
        for row, then, after in zip(rows, followed, facts, strict=True)
    )
    return JobRecord(
        job=job.code,
        name=job.name,
        state=picture.standings[job.code].state,
        came=_came(picture, job, rows[-1].means) if rows else None,
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


def _fate(
    picture: Picture, job: Job, row: PromiseRow, then: PromiseRow | None, facts: Sequence[Fact]
) -> Fate:
    """What became of it: what came by the day counts first, then the date said next, then how it stands now."""
    failed = [fact.on for fact in facts if fact.kind == "failed"]
    if failed:
        return Fate(became="ended", on=failed[-1], days=0)
    came = _came(picture, job, row.means)
    if came is not None and (then is None or came <= row.day):
        return _met(row, came)
    parts = [fact for fact in facts if fact.kind == "in" and fact.pieces]
    if row.good is not None and sum(fact.pieces for fact in parts) >= row.good:
        return _met(row, parts[-1].on)
    if parts:
        return Fate(became="part came", on=parts[-1].on, days=(parts[-1].on - row.day).days)
    return _replaced(row, then) if then else _still(picture, job, row)


def _met(row: PromiseRow, came: date) -> Fate:
    return Fate(became="kept" if came <= row.day else "came late", on=came, days=(came - row.day).days)


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


def _came(picture: Picture, job: Job, means: str) -> date | None:
    """The day the whole left their door, or was here, whichever the promise spoke of; None while it has not."""
    lot = picture.forecast.lot_of(job.code)
    if lot is None:
        return None
    progress = picture.forecast.progress(lot)
    arrived = picture.forecast.times.arrive[lot] if progress.done is not None else None
    if means == "in hand":
        day = arrived
    else:
        day = _left(progress, ours=bool(job.leave_when))
        if day is None and arrived is not None:
            day = ready_by(picture.forecast.network, lot, arrived)
    return None if day is None or day > picture.forecast.today else date.fromordinal(day)


def _left(progress: Progress, *, ours: bool) -> int | None:
    """The day a lot left their door; where leaving waits for us, the day it was ready counts."""
    days = (progress.left, progress.made, progress.finished)
    if ours:
        days = (progress.made, progress.left, progress.finished)
    return next((day for day in days if day is not None), None)
