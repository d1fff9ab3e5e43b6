"""From the words of a try-out to the plan as it would be."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date, timedelta

from tracker.errors import UsageError
from tracker.plan.model import Job, Plan
from tracker.plan.progress import progress_of
from tracker.trying.calendars_kept import as_it_was_up_to
from tracker.trying.edits import added, changed, jobs_changed, read_back, removed, settled
from tracker.trying.facts import known_facts_only, tried_facts
from tracker.trying.instead import read_instead
from tracker.trying.model import TryOut
from tracker.trying.rest import refuse_rest_unsaid
from tracker.trying.steps import Step, about_and, steps_of
from tracker.words.rework import read_rework

_WORDS_NEEDED = {
    "add": (2, "add what? supplier, part, job or shipment, and its code", "add job foam supplier=lark lead=5wd"),
    "set": (1, "set which job, supplier, part or shipment?", "set boxes lead=12wd"),
    "remove": (1, "remove which job, supplier, part or shipment?", "remove foam"),
}  # fmt: skip


def read_try(words: Sequence[str], plan: Plan, today: date, *, begins: date | None = None) -> TryOut:
    """The plan as it would be after the words of a try-out; nothing is stored.

    Parameters
    ----------
    words : sequence of str
        What stands after ``try``: steps joined by ``and``, each in the log's own words, or ``set``, ``add``,
        ``remove``, ``rework`` or ``instead``. They are taken in order, each on the plan the ones before it left.
    today : date
        The status date. Days of facts may lie after it; without a year they are the nearest such days.
    begins : date, optional
        The day it is decided, today where left out or past. Orders and payments go out on that day, jobs that it
        adds or changes and that have not begun are worked from the day after at the earliest, and what it changes
        of a supplier's calendar holds from then on.

    Raises
    ------
    TrackerError
        If words cannot be read, a step would be refused when logged, the plan would not hold together, or nothing
        says when the rest of pieces counted ahead comes.
    """
    decided = max(begins or today, today)
    known = known_facts_only(plan, today)
    found = TryOut(plan=known)
    for step in steps_of(words):
        try:
            found = _taken(step, found, today, decided)
        except UsageError as error:
            raise about_and(step, error) from None
    refuse_rest_unsaid(found.plan, found.facts, today)
    touched = tuple(dict.fromkeys(found.touched))
    tried = _begun_after(found.plan, touched, decided, today)
    if decided > today:
        tried = as_it_was_up_to(decided, known, tried)
    return replace(found, plan=tried, touched=touched)


def _taken(step: Step, found: TryOut, today: date, begins: date) -> TryOut:
    plan = found.plan
    if step.verb == "instead":
        second = read_instead(step.words, plan, today, begins)
        return _with_edit(
            found, settled(second.plan, second.plan.known_by(today)), second.lines, second.added
        )
    if step.verb == "rework" or step.verb in _WORDS_NEEDED:
        whole = settled(_edited(step, plan, today), plan.known_by(today))
        return _with_edit(found, whole, read_back(plan, whole), jobs_changed(plan, whole))
    plan, reading = tried_facts(step, plan, today, begins)
    return replace(
        found,
        plan=plan,
        facts=(*found.facts, *reading.facts),
        remarks=(*found.remarks, *reading.remarks),
    )


def _with_edit(found: TryOut, plan: Plan, lines: tuple[str, ...], touched: tuple[str, ...]) -> TryOut:
    if plan == found.plan:
        lines = ("nothing differs by that",)
    return replace(found, plan=plan, edits=(*found.edits, *lines), touched=(*found.touched, *touched))


def _edited(step: Step, plan: Plan, today: date) -> Plan:
    words = step.words
    if step.verb == "rework":
        return read_rework(words, plan, today)
    least, question, example = _WORDS_NEEDED[step.verb]
    if len(words) < least:
        raise UsageError(question, hint=f"for example: tracker try {example}")
    edits: dict[str, Callable[[], Plan]] = {
        "add": lambda: added(plan, words[0], words[1], words[2:], today),
        "set": lambda: changed(plan, words[0], words[1:], today),
        "remove": lambda: _removed_alone(plan, words),
    }
    return edits[step.verb]()


def _removed_alone(plan: Plan, words: Sequence[str]) -> Plan:
    if len(words) > 1:
        raise UsageError(
            f"remove takes one code, found '{' '.join(words)}'",
            hint="join several by and: remove foam and remove labels",
        )
    return removed(plan, words[0])


def _begun_after(plan: Plan, touched: Sequence[str], begins: date, today: date) -> Plan:
    """Jobs touched that have not begun are worked from the day after ``begins``, where that lies ahead."""
    if begins <= today:
        return plan
    first = begins + timedelta(days=1)
    return replace(
        plan,
        jobs=tuple(
            _held_until(job, first) if _waits(plan, job, touched, today) else job for job in plan.jobs
        ),
    )


def _held_until(job: Job, first: date) -> Job:
    return replace(job, not_before=max(job.not_before or first, first))


def _waits(plan: Plan, job: Job, touched: Sequence[str], today: date) -> bool:
    known = progress_of(plan, job, today)
    begun = known.started is not None or known.seen is not None or known.done is not None
    return job.code in touched and not begun
