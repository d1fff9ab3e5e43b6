"""The answer to a write: the facts as read, the shipments that move, how long each job stays harmless."""

from dataclasses import dataclass
from datetime import date

from tracker.explain.effect import moves
from tracker.plan.model import Fact, Plan
from tracker.plan.progress import progress_of
from tracker.report.picture import Picture, day_or_none
from tracker.report.remarks import remarks_on
from tracker.report.shipments import HeldBy, held_by


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
    """How long an open job may take without moving a shipment; None for one that can move none."""

    job: str
    ready: date
    arrives: date
    harmless_until: date | None
    spare_days: int | None
    on_its_way: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class CountRow:
    """Pieces of a job so far, ``made`` where they are made; ``to_come`` here is None where no quantity was set."""

    job: str
    quantity: int | None
    good: int
    rework: int
    scrap: int
    unjudged: int
    made: int
    to_come: int | None
    closed: bool


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

    ``moves`` is None where the run has no shipment that could move.
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


def answer(
    before: Picture | None,
    after: Picture,
    facts: tuple[Fact, ...],
    remarks: tuple[str, ...] = (),
    entry: int | None = None,
    edited: tuple[str, ...] = (),
) -> Answer:
    """Compare the forecasts before and after a write; ``facts`` are those just logged, ``edited`` jobs changed."""
    jobs = tuple(dict.fromkeys((*(fact.job for fact in facts if fact.job), *edited)))
    return Answer(
        today=after.today,
        fixed_today=after.plan.run.today == after.today,
        entry=entry,
        facts=fact_rows(after.plan, facts),
        counts=tuple(count_row(after, job) for job in jobs if _counted(facts, job)),
        remarks=(*remarks, *(remark for fact in facts for remark in remarks_on(after, fact))),
        moves=move_rows(before, after) if _can_move(before, after) else None,
        harmless=tuple(row for job in jobs for row in _harmless(after, job)),
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


def count_row(picture: Picture, code: str) -> CountRow:
    """The pieces of one job as counted so far."""
    job = picture.plan.job_by_code[code]
    progress = progress_of(picture.plan, job, picture.today)
    to_come = None if job.quantity is None else max(0, job.quantity - progress.received)
    return CountRow(
        job=code,
        quantity=job.quantity,
        good=progress.good,
        rework=progress.rework,
        scrap=progress.scrap,
        unjudged=progress.unjudged,
        made=progress.made_pieces,
        to_come=to_come,
        closed=progress.done is not None,
    )


def _counted(facts: tuple[Fact, ...], job: str) -> bool:
    return any(fact.job == job and fact.kind in ("in", "sorted", "made") for fact in facts)


def _harmless(picture: Picture, code: str) -> tuple[HarmlessRow, ...]:
    forecast = picture.forecast
    lot = forecast.lot_of(code)
    if lot is None or not forecast.is_open(lot):
        return ()
    slack = forecast.slack(lot)
    return (
        HarmlessRow(
            job=code,
            ready=date.fromordinal(forecast.times.finish[lot]),
            arrives=date.fromordinal(forecast.times.arrive[lot]),
            harmless_until=day_or_none(slack.harmless_until) if slack else None,
            spare_days=slack.spare_days if slack else None,
            on_its_way=forecast.progress(lot).left is not None,
        ),
    )
