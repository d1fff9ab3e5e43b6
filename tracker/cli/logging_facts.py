"""Carrying out a logging command: read the words, compare forecasts, store, answer."""

import shlex
from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING

from tracker.cli.session import loaded_plan, now, put_view, session, status_date
from tracker.errors import PlanProblems, Refused, UsageError
from tracker.plan.check_facts import fact_problems
from tracker.plan.checks import check_plan
from tracker.plan.day_text import full_day
from tracker.plan.known import Known
from tracker.plan.model import Fact, Plan
from tracker.render.answer_text import write_answer
from tracker.report.answer import Answer, answer
from tracker.report.picture import Picture
from tracker.schedule.first_plan import first_plan_of
from tracker.schedule.forecast import Forecast
from tracker.store.database import writing
from tracker.words.dates import DateReader
from tracker.words.facts import Reading, read_facts
from tracker.words.misfits import refuse_misfits
from tracker.words.repeats import repeat_of
from tracker.words.statement import Statement, read_statement
from tracker.words.verbs import Verb

if TYPE_CHECKING:
    from tracker.store.edit import Transaction

FURTHEST_STEP = 366
FIRST_PLAN_KEPT = "first plan kept: from now on 'late' is measured against it (tracker keep-plan replaces it)"


def log_words(verb: Verb, words: Sequence[str], today: str, *, as_json: bool, verbose: bool) -> None:
    """Log what the words say and print the answer."""
    command = shlex.join([verb.name, *(word.strip() for word in words)])
    with writing(session.open()) as transaction:
        plan = loaded_plan(transaction.load())
        view = _log(transaction, plan, verb, words, status_date(plan, today), command)
    put_answer(view, today, as_json=as_json, verbose=verbose)


def put_answer(view: Answer, today: str, *, as_json: bool, verbose: bool = False) -> None:
    """Print the answer of a write that is committed; a status date typed with it is read back."""
    session.stored = view.entry
    shown = replace(view, typed_today=bool(today or session.today))
    put_view(shown, lambda paper: write_answer(shown, paper, verbose=verbose), as_json=as_json)


def _log(
    transaction: "Transaction", plan: Plan, verb: Verb, words: Sequence[str], today: date, command: str
) -> Answer:
    reader = DateReader(today=today, order=plan.run.dates, earliest=plan.run.start)
    statement = read_statement(verb, words, reader)
    reading = _without_repeats(transaction, plan, statement, read_facts(statement, plan, today, today))
    before = Picture(Forecast(plan, min(today, plan.run.today or today)))
    if not reading.facts:
        return answer(before, before, (), reading.remarks)
    refuse_misfits(statement, plan, reading.facts, today)
    _refuse_problems(plan, reading.facts, today)
    moved, remarks = _with_today(transaction, plan, today)
    changed = replace(moved, facts=(*moved.facts, *reading.facts))
    if changed.first_plan is None and changed.shipments:
        changed = replace(changed, first_plan=first_plan_of(changed))
        remarks = (*remarks, FIRST_PLAN_KEPT)
    after = Picture(Forecast(changed, today))
    entry = transaction.begin_entry(command, today, now())
    transaction.save(moved, changed)
    transaction.record_dates(entry, printed_dates(after.forecast))
    return answer(before, after, reading.facts, (*reading.remarks, *remarks), entry)


def _with_today(transaction: "Transaction", plan: Plan, today: date) -> tuple[Plan, tuple[str, ...]]:
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
    transaction.record_dates(entry, printed_dates(Forecast(moved, today)))
    return moved, (f"this run's own today moves on to {full_day(today)}",)


def printed_dates(forecast: Forecast) -> dict[str, date]:
    """Shipment dates as kept on an entry."""
    return {code: date.fromordinal(day) for code, day in forecast.shipment_dates.items() if day is not None}


def _without_repeats(
    transaction: "Transaction", plan: Plan, statement: Statement, reading: Reading
) -> Reading:
    """Leave out facts stored already; a delivery or posting told twice is refused unless marked ``again``."""
    new: list[Fact] = []
    remarks = list(reading.remarks)
    for fact in reading.facts:
        place = None if "again" in statement.flags else repeat_of(fact, plan)
        if place is None:
            new.append(fact)
            continue
        entry = transaction.fact_entries()[place]
        if fact.kind in ("in", "posted"):
            what, more = (
                ("delivery", ", or its own delivery note: ref NUMBER") if fact.job else ("posting", "")
            )
            raise Refused(
                f"this {what} of {fact.job or fact.shipment} is in the diary already, as entry {entry}",
                hint=f"for a second one like it add the word 'again'{more}",
            )
        about = fact.job or fact.shipment or fact.supplier or "the run"
        again = bool(fact.job) and "again" in statement.verb.clauses
        more = "; for a second one like it add the word 'again'" if again else ""
        remarks.append(f"{about}: already logged as entry {entry}; nothing was stored again{more}")
    return Reading(facts=tuple(new), remarks=tuple(remarks))


def _refuse_problems(plan: Plan, facts: tuple[Fact, ...], today: date) -> None:
    known = Known(plan=plan, today=today)
    problems = tuple(problem for fact in facts for problem in fact_problems(fact, known))
    if problems:
        raise PlanProblems(problems, what="that command")


def undo_entry(number: str, today: str, *, as_json: bool, verbose: bool) -> None:
    """Take an entry back, the last one for no number, and say what that moves."""
    if number and not (number.isascii() and number.isdigit()):
        raise UsageError(
            f"undo takes the number of an entry, found '{number}'", hint="'tracker diary' shows the numbers"
        )
    with writing(session.open()) as transaction:
        plan = loaded_plan(transaction.load())
        before = Picture(Forecast(plan, status_date(plan, today)))
        undone = transaction.undo(int(number) if number else None, session.command, before.today, now())
        changed = transaction.load()
        if changed is None:
            raise Refused(
                "that entry brought the run in; taking it back would leave nothing",
                hint="start a new database",
            )
        day = status_date(changed, today)
        problems = check_plan(changed, day)
        if problems:
            raise PlanProblems(problems, what="the plan without that entry")
        after = Picture(Forecast(changed, day))
        undoer = undone.undone_by or 0
        transaction.record_dates(undoer, printed_dates(after.forecast))
        remark = f"entry {undone.number} taken back: {undone.command}"
        view = answer(before, after, (), (remark,), undoer)
    put_answer(view, today, as_json=as_json, verbose=verbose)
