"""Facts that cannot be, as the plan stands; each refusal says what to do instead."""

from datetime import date

from tracker.errors import Refused
from tracker.plan.counts import count_pieces
from tracker.plan.day_text import full_day
from tracker.plan.model import Fact, Job, Plan
from tracker.plan.piece_rework import pieces_in_rework
from tracker.plan.progress import Progress, progress_of
from tracker.words.statement import Statement

_ALWAYS = ("note", "decided", "scrapped")
_AFTER_CALLING_OFF = ("resumed", "called_off", "given")
_AFTER_DONE = ("given", "sorted", "passed", "failed")


def refuse_misfits(statement: Statement, plan: Plan, facts: tuple[Fact, ...], today: date) -> None:
    """Refuse facts that cannot be as the plan stands; ``facts`` are those not stored yet.

    Notes and decisions always fit, and pieces are found bad whenever somebody looks.

    Raises
    ------
    Refused
        For a result of a job that is no gate, anything new about a job done or called off, a second start or
        order, a condition given before, more pieces sorted than were counted, resuming what was not paused, a
        number of pieces that left of a job which does not count them.
    """
    for fact in facts:
        if fact.job and fact.kind == statement.verb.kind and fact.kind not in _ALWAYS:
            job = plan.job_by_code[fact.job]
            progress = progress_of(plan, job, today)
            _refuse_gates(fact, job)
            _refuse_closed(statement, plan, job, progress, today)
            _refuse_twice(fact, job, progress)
            _refuse_counts(plan, fact, job, progress, today)
            _refuse_rest(statement, plan, fact, job, progress)


def refuse_sorted_beyond_count(plan: Plan, facts: tuple[Fact, ...], today: date) -> None:
    """Refuse corrections after which more pieces of a job would be sorted than were counted."""
    for fact in facts:
        if fact.kind not in ("in", "sorted"):
            continue
        missing = -progress_of(plan, plan.job_by_code[fact.job], today).unjudged
        if missing > 0:
            raise Refused(
                f"{fact.job} would have {missing} more pieces sorted than were counted",
                hint=f"correct the sorting, too: 'tracker {fact.job}' shows its entry",
            )


def _refuse_gates(fact: Fact, job: Job) -> None:
    is_gate = job.gate or bool(job.retry_of)
    if fact.kind in ("passed", "failed") and not is_gate:
        raise Refused(
            f"{job.code} is not a gate, so it cannot be {fact.kind}",
            hint=f"log 'tracker finished {job.code}', or make it one: tracker set {job.code} gate=true",
        )
    if fact.kind in ("finished", "in") and is_gate:
        raise Refused(
            f"{job.code} is a gate, so it ends with a result",
            hint=f"log 'tracker passed {job.code}' or 'tracker failed {job.code}'",
        )


def _refuse_closed(statement: Statement, plan: Plan, job: Job, progress: Progress, today: date) -> None:
    """A job done or called off takes nothing new; one whose pieces went back to be reworked, a promise for these."""
    kind = statement.verb.kind
    if progress.called_off and kind not in _AFTER_CALLING_OFF:
        raise Refused(f"{job.code} was called off", hint=f"'tracker resumed {job.code}' takes it up again")
    goes_round = kind == "promised" and job.counts_pieces and any(pieces_in_rework(plan, job, today).values())
    if progress.done is not None and not (kind in _AFTER_DONE or goes_round or "again" in statement.flags):
        extra = " or add the word 'again' for a further delivery" if kind == "in" else ""
        raise Refused(
            f"{job.code} has been done since {full_day(date.fromordinal(progress.done))}",
            hint=f"'tracker undo N' takes a wrong entry back ('tracker {job.code}' lists them){extra}",
        )


def _refuse_twice(fact: Fact, job: Job, progress: Progress) -> None:
    """A start, an order, a pass or a condition counts from its first day; a second one would move dates unasked."""
    before = {"started": progress.started, "ordered": progress.ordered}.get(fact.kind)
    what = fact.kind
    if fact.kind == "passed" and progress.outcome == "pass":
        before = progress.outcome_day
    if fact.kind == "given" and fact.what != "day1":
        before, what = progress.given.get(fact.what), f"{fact.what} given"
    if before is not None:
        raise Refused(
            f"{job.code}: {what} is logged already, for {full_day(date.fromordinal(before))}",
            hint=f"'tracker {job.code}' shows the entry; 'tracker undo N' takes it back if it was wrong",
        )
    if fact.kind == "resumed" and not (progress.paused or progress.called_off):
        raise Refused(
            f"{job.code} is neither paused nor called off", hint=f"'tracker {job.code}' shows how it stands"
        )


def pieces_to_come(plan: Plan, job: Job, fact: Fact, progress: Progress) -> int | None:
    """Pieces still to come after a delivery not stored yet; None where no quantity is known, negative for too many."""
    quantity = count_pieces(plan, job, fact.on).quantity if job.counts_pieces else job.quantity
    return None if quantity is None else quantity - progress.received - fact.pieces


def _refuse_rest(statement: Statement, plan: Plan, fact: Fact, job: Job, progress: Progress) -> None:
    if fact.kind != "in" or statement.rest is None:
        return
    left = pieces_to_come(plan, job, fact, progress)
    if left is not None and left <= 0:
        judged = f": {progress.unjudged} counted before are judged by 'sorted'" if progress.unjudged else ""
        came = progress.received + fact.pieces
        raise Refused(
            f"{job.code} has no rest to come after these {fact.pieces}: that makes {came} of {came + left}",
            hint=f"leave 'rest' out{judged}",
        )


def _refuse_counts(plan: Plan, fact: Fact, job: Job, progress: Progress, today: date) -> None:
    if fact.kind == "left" and fact.good is not None and not job.counts_pieces:
        raise Refused(
            f"{job.code} makes no part, so it leaves whole and not {fact.good} pieces of it",
            hint=f"log 'tracker left {job.code}' once all of it has left, or say what it makes: tracker set {job.code} makes=PART",
        )
    if fact.kind != "sorted":
        return
    unjudged = _unjudged_of(plan, job, fact.part, today) if fact.part else progress.unjudged
    if fact.pieces > unjudged:
        of = f" of {fact.part}" if fact.part else ""
        raise Refused(
            f"{job.code} has {unjudged} pieces{of} counted but not judged, fewer than the {fact.pieces} sorted",
            hint=f"log the count first: tracker in {job.code} count {fact.pieces}{of}",
        )


def _unjudged_of(plan: Plan, job: Job, part: str, today: date) -> int:
    return sum(one.unjudged for one in count_pieces(plan, job, today).deliveries if one.part == part)
