"""The board: one screen that says what holds the shipments and what needs a hand."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from tracker.explain.open_lots import counted_lot, open_lots, silent_lot
from tracker.report.calls import calls_again
from tracker.report.cliffs import LastDays, explained, last_days
from tracker.report.coverage import problems
from tracker.report.jobs import JobRow, job_rows
from tracker.report.next_day import LaterCost
from tracker.report.owed import Owed, owed_text
from tracker.report.picture import Picture
from tracker.report.shipments import ShipmentRow, shipment_rows
from tracker.report.shortages import Shortage

DUE_WITHIN = 14
_CLIFF_WITHIN = 14
_MOST_LAST_DAYS = 6
_ARRIVE = {"promised": "promised", "rework": "back from rework", "rerun": "run again arrive"}


@dataclass(frozen=True, slots=True, kw_only=True)
class DueRow:
    """Something expected within a fortnight: ``what`` is such as ``arrives``, ``promised``, ``give balance by``.

    ``job`` is empty for a call to a supplier; of a job with several lots to come ``what`` says how many pieces.
    """

    day: date
    job: str
    supplier: str
    what: str


@dataclass(frozen=True, slots=True, kw_only=True)
class OwedRow:
    """What we owe one job, and by when to keep the shipment it frees (None: it can move none).

    ``again`` counts the pieces of a re-run to be ordered.
    """

    job: str
    supplier: str
    what: tuple[str, ...]
    to_leave: bool
    give_by: date | None
    frees: str
    again: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """The answer to bare ``tracker``.

    ``next_day`` has, for those of ``attention`` that hold a shipment or have few spare days, what one own day past the
    harmless ones costs. ``last_days`` are jobs that one own day more, or a day within a fortnight of their present
    finish, takes over a cliff, and others that hold a shipment; ``more_last_days`` counts further ones. No job is in both.
    """

    run: str
    product: str
    today: date
    fixed_today: bool
    ship_date: date | None
    at_best: tuple[str, ...]
    shipments: tuple[ShipmentRow, ...]
    attention: tuple[JobRow, ...]
    next_day: Mapping[str, tuple[LaterCost, ...]]
    clocks: tuple[OwedRow, ...]
    due: tuple[DueRow, ...]
    problems: tuple[Shortage, ...]
    last_days: tuple[LastDays, ...]
    more_last_days: int
    open_jobs: int
    all_jobs: int


def board(picture: Picture, *, fixed_today: bool) -> Board:
    """Put the board together; ``fixed_today`` tells that the status date is kept with the run."""
    rows = job_rows(picture)
    shipments = shipment_rows(picture)
    attention = _attention(picture, rows)
    near = last_days(picture, _CLIFF_WITHIN)
    said = {row.code for row in attention}
    pressing = _pressing(near, said)
    shown = pressing[:_MOST_LAST_DAYS]
    said -= {row.job for row in shown}
    return Board(
        run=picture.plan.run.code,
        product=picture.plan.run.product,
        today=picture.today,
        fixed_today=fixed_today,
        ship_date=max((row.forecast for row in shipments if row.forecast), default=None),
        at_best=overdue_codes(picture),
        shipments=shipments,
        attention=attention,
        next_day={row.job: row.costs for row in near if row.job in said},
        clocks=owed_rows(rows),
        due=due_rows(picture, rows),
        problems=problems(picture),
        last_days=explained(picture, shown),
        more_last_days=len(pressing) - len(shown),
        open_jobs=sum(row.is_open for row in rows),
        all_jobs=len(rows),
    )


def _attention(picture: Picture, rows: tuple[JobRow, ...]) -> tuple[JobRow, ...]:
    """Jobs whose turn it is with a flag, promises that cannot hold, jobs failed or paused, and those that hold a shipment for what we owe."""
    order = {"LATE": 0, "NO NEWS": 1, "CANNOT HOLD": 2, "TIGHT": 3}
    found = [
        row
        for row in rows
        if row.is_open
        and (
            (row.its_turn and row.flags)
            or "CANNOT HOLD" in row.flags
            or row.state in ("FAILED", "PAUSED")
            or row.code in picture.owed_beginnings
        )
    ]
    return tuple(
        sorted(
            found,
            key=lambda row: (min((order[flag] for flag in row.flags), default=4), row.spare_days or 0),
        )
    )


def _pressing(near: tuple[LastDays, ...], said: set[str]) -> tuple[LastDays, ...]:
    """Jobs near a cliff, then what holds a shipment and is not said already, each by its last harmless day."""
    wanted = (row for row in near if row.cliff or (row.holds and row.job not in said))
    return tuple(sorted(wanted, key=lambda row: row.cliff is None))


def owed_rows(rows: tuple[JobRow, ...]) -> tuple[OwedRow, ...]:
    """All we owe that presses, in plan order."""
    return tuple(
        OwedRow(
            job=row.code,
            supplier=row.supplier,
            what=owed.what,
            to_leave=owed.to_leave,
            give_by=owed.by,
            frees=owed.frees,
            again=owed.again,
        )
        for row in rows
        for owed in row.owes
        if owed.presses
    )


def overdue_codes(picture: Picture) -> tuple[str, ...]:
    """Jobs whose date passed without news; rework that no shipment waits for is left aside."""
    forecast = picture.forecast
    codes = dict.fromkeys(forecast.network.jobs[lot].code for lot in sorted(forecast.times.overdue))
    return tuple(code for code in codes if silent_lot(forecast, code) is not None)


def due_rows(picture: Picture, rows: tuple[JobRow, ...], within: int = DUE_WITHIN) -> tuple[DueRow, ...]:
    """What is due from today to ``within`` calendar days on, soonest first."""
    last = date.fromordinal(picture.forecast.today + within)
    found = [
        DueRow(day=day, job="", supplier=supplier, what="call again")
        for supplier, day in calls_again(picture).items()
    ]
    for row in rows:
        if not row.is_open:
            continue
        found += [
            DueRow(day=day, job=row.code, supplier=row.supplier, what=what)
            for day, what in _arrivals(picture, row)
            if day <= last
        ]
        found += [
            DueRow(day=owed.by, job=row.code, supplier=row.supplier, what=_to_give(owed))
            for owed in row.owes
            if owed.by and owed.by <= last
        ]
    return tuple(sorted(found, key=lambda due: (due.day, due.job)))


def _arrivals(picture: Picture, row: JobRow) -> Iterator[tuple[date, str]]:
    """When what is still to come of a job arrives; of several lots each with its pieces."""
    forecast = picture.forecast
    lots = open_lots(forecast, row.code)
    if len(lots) == 1 and row.arrives:
        yield row.arrives, "promised" if row.promise == row.arrives else "arrives"
        return
    by_day: dict[tuple[date, str], int] = {}
    for place in lots:
        lot = counted_lot(forecast, place)
        if lot is not None:
            what = _ARRIVE.get(lot.kind, "arrive")
            key = (date.fromordinal(forecast.times.arrive[place]), what)
            by_day[key] = by_day.get(key, 0) + lot.pieces
    for (day, what), pieces in by_day.items():
        yield day, f"{pieces} {what}"


def _to_give(owed: Owed) -> str:
    if owed.what == ("order",):
        return f"order {owed.again} more by" if owed.again else "order by"
    return f"give {owed_text(owed)} by"
