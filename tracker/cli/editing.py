"""Carrying out edits of the plan: change it, check it whole, store it, answer."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date

from tracker.cli.logging_facts import counts_later, put_answer
from tracker.cli.logging_steps import printed_dates, with_today
from tracker.cli.session import (
    confirmed,
    loaded_plan,
    now,
    put,
    say,
    session,
    status_date,
    warn_if_synchronised,
)
from tracker.errors import Refused
from tracker.plan.day_text import full_day
from tracker.plan.model import Plan
from tracker.planfile.editing import edit_item
from tracker.report.answer import Answer, answer
from tracker.report.picture import Picture
from tracker.schedule.first_plan import kept_as_plan
from tracker.schedule.forecast import Forecast
from tracker.store.database import Store, create_store, writing
from tracker.trying.edits import added, changed, iso_dates, jobs_changed, read_back, removed, settled


def new_database(code: str, keys: Sequence[str], today: str) -> None:
    """Make a database; with a code, a run too. Nothing is left behind if the run is refused."""
    if not code:
        store = _new_store()
        put(
            f"{store.path} made; next: tracker new CODE quantity=240 start=2026-06-15, or tracker read plan.toml"
        )
        return
    day = status_date(None, today)
    plan = settled(edit_item(None, "run", code, iso_dates(keys, None, day), create=True), day)
    store = session.open() if session.exists() else _new_store()
    with writing(store) as transaction:
        if transaction.load() is not None:
            raise Refused(
                f"{store.path} holds a run already", hint="name another file: tracker --db FILE new CODE ..."
            )
        transaction.begin_entry(session.command, status_date(plan, today), now())
        transaction.save(None, plan)
    put(
        f"{store.path} made with run {code}; next: tracker read jobs.xlsx (a sheet of your own), or tracker add supplier CODE"
    )


def _new_store() -> Store:
    store = create_store(session.where)
    warn_if_synchronised(store.path)
    return store


def add_thing(thing: str, code: str, keys: Sequence[str], today: str, *, as_json: bool) -> None:
    """Add one supplier, part, job or shipment."""
    _edit(today, lambda plan, day: added(plan, thing, code, keys, day), as_json=as_json)


def set_thing(code: str, keys: Sequence[str], today: str, *, as_json: bool) -> None:
    """Change keys of one thing, found by code."""
    _edit(today, lambda plan, day: changed(plan, code, keys, day), as_json=as_json)


def remove_thing(code: str, today: str, *, as_json: bool) -> None:
    """Remove one thing, if nothing refers to it."""
    _edit(today, lambda plan, _: removed(plan, code), as_json=as_json)


def keep_first_plan(today: str, *, yes: bool, as_json: bool) -> None:
    """Replace the first plan by the forecast of open jobs and the dates of done ones."""
    if not confirmed("replace the first plan by the forecast as it stands?", yes=yes):
        say("nothing was changed")
        return
    with session.writing() as transaction:
        plan = loaded_plan(transaction.load())
        day = status_date(plan, today)
        forecast = Forecast(plan, day)
        if forecast.ship_date is None:
            raise Refused(
                "there is no shipment with a date to keep",
                hint="tracker add shipment wave-1 quantity=80 after=JOB",
            )
        entry = transaction.begin_entry(session.command, day, now())
        transaction.save(plan, replace(plan, first_plan=kept_as_plan(forecast)))
        transaction.record_dates(entry, printed_dates(forecast), day)
        last = full_day(date.fromordinal(forecast.ship_date))
        remark = f"first plan replaced: last parcel {last}; 'tracker undo {entry}' takes it back"
        view = answer(Picture(forecast), Picture(forecast), (), (remark,), entry)
    put_answer(view, today, as_json=as_json)


def _edit(today: str, change: Callable[[Plan, date], Plan], *, as_json: bool) -> None:
    with session.writing() as transaction:
        plan = loaded_plan(transaction.load())
        seen_on = status_date(plan, today)
        edited = change(plan, seen_on)
        day = status_date(edited, today)
        whole = settled(edited, _checked_on(plan, edited, day))
        lines = read_back(plan, whole)
        before, after = Picture(Forecast(plan, seen_on)), Picture(Forecast(whole, day))
        if not lines:
            view: Answer = answer(before, after, (), ("nothing differs; nothing was stored",))
        else:
            moved, remarks = plan, lines
            if whole.run.today == plan.run.today:
                moved, moves_on = with_today(transaction, plan, seen_on)
                whole = replace(whole, run=replace(whole.run, today=moved.run.today))
                remarks = (*lines, *moves_on)
            entry = transaction.begin_entry(session.command, day, now())
            transaction.save(moved, whole)
            transaction.record_dates(entry, printed_dates(after.forecast), day)
            remarks = (*remarks, *counts_later(transaction, day))
            view = answer(before, after, (), remarks, entry, jobs_changed(plan, whole))
    put_answer(view, today, as_json=as_json)


def _checked_on(before: Plan, edited: Plan, day: date) -> date:
    """The day whose facts must hold together: a later one where facts of it were logged before, unless today itself is set."""
    if edited.run.today != before.run.today:
        return day
    return max((day, *(max(fact.on, fact.logged) for fact in before.facts)))
