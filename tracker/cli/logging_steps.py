"""One logging command inside a transaction: read the words, refuse what cannot be, store it as one entry."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING

from tracker.cli.session import now
from tracker.errors import PlanProblems, Refused, UsageError
from tracker.plan.checks import check_plan
from tracker.plan.day_text import full_day
from tracker.plan.model import Fact, Plan
from tracker.schedule.first_plan import first_plan_of
from tracker.schedule.forecast import Forecast
from tracker.words.dates import reader_for
from tracker.words.facts import Reading
from tracker.words.fixing import fixing_statement, read_fix, subject_of
from tracker.words.logged import read_logged, refuse_problems, refuse_unfit
from tracker.words.misfits import refuse_misfits, refuse_sorted_beyond_count
from tracker.words.repeats import repeat_of
from tracker.words.rework import added_text, read_rework
from tracker.words.statement import Statement
from tracker.words.verbs import Verb

if TYPE_CHECKING:
    from tracker.store.edit import Transaction

FURTHEST_STEP = 366
_HAPPENS_AGAIN = {"in": "delivery", "posted": "posting", "scrapped": "scrap"}
FIRST_PLAN_KEPT = "first plan kept: from now on 'late' is measured against it (tracker keep-plan replaces it)"


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """What one command did: the plan after it, the facts it logged, or corrected.

    ``was`` has what corrected facts said before, each with the entry that had logged it. ``entry`` is None where
    nothing was stored. ``moves_nothing`` is what only keeps words, so that nobody asks what it moves.
    """

    plan: Plan
    entry: int | None = None
    facts: tuple[Fact, ...] = ()
    was: tuple[tuple[int, Fact], ...] = ()
    remarks: tuple[str, ...] = ()
    edited: tuple[str, ...] = ()
    moves_nothing: bool = False


def log_step(
    transaction: "Transaction",
    plan: Plan,
    verb: Verb,
    words: Sequence[str],
    today: date,
    command: str,
    *,
    said_on: date | None = None,
) -> Step:
    """Log facts; ``said_on`` is the day whose notes these words are, today where they are typed as they happen."""
    statement, facts = read_logged(verb, words, plan, today, said_on=said_on)
    reading = _without_repeats(transaction, plan, statement, facts)
    if not reading.facts:
        return Step(plan=plan, remarks=reading.remarks)
    refuse_unfit(statement, plan, reading.facts, today)
    moved, remarks = with_today(transaction, plan, today)
    changed = replace(moved, facts=(*moved.facts, *reading.facts))
    if changed.first_plan is None and changed.shipments:
        changed = replace(changed, first_plan=first_plan_of(changed))
        remarks = (*remarks, FIRST_PLAN_KEPT)
    entry = transaction.begin_entry(command, today, now())
    transaction.save(moved, changed)
    return Step(plan=changed, entry=entry, facts=reading.facts, remarks=(*reading.remarks, *remarks))


def fix_step(
    transaction: "Transaction", plan: Plan, number: int, words: Sequence[str], today: date, command: str
) -> Step:
    """Correct what an earlier entry logged; the diary keeps both."""
    places = [place for place, entry in enumerate(transaction.fact_entries()) if entry == number]
    if not places:
        raise transaction.no_facts(number)
    old = tuple(plan.facts[place] for place in places)
    new = read_fix(number, old, words, plan, reader_for(plan, today))
    if not new:
        return Step(plan=plan, remarks=(f"entry {number} says so already; nothing was stored",))
    facts = list(plan.facts)
    for at, fact in new.items():
        before = replace(plan, facts=plan.facts[: places[at]])
        refuse_misfits(fixing_statement(fact), before, (fact,), today)
        facts[places[at]] = fact
    refuse_problems(plan, tuple(new.values()), today)
    refuse_sorted_beyond_count(replace(plan, facts=tuple(facts)), tuple(new.values()), today)
    moved, remarks = with_today(transaction, plan, today)
    entry = transaction.begin_entry(command, today, now())
    for at, fact in new.items():
        transaction.correct(places[at], fact)
    return Step(
        plan=replace(moved, facts=tuple(facts)),
        entry=entry,
        facts=tuple(new.values()),
        was=tuple((number, old[at]) for at in new),
        remarks=remarks,
    )


def rework_step(
    transaction: "Transaction", plan: Plan, words: Sequence[str], today: date, command: str
) -> Step:
    """Add a rework job, with a second check behind a gate that failed or where one is asked for."""
    changed = read_rework(words, plan, today)
    problems = check_plan(changed, today)
    if problems:
        raise PlanProblems(problems, what="the plan with that rework")
    moved, remarks = with_today(transaction, plan, today)
    changed = replace(changed, run=moved.run)
    entry = transaction.begin_entry(command, today, now())
    transaction.save(moved, changed)
    added = tuple(job for job in changed.jobs if job.code not in plan.job_by_code)
    line = "; then ".join(map(added_text, added))
    return Step(plan=changed, entry=entry, remarks=(line, *remarks), edited=tuple(job.code for job in added))


def undo_step(transaction: "Transaction", plan: Plan, number: int | None, today: date, command: str) -> Step:
    """Take an entry back, the last one for None."""
    undone = transaction.undo(number, command, today, now())
    changed = transaction.load()
    if changed is None:
        raise Refused(
            "that entry brought the run in; taking it back would leave nothing", hint="start a new database"
        )
    kept = changed.run.today if plan.run.today == today else None
    known = {problem.place for problem in check_plan(plan, today)}
    problems = tuple(one for one in check_plan(changed, kept or today) if one.place not in known)
    if problems:
        raise PlanProblems(problems, what="the plan without that entry")
    refuse_sorted_beyond_count(changed, changed.facts, today)
    remark = f"entry {undone.number} taken back: {undone.command}"
    return Step(plan=changed, entry=undone.undone_by, remarks=(remark,))


def with_today(transaction: "Transaction", plan: Plan, today: date) -> tuple[Plan, tuple[str, ...]]:
    """A run that keeps its own today moves with what is logged later, by an entry of its own."""
    if plan.run.today is None or today <= plan.run.today:
        return plan, ()
    if (today - plan.run.today).days > FURTHEST_STEP:
        raise UsageError(
            f"{full_day(today)} is more than a year after the today this run keeps, {full_day(plan.run.today)}",
            hint=f"check the year; where you do mean it: tracker set run today={today.isoformat()}",
        )
    moved = replace(plan, run=replace(plan.run, today=today))
    entry = transaction.begin_entry(f"set run today={today.isoformat()}", today, now())
    transaction.save(plan, moved)
    transaction.record_dates(entry, printed_dates(Forecast(moved, today)), today)
    return moved, (f"this run's own today moves on to {full_day(today)}",)


def printed_dates(forecast: Forecast) -> dict[str, date]:
    """Shipment dates as kept on an entry."""
    return {code: date.fromordinal(day) for code, day in forecast.shipment_dates.items() if day is not None}


def _without_repeats(
    transaction: "Transaction", plan: Plan, statement: Statement, reading: Reading
) -> Reading:
    """Leave out facts stored already; what may well happen twice is refused unless marked ``again``."""
    new: list[Fact] = []
    remarks = list(reading.remarks)
    for fact in reading.facts:
        place = None if "again" in statement.flags else repeat_of(fact, plan)
        if place is None:
            new.append(fact)
            continue
        entry = transaction.fact_entries()[place]
        if fact.kind == "mailed" and transaction.corrected_since(entry):
            new.append(fact)
            continue
        if fact.kind in _HAPPENS_AGAIN:
            more = ", or its own delivery note: ref NUMBER" if fact.kind == "in" else ""
            raise Refused(
                f"this {_HAPPENS_AGAIN[fact.kind]} of {subject_of(fact)} is in the diary already, as entry {entry}",
                hint=f"for a second one like it add the word 'again'{more}",
            )
        about = subject_of(fact) or "the run"
        counted = fact.kind != "left" or fact.good is not None
        again = bool(fact.job) and "again" in statement.verb.clauses and counted
        more = "; for a second one like it add the word 'again'" if again else ""
        remarks.append(f"{about}: already logged as entry {entry}; nothing was stored again{more}")
    return Reading(facts=tuple(new), remarks=tuple(remarks))
