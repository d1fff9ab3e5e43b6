"""Whom to call: by supplier, promises that passed, what is due soon, what they wait for from us."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from tracker.plan.model import DatesMean, Supplier
from tracker.report.jobs import JobRow, job_rows
from tracker.report.picture import Picture
from tracker.report.promises import PromiseRow, promise_rows
from tracker.schedule.network import arrival

SOON = 7


@dataclass(frozen=True, slots=True, kw_only=True)
class CallJob:
    """A job to speak about. ``why`` says which of: no news, late, waits on us, due soon.

    ``accept_by`` is the latest day for the date they name that moves no shipment, ``accept_means`` how it
    counts: leaving their door where they count so and it has not left yet, else in hand.
    """

    row: JobRow
    why: tuple[str, ...]
    promises: tuple[PromiseRow, ...]
    accept_by: date | None
    accept_means: DatesMean


@dataclass(frozen=True, slots=True, kw_only=True)
class CallRow:
    """One supplier to call, most pressing job first."""

    supplier: str
    name: str
    contact: str
    jobs: tuple[CallJob, ...]
    call_again: date | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Calls:
    """All calls worth making now, most pressing first."""

    today: date
    rows: tuple[CallRow, ...]


_PRESSING = ("no news", "late", "waits on us", "due soon")


def calls(picture: Picture) -> Calls:
    """Suppliers with something to ask or to answer; our own bench is never among them."""
    rows, again = job_rows(picture), calls_again(picture)
    found = []
    for supplier in picture.plan.suppliers:
        if supplier.inhouse:
            continue
        jobs = [
            _call(picture, supplier, row) for row in rows if row.supplier == supplier.code and row.is_open
        ]
        pressing = sorted((job for job in jobs if job.why), key=_pressing)
        if pressing or supplier.code in again:
            found.append(
                CallRow(
                    supplier=supplier.code,
                    name=supplier.name,
                    contact=supplier.contact,
                    jobs=tuple(pressing),
                    call_again=again.get(supplier.code),
                )
            )
    return Calls(
        today=picture.today,
        rows=tuple(sorted(found, key=lambda row: _pressing(row.jobs[0]) if row.jobs else (0, date.min))),
    )


def _pressing(job: CallJob) -> tuple[int, date]:
    return _PRESSING.index(job.why[0]), job.accept_by or date.max


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
    return CallJob(
        row=row,
        why=tuple(why),
        promises=promise_rows(picture.plan, row.code, picture.today),
        accept_by=_accept_by(picture, supplier, row),
        accept_means="in hand" if row.left else supplier.dates_mean,
    )


def _accept_by(picture: Picture, supplier: Supplier, row: JobRow) -> date | None:
    """The latest date to accept on the telephone, in the supplier's own way of counting dates."""
    lot = picture.forecast.lot_of(row.code)
    if row.late_finish is None or lot is None:
        return None
    if supplier.dates_mean == "leaves" and not row.left:
        return row.harmless_until
    return date.fromordinal(arrival(picture.forecast.network, lot, row.late_finish.toordinal()))


def calls_again(picture: Picture) -> Mapping[str, date]:
    """By supplier, the day a call was promised for, up to a week ahead, unless another was logged since."""
    last: dict[str, date | None] = {}
    for fact in sorted(picture.plan.facts, key=lambda one: one.on):
        if fact.kind == "called" and fact.on <= picture.today:
            last[fact.supplier] = fact.day
    limit = date.fromordinal(picture.forecast.today + SOON)
    return {
        supplier.code: day
        for supplier in picture.plan.suppliers
        if not supplier.inhouse and (day := last.get(supplier.code)) and day <= limit
    }
