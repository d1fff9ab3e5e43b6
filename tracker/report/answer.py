"""The answer to a write: the facts as read, the shipments that move, how long each job stays harmless."""

from dataclasses import dataclass
from datetime import date

from tracker.explain.effect import moves
from tracker.explain.state import cannot_hold
from tracker.plan.calendars import closure_on
from tracker.plan.model import Fact, Plan
from tracker.plan.progress import Promise, progress_of
from tracker.report.picture import Picture, day_or_none
from tracker.report.shipments import HeldBy, held_by
from tracker.schedule.bounds import credited
from tracker.schedule.holders import earliest_arrival, what_sets


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
    arrives: date
    harmless_until: date | None
    spare_days: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class CountRow:
    """Pieces of a job so far; ``to_come`` is None where no quantity was set."""

    job: str
    quantity: int | None
    good: int
    rework: int
    scrap: int
    unjudged: int
    to_come: int | None
    closed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class FactRow:
    """A fact just logged; ``means`` says what a promised date is: in hand, or leaves."""

    fact: Fact
    means: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What a logging command says back."""

    today: date
    fixed_today: bool
    entry: int | None
    facts: tuple[FactRow, ...]
    counts: tuple[CountRow, ...]
    remarks: tuple[str, ...]
    moves: tuple[MoveRow, ...]
    harmless: tuple[HarmlessRow, ...]


def answer(
    before: Picture | None,
    after: Picture,
    facts: tuple[Fact, ...],
    remarks: tuple[str, ...] = (),
    entry: int | None = None,
) -> Answer:
    """Compare the forecasts before and after a write; ``facts`` are those just logged."""
    jobs = tuple(dict.fromkeys(fact.job for fact in facts if fact.job))
    return Answer(
        today=after.today,
        fixed_today=after.plan.run.today == after.today,
        entry=entry,
        facts=fact_rows(after.plan, facts),
        counts=tuple(count_row(after, job) for job in jobs if _counted(facts, job)),
        remarks=(*remarks, *(remark for fact in facts for remark in _remarks(after, fact))),
        moves=move_rows(before, after),
        harmless=tuple(row for job in jobs for row in _harmless(after, job)),
    )


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
        to_come=to_come,
        closed=progress.done is not None,
    )


def _counted(facts: tuple[Fact, ...], job: str) -> bool:
    return any(fact.job == job and fact.kind in ("in", "sorted") for fact in facts)


def _harmless(picture: Picture, code: str) -> tuple[HarmlessRow, ...]:
    forecast = picture.forecast
    lot = forecast.lot_of(code)
    if lot is None or not forecast.is_open(lot):
        return ()
    slack = forecast.slack(lot)
    return (
        HarmlessRow(
            job=code,
            arrives=date.fromordinal(forecast.times.arrive[lot]),
            harmless_until=day_or_none(slack.harmless_until) if slack else None,
            spare_days=slack.spare_days if slack else None,
        ),
    )


def _remarks(picture: Picture, fact: Fact) -> tuple[str, ...]:
    lot = picture.forecast.lot_of(fact.job) if fact.job else None
    if fact.kind == "called_off":
        waiting = [job.code for job in picture.plan.jobs if any(link.job == fact.job for link in job.after)]
        waiting += [one.code for one in picture.plan.shipments if fact.job in one.after]
        wait = "waits" if len(waiting) == 1 else "wait"
        return (f"links dropped: {', '.join(waiting)} no longer {wait} for {fact.job}",) if waiting else ()
    if fact.kind == "given" and fact.what in ("payment", "balance"):
        return _on_payment(picture, fact)
    if (
        fact.kind == "failed"
        and lot is not None
        and picture.forecast.network.gates.opener.get(fact.job) == fact.job
    ):
        return (f"no second attempt is planned: {fact.job} is forecast as tried again at best",)
    if fact.kind != "promised" or lot is None:
        return ()
    progress = picture.forecast.progress(lot)
    return _on_promise(picture, picture.plan, fact, lot, progress.promise)


def _on_payment(picture: Picture, fact: Fact) -> tuple[str, ...]:
    supplier = picture.plan.supplier_by_code[picture.plan.job_by_code[fact.job].supplier]
    lot = picture.forecast.lot_of(fact.job)
    if not supplier.bank.days or lot is None:
        return ()
    day = credited(fact.what, fact.on.toordinal(), supplier, picture.forecast.network.own_calendar[lot])
    return (f"credited {_said(date.fromordinal(day))}, after {supplier.bank} at the bank",)


def _on_promise(
    picture: Picture, plan: Plan, fact: Fact, lot: int, promise: Promise | None
) -> tuple[str, ...]:
    if promise is None or fact.day is None:
        return ()
    found = []
    job = plan.job_by_code[fact.job]
    supplier = plan.supplier_by_code[job.supplier]
    closure = closure_on(supplier, promise.day)
    if closure is not None:
        why = f" ({closure.why})" if closure.why else ""
        found.append(f"the promise lies in a closure of {supplier.code}, to {_said(closure.last)}{why}")
    if promise.given > fact.on.toordinal():
        found.append(
            f"an older promise: the live one, given {_said(date.fromordinal(promise.given))}, is unchanged"
        )
    finish = picture.forecast.times.finish[lot]
    snapped = promise.means == "leaves" and finish > max(promise.day, picture.forecast.today)
    if snapped and not cannot_hold(picture.forecast, lot):
        found.append(
            f"moved to their next working day, {_said(date.fromordinal(finish))} ('exactly' keeps the day)"
        )
    if cannot_hold(picture.forecast, lot):
        earliest = _said(date.fromordinal(earliest_arrival(picture.forecast, lot)))
        found.append(f"CANNOT HOLD: earliest is {earliest}, {_because(picture, lot)}")
    return tuple(found)


def _said(day: date) -> str:
    return f"{day:%a} {day.day} {day:%b %Y}"


def _because(picture: Picture, lot: int) -> str:
    lots, reasons = what_sets(picture.forecast, lot)
    names = [picture.forecast.network.jobs[other].code for other in lots]
    if names:
        return f"because it waits for {', '.join(names)}"
    missing = [reason.what for reason in reasons if reason.what]
    return f"because {', '.join(missing)} came late or is missing" if missing else "by its own lead time"
