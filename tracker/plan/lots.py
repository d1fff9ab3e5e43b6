"""Cutting one job's pieces into lots: what came, is on its way, made, promised, to come, in rework, to run again.

Days are integers (``date.toordinal()``).
"""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Literal

from tracker.plan.balance import JobNeed, Segment, good_of, put_in_for
from tracker.plan.counts import Delivery, Parcel
from tracker.plan.model import Job
from tracker.plan.parts import LotRule
from tracker.plan.progress import NOTHING, Progress, Promise
from tracker.plan.span import Lead

LotKind = Literal["received", "on the way", "made", "promised", "to come", "rework", "rerun"]
_KEPT_FOR_RERUN = ("drawing", "proof", "material")


@dataclass(slots=True, kw_only=True)
class Lot:
    """Pieces of one job that move together.

    ``segments`` say for whom the pieces put in are (empty for those that came), ``good`` what of each part came
    or is expected. ``progress`` is what was logged, as it bears on this lot. ``waits`` marks a lot that is worked
    after the one before it. The lot's time is that of ``booked`` pieces from its start, set-up included where it
    ``sets_up``.
    """

    job: Job
    kind: LotKind
    pieces: int
    segments: list[Segment] = field(default_factory=list)
    good: dict[str, int] = field(default_factory=dict)
    progress: Progress = field(default_factory=lambda: NOTHING)
    delivery: Delivery | None = None
    waits: bool = False
    booked: int = 0
    sets_up: bool = True

    def put_in(self, part: str) -> int:
        """Pieces put in for one made part."""
        return put_in_for(self.segments, part)

    @property
    def goes_round(self) -> bool:
        """Whether its pieces are in rework, in their own job or at one for that, and not back yet."""
        return self.kind == "rework" or (bool(self.job.rework_of) and self.kind != "received")

    def is_for_shipments(self, spare: int) -> bool:
        """Whether any of its pieces is for a shipment; ``spare`` is the priority of spares."""
        return any(priority < spare for priority, _, _ in self.segments)


def works_in_sequence(job: Job) -> bool:
    """Whether the job's lots are worked one after another: at a rate, or because it says so."""
    return job.one_by_one or not isinstance(job.lead, Lead)


def lots_of(need: JobNeed, progress: Progress, spare: int, *, at_home: bool) -> list[Lot]:
    """All lots of one job in the order they come.

    Parameters
    ----------
    spare : int
        The priority of spares; lower ones are shipments.
    at_home : bool
        The job is done at our own bench, where what was counted is made.
    """
    in_sequence = works_in_sequence(need.job)
    lots = _received(need, progress)
    lots += _reworked(need, progress)
    lots += _open(need, progress, spare, at_home=at_home)
    if need.rerun:
        given = {what: day for what, day in progress.given.items() if what in _KEPT_FOR_RERUN}
        again = _lot(need, "rerun", need.rerun, Progress(given=given))
        again.waits = in_sequence and bool(lots) and lots[-1].kind in ("promised", "to come")
        lots.append(again)
    expect_good(need.job, lots)
    return lots


def expect_good(job: Job, lots: Sequence[Lot]) -> None:
    """Set what is expected good of each open lot: differences of the rounded-down total so far."""
    started: dict[str, int] = {}
    for lot in lots:
        if lot.kind in ("received", "rework"):
            continue
        put_in: dict[str, int] = {}
        for _, part, pieces in lot.segments:
            put_in[part] = put_in.get(part, 0) + pieces
        lot.good = {}
        for part, pieces in put_in.items():
            before = started.get(part, 0)
            started[part] = before + pieces
            lot.good[part] = good_of(before + pieces, job) - good_of(before, job)


def _lot(need: JobNeed, kind: LotKind, segments: list[Segment], progress: Progress) -> Lot:
    pieces = _pieces(segments)
    return Lot(
        job=need.job, kind=kind, pieces=pieces, segments=list(segments), progress=progress, booked=pieces
    )


def _received(need: JobNeed, progress: Progress) -> list[Lot]:
    lots = [
        Lot(
            job=need.job,
            kind="received",
            pieces=one.pieces,
            good={one.part: good},
            progress=replace(progress, done=one.day, ending="finished", promises=[], left=None)
            if one.at_bench
            else replace(progress, done=one.day, ending="in", promises=[]),
            delivery=one,
        )
        for one, good in zip(need.counted.deliveries, _likely_good(need), strict=True)
    ]
    counted = dict.fromkeys(need.shares, 0)
    for one in need.counted.deliveries:
        counted[one.part] = counted.get(one.part, 0) + one.good
    rest = {part: need.good.get(part, 0) - counted[part] for part in need.shares}
    day = need.counted.rest_good
    if day is not None and any(rest.values()):
        lots.append(
            Lot(
                job=need.job,
                kind="received",
                pieces=sum(rest.values()),
                good=rest,
                progress=replace(progress, done=day),
            )
        )
    return lots


def _likely_good(need: JobNeed) -> list[int]:
    """Good pieces of each delivery; of those nobody judged the expected share, rounded down over all of a part."""
    seen = dict.fromkeys(need.shares, 0)
    found = []
    for one in need.counted.deliveries:
        before = seen.get(one.part, 0)
        seen[one.part] = before + one.unjudged
        found.append(one.good + good_of(before + one.unjudged, need.job) - good_of(before, need.job))
    return found


def _reworked(need: JobNeed, progress: Progress) -> list[Lot]:
    """Pieces that go round again in the job itself: turned round the day after they came.

    A promise given once all had come is for them.
    """
    if not any(need.in_rework.values()):
        return []
    came = max(one.day for one in need.counted.deliveries if one.rework)
    whole = sum(need.back.values()) - sum(one.pieces for one in need.counted.deliveries if one.at_bench)
    later = [promise for promise in progress.promises if promise.before >= whole] if progress.done else []
    again = replace(
        progress, done=None, left=None, made=None, finished=None, started=came + 1, promises=later,
        pauses=[], paused=False,
    )  # fmt: skip
    pieces = sum(need.in_rework.values())
    good = dict(need.rework_good)
    return [Lot(job=need.job, kind="rework", pieces=pieces, good=good, progress=again, booked=pieces)]


def _open(need: JobNeed, progress: Progress, spare: int, *, at_home: bool) -> list[Lot]:
    """Pieces of the order that have not come, by how far they are."""
    segments = list(need.remaining)
    if progress is NOTHING:
        return _in_sequence(need, _to_come(need, segments, NOTHING, spare), 0, at_home=at_home)
    lots: list[Lot] = []
    fresh = replace(progress, done=None, left=None, made=None, finished=None)
    further: list[tuple[LotKind, Parcel]] = [("on the way", parcel) for parcel in need.counted.on_way]
    further += [("made", parcel) for parcel in need.counted.at_door]
    for kind, parcel in further:
        gone, segments = _split(segments, parcel.pieces)
        if gone:
            left = parcel.day if kind == "on the way" else None
            lots.append(_lot(need, kind, gone, replace(fresh, left=left, made=parcel.day)))
    if not segments:
        return lots
    if need.counted.all_left is not None:
        return [*lots, _lot(need, "on the way", segments, replace(progress, done=None))]
    if need.counted.all_made is not None:
        return [*lots, _lot(need, "made", segments, replace(progress, done=None))]
    worked: list[Lot] = []
    for promise, pieces in live_promises(progress, _pieces(segments)):
        gone, segments = _split(segments, pieces)
        worked.append(_lot(need, "promised", gone, replace(fresh, promises=[promise])))
    worked += _to_come(need, segments, replace(fresh, promises=[]), spare)
    return [*lots, *_in_sequence(need, worked, sum(lot.pieces for lot in lots), at_home=at_home)]


def live_promises(progress: Progress, pieces: int) -> list[tuple[Promise, int]]:
    """Which promise speaks for how many of the open pieces, the earlier days first.

    Those given on the latest day hold; what they leave open keeps the last promise that named no number.
    Deliveries since a promise count as kept, earliest days first.
    """
    if not progress.promises or not pieces:
        return []
    latest = progress.promises[-1]
    if latest.good is None:
        return [(latest, pieces)]
    group = [one for one in progress.promises if one.given == latest.given and one.good is not None]
    kept = progress.received - min(one.before for one in group)
    found: list[tuple[Promise, int]] = []
    for promise in sorted(group, key=lambda one: one.day):
        still = promise.good or 0
        met = min(still, kept)
        kept -= met
        taken = min(still - met, pieces)
        pieces -= taken
        if taken:
            found.append((promise, taken))
    whole = [one for one in progress.promises if one.good is None and one.given <= latest.given]
    if pieces and whole:
        found.append((whole[-1], pieces))
    return sorted(found, key=lambda one: one[0].day)


def _to_come(need: JobNeed, segments: list[Segment], progress: Progress, spare: int) -> list[Lot]:
    """The ordered remainder, cut by the job's rule."""
    lots: list[Lot] = []
    for size in _sizes(need, segments, spare):
        taken, segments = _split(segments, size)
        lots.append(_lot(need, "to come", taken, progress))
    return lots


def _in_sequence(need: JobNeed, lots: list[Lot], gone: int, *, at_home: bool) -> list[Lot]:
    """Have lots worked one after another where the job's lots are; only the first of them has begun.

    ``gone`` counts pieces of the order that are made and have not come. A promise given since work began stands
    for itself.
    """
    if not works_in_sequence(need.job):
        return lots
    for lot in lots[1:]:
        lot.waits, lot.sets_up = True, False
        begun, promises = _shown(lot.progress), lot.progress.promises
        if not (promises and begun is not None and promises[-1].given >= begun):
            lot.progress = _not_begun(lot.progress)
    if lots and lots[0].progress is not NOTHING:
        _go_on(lots[0], need, gone, at_home=at_home)
    return lots


def _go_on(lot: Lot, need: JobNeed, gone: int, *, at_home: bool) -> None:
    """The first lot to come of work that has begun: from where counting stands, or from the start of the job.

    Our own bench, and a job whose lots are worked one by one, goes on the day after the last count; at a rate
    elsewhere the time of all pieces so far runs from the start.
    """
    progress = lot.progress
    counted = progress.last_count
    if counted is not None and (at_home or isinstance(need.job.lead, Lead)):
        lot.sets_up = False
        next_day = counted + 1
        lot.progress = (
            replace(progress, counted_from=next_day)
            if progress.started is None
            else replace(progress, started=next_day)
        )
    elif _shown(progress) is not None:
        lot.booked += sum(need.back.values()) + gone


def _shown(progress: Progress) -> int | None:
    """The day on which work began, or from which something shows that it had."""
    return progress.started or progress.counted_from or progress.seen


def _not_begun(progress: Progress) -> Progress:
    """Later lots of a job at work need neither order nor clock."""
    begun = _shown(progress)
    if begun is None:
        return progress
    return replace(progress, started=None, counted_from=None, seen=None, made_pieces=0, day1=begun)


def _sizes(need: JobNeed, segments: list[Segment], spare: int) -> list[int]:
    """How many pieces each lot to come holds; those further on came off the first lots of the whole quantity."""
    if not segments:
        return []
    rule = need.job.lots
    if rule == "shipments":
        return _by_shipment(segments, spare)
    put_in = sum(need.back.values()) + _pieces(need.remaining)
    gone = put_in - _pieces(segments)
    ends = [end - gone for end in _ends(rule, put_in) if end > gone]
    return [end - before for before, end in zip([0, *ends], ends, strict=False)]


def _pieces(segments: Sequence[Segment]) -> int:
    return sum(number for _, _, number in segments)


def _ends(rule: LotRule | None, quantity: int) -> list[int]:
    """Where lots end, counted over the whole quantity: equal ones, the larger first, or of the sizes given."""
    if isinstance(rule, int):
        count = min(rule, quantity)
        return [-(-quantity * n // count) for n in range(1, count + 1)]
    ends: list[int] = []
    for size in rule if isinstance(rule, tuple) else ():
        end = min(quantity, (ends[-1] if ends else 0) + size)
        if not ends or end > ends[-1]:
            ends.append(end)
    if not ends:
        return [quantity]
    ends[-1] = quantity
    return ends


def _by_shipment(segments: list[Segment], spare: int) -> list[int]:
    """One lot for each shipment; spares and what nobody asked for join the last."""
    sizes: dict[int, int] = {}
    last = max((priority for priority, _, _ in segments if priority < spare), default=spare)
    for priority, _, pieces in segments:
        key = min(priority, last)
        sizes[key] = sizes.get(key, 0) + pieces
    return [sizes[key] for key in sorted(sizes)]


def _split(segments: list[Segment], pieces: int) -> tuple[list[Segment], list[Segment]]:
    """The first so many pieces, and the rest."""
    first: list[Segment] = []
    for place, (priority, part, number) in enumerate(segments):
        if pieces <= 0:
            return first, segments[place:]
        taken = min(number, pieces)
        first.append((priority, part, taken))
        pieces -= taken
        if taken < number:
            return first, [(priority, part, number - taken), *segments[place + 1 :]]
    return first, []
