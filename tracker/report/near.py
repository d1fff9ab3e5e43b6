"""Open jobs by how many days they may still lose before a shipment moves: what nearly holds us up."""

from dataclasses import dataclass
from datetime import date

from tracker.report.jobs import JobRow, at_tightest, job_row
from tracker.report.next_day import LaterCost, next_day_costs
from tracker.report.picture import Picture

NEAR_DAYS = 20


@dataclass(frozen=True, slots=True, kw_only=True)
class NearRow:
    """One open job that can move a shipment.

    ``spare_days`` counts calendar days after ``ready``, ``own_days`` the supplier's own among them (calendar days for
    what is on its way, which is ready when it arrives). ``costs`` has what being ready one own day past
    ``harmless_until`` costs, for each shipment that moves then. ``at_best`` names jobs without news its dates rest on.
    """

    job: str
    name: str
    supplier: str
    state: str
    flags: tuple[str, ...]
    promise: date | None
    ready: date
    on_its_way: bool
    harmless_until: date
    spare_days: int
    own_days: int
    holds: tuple[str, ...]
    costs: tuple[LaterCost, ...]
    at_best: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Near:
    """All open jobs, least spare days first; ``within`` are the days that count as near, ``free`` move no shipment."""

    today: date
    within: int
    rows: tuple[NearRow, ...]
    free: tuple[str, ...]


def near(picture: Picture) -> Near:
    """Rank the open jobs; of equal spare days those come first whose next day costs more."""
    jobs = [at_tightest(job_row(picture, job, detail=False)) for job in picture.plan.jobs]
    still = [row for row in jobs if row.is_open]
    tightest = {row.code: picture.forecast.tightest_lot(row.code) for row in still}
    lots = {code: lot for code, lot in tightest.items() if lot is not None}
    costs = next_day_costs(picture, lots.values())
    rows = [_row(row, costs[lot]) for row in still if (lot := lots[row.code]) in costs]
    return Near(
        today=picture.today,
        within=NEAR_DAYS,
        rows=tuple(sorted(rows, key=_nearness)),
        free=tuple(row.code for row in still if lots[row.code] not in costs),
    )


def _nearness(row: NearRow) -> tuple[int, int]:
    return row.spare_days, -max((cost.days for cost in row.costs), default=0)


def _row(row: JobRow, costs: tuple[LaterCost, ...]) -> NearRow:
    return NearRow(
        job=row.code,
        name=row.name,
        supplier=row.supplier,
        state=row.state,
        flags=row.flags,
        promise=row.promise,
        ready=row.ready or date.max,
        on_its_way=row.left is not None,
        harmless_until=row.harmless_until or date.max,
        spare_days=row.spare_days or 0,
        own_days=row.total_float or 0,
        holds=row.holds,
        costs=costs,
        at_best=row.at_best,
    )
