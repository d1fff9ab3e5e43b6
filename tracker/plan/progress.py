"""What the logged facts say about one job, before any scheduling.

Days are integers (``date.toordinal()``). Facts dated after the status date are not looked at.
"""

from bisect import bisect
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Literal

from tracker.plan.counts import shares_of
from tracker.plan.model import DatesMean, Fact, Job, Outcome, Plan, Supplier

Ending = Literal["finished", "in"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Promise:
    """A date a supplier gave: ``given`` is the day they said it, ``day`` the day it is for.

    ``good`` is how many pieces it speaks of (None: all that is open), ``before`` how many had come by then.
    """

    given: int
    day: int
    means: DatesMean
    exactly: bool = False
    worst: int | None = None
    words: str = ""
    good: int | None = None
    before: int = 0


@dataclass(slots=True)
class Progress:
    """The facts of one job added up, in the order they happened.

    ``done`` is the day it was done and ``ending`` how: ``in`` (here) or ``finished`` (travel still runs).
    ``seen`` is the first day something showed that work had begun, ``made`` the day the last of it was ready at
    their door, ``made_pieces`` what was counted as made so far. ``last_count`` is the last day pieces came or were
    counted as made, ``counted_from`` the first day our own bench counted some of many. ``whole`` is what had come
    by the day the job was first done: what comes later came back from rework.
    ``outcome`` is the latest result of a gate. ``pauses`` are [from, until) spans; the last may be open.
    """

    ordered: int | None = None
    given: dict[str, int] = field(default_factory=dict)
    day1: int | None = None
    started: int | None = None
    seen: int | None = None
    made: int | None = None
    made_pieces: int = 0
    finished: int | None = None
    left: int | None = None
    promises: list[Promise] = field(default_factory=list)
    good: int = 0
    rework: int = 0
    scrap: int = 0
    unjudged: int = 0
    received: int = 0
    last_in: int | None = None
    last_count: int | None = None
    counted_from: int | None = None
    whole: int = 0
    done: int | None = None
    ending: Ending = "finished"
    short: bool = False
    outcome: Outcome | None = None
    outcome_day: int | None = None
    pauses: list[tuple[int, int | None]] = field(default_factory=list)
    paused: bool = False
    called_off: bool = False

    @property
    def promise(self) -> Promise | None:
        """The live promise: the latest given, then the latest entered; a failed attempt ends those before it."""
        if not self.promises or self.done is not None:
            return None
        latest = self.promises[-1]
        failed = self.outcome_day if self.outcome == "fail" else None
        return None if failed is not None and latest.given < failed else latest

    @property
    def paused_on(self) -> int | None:
        """The first day of the latest pause, over or not."""
        return self.pauses[-1][0] if self.pauses else None


NOTHING = Progress()
_MOST_KEPT = 5_000
_ADDED_UP: dict[tuple[int, int, int, int, int | None], tuple[Sequence[Fact], Job, Supplier, Progress]] = {}
"""What facts added up to, by the identity of all it rests on, which is kept beside it so that it stays that."""
_NO_END = 1 << 60  # the need says when our own bench has made enough


def progress_of(plan: Plan, job: Job, today: date) -> Progress:
    """Add up what was logged for ``job`` up to and including ``today``, and what is foreseen; not to be changed.

    Plans of one process that share the job, its supplier and its facts share what these add up to.
    """
    facts = plan.facts_by_job.get(job.code)
    if not facts:
        return NOTHING
    supplier, quantity = plan.supplier_by_code[job.supplier], _put_in(plan, job)
    count = bisect(facts, plan.known_by(today), key=lambda fact: fact.on)
    key = (id(facts), count, id(job), id(supplier), quantity)
    known = _ADDED_UP.get(key)
    if known is None:
        if len(_ADDED_UP) >= _MOST_KEPT:
            _ADDED_UP.clear()
        progress = _add_up(facts[:count], job, supplier, quantity)
        known = _ADDED_UP[key] = (facts, job, supplier, progress)
    return known[-1]


def _put_in(plan: Plan, job: Job) -> int | None:
    """The pieces that make the job whole; those ordered or of its parts where parts are counted.

    Where the need decides what our own bench makes, no count makes it whole by itself.
    """
    if job.quantity is not None or not job.counts_pieces:
        return job.quantity
    shares = shares_of(plan, job).values()
    if None in shares:
        return _NO_END if plan.supplier_by_code[job.supplier].inhouse else None
    return sum(share or 0 for share in shares)


def latest_results(facts: Iterable[Fact]) -> Mapping[str, tuple[int, int, Outcome]]:
    """Each gate's latest result as (day, place among the facts, outcome); gates without one are left out."""
    found: dict[str, tuple[int, int, Outcome]] = {}
    for place, fact in enumerate(facts):
        if fact.kind in ("passed", "failed"):
            result = (fact.on.toordinal(), place, _outcome(fact))
            found[fact.job] = max(found.get(fact.job, result), result)
    return found


def _outcome(fact: Fact) -> Outcome:
    return "pass" if fact.kind == "passed" else "fail"


def _add_up(facts: Iterable[Fact], job: Job, supplier: Supplier, quantity: int | None) -> Progress:
    progress = Progress()
    for fact in facts:
        day = fact.on.toordinal()
        match fact.kind:
            case "ordered" | "given":
                _give(progress, fact, day)
            case "started":
                _start(progress, day)
            case "promised":
                _promise(progress, fact, quantity, supplier.dates_mean)
            case "made":
                _make(progress, fact, job, quantity, at_home=supplier.inhouse)
            case "left" | "finished":
                _move(progress, fact, day)
            case "in" | "sorted":
                _receive(progress, fact, quantity)
            case "passed" | "failed":
                _judge(progress, fact, day)
            case "paused" | "resumed" | "called_off":
                _halt(progress, fact, day)
    progress.promises.sort(key=lambda promise: promise.given)
    return progress


def _give(progress: Progress, fact: Fact, day: int) -> None:
    if fact.kind == "ordered":
        progress.ordered = day
    elif fact.what == "day1" and fact.day is not None:
        progress.day1 = fact.day.toordinal()
    else:
        progress.given[fact.what] = day


def _start(progress: Progress, day: int) -> None:
    """A start after a failed result begins another attempt."""
    if progress.started is None or progress.outcome == "fail":
        progress.started = day


def _promise(progress: Progress, fact: Fact, quantity: int | None, means: DatesMean) -> None:
    if fact.day is None:
        return
    progress.promises.append(
        Promise(
            given=fact.on.toordinal(),
            day=fact.day.toordinal(),
            means=fact.means or means,
            exactly=fact.exactly,
            worst=fact.worst.toordinal() if fact.worst else None,
            words=fact.words,
            good=fact.good,
            before=progress.received,
        )
    )
    if quantity is None and progress.ending == "in" and not (progress.short or progress.outcome):
        progress.done = progress.made = progress.left = None
        progress.whole = 0


def _make(progress: Progress, fact: Fact, job: Job, quantity: int | None, *, at_home: bool) -> None:
    """Made whole, or a part of the quantity; at our own bench what is made whole is finished.

    ``counted_from`` is the first day our own bench counted a part.
    """
    day = fact.on.toordinal()
    progress.seen = min(progress.seen or day, day)
    progress.made_pieces += fact.good or 0
    progress.last_count = day
    if fact.good is not None and quantity is not None and progress.made_pieces < quantity:
        if at_home and progress.counted_from is None:
            progress.counted_from = day
        return
    progress.made = day
    if at_home and not job.leave_when and progress.outcome != "fail":
        progress.done = progress.finished = day
        progress.ending = "finished"


def _move(progress: Progress, fact: Fact, day: int) -> None:
    """Finished at their door, or left it; finishing does not open a gate that has failed."""
    progress.seen = min(progress.seen or day, day)
    if fact.kind == "left":
        progress.left = day
    elif progress.outcome != "fail":
        progress.done = progress.finished = day
        progress.ending = "finished"


def _receive(progress: Progress, fact: Fact, quantity: int | None) -> None:
    day = fact.on.toordinal()
    progress.good += fact.good or 0
    progress.rework += fact.rework or 0
    progress.scrap += fact.scrap or 0
    if fact.kind == "sorted":
        progress.unjudged -= (fact.good or 0) + (fact.rework or 0) + (fact.scrap or 0)
        return
    progress.unjudged += fact.count or 0
    progress.received += fact.pieces
    progress.last_in = progress.last_count = day
    progress.seen = min(progress.seen or day, day)
    whole = quantity is None or progress.received >= quantity
    if (whole or fact.closes) and progress.outcome != "fail":
        progress.short = fact.closes
        if progress.done in (None, day):
            progress.whole = progress.received
        if progress.done is None or progress.ending == "finished":
            progress.done = day
        progress.ending = "in"


def _judge(progress: Progress, fact: Fact, day: int) -> None:
    """A failure ends the attempt: what was started, made or on its way counts for that attempt only."""
    progress.outcome, progress.outcome_day = _outcome(fact), day
    progress.done, progress.ending = (day, "in") if progress.outcome == "pass" else (None, "in")
    if progress.outcome == "fail":
        progress.started = progress.seen = progress.made = progress.finished = progress.left = None
        progress.made_pieces = 0
        progress.pauses = []
        progress.paused = False


def _halt(progress: Progress, fact: Fact, day: int) -> None:
    """A new word about a pause ends the one before it."""
    if fact.kind == "called_off":
        progress.called_off = True
        return
    if progress.pauses:
        begun, until = progress.pauses[-1]
        progress.pauses[-1] = (begun, day if until is None or fact.kind == "resumed" else min(until, day))
    if fact.kind == "paused":
        progress.pauses.append((day, fact.day.toordinal() if fact.day else None))
        progress.paused = True
    else:
        progress.called_off = False
        progress.paused = False
