"""Every gate with its second attempts: results, what it blocks, what it waits for, whom to tell to hold."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

from tracker.plan.model import Outcome
from tracker.plan.progress import Progress
from tracker.report.picture import Picture, day_or_none
from tracker.schedule.network import Network

GateState = Literal["failed", "to come", "passed", "not needed", "called off"]
_ORDER: tuple[GateState, ...] = ("failed", "to come", "passed", "not needed", "called off")
_OUTCOMES: Mapping[str, Outcome] = {"passed": "pass", "failed": "fail"}


@dataclass(frozen=True, slots=True, kw_only=True)
class GateResult:
    """One result of one attempt, with the note logged beside it."""

    on: date
    job: str
    outcome: Outcome
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class AwaitedRow:
    """An open job a gate still waits for, and the day its result is here as forecast."""

    job: str
    supplier: str
    state: str
    arrives: date


@dataclass(frozen=True, slots=True, kw_only=True)
class BehindRow:
    """A job behind a gate with the furthest step logged of it, such as ``ordered`` or ``made``, and its day.

    ``good`` counts the good pieces that are here.
    """

    job: str
    supplier: str
    state: str
    step: str
    on: date
    good: int


@dataclass(frozen=True, slots=True, kw_only=True)
class HoldRow:
    """A supplier with open work behind a shut gate that was ordered, paid for, begun or made."""

    supplier: str
    name: str
    contact: str
    inhouse: bool
    jobs: tuple[BehindRow, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Shut:
    """What a gate that has not passed waits for and blocks.

    ``may_pass`` is the day it passes at the earliest as forecast, ``at_best`` names jobs without news that day rests
    on, ``missing`` what we owe it. Of the jobs behind it, ``next_jobs`` follow at once, ``open_jobs`` counts all open
    ones, ``hold`` has those let out already, ``done`` those finished, ``not_begun`` the rest; ``shipments`` wait for it.
    """

    may_pass: date
    at_best: tuple[str, ...]
    waits_for: tuple[AwaitedRow, ...]
    missing: tuple[str, ...]
    next_jobs: tuple[str, ...]
    open_jobs: int
    shipments: tuple[str, ...]
    hold: tuple[HoldRow, ...]
    done: tuple[BehindRow, ...]
    not_begun: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class GateRow:
    """A gate and its second attempts, of which ``opener`` is the one that opens it now (or did, on ``passed_on``).

    ``results`` are in the order they happened. ``to_plan`` tells that it failed with no second attempt planned: dates
    then count on another try at best. ``shut`` is None for a gate that passed or plays no part any more.
    """

    gate: str
    name: str
    attempts: tuple[str, ...]
    state: GateState
    opener: str
    opener_state: str
    results: tuple[GateResult, ...]
    passed_on: date | None
    to_plan: bool
    shut: Shut | None


@dataclass(frozen=True, slots=True, kw_only=True)
class GateReport:
    """All gates: failed ones first, then those to come, the soonest first, then those passed or without a part."""

    today: date
    gates: tuple[GateRow, ...]


def gate_report(picture: Picture) -> GateReport:
    """Gather every gate of the run."""
    rows = [_gate(picture, family) for family in _families(picture)]
    return GateReport(today=picture.today, gates=tuple(sorted(rows, key=_rank)))


def _rank(row: GateRow) -> tuple[int, date]:
    return _ORDER.index(row.state), row.shut.may_pass if row.shut else row.passed_on or date.max


def _families(picture: Picture) -> list[list[str]]:
    """Each gate followed by its second attempts: all that one attempt opens now."""
    jobs, opener = picture.plan.job_by_code, picture.forecast.network.gates.opener
    families: dict[str, list[str]] = {}
    for code in (code for code in jobs if code in opener):
        families.setdefault(opener[code], []).append(code)
    return [sorted(family, key=lambda code: jobs[code].retry_of != "") for family in families.values()]


def _gate(picture: Picture, family: list[str]) -> GateRow:
    network = picture.forecast.network
    opener = network.gates.opener[family[0]]
    lot, results = network.index.get(opener), _results(picture, family)
    is_open = lot is not None and picture.forecast.is_open(lot)
    state: GateState = "passed"
    if lot is None:
        state = "called off" if network.left_out.get(opener) == "called off" else "not needed"
    elif is_open:
        state = "failed" if results else "to come"
    return GateRow(
        gate=family[0],
        name=picture.plan.job_by_code[family[0]].name,
        attempts=tuple(family),
        state=state,
        opener=opener,
        opener_state=picture.standings[opener].state,
        results=results,
        passed_on=day_or_none(network.progress[lot].done) if lot is not None else None,
        to_plan=state == "failed" and any(one.job == opener for one in results),
        shut=_shut(picture, lot) if lot is not None and is_open else None,
    )


def _results(picture: Picture, family: list[str]) -> tuple[GateResult, ...]:
    found = [
        GateResult(on=fact.on, job=fact.job, outcome=_OUTCOMES[fact.kind], note=fact.note)
        for fact in picture.plan.facts
        if fact.job in family and fact.kind in _OUTCOMES and fact.on <= picture.today
    ]
    return tuple(sorted(found, key=lambda one: one.on))


def _shut(picture: Picture, lot: int) -> Shut:
    forecast, network = picture.forecast, picture.forecast.network
    near, behind = _behind(network, lot)
    still = [other for other in behind if forecast.is_open(other)]
    steps = {other: step for other in behind if (step := _step(picture, other)) is not None}
    return Shut(
        may_pass=date.fromordinal(forecast.times.arrive[lot]),
        at_best=_codes(network, forecast.overdue_behind((lot,))),
        waits_for=tuple(
            _awaited(picture, other) for other in forecast.waits_for(lot) if forecast.is_open(other)
        ),
        missing=picture.standings[network.jobs[lot].code].missing,
        next_jobs=_codes(network, [other for other in near if forecast.is_open(other)]),
        open_jobs=len(still),
        shipments=tuple(
            code for code in forecast.open_shipments if {lot, *behind} & set(network.shipments[code])
        ),
        hold=_hold(picture, [steps[other] for other in still if other in steps]),
        done=tuple(steps[other] for other in behind if not forecast.is_open(other)),
        not_begun=_codes(network, [other for other in still if other not in steps]),
    )


def _behind(network: Network, lot: int) -> tuple[list[int], list[int]]:
    """The lots right behind a lot, and all behind it near or far, in plan order."""
    followers: list[list[int]] = [[] for _ in network.jobs]
    for other, plain in enumerate(network.plain):
        for before in (*plain, *(link.lot for link in network.special[other] or ())):
            followers[before].append(other)
    found, to_see = set(followers[lot]), list(followers[lot])
    while to_see:
        new = [other for other in followers[to_see.pop()] if other not in found]
        found.update(new)
        to_see += new
    return followers[lot], sorted(found)


def _codes(network: Network, lots: Sequence[int]) -> tuple[str, ...]:
    return tuple(network.jobs[lot].code for lot in lots)


def _awaited(picture: Picture, lot: int) -> AwaitedRow:
    job = picture.forecast.network.jobs[lot]
    arrives = date.fromordinal(picture.forecast.times.arrive[lot])
    return AwaitedRow(
        job=job.code, supplier=job.supplier, state=picture.standings[job.code].state, arrives=arrives
    )


def _step(picture: Picture, lot: int) -> BehindRow | None:
    """The furthest step logged of a job's work; None for one that was not even ordered."""
    job, progress = picture.forecast.network.jobs[lot], picture.forecast.progress(lot)
    step, day = next(((step, day) for step, day in _steps(progress) if day is not None), ("", 0))
    if not step:
        return None
    return BehindRow(
        job=job.code,
        supplier=job.supplier,
        state=picture.standings[job.code].state,
        step=step,
        on=date.fromordinal(day),
        good=progress.good,
    )


def _steps(progress: Progress) -> list[tuple[str, int | None]]:
    return [
        ("done", progress.done),
        ("left", progress.left),
        ("made", progress.made),
        ("part in", progress.last_in),
        ("started", progress.started),
        ("begun", progress.seen),
        ("ordered", progress.ordered),
        *((f"{what} given", day) for what, day in progress.given.items()),
    ]


def _hold(picture: Picture, rows: list[BehindRow]) -> tuple[HoldRow, ...]:
    """By supplier in plan order, our own bench last."""
    suppliers = sorted(picture.plan.suppliers, key=lambda one: one.inhouse)
    return tuple(
        HoldRow(
            supplier=one.code,
            name=one.name,
            contact=one.contact,
            inhouse=one.inhouse,
            jobs=tuple(row for row in rows if row.supplier == one.code),
        )
        for one in suppliers
        if any(row.supplier == one.code for row in rows)
    )
