"""Jobs as rows: state, dates, floats, what they hold and wait for."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from tracker.explain.state import promised_day
from tracker.plan.model import Job
from tracker.report.picture import Picture, day_or_none
from tracker.schedule.forecast import Slack
from tracker.schedule.holders import what_sets
from tracker.schedule.what_if import drags


@dataclass(frozen=True, slots=True, kw_only=True)
class ShipmentSlack:
    """A job's float against one shipment, and the calendar days that shipment gains with its lead 0."""

    total_float: int | None
    spare_days: int | None
    drag: int


@dataclass(frozen=True, slots=True, kw_only=True)
class LotRow:
    """One lot of a job; ``good`` counts pieces here."""

    lot: int
    quantity: int | None
    good: int
    start: date
    finish: date
    arrives: date


@dataclass(frozen=True, slots=True, kw_only=True)
class JobRow:
    """Everything a report says of one job; dates are None for jobs that have no place in the forecast.

    ``finish`` is the last day worked, ``arrives`` the day whose evening the result is there, ``late_finish``
    the latest calendar day it may be ready, ``harmless_until`` the last own day up to that. Floats count own
    days; ``spare_days`` and ``drag`` calendar days.
    """

    code: str
    name: str
    public_name: str
    supplier: str
    process: str
    state: str
    flags: tuple[str, ...]
    missing: tuple[str, ...]
    is_open: bool
    its_turn: bool
    promise: date | None
    promises_given: int
    overdue_days: int
    first_start: date | None
    first_finish: date | None
    first_arrives: date | None
    start: date | None
    finish: date | None
    arrives: date | None
    late_start: date | None
    late_finish: date | None
    harmless_until: date | None
    total_float: int | None
    spare_days: int | None
    free_float: int | None
    drag: int | None
    room: int | None
    give_by: date | None
    frees: str
    holds: tuple[str, ...]
    waits_for: tuple[str, ...]
    driven_by: tuple[str, ...]
    by_shipment: Mapping[str, ShipmentSlack]
    lots: tuple[LotRow, ...]
    at_best: tuple[str, ...]


def begins(row: JobRow) -> date:
    """The day to order jobs by where time matters: the start, else the last day worked."""
    return row.start or row.finish or date.max


def job_rows(picture: Picture, *, detail: bool = False) -> tuple[JobRow, ...]:
    """One row a job, in plan order; ``detail`` adds what costs further passes (drag, per-shipment floats)."""
    return tuple(job_row(picture, job, detail=detail) for job in picture.plan.jobs)


def job_row(picture: Picture, job: Job, *, detail: bool = True) -> JobRow:
    """The row of one job."""
    forecast = picture.forecast
    lot = forecast.lot_of(job.code)
    stands = picture.standings[job.code]
    first = picture.first_jobs.get(job.code)
    slack = None if lot is None else forecast.slack(lot)
    latest = None if lot is None or slack is None else forecast.latest_day1(lot)
    by_shipment = _by_shipment(picture, job, lot) if detail and lot is not None and slack else {}
    begun = lot is not None and _begun(picture, lot)
    return JobRow(
        code=job.code,
        name=job.name,
        public_name=job.public_name,
        supplier=job.supplier,
        process=job.process,
        state=stands.state,
        flags=stands.flags,
        missing=stands.missing,
        is_open=lot is not None and forecast.is_open(lot),
        its_turn=stands.its_turn,
        promise=promised_day(forecast, job),
        promises_given=0 if lot is None else len(forecast.progress(lot).promises),
        overdue_days=stands.overdue_days,
        first_start=first[0] if first else None,
        first_finish=first[1] if first else None,
        first_arrives=first[2] if first else None,
        start=None if lot is None or not begun else day_or_none(forecast.times.start[lot]),
        finish=None if lot is None else day_or_none(forecast.times.finish[lot]),
        arrives=None if lot is None else day_or_none(forecast.times.arrive[lot]),
        late_start=day_or_none(latest),
        late_finish=day_or_none(slack.late_finish) if slack else None,
        harmless_until=day_or_none(slack.harmless_until) if slack else None,
        total_float=slack.total_float if slack else None,
        spare_days=slack.spare_days if slack else None,
        free_float=None if lot is None else forecast.free_float(lot),
        drag=_last_drag(picture, slack, by_shipment) if detail else None,
        room=None if lot is None else forecast.room(lot),
        give_by=_give_by(picture, lot, stands.missing),
        frees=_frees(picture, lot) if lot is not None and slack and stands.missing else "",
        holds=picture.holds.get(job.code, ()),
        waits_for=tuple(link.job for link in job.after),
        driven_by=_driven_by(picture, lot),
        by_shipment=by_shipment,
        lots=_lots(picture, job, lot) if detail else (),
        at_best=_at_best(picture, lot),
    )


def _begun(picture: Picture, lot: int) -> bool:
    """Whether a start is known: forecast, or logged for a done job."""
    forecast = picture.forecast
    return forecast.is_open(lot) or forecast.progress(lot).started is not None


def _by_shipment(picture: Picture, job: Job, lot: int) -> Mapping[str, ShipmentSlack]:
    forecast = picture.forecast
    dragged = drags(forecast, lot) if job.code in picture.holds else {}
    found = {}
    for code in forecast.open_shipments:
        slack = forecast.slack(lot, code)
        if slack is not None:
            found[code] = ShipmentSlack(
                total_float=slack.total_float, spare_days=slack.spare_days, drag=dragged.get(code, 0)
            )
    return found


def _last_drag(picture: Picture, slack: Slack | None, by_shipment: Mapping[str, ShipmentSlack]) -> int | None:
    if slack is None:
        return None
    last = by_shipment.get(picture.forecast.last_shipment or "")
    return last.drag if last else 0


def _give_by(picture: Picture, lot: int | None, missing: tuple[str, ...]) -> date | None:
    """The last day to give what is missing so that no shipment moves; a payment is sent its bank days before.

    The clock must be complete the day before the latest day 1; a condition to leave by the evening of the
    latest departure.
    """
    if lot is None or not missing:
        return None
    forecast = picture.forecast
    slack, latest = forecast.slack(lot), forecast.latest_day1(lot)
    if slack is None:
        return None
    by = slack.late_finish if latest is None else latest - 1
    supplier = picture.plan.supplier_by_code[forecast.network.jobs[lot].supplier]
    if not {"payment", "balance"} & set(missing) or not supplier.bank.days:
        return date.fromordinal(by)
    if supplier.bank.unit == "cd":
        return date.fromordinal(by - supplier.bank.days)
    return date.fromordinal(forecast.network.own_calendar[lot].latest_before_adding(by, supplier.bank.days))


def _frees(picture: Picture, lot: int) -> str:
    """The shipment whose date the latest finish belongs to."""
    limits = picture.forecast.limits_by_shipment
    return min(limits, key=lambda code: limits[code].finish[lot], default="")


def _driven_by(picture: Picture, lot: int | None) -> tuple[str, ...]:
    if lot is None or not picture.forecast.is_open(lot):
        return ()
    return tuple(picture.forecast.network.jobs[other].code for other in what_sets(picture.forecast, lot)[0])


def _lots(picture: Picture, job: Job, lot: int | None) -> tuple[LotRow, ...]:
    if lot is None:
        return ()
    times = picture.forecast.times
    return (
        LotRow(
            lot=1,
            quantity=job.quantity,
            good=picture.forecast.progress(lot).good,
            start=date.fromordinal(times.start[lot]),
            finish=date.fromordinal(times.finish[lot]),
            arrives=date.fromordinal(times.arrive[lot]),
        ),
    )


def _at_best(picture: Picture, lot: int | None) -> tuple[str, ...]:
    if lot is None or not picture.forecast.is_open(lot) or not picture.forecast.times.overdue:
        return ()
    behind = picture.forecast.overdue_behind((lot,))
    return tuple(picture.forecast.network.jobs[other].code for other in behind)
