"""The board: one screen that says what holds the shipments and what needs a hand."""

from dataclasses import dataclass
from datetime import date

from tracker.report.calls import calls_again
from tracker.report.jobs import JobRow, job_rows
from tracker.report.owed import listed
from tracker.report.picture import Picture
from tracker.report.shipments import ShipmentRow, shipment_rows

DUE_WITHIN = 14


@dataclass(frozen=True, slots=True, kw_only=True)
class DueRow:
    """Something expected within a fortnight: ``what`` is such as ``arrives``, ``promised``, ``give balance by``.

    ``job`` is empty for a call to a supplier.
    """

    day: date
    job: str
    supplier: str
    what: str


@dataclass(frozen=True, slots=True, kw_only=True)
class OwedRow:
    """What we owe one job, and by when to keep the shipment it frees (None: it can move none)."""

    job: str
    supplier: str
    what: tuple[str, ...]
    to_leave: bool
    give_by: date | None
    frees: str


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
    clocks: tuple[OwedRow, ...]
    due: tuple[DueRow, ...]
    open_jobs: int
    all_jobs: int


def board(picture: Picture, *, fixed_today: bool) -> Board:
    """Put the board together; ``fixed_today`` tells that the status date is kept with the run."""
    rows = job_rows(picture)
    shipments = shipment_rows(picture)
    return Board(
        run=picture.plan.run.code,
        product=picture.plan.run.product,
        today=picture.today,
        fixed_today=fixed_today,
        ship_date=max((row.forecast for row in shipments if row.forecast), default=None),
        at_best=overdue_codes(picture),
        shipments=shipments,
        attention=_attention(picture, rows),
        clocks=owed_rows(rows),
        due=due_rows(picture, rows),
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
        )
        for row in rows
        for owed in row.owes
        if owed.presses
    )


def overdue_codes(picture: Picture) -> tuple[str, ...]:
    """Jobs whose date passed without news."""
    return tuple(picture.forecast.network.jobs[lot].code for lot in sorted(picture.forecast.times.overdue))


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
        if row.arrives and row.arrives <= last:
            what = "promised" if row.promise == row.arrives else "arrives"
            found.append(DueRow(day=row.arrives, job=row.code, supplier=row.supplier, what=what))
        found += [
            DueRow(day=owed.by, job=row.code, supplier=row.supplier, what=_to_give(owed.what))
            for owed in row.owes
            if owed.by and owed.by <= last
        ]
    return tuple(sorted(found, key=lambda due: (due.day, due.job)))


def _to_give(what: tuple[str, ...]) -> str:
    return "order by" if what == ("order",) else f"give {listed(what)} by"
