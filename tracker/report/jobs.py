"""Jobs as rows: state, dates, floats, what they hold and wait for."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import TypedDict

from tracker.explain.open_lots import counted_lot, is_rework, open_lots, silent_lot
from tracker.explain.state import promised_day
from tracker.plan.model import Job
from tracker.report.drawing import drawn_parts
from tracker.report.job_days import CountedLotRow, LotRow, first_days_of, job_days_of, lots_of
from tracker.report.owed import Owed, owed_of
from tracker.report.picture import Picture, day_or_none
from tracker.schedule.forecast import Forecast, Slack
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
    ``date_passed`` the day that passed without news, ``undated`` the pieces to come without a date (``undated_in``
    says ``rework`` of those that go round again).
    ``missing`` lists what is owed to start, or to leave once work has begun; ``give_by`` and ``frees`` go with
    it, ``owes`` has all. A gate that ``failed_on`` a day may be ``passed_by`` a later attempt on ``passed_on``.
    Of several lots the last needed one gives the days, and ``start`` is that of the first; floats are those of the
    one with the fewest spare days, which is ``tightest`` where several are to come.
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
    undated_in: str
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
    tightest: CountedLotRow | None
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
    undated_in: str
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


def at_tightest(row: JobRow) -> JobRow:
    """The row with the days of the lot its floats speak of, where the job has several to come."""
    lot = row.tightest
    if lot is None:
        return row
    left = row.left if lot.kind == "on the way" else None
    return replace(row, start=lot.start, finish=lot.finish, ready=lot.ready, arrives=lot.arrives, left=left)


def job_rows(picture: Picture, *, detail: bool = False) -> tuple[JobRow, ...]:
    """One row a job, in plan order; ``detail`` adds what costs further passes (drag, per-shipment floats)."""
    return tuple(job_row(picture, job, detail=detail) for job in picture.plan.jobs)


def job_row(picture: Picture, job: Job, *, detail: bool = True) -> JobRow:
    """The row of one job."""
    forecast = picture.forecast
    lot, tight = forecast.lot_of(job.code), forecast.tightest_lot(job.code)
    slack = None if tight is None else forecast.slack(tight)
    lots = lots_of(picture, job.code) if detail or len(forecast.lots_of(job.code)) > 1 else ()
    return JobRow(
        code=job.code,
        name=job.name,
        public_name=job.public_name,
        supplier=job.supplier,
        process=job.process,
        holds=picture.holds.get(job.code, ()),
        waits_for=waits_for(picture, job),
        driven_by=_driven_by(picture, lot),
        lots=lots,
        tightest=_tightest(picture, job.code, lots, tight),
        **_standing(picture, job, lot),
        **job_days_of(picture, job.code, slack),
        **first_days_of(picture, job.code),
        **_floats(picture, tight, slack, detail=detail),
        **_owing(picture, job, lot),
    )


def waits_for(picture: Picture, job: Job) -> tuple[str, ...]:
    """The jobs it comes after, then those whose pieces it draws."""
    links = (link.job for link in job.after)
    return tuple(dict.fromkeys((*links, *(code for one in drawn_parts(picture, job) for code in one.jobs))))


def _tightest(picture: Picture, code: str, rows: Sequence[LotRow], tight: int | None) -> CountedLotRow | None:
    if tight is None or len(open_lots(picture.forecast, code)) == 1:
        return None
    places = picture.forecast.lots_of(code)
    row = rows[places.index(tight)] if rows and picture.forecast.is_open(tight) else None
    return row if isinstance(row, CountedLotRow) else None


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
        undated=_to_come(picture, job) if stands.undated else None,
        undated_in="rework" if stands.undated and _silent_in_rework(forecast, job) else "",
        failed_on=day_or_none(failed),
        passed_by=stands.passed_by,
        passed_on=None if passed is None else day_or_none(forecast.progress(passed).outcome_day),
        at_best=_at_best(picture, job.code),
    )


def _to_come(picture: Picture, job: Job) -> int | None:
    """Pieces of the lot whose date passed, for which there is no other."""
    forecast = picture.forecast
    silent = silent_lot(forecast, job.code)
    if silent is None:
        return None
    counted = counted_lot(forecast, silent)
    if counted is not None:
        return counted.pieces
    progress = forecast.progress(silent)
    return None if job.quantity is None else job.quantity - max(progress.received, progress.made_pieces)


def _silent_in_rework(forecast: Forecast, job: Job) -> bool:
    silent = silent_lot(forecast, job.code)
    return silent is not None and is_rework(forecast, silent)


def _floats(picture: Picture, lot: int | None, slack: Slack | None, *, detail: bool) -> _Floats:
    """Floats of the tightest ``lot``; room is the least of all lots still open."""
    forecast = picture.forecast
    code = "" if lot is None else forecast.network.jobs[lot].code
    by_shipment = _by_shipment(picture, code) if detail and lot is not None and slack else {}
    rooms = {one: room for one in open_lots(forecast, code) if (room := forecast.room(one)) is not None}
    least = min(rooms, key=lambda one: rooms[one], default=None)
    return _Floats(
        total_float=slack.total_float if slack else None,
        spare_days=slack.spare_days if slack else None,
        free_float=None if lot is None else forecast.free_float(lot),
        drag=_last_drag(picture, slack, by_shipment) if detail else None,
        room=None if least is None else rooms[least],
        room_of=(None if least is None else forecast.room_of(least)) or "",
        by_shipment=by_shipment,
    )


def _by_shipment(picture: Picture, code: str) -> Mapping[str, ShipmentSlack]:
    """For each shipment, the float of the lot that has least against it."""
    forecast = picture.forecast
    lots = open_lots(forecast, code)
    dragged = drags(forecast, lots[-1]) if code in picture.holds else {}
    found = {}
    for shipment in forecast.open_shipments:
        slacks = [slack for lot in lots if (slack := forecast.slack(lot, shipment)) is not None]
        if slacks:
            slack = min(slacks, key=lambda one: one.spare_days)
            found[shipment] = ShipmentSlack(
                total_float=slack.total_float, spare_days=slack.spare_days, drag=dragged.get(shipment, 0)
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
    owes = owed_of(picture, job.code)
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
    codes = [job.code for job in picture.forecast.network.jobs]
    drivers = (codes[other] for other in what_sets(picture.forecast, lot)[0])
    return tuple(dict.fromkeys(code for code in drivers if code != codes[lot]))


def _at_best(picture: Picture, code: str) -> tuple[str, ...]:
    lots = open_lots(picture.forecast, code)
    if not lots or not picture.forecast.times.overdue:
        return ()
    behind = picture.forecast.overdue_behind(lots)
    return tuple(dict.fromkeys(picture.forecast.network.jobs[other].code for other in behind))
