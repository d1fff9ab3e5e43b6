"""What moved the shipments between two days, line by line, with whose doing each move is."""

from collections import defaultdict
from collections.abc import Callable, Container, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal, get_args

from tracker.explain.closure_share import ClosureShare
from tracker.explain.gathering import closures_of, gathered
from tracker.explain.moved import Effect, Line, Movement
from tracker.explain.steps import Cause, Step
from tracker.plan.model import Fact, Plan
from tracker.report.answer import FactRow, fact_rows
from tracker.report.picture import Picture, day_or_none
from tracker.report.promises import promise_rows
from tracker.report.shipments import HeldBy, held_by

Changes = Callable[[Plan | None, Plan | None], tuple[str, ...]]
"""Says in lines how the second plan differs from the first."""

_CAUSES: tuple[Cause, ...] = get_args(Cause)


@dataclass(frozen=True, slots=True, kw_only=True)
class ShipmentMoved:
    """A shipment at both ends; ``days`` is None where it is ``new``, ``called off`` (without a date now), or never had one."""

    shipment: str
    before: date | None
    after: date | None
    days: int | None
    how: Literal["moved", "same", "new", "called off", "no date"]


@dataclass(frozen=True, slots=True, kw_only=True)
class EffectRow:
    """What a line does to one shipment, in calendar days later (negative: earlier); who is to blame and holds it then.

    ``closure`` is the closure that makes most of it: a remark, its days are part of ``days``.
    """

    shipment: str
    before: date | None
    after: date | None
    days: int | None
    cause: Cause
    job: str
    supplier: str
    held_by: HeldBy | None
    path: tuple[str, ...]
    closure: ClosureShare | None


@dataclass(frozen=True, slots=True, kw_only=True)
class MovedLine:
    """A diary entry, the part of one about one job, or (``entry`` is None) the days after ``first`` up to ``last``.

    ``facts`` were logged, or corrected from what ``was`` says, ``removed`` taken back. ``promise_was`` is the
    day promised before a promise. ``edits`` say how the plan changed. ``late_by`` counts the calendar days by which
    it was entered late where that took back what days passed had cost, ``taken_back`` how much of that by shipment.
    """

    entry: int | None
    command: str
    first: date
    last: date
    facts: tuple[FactRow, ...]
    removed: tuple[FactRow, ...]
    was: tuple[FactRow, ...]
    promise_was: date | None
    edits: tuple[str, ...]
    undoes: int | None
    late_by: int
    taken_back: Mapping[str, int]
    effects: tuple[EffectRow, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sum:
    """Calendar days that one cause, or one supplier (``us`` for our own delay), makes of each shipment's move."""

    name: str
    days: Mapping[str, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class RecalculatedRow:
    """A date an entry printed that comes out differently now, though nothing in the plan then was different."""

    entry: int
    shipment: str
    printed: date
    now: date | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Moved:
    """The movement from the evening before ``since`` to the evening of ``until``; its lines add up to each shipment's days.

    ``since_told`` tells that it begins with what was known when backers were last told, on that day. ``quiet`` are entries that
    move nothing, left out of ``lines`` unless all were asked for.
    """

    today: date
    since: date
    until: date
    since_told: bool
    shipments: tuple[ShipmentMoved, ...]
    lines: tuple[MovedLine, ...]
    quiet: tuple[int, ...]
    by_cause: tuple[Sum, ...]
    by_supplier: tuple[Sum, ...]
    recalculated: tuple[RecalculatedRow, ...]


def moved_report(
    movement: Movement,
    changes: Changes,
    *,
    today: date,
    since: date,
    until: date,
    since_told: bool,
    everything: bool = False,
) -> Moved:
    """Tell a movement; ``everything`` keeps lines without effect, and each stretch of days, apart."""
    together = gathered(movement.lines)
    lines = movement.lines if everything else together.lines
    effects = [effect for line in movement.lines for effect in line.effects]
    summed = [one for one in effects if movement.total(one.shipment) is not None]
    return Moved(
        today=today,
        since=since,
        until=until,
        since_told=since_told,
        shipments=tuple(_shipment(movement, code) for code in movement.shipments),
        lines=tuple(_line(line, changes) for line in lines if line.step is not None or line.effects),
        quiet=() if everything else together.quiet,
        by_cause=_sums(((one.blame.cause, one) for one in summed), _CAUSES),
        by_supplier=_sums((one.blame.supplier, one) for one in summed if one.blame.supplier),
        recalculated=tuple(
            RecalculatedRow(
                entry=one.entry,
                shipment=one.shipment,
                printed=date.fromordinal(one.printed),
                now=day_or_none(one.now),
            )
            for one in movement.recalculated
        ),
    )


def standing(lines: Sequence[MovedLine]) -> tuple[MovedLine, ...]:
    """The lines without entries that were taken back again where the two together move nothing; the sum stays."""
    gone: set[int] = set()
    for line in reversed(lines):
        pair = {line.entry, line.undoes}
        if line.undoes is not None and not gone & pair and _cancel(lines, pair):
            gone |= {number for number in pair if number is not None}
    return tuple(line for line in lines if line.entry not in gone)


def _cancel(lines: Sequence[MovedLine], pair: Container[int | None]) -> bool:
    """Whether the lines of two entries add up to nothing for every shipment, and both are among them."""
    mine = [line for line in lines if line.entry in pair and line.entry is not None]
    total: defaultdict[str, int] = defaultdict(int)
    for line in mine:
        for one in line.effects:
            if one.days is None:
                return False
            total[one.shipment] += one.days
    return len({line.entry for line in mine}) > 1 and not any(total.values())


def _shipment(movement: Movement, code: str) -> ShipmentMoved:
    before, after = movement.start.get(code), movement.end.get(code)
    days = movement.total(code)
    how: Literal["moved", "same", "new", "called off", "no date"]
    if days is not None:
        how = "moved" if days else "same"
    else:
        how = "new" if after is not None else "called off" if before is not None else "no date"
    return ShipmentMoved(
        shipment=code, before=day_or_none(before), after=day_or_none(after), days=days, how=how
    )


def _line(line: Line, changes: Changes) -> MovedLine:
    step, after = line.step, line.ends[1]
    closures = closures_of(line)
    picture = Picture(after) if after is not None and line.effects else None
    return MovedLine(
        entry=step.entry.number if step else None,
        command=step.entry.command if step else "",
        first=date.fromordinal(line.first),
        last=date.fromordinal(line.last),
        facts=_facts(step, (*step.facts, *(after for _, after in step.corrected))) if step else (),
        removed=_facts(step, step.removed) if step else (),
        was=_facts(step, tuple(before for before, _ in step.corrected)) if step else (),
        promise_was=_promise_before(line),
        edits=changes(step.before, step.plan) if step and step.edited else (),
        undoes=step.entry.undoes if step else None,
        late_by=_late_by(line),
        taken_back=dict(line.folded) if step else {},
        effects=tuple(_effect(one, picture, closures.get(one.shipment)) for one in line.effects),
    )


def _facts(step: Step, facts: tuple[Fact, ...]) -> tuple[FactRow, ...]:
    plan = step.plan or step.before
    return fact_rows(plan, facts) if plan else ()


def _promise_before(line: Line) -> date | None:
    """The day promised last before the promise that a line logs."""
    promise = next((fact for fact in (line.step.facts if line.step else ()) if fact.kind == "promised"), None)
    before = line.step.before if line.step else None
    if promise is None or before is None or promise.job not in before.job_by_code:
        return None
    given = promise_rows(before, promise.job, date.fromordinal(line.last))
    return given[-1].day if given else None


def _late_by(line: Line) -> int:
    if line.step is None or not line.folded:
        return 0
    return line.last - min(fact.on.toordinal() for fact in line.step.facts)


def _effect(effect: Effect, picture: Picture | None, closure: ClosureShare | None) -> EffectRow:
    holding = picture.holdings.get(effect.shipment) if picture else None
    return EffectRow(
        shipment=effect.shipment,
        before=day_or_none(effect.before),
        after=day_or_none(effect.after),
        days=effect.days,
        cause=effect.blame.cause,
        job=effect.blame.job,
        supplier=effect.blame.supplier,
        held_by=held_by(picture, effect.shipment) if picture and holding else None,
        path=holding.path if holding else (),
        closure=closure,
    )


def _sums(named: Iterable[tuple[str, Effect]], order: tuple[str, ...] = ()) -> tuple[Sum, ...]:
    """What each name makes of each shipment, those in ``order`` first; names that make nothing of any are left out."""
    found: defaultdict[str, defaultdict[str, int]] = defaultdict(lambda: defaultdict(int))
    for name, effect in named:
        found[name][effect.shipment] += effect.days or 0
    names = [*(name for name in order if name in found), *sorted(found.keys() - set(order))]
    return tuple(Sum(name=name, days=dict(found[name])) for name in names if any(found[name].values()))
