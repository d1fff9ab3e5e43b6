"""Pieces counted ahead: what is left of them needs a day of its own, else it would be ready before they are."""

from datetime import date

from tracker.errors import Refused
from tracker.plan.counts import count_pieces
from tracker.plan.day_text import full_day
from tracker.plan.model import Fact, Job, Plan
from tracker.plan.progress import progress_of

_COUNTS = ("made", "left", "in")


def refuse_rest_unsaid(plan: Plan, facts: tuple[Fact, ...], today: date) -> None:
    """Refuse part counts tried for days after ``today`` where no promise says that the rest comes then or later.

    ``facts`` are those tried; the plan holds them.

    Raises
    ------
    Refused
        With the words that say when the rest comes.
    """
    for code, fact in _last_counts(facts, today).items():
        job = plan.job_by_code[code]
        left = _left(plan, job, today)
        if left == 0 or _promised(plan, fact):
            continue
        rest = f"the {left}" if left else "the rest"
        day = fact.on.isoformat()
        words = f"rest {day}" if fact.kind == "in" else f"and promised {code} {day}"
        raise Refused(
            f"{code}: nothing says when {rest} still to come after {full_day(fact.on)} will be there",
            hint=f"add the day they come, that one or a later one: {words}",
        )


def _last_counts(facts: tuple[Fact, ...], today: date) -> dict[str, Fact]:
    """For each job the last of its counts ahead."""
    ahead = (fact for fact in facts if fact.on > today and fact.kind in _COUNTS and fact.pieces)
    return {fact.job: fact for fact in sorted(ahead, key=lambda one: one.on)}


def _left(plan: Plan, job: Job, today: date) -> int | None:
    """Pieces that neither came nor are on their way or at their door; None where the need decides how many."""
    known = progress_of(plan, job, today)
    if known.done is not None:
        return 0
    counted = count_pieces(plan, job, today)
    if counted.quantity is None:
        outside = not plan.supplier_by_code[job.supplier].inhouse
        return 0 if outside else None
    there = counted.received + sum(one.pieces for one in (*counted.on_way, *counted.at_door))
    return max(0, counted.quantity - there)


def _promised(plan: Plan, counted: Fact) -> bool:
    """Whether the latest promise of the job is for the day of the count or later."""
    promises = (fact for fact in plan.facts_by_job.get(counted.job, ()) if fact.kind == "promised")
    latest = max(promises, key=lambda fact: fact.on, default=None)
    return latest is not None and latest.day is not None and latest.day >= counted.on
