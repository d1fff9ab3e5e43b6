"""Carrying out edits of the plan: change it, check it whole, store it, answer."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from datetime import date

from tracker.cli.logging_facts import put_answer
from tracker.cli.logging_steps import printed_dates
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
from tracker.errors import PlanProblems, Refused, UsageError
from tracker.plan.checks import check_plan
from tracker.plan.day_text import full_day, spelled
from tracker.plan.model import Plan
from tracker.plan.public_holidays import national_only, with_holidays
from tracker.planfile.difference import Change, difference
from tracker.planfile.editing import Thing, edit_item
from tracker.planfile.entries import entries
from tracker.planfile.removing import without
from tracker.report.answer import Answer, answer
from tracker.report.picture import Picture
from tracker.schedule.first_plan import kept_as_plan
from tracker.schedule.forecast import Forecast
from tracker.store.database import Store, create_store, writing
from tracker.words.codes import find_code
from tracker.words.dates import DateReader

DATE_KEYS = ("start", "today", "not_before", "closures", "opens")
THINGS: tuple[Thing, ...] = ("supplier", "part", "job", "shipment")


def new_database(code: str, keys: Sequence[str], today: str) -> None:
    """Make a database; with a code, a run too. Nothing is left behind if the run is refused."""
    if not code:
        store = _new_store()
        put(
            f"{store.path} made; next: tracker new CODE quantity=240 start=2026-06-15, or tracker read plan.toml"
        )
        return
    day = status_date(None, today)
    plan = _checked(edit_item(None, "run", code, _iso_dates(keys, None, day), create=True), day)
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
    kind = next((one for one in THINGS if one == thing.lower()), None)
    if kind is None:
        raise UsageError(f"'{thing}' cannot be added", hint="add supplier, part, job or shipment")

    def change(plan: Plan) -> Plan:
        return edit_item(plan, kind, code, _iso_dates(keys, plan, status_date(plan, today)), create=True)

    _edit(today, change, as_json=as_json)


def set_thing(code: str, keys: Sequence[str], today: str, *, as_json: bool) -> None:
    """Change keys of one thing, found by code."""
    if not keys:
        raise UsageError(
            f"set what of {code}?", hint=f"for example: tracker set {code} name='A plainer name'"
        )

    def change(plan: Plan) -> Plan:
        read = _iso_dates(keys, plan, status_date(plan, today))
        if code.lower() == "run":
            return edit_item(plan, "run", plan.run.code, read, create=False)
        kind, found = _find(plan, code)
        return edit_item(plan, kind, found, read, create=False)

    _edit(today, change, as_json=as_json)


def remove_thing(code: str, today: str, *, as_json: bool) -> None:
    """Remove one thing, if nothing refers to it."""

    def change(plan: Plan) -> Plan:
        kind, found = _find(plan, code)
        return without(plan, kind, found)

    _edit(today, change, as_json=as_json)


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
        transaction.record_dates(entry, printed_dates(forecast))
        last = full_day(date.fromordinal(forecast.ship_date))
        remark = f"first plan replaced: last parcel {last}; 'tracker undo {entry}' takes it back"
        view = answer(Picture(forecast), Picture(forecast), (), (remark,), entry)
    put_answer(view, today, as_json=as_json)


def _find(plan: Plan, code: str) -> tuple[Thing, str]:
    kind_of = {one: kind for kind in THINGS for one in entries(plan, kind)}
    found = find_code(code, kind_of, "job, supplier, part or shipment")
    return kind_of[found], found


def _iso_dates(keys: Sequence[str], plan: Plan | None, today: date) -> list[str]:
    """Typed dates of ``key=value`` words as plan files write them; what is no date is left for the reading."""
    reader = DateReader(today=today, order=plan.run.dates if plan else None)
    return [_iso_word(word, reader) for word in keys]


def _iso_word(word: str, reader: DateReader) -> str:
    key, equals, value = word.partition("=")
    if not equals or key.rstrip("+") not in DATE_KEYS:
        return word
    return key + equals + ",".join(_iso_item(item, reader) for item in value.split(","))


def _iso_item(item: str, reader: DateReader) -> str:
    """One day or ``A..B`` span, and what follows it; a day may take several words, such as ``3 may 2027``."""
    first, dots, last = item.partition("..")
    return f"{_iso_day(first, reader)}..{_iso_day(last, reader)}" if dots else _iso_day(item, reader)


def _iso_day(text: str, reader: DateReader) -> str:
    """The text with the day it begins with as an ISO date, where it begins with one."""
    words = text.split()
    found = reader.read(words, 0, "forward") if words else None
    return " ".join((found[0].isoformat(), *words[found[1] :])) if found else text


def _edit(today: str, change: Callable[[Plan], Plan], *, as_json: bool) -> None:
    with session.writing() as transaction:
        plan = loaded_plan(transaction.load())
        changed = with_holidays(change(plan))
        day = status_date(changed, today)
        _checked(changed, day)
        lines = tuple(_line(one) for one in difference(plan, changed))
        lines = (*lines, *_without_order(plan, changed))
        if changed.suppliers != plan.suppliers and any(one.country for one in changed.suppliers):
            lines = (*lines, *national_only(plan, changed))
        before, after = Picture(Forecast(plan, status_date(plan, today))), Picture(Forecast(changed, day))
        if not lines:
            view: Answer = answer(before, after, (), ("nothing differs; nothing was stored",))
        else:
            entry = transaction.begin_entry(session.command, day, now())
            transaction.save(plan, changed)
            transaction.record_dates(entry, printed_dates(after.forecast))
            edited = tuple(job.code for job in changed.jobs if plan.job_by_code.get(job.code) != job)
            view = answer(before, after, (), lines, entry, edited)
    put_answer(view, today, as_json=as_json)


def _without_order(before: Plan, after: Plan) -> Iterator[str]:
    """Clocks just changed of outside jobs that no longer wait for an order: then nothing shows it is placed."""
    for job in after.jobs:
        old = before.job_by_code.get(job.code)
        outside = not after.supplier_by_code[job.supplier].inhouse
        changed = job.clock != (old.clock if old else None)
        if changed and outside and job.clock is not None and "order" not in job.clock:
            yield f"{job.code} does not wait for an order any more (tracker set {job.code} clock+=order)"


def _line(change: Change) -> str:
    """One change as read back: what it is about, whether it came or went, and how."""
    kind = "" if change.kind == "changed" else f" {change.kind}"
    return f"{change.what}{kind}" + (f": {spelled(change.detail)}" if change.detail else "")


def _checked(plan: Plan, today: date) -> Plan:
    problems = check_plan(plan, today)
    if problems:
        raise PlanProblems(problems, what="the plan with that change")
    return plan
