"""Carrying out a logging command: read the words, compare forecasts, store, answer."""

import shlex
from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING

from tracker.cli.session import loaded_plan, now, put_view, session, status_date
from tracker.errors import PlanProblems, Refused
from tracker.plan.checks import check_plan
from tracker.plan.model import Fact, Plan
from tracker.render.answer_text import write_answer
from tracker.report.answer import Answer, answer
from tracker.report.picture import Picture
from tracker.schedule.first_plan import first_plan_of
from tracker.schedule.forecast import Forecast
from tracker.store.database import writing
from tracker.words.dates import DateReader
from tracker.words.facts import read_facts, refuse_misfits
from tracker.words.statement import Statement, read_statement
from tracker.words.verbs import Verb

if TYPE_CHECKING:
    from tracker.store.edit import Transaction


def log_words(verb: Verb, words: Sequence[str], today: str, *, as_json: bool, verbose: bool) -> None:
    """Log what the words say and print the answer."""
    command = shlex.join([verb.name, *(word.strip() for word in words)])
    with writing(session.open()) as transaction:
        plan = loaded_plan(transaction.load())
        view = _log(transaction, plan, verb, words, status_date(plan, today), command)
    put_view(view, lambda paper: write_answer(view, paper, verbose=verbose), as_json=as_json)


def _log(
    transaction: "Transaction", plan: Plan, verb: Verb, words: Sequence[str], today: date, command: str
) -> Answer:
    reader = DateReader(today=today, order=plan.run.dates, earliest=plan.run.start)
    statement = read_statement(verb, words, reader)
    reading = read_facts(statement, plan, today, today)
    new, remarks = _without_repeats(transaction, plan, statement, reading.facts)
    refuse_misfits(statement, plan, new, today)
    remarks = (*reading.remarks, *remarks)
    changed = replace(plan, facts=(*plan.facts, *new))
    if changed.first_plan is None and changed.shipments and new:
        changed = replace(changed, first_plan=first_plan_of(changed))
        remarks = (
            *remarks,
            "first plan kept: from now on 'late' is measured against it (tracker keep-plan replaces it)",
        )
    before, after = Picture(Forecast(plan, today)), Picture(Forecast(changed, today))
    if not new:
        return answer(before, after, reading.facts, remarks)
    entry = transaction.begin_entry(command, today, now())
    transaction.save(plan, changed)
    transaction.record_dates(entry, printed_dates(after.forecast))
    return answer(before, after, new, remarks, entry)


def printed_dates(forecast: Forecast) -> dict[str, date]:
    """Shipment dates as kept on an entry."""
    return {code: date.fromordinal(day) for code, day in forecast.shipment_dates.items() if day is not None}


def _without_repeats(
    transaction: "Transaction", plan: Plan, statement: Statement, facts: tuple[Fact, ...]
) -> tuple[tuple[Fact, ...], tuple[str, ...]]:
    """Leave out facts stored already; a delivery typed twice is refused unless marked ``again``."""
    days = {fact.on for fact in facts}
    stored = {_sense(fact): place for place, fact in enumerate(plan.facts) if fact.on in days}
    new: list[Fact] = []
    remarks: list[str] = []
    for fact in facts:
        place = stored.get(_sense(fact))
        if place is None or "again" in statement.flags or fact.kind == "note":
            new.append(fact)
            continue
        entry = transaction.fact_entries()[place]
        if fact.kind == "in":
            raise Refused(
                f"this delivery of {fact.job} is in the diary already, as entry {entry}",
                hint="for a second one like it add the word 'again', or its own delivery note: ref NUMBER",
            )
        remarks.append(f"already logged as entry {entry}; nothing was stored again")
    return tuple(new), tuple(remarks)


def _sense(fact: Fact) -> Fact:
    """A fact without what may differ between two tellings of the same thing."""
    return replace(fact, logged=fact.on, note="")


def undo_entry(number: int | None, today: str, *, as_json: bool, verbose: bool) -> None:
    """Take an entry back and say what that moves."""
    with writing(session.open()) as transaction:
        plan = loaded_plan(transaction.load())
        day = status_date(plan, today)
        undone = transaction.undo(number, session.command, day, now())
        changed = transaction.load()
        if changed is None:
            raise Refused(
                "that entry brought the run in; taking it back would leave nothing",
                hint="start a new database",
            )
        _refuse_problems(changed, day)
        after = Picture(Forecast(changed, day))
        if undone.undone_by is not None:
            transaction.record_dates(undone.undone_by, printed_dates(after.forecast))
        remark = f"entry {undone.number} taken back: {undone.command}"
        view = answer(Picture(Forecast(plan, day)), after, (), (remark,), undone.undone_by)
    put_view(view, lambda paper: write_answer(view, paper, verbose=verbose), as_json=as_json)


def _refuse_problems(plan: Plan, today: date) -> None:
    problems = check_plan(plan, max(today, *(fact.on for fact in plan.facts), today))
    if problems:
        raise PlanProblems(problems, what="the plan without that entry")
