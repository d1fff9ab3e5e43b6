"""Edits of the plan as typed: add, set, remove; found by code, dates as people write them, read back in words."""

from collections.abc import Iterator, Sequence
from datetime import date

from tracker.errors import PlanProblems, UsageError
from tracker.plan.checks import check_plan
from tracker.plan.day_text import spelled
from tracker.plan.model import Plan
from tracker.plan.public_holidays import national_only, with_holidays
from tracker.planfile.difference import Change, difference
from tracker.planfile.editing import Thing, edit_item
from tracker.planfile.entries import entries
from tracker.planfile.removing import without
from tracker.words.codes import find_code
from tracker.words.dates import DateReader

DATE_KEYS = ("start", "today", "not_before", "closures", "opens")
THINGS: tuple[Thing, ...] = ("supplier", "part", "job", "shipment")


def added(plan: Plan, thing: str, code: str, keys: Sequence[str], today: date) -> Plan:
    """The plan with one supplier, part, job or shipment more, not yet checked as a whole."""
    kind = next((one for one in THINGS if one == thing.lower()), None)
    if kind is None:
        raise UsageError(f"'{thing}' cannot be added", hint="add supplier, part, job or shipment")
    return edit_item(plan, kind, code, iso_dates(keys, plan, today), create=True)


def changed(plan: Plan, code: str, keys: Sequence[str], today: date) -> Plan:
    """The plan with keys of one thing changed, the run's by ``run``; not yet checked as a whole."""
    if not keys:
        raise UsageError(
            f"set what of {code}?", hint=f"for example: tracker set {code} name='A plainer name'"
        )
    read = iso_dates(keys, plan, today)
    if code.lower() == "run":
        return edit_item(plan, "run", plan.run.code, read, create=False)
    kind, found = _find(plan, code)
    if kind == "option":
        raise UsageError(
            f"{found} is an option, which set does not change",
            hint=f'give its words or its cost anew: tracker option {found} "what you would try" cost COST',
        )
    return edit_item(plan, kind, found, read, create=False)


def removed(plan: Plan, code: str) -> Plan:
    """The plan without one thing; refused where something refers to it."""
    kind, found = _find(plan, code)
    return without(plan, kind, found)


def settled(plan: Plan, today: date) -> Plan:
    """The edited plan with the public holidays it needs.

    Raises
    ------
    PlanProblems
        If the plan as a whole does not hold together any more; all problems are listed.
    """
    whole = with_holidays(plan)
    problems = check_plan(whole, today)
    if problems:
        raise PlanProblems(problems, what="the plan with that change")
    return whole


def read_back(before: Plan, after: Plan) -> tuple[str, ...]:
    """What an edit changed, a line each, and what should be known of it; nothing where nothing differs."""
    lines = [_line(one) for one in difference(before, after)]
    lines += _without_order(before, after)
    if after.suppliers != before.suppliers and any(one.country for one in after.suppliers):
        lines += national_only(before, after)
    return tuple(lines)


def jobs_changed(before: Plan, after: Plan) -> tuple[str, ...]:
    """Codes of the jobs that an edit added or changed, in plan order."""
    return tuple(job.code for job in after.jobs if before.job_by_code.get(job.code) != job)


def iso_dates(keys: Sequence[str], plan: Plan | None, today: date) -> list[str]:
    """Typed dates of ``key=value`` words as plan files write them; what is no date is left for the reading."""
    reader = DateReader(today=today, order=plan.run.dates if plan else None)
    return [_iso_word(word, reader) for word in keys]


def _find(plan: Plan, code: str) -> tuple[Thing, str]:
    kind_of = {one: kind for kind in (*THINGS, "option") for one in entries(plan, kind)}
    found = find_code(code, kind_of, "job, supplier, part or shipment")
    return kind_of[found], found


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


def _without_order(before: Plan, after: Plan) -> Iterator[str]:
    """Clocks just changed of outside jobs that no longer wait for an order: then nothing shows it is placed."""
    for job in after.jobs:
        old = before.job_by_code.get(job.code)
        outside = not after.supplier_by_code[job.supplier].inhouse
        changes = job.clock != (old.clock if old else None)
        if changes and outside and job.clock is not None and "order" not in job.clock:
            yield f"{job.code} does not wait for an order any more (tracker set {job.code} clock+=order)"


def _line(change: Change) -> str:
    """One change as read back: what it is about, whether it came or went, and how."""
    kind = "" if change.kind == "changed" else f" {change.kind}"
    return f"{change.what}{kind}" + (f": {spelled(change.detail)}" if change.detail else "")
