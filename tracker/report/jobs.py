"""Jobs as rows: state, dates, floats, what they hold and wait for."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import TypedDict

from tracker.explain.state import promised_day
from tracker.plan.model import Job
from tracker.report.job_days import LotRow, days_of, first_days_of, lots_of
from tracker.report.owed import Owed, owed_of
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
class JobRow:
    """Everything a report says of one job; dates are None for jobs that have no place in the forecast.

    ``finish`` is the last day worked, ``ready`` the day it can leave their door (on its way: the day it is
    here), ``arrives`` the day whose evening the result is here, ``late_finish`` the latest calendar day it may
    be ready, ``harmless_until`` the last own day up to that. Floats count own days (calendar days for what is on
    its way); ``spare_days`` and ``drag`` calendar days. ``left`` is the day an open lot left their door,
    ``date_passed`` the day that passed without news, ``undated`` the pieces to come without a date.
    ``missing`` lists what is owed to start, or to leave once work has begun; ``give_by`` and ``frees`` go with
    it, ``owes`` has all. A gate that ``failed_on`` a day may be ``passed_by`` a later attempt on ``passed_on``.
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
    date_passed: date | None
    undated: int | None
    failed_on: date | None
    passed_by: str
    passed_on: date | None
    first_start: date | None
    first_finish: date | None
    first_arrives: date | None
    start: date | None
    finish: date | None
    left: date | None
    ready: date | None
    arrives: date | None
    late_start: date | None
    late_finish: date | None
    harmless_until: date | None
    total_float: int | None
    spare_days: int | None
    free_float: int | None
    drag: int | None
    room: int | None
    room_of: str
    give_by: date | None
    frees: str
    owes: tuple[Owed, ...]
    holds: tuple[str, ...]
    waits_for: tuple[str, ...]
    driven_by: tuple[str, ...]
    by_shipment: Mapping[str, ShipmentSlack]
    lots: tuple[LotRow, ...]
    at_best: tuple[str, ...]


class _Standing(TypedDict):
    """How the job stands."""

    state: str
    flags: tuple[str, ...]
    is_open: bool
    its_turn: bool
    promise: date | None
    promises_given: int
    overdue_days: int
    undated: int | None
    failed_on: date | None
    passed_by: str
    passed_on: date | None
    at_best: tuple[str, ...]


class _Floats(TypedDict):
    """How far it may slip."""

    total_float: int | None
    spare_days: int | None
    free_float: int | None
    drag: int | None
    room: int | None
    room_of: str
    by_shipment: Mapping[str, ShipmentSlack]


class _Owing(TypedDict):
    """What we owe it."""

    missing: tuple[str, ...]
    give_by: date | None
    frees: str
    owes: tuple[Owed, ...]


def begins(row: JobRow) -> date:
    """The day to order jobs by where time matters: the start, else the last day worked."""
    return row.start or row.finish or date.max


def job_rows(picture: Picture, *, detail: bool = False) -> tuple[JobRow, ...]:
    """One row a job, in plan order; ``detail`` adds what costs further passes (drag, per-shipment floats)."""
    return tuple(job_row(picture, job, detail=detail) for job in picture.plan.jobs)


def job_row(picture: Picture, job: Job, *, detail: bool = True) -> JobRow:
    """The row of one job."""
    lot = picture.forecast.lot_of(job.code)
    slack = None if lot is None else picture.forecast.slack(lot)
    return JobRow(
        code=job.code,
        name=job.name,
        public_name=job.public_name,
        supplier=job.supplier,
        process=job.process,
        holds=picture.holds.get(job.code, ()),
        waits_for=tuple(link.job for link in job.after),
        driven_by=_driven_by(picture, lot),
        lots=lots_of(picture, lot) if detail and lot is not None else (),
        **_standing(picture, job, lot),
        **days_of(picture, lot, slack),
        **first_days_of(picture, job.code),
        **_floats(picture, lot, slack, detail=detail),
        **_owing(picture, job, lot),
    )


def _standing(picture: Picture, job: Job, lot: int | None) -> _Standing:
    forecast, stands = picture.forecast, picture.standings[job.code]
    failed = forecast.network.gates.failed_on.get(job.code)
    passed = forecast.lot_of(stands.passed_by)
    return _Standing(
        state=stands.state,
        flags=stands.flags,
        is_open=lot is not None and forecast.is_open(lot),
        its_turn=stands.its_turn,
        promise=promised_day(forecast, job),
        promises_given=0 if lot is None else len(forecast.progress(lot).promises),
        overdue_days=stands.overdue_days,
        undated=_to_come(picture, job, lot) if stands.undated and lot is not None else None,
        failed_on=day_or_none(failed),
        passed_by=stands.passed_by,
        passed_on=None if passed is None else day_or_none(forecast.progress(passed).outcome_day),
        at_best=_at_best(picture, lot),
    )


def _to_come(picture: Picture, job: Job, lot: int) -> int | None:
    progress = picture.forecast.progress(lot)
    return None if job.quantity is None else job.quantity - max(progress.received, progress.made_pieces)


def _floats(picture: Picture, lot: int | None, slack: Slack | None, *, detail: bool) -> _Floats:
    forecast = picture.forecast
    by_shipment = _by_shipment(picture, lot) if detail and lot is not None and slack else {}
    return _Floats(
        total_float=slack.total_float if slack else None,
        spare_days=slack.spare_days if slack else None,
        free_float=None if lot is None else forecast.free_float(lot),
        drag=_last_drag(picture, slack, by_shipment) if detail else None,
        room=None if lot is None else forecast.room(lot),
        room_of=(None if lot is None else forecast.room_of(lot)) or "",
        by_shipment=by_shipment,
    )


def _by_shipment(picture: Picture, lot: int) -> Mapping[str, ShipmentSlack]:
    forecast = picture.forecast
    dragged = drags(forecast, lot) if forecast.network.jobs[lot].code in picture.holds else {}
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


def _owing(picture: Picture, job: Job, lot: int | None) -> _Owing:
    """All we owe, and of it what ``missing`` names: to start, or to leave once work has begun."""
    if lot is None:
        return _Owing(missing=(), give_by=None, frees="", owes=())
    forecast = picture.forecast
    owes = owed_of(picture, job.code, lot)
    begun = forecast.times.start[lot] < forecast.today or forecast.progress(lot).made is not None
    named = next((one for one in owes if begun or not one.to_leave), None)
    return _Owing(
        missing=named.what if named else (),
        give_by=named.by if named else None,
        frees=named.frees if named else "",
        owes=owes,
    )


def _driven_by(picture: Picture, lot: int | None) -> tuple[str, ...]:
    if lot is None or not picture.forecast.is_open(lot):
        return ()
    return tuple(picture.forecast.network.jobs[other].code for other in what_sets(picture.forecast, lot)[0])


def _at_best(picture: Picture, lot: int | None) -> tuple[str, ...]:
    if lot is None or not picture.forecast.is_open(lot) or not picture.forecast.times.overdue:
        return ()
    behind = picture.forecast.overdue_behind((lot,))
    return tuple(picture.forecast.network.jobs[other].code for other in behind)
