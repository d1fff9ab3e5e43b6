"""Which late part moves the ship date, and by how much."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from tracker.explain.hidden_pairs import HiddenPair, hidden_pairs
from tracker.explain.late import KeptPromise, LateJob, kept_promise, late_jobs
from tracker.report.picture import Picture, day_or_none
from tracker.report.promises import PromiseRow, promise_rows


@dataclass(frozen=True, slots=True, kw_only=True)
class LateRow:
    """One late job: planned and expected arrival, calendar days late, days each shipment would gain.

    ``promises`` are all given so far, ``if_kept`` what keeping the present one would gain (None without one).
    """

    job: str
    supplier: str
    state: str
    planned: date
    arrives: date
    days_late: int
    promise: date | None
    ship_date_gain: int
    gains: Mapping[str, int]
    at_best: bool
    caused: bool
    promises: tuple[PromiseRow, ...]
    if_kept: KeptPromise | None


@dataclass(frozen=True, slots=True, kw_only=True)
class LateReport:
    """Late jobs ranked by what the ship date would gain if that job alone were back on its first-plan day.

    ``caused`` rows are late only because something before them is; ``pairs`` are sought among the others.
    """

    today: date
    ship_date: date | None
    has_first_plan: bool
    rows: tuple[LateRow, ...]
    pairs: tuple[HiddenPair, ...]


def late_report(picture: Picture) -> LateReport:
    """Rank the late jobs and name the pairs that hide each other."""
    forecast = picture.forecast
    found = late_jobs(forecast)
    rows = tuple(_row(picture, late) for late in found)
    own = [late for late, row in zip(found, rows, strict=True) if not row.caused]
    return LateReport(
        today=picture.today,
        ship_date=day_or_none(forecast.ship_date),
        has_first_plan=picture.plan.first_plan is not None,
        rows=rows,
        pairs=hidden_pairs(forecast, own),
    )


def _row(picture: Picture, late: LateJob) -> LateRow:
    forecast = picture.forecast
    lot = forecast.network.index[late.job]
    promise = forecast.progress(lot).promise
    return LateRow(
        job=late.job,
        supplier=picture.plan.job_by_code[late.job].supplier,
        state=picture.standings[late.job].state,
        planned=late.planned,
        arrives=late.arrives,
        days_late=late.days_late,
        promise=day_or_none(promise.day) if promise else None,
        ship_date_gain=late.ship_date_gain,
        gains=late.gains,
        at_best=lot in forecast.times.overdue,
        caused=not picture.standings[late.job].its_turn,
        promises=promise_rows(picture.plan, late.job, picture.today),
        if_kept=kept_promise(forecast, late.job),
    )
