"""The answer to a write: the facts as read, the shipments that move, how long each job stays harmless."""

from dataclasses import dataclass
from datetime import date

from tracker.explain.effect import moves
from tracker.explain.open_lots import counted_lot, open_lots
from tracker.plan.lots import Lot
from tracker.plan.model import Fact, Plan
from tracker.report.counts import CountRow, count_row
from tracker.report.coverage import Coverage, coverage_after, new_problems, rework_waiting
from tracker.report.picture import Picture, day_or_none
from tracker.report.remarks import remarks_on
from tracker.report.shipments import HeldBy, held_by
from tracker.report.shortages import Shortage
from tracker.schedule.forecast import Forecast


@dataclass(frozen=True, slots=True, kw_only=True)
class MoveRow:
    """A shipment that moves; ``days`` counts calendar days later (negative: earlier)."""

    shipment: str
    before: date | None
    after: date | None
    days: int | None
    held_by: HeldBy | None
    path: tuple[str, ...]
    at_best: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class HarmlessRow:
    """How long an open job may take without moving a shipment; None for one that can move none.

    Of several lots to come it is the one with the fewest spare days: ``pieces`` of a ``kind`` such as promised,
    to come, rework or rerun; None and nothing for a job that comes whole.
    """

    job: str
    ready: date
    arrives: date
    harmless_until: date | None
    spare_days: int | None
    on_its_way: bool
    pieces: int | None = None
    kind: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class FactRow:
    """A logged fact; ``means`` says what a promised date is: in hand, or leaves.

    ``entry`` is the number of the entry that logged it, where that is not the one the answer is about.
    """

    fact: Fact
    means: str = ""
    entry: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What a logging command says back; ``was`` is what corrected facts said before.

    ``moves`` is None where the run has no shipment that could move. ``coverage`` is how parts stand that were
    counted, or of which more or fewer are short now; ``shortages`` are rework without a date just counted, and what
    does not add up any more.
    """

    today: date
    fixed_today: bool
    entry: int | None
    facts: tuple[FactRow, ...]
    counts: tuple[CountRow, ...]
    remarks: tuple[str, ...]
    moves: tuple[MoveRow, ...] | None
    harmless: tuple[HarmlessRow, ...]
    typed_today: bool = False
    was: tuple[FactRow, ...] = ()
    coverage: tuple[Coverage, ...] = ()
    shortages: tuple[Shortage, ...] = ()


def answer(
    before: Picture | None,
    after: Picture,
    facts: tuple[Fact, ...],
    remarks: tuple[str, ...] = (),
    entry: int | None = None,
    edited: tuple[str, ...] = (),
) -> Answer:
    """Compare the forecasts before and after a write; ``facts`` are those just logged, ``edited`` jobs changed."""
    named = (fact.job for fact in facts if fact.job and fact.kind != "scrapped")
    jobs = tuple(dict.fromkeys((*named, *edited)))
    return Answer(
        today=after.today,
        fixed_today=after.plan.run.today == after.today,
        entry=entry,
        facts=fact_rows(after.plan, facts),
        counts=tuple(count_row(after, job, part) for job, part in _counted(after.plan, facts)),
        remarks=(*remarks, *(remark for fact in facts for remark in remarks_on(after, fact))),
        moves=move_rows(before, after) if _can_move(before, after) else None,
        harmless=tuple(row for job in jobs for row in harmless_rows(after, job)),
        coverage=coverage_after(before, after, facts, edited),
        shortages=(*new_problems(before, after), *rework_waiting(after, facts)),
    )


def _can_move(before: Picture | None, after: Picture) -> bool:
    return bool(after.plan.shipments or (before and before.plan.shipments))


def fact_rows(plan: Plan, facts: tuple[Fact, ...]) -> tuple[FactRow, ...]:
    """Facts with what their supplier's dates mean filled in."""
    return tuple(FactRow(fact=fact, means=_means(plan, fact)) for fact in facts)


def _means(plan: Plan, fact: Fact) -> str:
    if fact.kind != "promised" or fact.job not in plan.job_by_code:
        return ""
    return fact.means or plan.supplier_by_code[plan.job_by_code[fact.job].supplier].dates_mean


def move_rows(before: Picture | None, after: Picture) -> tuple[MoveRow, ...]:
    """Shipments whose date differs between two pictures."""
    return tuple(
        MoveRow(
            shipment=move.shipment,
            before=day_or_none(move.before),
            after=day_or_none(move.after),
            days=move.days,
            held_by=held_by(after, move.shipment),
            path=move.holding.path if move.holding else (),
            at_best=after.at_best.get(move.shipment, ()),
        )
        for move in moves(before.forecast if before else None, after.forecast)
    )


def _counted(plan: Plan, facts: tuple[Fact, ...]) -> tuple[tuple[str, str], ...]:
    """Jobs whose pieces were counted, each with the part named of several; promises of so many count them, too."""
    kinds = ("in", "sorted", "made")
    return tuple(
        dict.fromkeys(
            (fact.job, fact.part)
            for fact in facts
            if fact.kind in kinds
            or (fact.kind in ("promised", "left") and fact.good and plan.job_by_code[fact.job].counts_pieces)
        )
    )


def harmless_rows(picture: Picture, code: str) -> tuple[HarmlessRow, ...]:
    """How long an open job may take; nothing for one that is done or out of the run."""
    forecast = picture.forecast
    lot = forecast.tightest_lot(code)
    if lot is None or not forecast.is_open(lot):
        return ()
    slack = forecast.slack(lot)
    counted = _apart(forecast, code, lot)
    return (
        HarmlessRow(
            job=code,
            ready=date.fromordinal(forecast.times.finish[lot]),
            arrives=date.fromordinal(forecast.times.arrive[lot]),
            harmless_until=day_or_none(slack.harmless_until) if slack else None,
            spare_days=slack.spare_days if slack else None,
            on_its_way=forecast.progress(lot).left is not None,
            pieces=counted.pieces if counted else None,
            kind=counted.kind if counted else "",
        ),
    )


def _apart(forecast: Forecast, code: str, place: int) -> Lot | None:
    """The lot where it must be told from others of its job: one of several to come, in rework, or a re-run."""
    lot = counted_lot(forecast, place)
    several = len(open_lots(forecast, code)) > 1
    return lot if lot is not None and (several or lot.kind in ("rework", "rerun")) else None
