"""Changes to a plan typed as ``key=value`` words, for the commands that add and set.

``key=value`` sets, ``key=`` goes back to the default, ``key+=value`` adds to a list; commas part the items of a
list. A word without ``=`` continues the value before it, so text needs no quotes:
``name=Blast and anodize travel=2cd``. The parts of a rate are keys of their own (``per_day=12 setup=1wd``, or
``minutes_each=35 hours_per_day=14 setup_h=6 machines=1``); a lead replaces a rate, and the reverse.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Literal

from tracker.errors import PlanProblems, Problem, Refused, UsageError
from tracker.plan.model import Job, Plan, Shipment
from tracker.plan.nearest import nearest
from tracker.plan.span import Lead
from tracker.planfile.compound import DAY_RATE, HOUR_RATE, rate_table
from tracker.planfile.contents import follow
from tracker.planfile.entries import TABLES, entries, with_entries
from tracker.planfile.faults import BadValue, Fault, bad, in_quotes
from tracker.planfile.fields import JOB
from tracker.planfile.tables import Field, Table

Thing = Literal["run", "supplier", "part", "job", "shipment", "option"]
_RATE_KEYS = {**HOUR_RATE.by_name, **DAY_RATE.by_name}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Edit:
    """One ``key=value`` or ``key+=value``."""

    key: str
    value: str
    adds: bool


def edit_item(plan: Plan | None, kind: Thing, code: str, words: Sequence[str], *, create: bool) -> Plan:
    """Add an entry, or change the keys that ``words`` name and keep all others.

    Parameters
    ----------
    plan : Plan or None
        The plan to change; None only to create its run.
    kind : str
        What ``code`` names.
    code : str
        The code of the entry to add or change; codes themselves do not change.
    words : sequence of str
        As described at the head of this module.
    create : bool
        Whether the entry is to be new.

    Returns
    -------
    Plan
        The changed plan, not yet checked as a whole; a new entry stands at the end of its list.

    Raises
    ------
    UsageError
        If the words are not ``key=value``.
    Refused
        If the entry exists although it should be new, or the reverse.
    PlanProblems
        If keys are unknown, values cannot be read or needed keys are missing; all of them are listed.
    """
    edits = _edits(words, kind)
    old = _existing(plan, kind, code, create=create)
    if isinstance(old, Job) and plan is not None and any(edit.key == "clock" and edit.adds for edit in edits):
        old = replace(old, clock=plan.clock_of(old))
    values, faults = _apply(TABLES[kind], old, edits)
    faults.extend(_missing(TABLES[kind], values, {edit.key for edit in edits}))
    if faults:
        raise PlanProblems(tuple(_problem(kind, code, fault) for fault in faults), what=f"{kind} {code}")
    item = TABLES[kind].makes(**{**values, "code": code})
    return _with_item(plan, kind, item)


def _edits(words: Sequence[str], kind: str) -> list[_Edit]:
    known = _keys(kind)
    edits: list[_Edit] = []
    for word in words:
        key, equals, value = word.partition("=")
        if not equals and edits and word not in known:
            last = edits[-1]
            edits[-1] = replace(last, value=f"{last.value} {word}".strip())
        elif not equals or not key.rstrip("+").strip():
            raise UsageError(
                f"{in_quotes(word)} is not key=value", hint=f"write words such as {next(iter(known))}=..."
            )
        else:
            edits.append(_Edit(key=key.removesuffix("+").strip(), value=value, adds=key.endswith("+")))
    return edits


def _keys(kind: str) -> Mapping[str, Field]:
    """Keys that can be typed for an entry: those of its table but its code, and a rate's parts for the rate."""
    keys = {name: key for name, key in TABLES[kind].by_name.items() if not key.is_fixed}
    if kind == "job":
        del keys["rate"]
        keys.update(_RATE_KEYS)
    return keys


def _existing(plan: Plan | None, kind: str, code: str, *, create: bool) -> Any:
    """The entry as it is, None for a new one."""
    items = entries(plan, kind)
    there = next(iter(items), None) if kind == "run" else code if code in items else None
    if create and there is not None:
        raise Refused(
            f"there is a {kind} {there} already", hint=f"change it with 'tracker set {there} key=value'"
        )
    if not create and code not in items:
        close = nearest(code, items)
        add = f"add it with 'tracker add {kind} {code} key=value'"
        raise Refused(
            f"there is no {kind} {in_quotes(code)}", hint=f"did you mean {close}?" if close else add
        )
    return items.get(code)


def _apply(table: Table, old: Any, edits: Sequence[_Edit]) -> tuple[dict[str, Any], list[Fault]]:
    """All attributes after the edits, and the faults of their values."""
    values = dict(table.defaults)
    if old is not None:
        values.update({key.fills: getattr(old, key.fills) for key in table.fields})
    faults: list[Fault] = []
    rate: dict[str, str] = {}
    seen: set[str] = set()
    for edit in edits:
        try:
            _refuse_twice(table, edit, seen)
            seen.add(edit.key)
            if table is JOB and edit.key in _RATE_KEYS:
                rate[edit.key] = edit.value
            else:
                _set(table, values, edit)
        except BadValue as error:
            faults.extend(fault.under(edit.key) for fault in error.faults)
    if rate:
        faults.extend(_set_rate(values, rate, has_lead="lead" in seen))
    if isinstance(old, Shipment):
        follow(values, old, seen)
    if table.settle is not None:
        table.settle(values)
    return values, faults


def _refuse_twice(table: Table, edit: _Edit, seen: set[str]) -> None:
    """Refuse a key that was typed before, or beside another for the same thing."""
    if edit.key in seen and not edit.adds:
        raise bad("stands here twice", "keep one of the two")
    key = table.by_name.get(edit.key)
    others = [other.name for other in table.fields if key and other.fills == key.fills and other is not key]
    beside = next((name for name in others if name in seen), None)
    if beside:
        raise bad(f"stands beside {beside}", "keep one of the two")


def _set(table: Table, values: dict[str, Any], edit: _Edit) -> None:
    keys = _keys(table.name)
    key = keys.get(edit.key)
    if key is None:
        raise _no_key(edit.key, keys)
    if edit.adds and not key.form.listed:
        raise bad("is not a list, so nothing can be added to it", f"write {edit.key}=... to replace it")
    if edit.value:
        value = key.form.typed(edit.value)
        values[key.fills] = (*(values.get(key.fills) or ()), *value) if edit.adds else value
    elif key.fills in table.defaults:
        values[key.fills] = table.defaults[key.fills]
    else:
        raise bad("cannot be empty", f"write {edit.key}=... with a value, or leave it out")


def _no_key(name: str, keys: Mapping[str, Field]) -> BadValue:
    if name == "code":
        return bad("a code cannot be changed", "add a new entry and remove the old one")
    if name == "rate":
        return bad("is typed by its parts", "write per_day=12 setup=1wd, or minutes_each=35 hours_per_day=14")
    close = nearest(name, keys)
    return bad(
        f"there is no key {in_quotes(name)}", f"did you mean {close}?" if close else f"use {', '.join(keys)}"
    )


def _set_rate(values: dict[str, Any], typed: Mapping[str, str], *, has_lead: bool) -> list[Fault]:
    """Replace the lead by a rate, keeping those parts of a rate of the same kind that are not typed."""
    if has_lead:
        return [Fault(found="has both a lead and a rate", remedy="keep one of the two")]
    table = rate_table(typed)
    old = values.get("lead")
    parts = {key.name: getattr(old, key.name) for key in table.fields} if isinstance(old, table.makes) else {}
    faults: list[Fault] = []
    for name, text in typed.items():
        try:
            if name not in table.by_name:
                raise bad(
                    f"does not go with {', '.join(key for key in typed if key != name)}",
                    "write one kind of rate",
                )
            parts[name] = table.by_name[name].form.typed(text) if text else table.defaults[name]
        except KeyError:
            faults.append(
                Fault(found="cannot be empty", remedy=f"write {name}=... with a number", where=(name,))
            )
        except BadValue as error:
            faults.extend(fault.under(name) for fault in error.faults)
    parts = {**table.defaults, **parts}
    missing = [key.name for key in table.fields if key.name not in parts and key.name not in typed]
    faults.extend(Fault(found=f"a rate needs {name} as well", remedy=f"write {name}=...") for name in missing)
    values["lead"] = Lead(1, 1, 1, "wd") if faults else table.makes(**parts)
    return faults


def _missing(table: Table, values: Mapping[str, Any], typed: set[str]) -> list[Fault]:
    return [
        Fault(found=f"has no {key.name}", remedy=f"write {key.name}=...")
        for key in table.fields
        if key.fills not in values and not key.is_fixed and key.name != "rate" and key.name not in typed
    ]


def _problem(kind: str, code: str, fault: Fault) -> Problem:
    return Problem(place=", ".join((f"{kind} {code}", *fault.where)), found=fault.found, remedy=fault.remedy)


def _with_item(plan: Plan | None, kind: str, item: Any) -> Plan:
    if plan is None:
        if kind != "run":
            raise Refused(f"there is no run to put {kind} {item.code} in", hint="make one with 'tracker new'")
        return Plan(run=item)
    return with_entries(plan, kind, {**entries(plan, kind), item.code: item}.values())
