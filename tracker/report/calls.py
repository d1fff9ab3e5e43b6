"""Whom to call: by supplier, promises that passed, what is due soon, what they wait for from us."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from tracker.plan.model import DatesMean, Fact, Supplier
from tracker.report.accepting import LaterDate, Latest, later_dates, latest_to_accept
from tracker.report.jobs import JobRow, job_rows
from tracker.report.picture import Picture
from tracker.report.promises import PromiseRow, promise_rows

SOON = 7


@dataclass(frozen=True, slots=True, kw_only=True)
class CallJob:
    """A job to speak about. ``why`` says which of: no news, late, waits on us, due soon; none where nothing presses.

    ``accept_by`` is the latest day for the date they name that moves no shipment, ``accept_means`` how it
    counts: leaving their door where they count so and it has not left yet, else in hand on a day our own bench is
    open. ``later`` has what dates after it cost, counted the same way.
    """

    row: JobRow
    why: tuple[str, ...]
    promises: tuple[PromiseRow, ...]
    accept_by: date | None
    accept_means: DatesMean
    later: tuple[LaterDate, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class CallRow:
    """One supplier to call, most pressing job first; ``open_jobs`` counts all of theirs, pressing or not.

    ``call_again`` is the day promised when they were called last (``last_called``, with its note), if one was;
    ``again_due`` tells that this day is today or has passed.
    """

    supplier: str
    name: str
    contact: str
    jobs: tuple[CallJob, ...]
    open_jobs: int
    call_again: date | None
    again_due: bool
    last_called: date | None
    last_note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Calls:
    """All calls worth making now, most pressing first; or the one to the supplier asked for."""

    today: date
    rows: tuple[CallRow, ...]


_PRESSING = ("no news", "late", "waits on us", "due soon")


def calls(picture: Picture, asked: str = "") -> Calls:
    """Calls promised for today or before come first; our own bench is never among them.

    ``asked`` is the code of one supplier, who is shown in any case and with all open jobs, or empty for all.
    """
    wanted = {one.code: one for one in picture.plan.suppliers if not one.inhouse and asked in ("", one.code)}
    still = [row for row in job_rows(picture) if row.is_open and row.supplier in wanted]
    spoken = [_call(picture, wanted[row.supplier], row) for row in still]
    jobs = _with_later_dates(picture, [job for job in spoken if job.why or asked])
    again, last = calls_again(picture), _last_calls(picture)
    found = []
    for code, supplier in wanted.items():
        theirs = sorted((job for job in jobs if job.row.supplier == code), key=_pressing)
        if theirs or asked or code in again:
            open_jobs = sum(row.supplier == code for row in still)
            called = last.get(code)
            day = called.day if called and (asked or code in again) else None
            found.append(_row(picture, supplier, theirs, open_jobs, called, day))
    return Calls(today=picture.today, rows=tuple(sorted(found, key=_turn)))


def _with_later_dates(picture: Picture, jobs: Sequence[CallJob]) -> list[CallJob]:
    latest = {
        job.row.code: Latest(day=job.accept_by, means=job.accept_means) for job in jobs if job.accept_by
    }
    later = later_dates(picture, latest)
    return [replace(job, later=later.get(job.row.code, ())) for job in jobs]


def _row(
    picture: Picture,
    supplier: Supplier,
    jobs: Sequence[CallJob],
    open_jobs: int,
    last: Fact | None,
    again: date | None,
) -> CallRow:
    return CallRow(
        supplier=supplier.code,
        name=supplier.name,
        contact=supplier.contact,
        jobs=tuple(jobs),
        open_jobs=open_jobs,
        call_again=again,
        again_due=again is not None and again <= picture.today,
        last_called=last.on if last else None,
        last_note=last.note if last else "",
    )


def _turn(row: CallRow) -> tuple[int, int, date]:
    """Promised calls that are due, oldest first; then the most pressing job; then calls still ahead."""
    if row.again_due:
        return 0, 0, row.call_again or date.max
    return (1, *_pressing(row.jobs[0])) if row.jobs else (2, 0, row.call_again or date.max)


def _pressing(job: CallJob) -> tuple[int, date]:
    """Jobs nothing presses for come last."""
    first = _PRESSING.index(job.why[0]) if job.why else len(_PRESSING)
    return first, job.accept_by or date.max


def _call(picture: Picture, supplier: Supplier, row: JobRow) -> CallJob:
    why = []
    if "NO NEWS" in row.flags:
        why.append("no news")
    if "LATE" in row.flags and (row.its_turn or "CANNOT HOLD" in row.flags):
        why.append("late")
    if any(owed.presses for owed in row.owes):
        why.append("waits on us")
    due = row.promise or row.arrives
    if row.its_turn and due and due.toordinal() <= picture.forecast.today + SOON:
        why.append("due soon")
    latest = latest_to_accept(picture, supplier, row)
    return CallJob(
        row=row,
        why=tuple(why),
        promises=promise_rows(picture.plan, row.code, picture.today),
        accept_by=latest.day if latest else None,
        accept_means=latest.means if latest else supplier.dates_mean,
    )


def _last_calls(picture: Picture) -> Mapping[str, Fact]:
    """By supplier, the latest call; of several on one day the one logged last."""
    made = (fact for fact in picture.plan.facts if fact.kind == "called" and fact.on <= picture.today)
    return {fact.supplier: fact for fact in sorted(made, key=lambda one: one.on)}


def calls_again(picture: Picture) -> Mapping[str, date]:
    """By supplier, the day a call was promised for, up to a week ahead, unless another was logged since."""
    last = _last_calls(picture)
    limit = date.fromordinal(picture.forecast.today + SOON)
    return {
        supplier.code: day
        for supplier in picture.plan.suppliers
        if not supplier.inhouse and (call := last.get(supplier.code)) and (day := call.day) and day <= limit
    }
