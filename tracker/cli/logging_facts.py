"""Carrying out a logging command: forecast before, one step, forecast after, answer."""

import shlex
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING

from tracker.cli.logging_steps import (
    Step,
    fix_step,
    log_step,
    printed_dates,
    rework_step,
    undo_step,
)
from tracker.cli.session import loaded_plan, put_view, session, status_date
from tracker.errors import UsageError
from tracker.explain.effect import moves
from tracker.plan.day_text import full_day
from tracker.plan.model import Plan
from tracker.render.answer_text import write_answer
from tracker.render.words import days_text, plural
from tracker.report.answer import Answer, answer, fact_rows
from tracker.report.picture import Picture
from tracker.schedule.forecast import Forecast
from tracker.words.verbs import Verb

if TYPE_CHECKING:
    from tracker.store.edit import Transaction

LONGEST_NUMBER = 20
_Take = Callable[["Transaction", Plan, date], Step]


def log_words(verb: Verb, words: Sequence[str], today: str, *, as_json: bool, verbose: bool) -> None:
    """Log what the words say and print the answer."""
    command = shlex.join([verb.name, *(word.strip() for word in words)])
    carry_out(
        lambda transaction, plan, day: log_step(transaction, plan, verb, words, day, command),
        today,
        as_json=as_json,
        verbose=verbose,
    )


def fix_words(number: str, words: Sequence[str], today: str, *, as_json: bool, verbose: bool) -> None:
    """Correct an entry and print the answer."""
    entry = entry_number(number, "fix")
    carry_out(
        lambda transaction, plan, day: fix_step(transaction, plan, entry, words, day, session.command),
        today,
        as_json=as_json,
        verbose=verbose,
    )


def rework_words(words: Sequence[str], today: str, *, as_json: bool, verbose: bool) -> None:
    """Add a rework loop and print the answer."""
    carry_out(
        lambda transaction, plan, day: rework_step(transaction, plan, words, day, session.command),
        today,
        as_json=as_json,
        verbose=verbose,
    )


def carry_out(take: _Take, today: str, *, as_json: bool, verbose: bool) -> None:
    """Take one step on the stored plan, all of it or nothing, and print what it moves."""
    with session.writing() as transaction:
        plan = loaded_plan(transaction.load())
        day = status_date(plan, today)
        step = take(transaction, plan, day)
        before = Picture(Forecast(plan, min(day, plan.run.today or day)))
        view = answer_to(transaction, before, step, status_date(step.plan, today))
    put_answer(view, today, as_json=as_json, verbose=verbose)


def answer_to(transaction: "Transaction", before: Picture, step: Step, today: date) -> Answer:
    """Compare the forecast before a step with the one after it, whose dates its entry keeps."""
    if step.entry is None:
        return answer(before, before, (), step.remarks)
    after = Picture(Forecast(step.plan, today))
    transaction.record_dates(step.entry, printed_dates(after.forecast), today)
    remarks = (*step.remarks, *counts_later(transaction, today))
    view = answer(before, after, step.facts, remarks, step.entry, step.edited)
    view = replace(view, remarks=(*view.remarks, *_days_alone(before, today)))
    if step.moves_nothing and not view.moves:
        view = replace(view, moves=None)
    rows = zip(step.was, fact_rows(before.plan, tuple(fact for _, fact in step.was)), strict=True)
    return replace(view, was=tuple(replace(row, entry=number) for (number, _), row in rows))


def _days_alone(before: Picture, today: date) -> tuple[str, ...]:
    """What the days since the today a run kept do by themselves to its shipments, where they have passed with a command."""
    passed = (today - before.today).days
    moved = moves(before.forecast, Forecast(before.plan, today)) if passed > 0 else ()
    texts = [f"{one.shipment} {days_text(one.days)}" for one in moved if one.days]
    if not texts:
        return ()
    since = f"the {plural(passed, 'day')} since {full_day(before.today)}"
    return (f"of this {since} alone make: {', '.join(texts)}",)


def counts_later(transaction: "Transaction", today: date) -> tuple[str, ...]:
    """Say so where an entry counts from a later day than it was made on, since one before it was made ahead."""
    day = transaction.entry_day
    if day is None or day <= today:
        return ()
    return (f"the diary counts this from {full_day(day)}, the day of an entry made before it",)


def put_answer(view: Answer, today: str, *, as_json: bool, verbose: bool = False) -> None:
    """Print the answer of a write that is committed; a status date typed with it is read back."""
    session.stored = view.entry
    shown = replace(view, typed_today=bool(today or session.today))
    put_view(shown, lambda paper: write_answer(shown, paper, verbose=verbose), as_json=as_json)


def entry_number(number: str, verb: str) -> int:
    """The number of an entry as typed."""
    if not (number.isascii() and number.isdigit() and len(number) <= LONGEST_NUMBER):
        raise UsageError(
            f"{verb} takes the number of an entry, found '{number}'", hint="'tracker diary' shows the numbers"
        )
    return int(number)


def undo_entry(number: str, today: str, *, as_json: bool, verbose: bool) -> None:
    """Take an entry back, the last one for no number, and say what that moves."""
    meant = entry_number(number, "undo") if number else None
    carry_out(
        lambda transaction, plan, day: undo_step(transaction, plan, meant, day, session.command),
        today,
        as_json=as_json,
        verbose=verbose,
    )
