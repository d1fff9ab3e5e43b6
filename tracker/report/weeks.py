"""The run as bars, one column per calendar week (Monday to Sunday)."""

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from tracker.report.job_days import days_of
from tracker.report.jobs import JobRow, begins, job_rows
from tracker.report.picture import Picture
from tracker.report.shipments import ShipmentRow, shipment_rows

Mark = Literal["m", "t", "w", ""]
_WEEK = 7
_EMPTY: Mark = ""
_Spans = list[tuple[Mark, date, date]]


@dataclass(frozen=True, slots=True, kw_only=True)
class LotBar:
    """The bar of one lot: its number among all ``of`` its job's lots, and the day it is here."""

    number: int
    of: int
    marks: tuple[Mark, ...]
    arrives: date


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekRow:
    """One job's bar: a mark for each week (m made, t travel, w waits on us) and the week its first plan ended.

    The marks are those of all its lots; ``lots`` has open ones apart where they fall into different weeks.
    """

    code: str
    public_name: str
    state: str
    is_open: bool
    flags: tuple[str, ...]
    marks: tuple[Mark, ...]
    first_plan_week: int | None
    arrives: date | None
    lots: tuple[LotBar, ...]


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

    Jobs stand in the order in which their first lots start; those that ended before the first week shown are left out.
    """
    rows = sorted(job_rows(picture), key=lambda row: _first_begins(picture, row))
    start = (
        picture.plan.run.start
        if whole
        else max(picture.plan.run.start, picture.today - timedelta(weeks=back))
    )
    dates = [one.forecast for one in shipment_rows(picture) if one.forecast]
    ends = [date.fromordinal(day) for day in picture.forecast.times.arrive]
    mondays = _mondays(start, max((picture.today, *ends, *dates)))
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


def _first_begins(picture: Picture, row: JobRow) -> date:
    """The day the first of a job's lots begins."""
    lots = picture.forecast.lots_of(row.code)
    if len(lots) < 2:  # noqa: PLR2004 - a job of one lot begins with it
        return begins(row)
    days = [days_of(picture, lot, None) for lot in lots]
    return min(one["start"] or one["finish"] or date.max for one in days)


def _mondays(start: date, end: date) -> tuple[date, ...]:
    first = start - timedelta(days=start.weekday())
    return tuple(first + timedelta(weeks=week) for week in range((end - first).days // _WEEK + 1))


def _week_of(mondays: tuple[date, ...], day: date | None) -> int | None:
    if day is None or not mondays[0] <= day < mondays[-1] + timedelta(days=_WEEK):
        return None
    return (day - mondays[0]).days // _WEEK


def _bar(picture: Picture, row: JobRow, mondays: tuple[date, ...]) -> WeekRow:
    by_lot = [(lot, _moving(picture, lot)) for lot in picture.forecast.lots_of(row.code)]
    spans = sorted((span for _, found in by_lot for span in found), key=lambda span: span[0])
    return WeekRow(
        code=row.code,
        public_name=row.public_name,
        state=row.state,
        is_open=row.is_open,
        flags=row.flags,
        marks=_marks([*spans, *_waiting(picture, row)], mondays, picture.today),
        first_plan_week=_week_of(mondays, row.first_finish),
        arrives=row.arrives,
        lots=_lot_bars(picture, by_lot, mondays),
    )


def _lot_bars(
    picture: Picture, by_lot: list[tuple[int, _Spans]], mondays: tuple[date, ...]
) -> tuple[LotBar, ...]:
    """Open lots with pieces in them, where there are several that do not fall into the same weeks."""
    forecast, lots = picture.forecast, picture.forecast.network.lots
    bars = [
        LotBar(
            number=number,
            of=len(by_lot),
            marks=_marks(spans, mondays, picture.today),
            arrives=date.fromordinal(forecast.times.arrive[place]),
        )
        for number, (place, spans) in enumerate(by_lot, start=1)
        if len(by_lot) > 1 and forecast.is_open(place) and (lot := lots[place]) is not None and lot.pieces
    ]
    return tuple(bars) if len({bar.marks for bar in bars}) > 1 else ()


def _marks(spans: _Spans, mondays: tuple[date, ...], today: date) -> tuple[Mark, ...]:
    return tuple(_mark(spans, monday, today) for monday in mondays)


def _mark(spans: _Spans, monday: date, today: date) -> Mark:
    """The first span that reaches into the week; in today's week what waits on us today comes before the rest."""
    if any(
        mark == "w" and first <= today <= last and monday <= today <= _sunday(monday)
        for mark, first, last in spans
    ):
        return "w"
    return next((mark for mark, first, last in spans if first <= _sunday(monday) and monday <= last), _EMPTY)


def _sunday(monday: date) -> date:
    return monday + timedelta(days=_WEEK - 1)


def _moving(picture: Picture, lot: int) -> _Spans:
    """When a lot is made and when it travels: marks with their first and last day."""
    days = days_of(picture, lot, None)
    worked, ready, arrives = days["finish"], days["ready"], days["arrives"]
    if worked is None or ready is None or arrives is None:
        return []
    start = days["start"] or worked
    leaves = days["left"] or ready if picture.forecast.is_open(lot) else worked
    return _not_empty([("m", min(start, worked), worked), ("t", leaves + timedelta(days=1), arrives)])


def _waiting(picture: Picture, row: JobRow) -> _Spans:
    """When a job waits for us to start, or made for us to let it leave."""
    start, worked, ready = row.start or row.finish, row.finish, row.ready
    if start is None or worked is None or ready is None:
        return []
    day = timedelta(days=1)
    if row.state == "CLOCK NOT STARTED":
        return _not_empty([("w", _turn_came(picture, row), max(start - day, picture.today))])
    if row.state == "MADE" and any(owed.to_leave for owed in row.owes):
        return _not_empty([("w", worked + day, max(row.left or ready, picture.today))])
    return []


def _not_empty(spans: _Spans) -> _Spans:
    return [(mark, first, last) for mark, first, last in spans if first <= last]


def _turn_came(picture: Picture, row: JobRow) -> date:
    """The day after the last input came, or the gate failed; else the run's start, or the job's not-before."""
    lot = picture.forecast.network.index[row.code]
    job = picture.plan.job_by_code[row.code]
    failed_on = picture.forecast.network.gates.failed_on
    came = [picture.forecast.times.arrive[other] for other in picture.forecast.waits_for(lot)]
    came += [failed_on[link.job] for link in job.after if link.on == "fail" and link.job in failed_on]
    turn = date.fromordinal(max(came, default=picture.plan.run.start.toordinal() - 1) + 1)
    return max(turn, job.not_before or turn)
