"""One job's days as people read them: when it started, was last worked on, is ready and is here."""

from dataclasses import dataclass
from datetime import date
from typing import TypedDict

from tracker.report.picture import Picture, day_or_none
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


def lots_of(picture: Picture, lot: int) -> tuple[LotRow, ...]:
    """The job's lots; there is one a job for now."""
    times = picture.forecast.times
    finish = date.fromordinal(_last_worked(picture, lot))
    return (
        LotRow(
            lot=1,
            quantity=picture.forecast.network.jobs[lot].quantity,
            good=picture.forecast.progress(lot).good,
            start=_start(picture, lot) or date.fromordinal(min(times.start[lot], finish.toordinal())),
            finish=finish,
            arrives=date.fromordinal(times.arrive[lot]),
        ),
    )


def _start(picture: Picture, lot: int) -> date | None:
    """The start forecast or logged; of what is made, on its way or done, else the one assumed."""
    forecast, progress = picture.forecast, picture.forecast.progress(lot)
    if progress.made is None and progress.left is None and forecast.is_open(lot):
        return date.fromordinal(forecast.times.start[lot])
    start = progress.started if progress.started is not None else assumed_start(forecast.network, lot)
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
