"""A job's state word and flags, derived from what was logged and from the forecast; never typed."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal, get_args

from tracker.explain.open_lots import has_pieces, is_rework, open_lots, silent_lot
from tracker.plan.model import Job
from tracker.plan.progress import Progress
from tracker.schedule.bounds import missing_conditions
from tracker.schedule.forecast import Forecast
from tracker.schedule.holders import earliest_arrival

State = Literal[
    "NOT DUE", "CAN START", "CLOCK NOT STARTED", "ORDERED", "IN WORK", "MADE", "ON THE WAY", "PART IN", "DONE",
    "PAUSED", "FAILED", "CALLED OFF",
]  # fmt: skip
Flag = Literal["LATE", "TIGHT", "NO NEWS", "CANNOT HOLD"]
TIGHT_DAYS = 3
_FLAGS: tuple[Flag, ...] = get_args(Flag)
_AT_WORK_FIRST: tuple[State, ...] = (
    "FAILED", "PAUSED", "PART IN", "IN WORK", "MADE", "ON THE WAY", "CLOCK NOT STARTED", "CAN START", "ORDERED",
    "NOT DUE", "DONE", "CALLED OFF",
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """How one job stands.

    ``missing`` lists conditions of the clock not given, ``to_leave`` those without which it may not leave their
    door. ``overdue_days`` counts calendar days since a date passed without news. ``its_turn`` means all it
    waits for is done. ``undated`` means that a part came after the date given for it passed, and the rest has
    no date. ``passed_by`` names the later attempt that passed a gate after this one failed.
    """

    state: State
    flags: tuple[Flag, ...] = ()
    missing: tuple[str, ...] = ()
    to_leave: tuple[str, ...] = ()
    overdue_days: int = 0
    its_turn: bool = False
    undated: bool = False
    passed_by: str = ""


def standing(forecast: Forecast, job: Job) -> Standing:
    """Work out the job's state and flags, those of its open lots together."""
    lot = forecast.lot_of(job.code)
    if lot is None:
        off = forecast.network.left_out.get(job.code) == "called off"
        return Standing(state="CALLED OFF" if off else "NOT DUE")
    return _together([lot_standing(forecast, one) for one in open_lots(forecast, job.code) or (lot,)])


def lot_standing(forecast: Forecast, lot: int) -> Standing:
    """How one lot stands, the others of its job left aside."""
    job, progress = forecast.network.jobs[lot], forecast.progress(lot)
    turn = forecast.inputs_done(lot)
    waits = progress.done is None and has_pieces(forecast, lot)
    missing = missing_conditions(forecast.plan, job, progress) if waits else ()
    return Standing(
        state=_state(forecast, lot, progress, turn=turn, missing=missing),
        flags=_flags(forecast, lot, progress, turn=turn),
        missing=missing,
        to_leave=_to_leave(job, progress),
        overdue_days=forecast.times.overdue.get(lot, 0),
        its_turn=turn,
        undated=_undated(forecast, lot, progress),
        passed_by=_passed_by(forecast, job, progress),
    )


def _together(lots: Sequence[Standing]) -> Standing:
    """A job with several lots to come: the state of the one at work, all that is missing, every flag."""
    if len(lots) == 1:
        return lots[0]
    flags = {flag for one in lots for flag in one.flags}
    if "LATE" in flags:
        flags.discard("TIGHT")
    return Standing(
        state=min((one.state for one in lots), key=_AT_WORK_FIRST.index),
        flags=tuple(flag for flag in _FLAGS if flag in flags),
        missing=tuple(dict.fromkeys(what for one in lots for what in one.missing)),
        to_leave=tuple(dict.fromkeys(what for one in lots for what in one.to_leave)),
        overdue_days=max(one.overdue_days for one in lots),
        its_turn=any(one.its_turn for one in lots),
        undated=max(lots, key=lambda one: one.overdue_days).undated,
        passed_by=lots[0].passed_by,
    )


def promised_day(forecast: Forecast, job: Job) -> date | None:
    """The day of the live promise, as given; of several that of a silent lot, else of the last to come."""
    silent = silent_lot(forecast, job.code)
    lot = forecast.lot_of(job.code) if silent is None else silent
    promise = None if lot is None else forecast.progress(lot).promise
    return None if promise is None else date.fromordinal(promise.day)


def cannot_hold(forecast: Forecast, lot: int) -> bool:
    """A live promise that the job's inputs, or work begun after it was given, cannot meet."""
    promise = forecast.progress(lot).promise
    if promise is None or not forecast.is_open(lot):
        return False
    extra, fixed = forecast.network.extra[lot], forecast.network.fixed[lot]
    if fixed is not None:
        return fixed.reason.kind in ("started", "overdue") and fixed.arrive > max(promise.day, forecast.today)
    return (
        extra is not None and extra.promised is not None and earliest_arrival(forecast, lot) > extra.promised
    )


def _to_leave(job: Job, progress: Progress) -> tuple[str, ...]:
    if progress.done is not None or progress.left is not None:
        return ()
    return tuple(what for what in job.leave_when if what not in progress.given)


def _undated(forecast: Forecast, lot: int, progress: Progress) -> bool:
    """Whether the date that passed was given before a part came or was counted: for the rest there is none.

    Where pieces are counted, a promise of so many speaks of those that are still to come.
    """
    if lot not in forecast.times.overdue or progress.last_count is None:
        return False
    if forecast.network.demand is not None and progress.promise is not None and progress.promise.good:
        return False
    return progress.promise is None or progress.last_count > progress.promise.given


def _passed_by(forecast: Forecast, job: Job, progress: Progress) -> str:
    opener = forecast.network.gates.opener.get(job.code, job.code)
    other = forecast.lot_of(opener)
    if progress.outcome != "fail" or opener == job.code or other is None:
        return ""
    return opener if forecast.progress(other).outcome == "pass" else ""


def _state(
    forecast: Forecast, lot: int, progress: Progress, *, turn: bool, missing: tuple[str, ...]
) -> State:
    if progress.outcome == "fail" and progress.started is None:
        return "DONE" if _passed_by(forecast, forecast.network.jobs[lot], progress) else "FAILED"
    seen: tuple[tuple[bool, State], ...] = (
        (progress.done is not None, "DONE"),
        (_paused(forecast, progress), "PAUSED"),
        (progress.received > 0 and not is_rework(forecast, lot), "PART IN"),
        (progress.left is not None, "ON THE WAY"),
        (progress.made is not None, "MADE"),
        (progress.started is not None or progress.seen is not None, "IN WORK"),
    )
    found = next((state for holds, state in seen if holds), None)
    return found or _not_started(forecast, lot, progress, turn=turn, missing=missing)


def _paused(forecast: Forecast, progress: Progress) -> bool:
    """Whether work still stands still: no end is known, or the day it may go on is yet to come."""
    until = progress.pauses[-1][1] if progress.paused else None
    return progress.paused and (until is None or until > forecast.today)


def _not_started(
    forecast: Forecast, lot: int, progress: Progress, *, turn: bool, missing: tuple[str, ...]
) -> State:
    inhouse = forecast.plan.supplier_by_code[forecast.network.jobs[lot].supplier].inhouse
    if not has_pieces(forecast, lot):
        turn = False
    if turn and missing:
        return "CLOCK NOT STARTED"
    begins = forecast.times.start[lot]
    if turn and inhouse:
        return "CAN START" if begins == _first_own_day(forecast, lot) else "NOT DUE"
    if turn and begins < forecast.today:
        return "IN WORK"
    return "ORDERED" if progress.ordered is not None else "NOT DUE"


def _first_own_day(forecast: Forecast, lot: int) -> int:
    calendar = forecast.network.calendar[lot]
    return calendar.snap(forecast.today) if calendar else forecast.today


def _flags(forecast: Forecast, lot: int, progress: Progress, *, turn: bool) -> tuple[Flag, ...]:
    if not forecast.is_open(lot):
        return ()
    found: list[Flag] = []
    no_news = lot in forecast.times.overdue
    broken = cannot_hold(forecast, lot)
    room, slack = forecast.room(lot), forecast.slack(lot)
    promise_passed = progress.promise is not None and no_news
    if promise_passed or broken or (turn and room is not None and room < 0):
        found.append("LATE")
    elif slack is not None and slack.spare_days <= TIGHT_DAYS:
        found.append("TIGHT")
    if no_news and not _undated(forecast, lot, progress):
        found.append("NO NEWS")
    if broken:
        found.append("CANNOT HOLD")
    return tuple(found)
