"""One job's days as people read them: when it started, was last worked on, is ready and is here."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import TypedDict

from tracker.explain.open_lots import counted_lot, silent_lot
from tracker.report.picture import Picture, day_or_none
from tracker.report.pieces import LotPieces, lot_rows
from tracker.schedule.forecast import Slack
from tracker.schedule.placing import assumed_start


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
class CountedLotRow(LotRow):
    """One lot of a job that counts pieces; ``expected`` are the good ones it should bring, or has brought.

    ``kind`` is received, on the way, made, promised, to come, rework or rerun. ``ready`` is the day it can leave
    their door (on its way: the day it is here), ``harmless_until`` and ``spare_days`` count from it.
    """

    kind: str
    expected: int
    ready: date
    harmless_until: date | None
    spare_days: int | None
    for_shipments: tuple[str, ...]


class Days(TypedDict):
    """The days of a job row, all None for a job that has no place in the forecast."""

    start: date | None
    finish: date | None
    ready: date | None
    arrives: date | None
    left: date | None
    date_passed: date | None
    late_start: date | None
    late_finish: date | None
    harmless_until: date | None


class FirstDays(TypedDict):
    """A job's days in the first plan."""

    first_start: date | None
    first_finish: date | None
    first_arrives: date | None


def days_of(picture: Picture, lot: int | None, slack: Slack | None) -> Days:
    """The job's days as forecast; a start nobody logged is the one assumed, where there is one."""
    if lot is None:
        return Days(
            start=None, finish=None, ready=None, arrives=None, left=None, date_passed=None, late_start=None,
            late_finish=None, harmless_until=None,
        )  # fmt: skip
    forecast = picture.forecast
    overdue = forecast.times.overdue.get(lot)
    return Days(
        start=_start(picture, lot),
        finish=date.fromordinal(_last_worked(picture, lot)),
        ready=date.fromordinal(forecast.times.finish[lot]),
        arrives=date.fromordinal(forecast.times.arrive[lot]),
        left=day_or_none(forecast.progress(lot).left) if forecast.is_open(lot) else None,
        date_passed=None if overdue is None else date.fromordinal(forecast.today - overdue),
        late_start=day_or_none(forecast.latest_day1(lot) if slack else None),
        late_finish=day_or_none(slack.late_finish if slack else None),
        harmless_until=day_or_none(slack.harmless_until if slack else None),
    )


def first_days_of(picture: Picture, code: str) -> FirstDays:
    """The job's days in the first plan, None where it has none."""
    start, finish, arrives = picture.first_jobs.get(code, (None, None, None))
    return FirstDays(first_start=start, first_finish=finish, first_arrives=arrives)


def job_days_of(picture: Picture, code: str, slack: Slack | None) -> Days:
    """A job's days: those of the lot that speaks for it, begun with its first, silent since the longest overdue.

    ``slack`` is that of its tightest lot, which also gives the latest start.
    """
    forecast = picture.forecast
    lot, lots = forecast.lot_of(code), forecast.lots_of(code)
    days = days_of(picture, lot, slack)
    if lot is None or len(lots) == 1:
        return days
    silent, tight = silent_lot(forecast, code), forecast.tightest_lot(code)
    overdue = None if silent is None else forecast.times.overdue[silent]
    latest = None if tight is None or slack is None else forecast.latest_day1(tight)
    days["start"] = _first_start(picture, lot, lots)
    days["date_passed"] = None if overdue is None else date.fromordinal(forecast.today - overdue)
    days["late_start"] = day_or_none(latest)
    return days


def _first_start(picture: Picture, speaker: int, lots: Sequence[int]) -> date | None:
    """When work on the order began or begins; of pieces only in rework, or to be made again, when that does."""
    forecast = picture.forecast

    def is_apart(place: int) -> bool:
        lot = counted_lot(forecast, place)
        return lot is not None and lot.kind in ("rework", "rerun")

    ordered = [lot for lot in lots if not is_apart(lot)]
    if is_apart(speaker) and not any(forecast.is_open(lot) for lot in ordered):
        ordered = [speaker]
    starts = [start for start in (_start(picture, lot) for lot in ordered) if start is not None]
    return min(starts, default=None)


def lots_of(picture: Picture, code: str) -> tuple[LotRow, ...]:
    """The job's lots: one for a job that counts no pieces, else those that came and those to come."""
    lots = picture.forecast.lots_of(code)
    if picture.forecast.network.demand is not None and picture.plan.job_by_code[code].counts_pieces:
        pairs = zip(lots, lot_rows(picture, code), strict=True)
        return tuple(_counted_lot(picture, place, pieces) for place, pieces in pairs)
    return tuple(_whole(picture, lot) for lot in lots)


def _whole(picture: Picture, lot: int) -> LotRow:
    times = picture.forecast.times
    finish = date.fromordinal(_last_worked(picture, lot))
    return LotRow(
        lot=1,
        quantity=picture.forecast.network.jobs[lot].quantity,
        good=picture.forecast.progress(lot).good,
        start=_start(picture, lot) or date.fromordinal(min(times.start[lot], finish.toordinal())),
        finish=finish,
        arrives=date.fromordinal(times.arrive[lot]),
    )


def _counted_lot(picture: Picture, place: int, pieces: LotPieces) -> CountedLotRow:
    whole = _whole(picture, place)
    return CountedLotRow(
        lot=pieces.number,
        quantity=pieces.pieces,
        good=pieces.good if pieces.kind == "received" else 0,
        start=whole.start,
        finish=whole.finish,
        arrives=whole.arrives,
        kind=pieces.kind,
        expected=pieces.good,
        ready=date.fromordinal(picture.forecast.times.finish[place]),
        harmless_until=pieces.harmless_until,
        spare_days=pieces.spare_days,
        for_shipments=pieces.for_shipments,
    )


def _start(picture: Picture, lot: int) -> date | None:
    """The start forecast or logged; of what is made, on its way or done, else the one assumed."""
    forecast, progress = picture.forecast, picture.forecast.progress(lot)
    if progress.made is None and progress.left is None and forecast.is_open(lot):
        return date.fromordinal(forecast.times.start[lot])
    start = progress.started
    if start is None and counted_lot(forecast, lot) is not None:
        start = progress.counted_from
    if start is None:
        start = assumed_start(forecast.network, lot)
    if start is None and forecast.is_open(lot):
        start = forecast.times.start[lot]
    return day_or_none(start)


def _last_worked(picture: Picture, lot: int) -> int:
    """The last day worked: of an open lot the day it was made, or left, where that has been logged."""
    progress = picture.forecast.progress(lot)
    ended = progress.made if progress.made is not None else progress.left
    if ended is None or not picture.forecast.is_open(lot):
        return picture.forecast.times.finish[lot]
    return ended
