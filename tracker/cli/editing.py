"""Carrying out edits of the plan: change it, check it whole, store it, answer."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date

from tracker.cli.logging_facts import printed_dates
from tracker.cli.session import confirmed, loaded_plan, now, put, put_view, say, session, status_date
from tracker.errors import PlanProblems, Refused, UsageError
from tracker.plan.checks import check_plan
from tracker.plan.day_text import full_day
from tracker.plan.model import FirstPlan, Plan, PlannedJob, PlannedShipment
from tracker.plan.public_holidays import national_only, with_holidays
from tracker.planfile.difference import difference
from tracker.planfile.editing import Thing, edit_item
from tracker.planfile.removing import without
from tracker.render.answer_text import write_answer
from tracker.report.answer import Answer, answer
from tracker.report.picture import Picture
from tracker.schedule.forecast import Forecast
from tracker.store.database import create_store, writing
from tracker.words.codes import find_code

THINGS: tuple[Thing, ...] = ("supplier", "job", "shipment")


def new_database(code: str, keys: Sequence[str], today: str) -> None:
    """Make a database; with a code, a run too. Nothing is left behind if the run is refused."""
    if not code:
        store = create_store(session.where)
        put(f"{store.path} made; bring a plan in with 'tracker read plan.toml'")
        return
    plan = _checked(edit_item(None, "run", code, keys, create=True), status_date(None, today))
    store = session.open() if session.exists() else create_store(session.where)
    with writing(store) as transaction:
        if transaction.load() is not None:
            raise Refused(
                f"{store.path} holds a run already", hint="name another file: tracker --db FILE new CODE ..."
            )
        transaction.begin_entry(session.command, status_date(plan, today), now())
        transaction.save(None, plan)
    put(f"{store.path} made with run {code}; next: tracker add supplier CODE, or tracker read plan.toml")


def add_thing(thing: str, code: str, keys: Sequence[str], today: str, *, as_json: bool) -> None:
    """Add one supplier, job or shipment."""
    kind = next((one for one in THINGS if one == thing.lower()), None)
    if kind is None:
        raise UsageError(f"'{thing}' cannot be added", hint="add supplier, job or shipment")
    _edit(today, lambda plan: edit_item(plan, kind, code, keys, create=True), as_json=as_json)


def set_thing(code: str, keys: Sequence[str], today: str, *, as_json: bool) -> None:
    """Change keys of one thing, found by code."""
    if not keys:
        raise UsageError(
            f"set what of {code}?", hint=f"for example: tracker set {code} name='A plainer name'"
        )

    def change(plan: Plan) -> Plan:
        if code.lower() == "run":
            return edit_item(plan, "run", plan.run.code, keys, create=False)
        kind, found = _find(plan, code)
        return edit_item(plan, kind, found, keys, create=False)

    _edit(today, change, as_json=as_json)


def remove_thing(code: str, today: str, *, as_json: bool) -> None:
    """Remove one thing, if nothing refers to it."""

    def change(plan: Plan) -> Plan:
        kind, found = _find(plan, code)
        return without(plan, kind, found)

    _edit(today, change, as_json=as_json)


def keep_first_plan(today: str, *, yes: bool) -> None:
    """Replace the first plan by the forecast of open jobs and the dates of done ones."""
    if not confirmed("Replace the first plan by the forecast as it stands?", yes=yes):
        say("nothing was changed")
        return
    with writing(session.open()) as transaction:
        plan = loaded_plan(transaction.load())
        day = status_date(plan, today)
        forecast = Forecast(plan, day)
        if forecast.ship_date is None:
            raise Refused(
                "there is no shipment with a date to keep",
                hint="tracker add shipment wave-1 quantity=80 after=JOB",
            )
        entry = transaction.begin_entry(session.command, day, now())
        transaction.save(plan, replace(plan, first_plan=_as_forecast(forecast)))
        transaction.record_dates(entry, printed_dates(forecast))
        last = date.fromordinal(forecast.ship_date)
    put(f"first plan replaced [entry {entry}]: last parcel {full_day(last)}; undo {entry} takes it back")


def _as_forecast(forecast: Forecast) -> FirstPlan:
    times = forecast.times
    jobs = tuple(
        PlannedJob(
            job=job.code,
            start=date.fromordinal(min(times.start[lot], times.finish[lot] + 1)),
            finish=date.fromordinal(times.finish[lot]),
            arrives=date.fromordinal(times.arrive[lot]),
        )
        for lot, job in enumerate(forecast.network.jobs)
    )
    dates = printed_dates(forecast).items()
    return FirstPlan(
        jobs=jobs, shipments=tuple(PlannedShipment(shipment=code, date=day) for code, day in dates)
    )


def _find(plan: Plan, code: str) -> tuple[Thing, str]:
    known = {"job": plan.job_by_code, "supplier": plan.supplier_by_code, "shipment": plan.shipment_by_code}
    found = find_code(code, (one for codes in known.values() for one in codes), "job, supplier or shipment")
    return next(kind for kind in THINGS if found in known[kind]), found


def _edit(today: str, change: Callable[[Plan], Plan], *, as_json: bool) -> None:
    with writing(session.open()) as transaction:
        plan = loaded_plan(transaction.load())
        day = status_date(plan, today)
        changed = _checked(with_holidays(change(plan)), day)
        lines = tuple(
            f"{one.what}: {one.detail}" if one.detail else f"{one.what} {one.kind}"
            for one in difference(plan, changed)
        )
        if changed.suppliers != plan.suppliers and any(one.country for one in changed.suppliers):
            lines = (*lines, *national_only(plan, changed))
        day = status_date(changed, today)
        before, after = Picture(Forecast(plan, day)), Picture(Forecast(changed, day))
        if not lines:
            view: Answer = answer(before, after, (), ("nothing differs; nothing was stored",))
        else:
            entry = transaction.begin_entry(session.command, day, now())
            transaction.save(plan, changed)
            transaction.record_dates(entry, printed_dates(after.forecast))
            edited = tuple(job.code for job in changed.jobs if plan.job_by_code.get(job.code) != job)
            view = answer(before, after, (), lines, entry, edited)
    put_view(view, lambda paper: write_answer(view, paper), as_json=as_json)


def _checked(plan: Plan, today: date) -> Plan:
    problems = check_plan(plan, today)
    if problems:
        raise PlanProblems(problems, what="the plan with that change")
    return plan
