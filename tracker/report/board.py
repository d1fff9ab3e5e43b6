"""The board: one screen that says what holds the shipments and what needs a hand."""

from dataclasses import dataclass
from datetime import date

from tracker.report.jobs import JobRow, job_rows
from tracker.report.picture import Picture
from tracker.report.shipments import ShipmentRow, shipment_rows

DUE_WITHIN = 14


@dataclass(frozen=True, slots=True, kw_only=True)
class DueRow:
    """Something expected within a fortnight: ``what`` is ``arrives``, ``promised`` or ``give by``."""

    day: date
    job: str
    supplier: str
    what: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """The answer to bare ``tracker``."""

    run: str
    product: str
    today: date
    fixed_today: bool
    ship_date: date | None
    at_best: tuple[str, ...]
    shipments: tuple[ShipmentRow, ...]
    attention: tuple[JobRow, ...]
    clocks: tuple[JobRow, ...]
    due: tuple[DueRow, ...]
    open_jobs: int
    all_jobs: int


def board(picture: Picture, *, fixed_today: bool) -> Board:
    """Put the board together; ``fixed_today`` tells that the status date is kept with the run."""
    rows = job_rows(picture)
    shipments = shipment_rows(picture)
    turn = [row for row in rows if row.is_open and row.its_turn]
    order = {"LATE": 0, "NO NEWS": 1, "CANNOT HOLD": 2, "TIGHT": 3}
    stopped = [row for row in rows if row.is_open and row.state in ("FAILED", "PAUSED")]
    attention = sorted(
        {row.code: row for row in (*stopped, *turn) if row.flags or row in stopped}.values(),
        key=lambda row: (min((order[flag] for flag in row.flags), default=4), row.spare_days or 0),
    )
    return Board(
        run=picture.plan.run.code,
        product=picture.plan.run.product,
        today=picture.today,
        fixed_today=fixed_today,
        ship_date=max((row.forecast for row in shipments if row.forecast), default=None),
        at_best=overdue_codes(picture),
        shipments=shipments,
        attention=tuple(attention),
        clocks=tuple(
            row for row in turn if row.state == "CLOCK NOT STARTED" or (row.missing and row.state == "MADE")
        ),
        due=due_rows(picture, rows),
        open_jobs=sum(row.is_open for row in rows),
        all_jobs=len(rows),
    )


def overdue_codes(picture: Picture) -> tuple[str, ...]:
    """Jobs whose date passed without news."""
    return tuple(picture.forecast.network.jobs[lot].code for lot in sorted(picture.forecast.times.overdue))


def due_rows(picture: Picture, rows: tuple[JobRow, ...], within: int = DUE_WITHIN) -> tuple[DueRow, ...]:
    """What is due from today to ``within`` calendar days on, soonest first."""
    last = date.fromordinal(picture.forecast.today + within)
    found = []
    for row in rows:
        if not row.is_open:
            continue
        if row.arrives and row.arrives <= last:
            what = "promised" if row.promise == row.arrives else "arrives"
            found.append(DueRow(day=row.arrives, job=row.code, supplier=row.supplier, what=what))
        if row.give_by and row.give_by <= last:
            what = "order by" if row.missing == ("order",) else "give " + " and ".join(row.missing) + " by"
            found.append(DueRow(day=row.give_by, job=row.code, supplier=row.supplier, what=what))
    return tuple(sorted(found, key=lambda due: (due.day, due.job)))
