"""The run as bars, one column per calendar week (Monday to Sunday)."""

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from tracker.report.jobs import JobRow, begins, job_rows
from tracker.report.picture import Picture
from tracker.report.shipments import ShipmentRow, shipment_rows

Mark = Literal["m", "t", "w", ""]
_WEEK = 7
_EMPTY: Mark = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekRow:
    """One job's bar: a mark for each week (m made, t travel, w waits on us) and the week its first plan ended."""

    code: str
    public_name: str
    state: str
    is_open: bool
    flags: tuple[str, ...]
    marks: tuple[Mark, ...]
    first_plan_week: int | None
    arrives: date | None


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekShipment:
    """A shipment's box: the week its forecast falls in, if shown."""

    row: ShipmentRow
    week: int | None
    first_plan_week: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Weeks:
    """Bars for every job between the first and the last week shown; ``mondays`` names the weeks."""

    today: date
    today_week: int | None
    mondays: tuple[date, ...]
    rows: tuple[WeekRow, ...]
    shipments: tuple[WeekShipment, ...]


def weeks(picture: Picture, *, whole: bool = False, back: int = 4) -> Weeks:
    """Bars from ``back`` weeks before today (``whole``: from the run's start) to the last date forecast.

    Jobs stand in the order in which they start; those that ended before the first week shown are left out.
    """
    rows = sorted(job_rows(picture), key=begins)
    start = (
        picture.plan.run.start
        if whole
        else max(picture.plan.run.start, picture.today - timedelta(weeks=back))
    )
    end = max((row.arrives for row in rows if row.arrives), default=picture.today)
    dates = [one.forecast for one in shipment_rows(picture) if one.forecast]
    mondays = _mondays(start, max((end, picture.today, *dates)))
    shown = [row for row in rows if row.arrives is not None and (row.is_open or row.arrives >= mondays[0])]
    return Weeks(
        today=picture.today,
        today_week=_week_of(mondays, picture.today),
        mondays=mondays,
        rows=tuple(_bar(picture, row, mondays) for row in shown),
        shipments=tuple(
            WeekShipment(
                row=one,
                week=_week_of(mondays, one.forecast),
                first_plan_week=_week_of(mondays, one.first_plan),
            )
            for one in shipment_rows(picture)
        ),
    )


def _mondays(start: date, end: date) -> tuple[date, ...]:
    first = start - timedelta(days=start.weekday())
    return tuple(first + timedelta(weeks=week) for week in range((end - first).days // _WEEK + 1))


def _week_of(mondays: tuple[date, ...], day: date | None) -> int | None:
    if day is None or not mondays[0] <= day < mondays[-1] + timedelta(days=_WEEK):
        return None
    return (day - mondays[0]).days // _WEEK


def _bar(picture: Picture, row: JobRow, mondays: tuple[date, ...]) -> WeekRow:
    spans = _spans(picture, row)
    marks = tuple(_mark(spans, monday, picture.today) for monday in mondays)
    return WeekRow(
        code=row.code,
        public_name=row.public_name,
        state=row.state,
        is_open=row.is_open,
        flags=row.flags,
        marks=marks,
        first_plan_week=_week_of(mondays, row.first_finish),
        arrives=row.arrives,
    )


def _mark(spans: list[tuple[Mark, date, date]], monday: date, today: date) -> Mark:
    """The first span that reaches into the week; in today's week what waits on us today comes before the rest."""
    if any(
        mark == "w" and first <= today <= last and monday <= today <= _sunday(monday)
        for mark, first, last in spans
    ):
        return "w"
    return next((mark for mark, first, last in spans if first <= _sunday(monday) and monday <= last), _EMPTY)


def _sunday(monday: date) -> date:
    return monday + timedelta(days=_WEEK - 1)


def _spans(picture: Picture, row: JobRow) -> list[tuple[Mark, date, date]]:
    """Marks with their first and last day; where two fall in one week, the one listed first shows."""
    start, worked, ready, arrives = row.start or row.finish, row.finish, row.ready, row.arrives
    if start is None or worked is None or ready is None or arrives is None:
        return []
    leaves = row.left or ready if row.is_open else worked
    day = timedelta(days=1)
    found: list[tuple[Mark, date, date]] = [("m", min(start, worked), worked), ("t", leaves + day, arrives)]
    if row.state == "CLOCK NOT STARTED":
        found.append(("w", _turn_came(picture, row), max(start - day, picture.today)))
    elif row.state == "MADE" and any(owed.to_leave for owed in row.owes):
        found.append(("w", worked + day, max(leaves, picture.today)))
    return [(mark, first, last) for mark, first, last in found if first <= last]


def _turn_came(picture: Picture, row: JobRow) -> date:
    """The day after the last input came, or the gate failed; else the run's start, or the job's not-before."""
    lot = picture.forecast.network.index[row.code]
    job = picture.plan.job_by_code[row.code]
    failed_on = picture.forecast.network.gates.failed_on
    came = [picture.forecast.times.arrive[other] for other in picture.forecast.waits_for(lot)]
    came += [failed_on[link.job] for link in job.after if link.on == "fail" and link.job in failed_on]
    turn = date.fromordinal(max(came, default=picture.plan.run.start.toordinal() - 1) + 1)
    return max(turn, job.not_before or turn)
