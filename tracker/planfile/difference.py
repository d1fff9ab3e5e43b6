"""What differs between two plans, in lines that a person reads before saying yes."""

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Literal

from tracker.plan.check_facts import fact_name
from tracker.plan.model import Fact, FirstPlan, Plan
from tracker.planfile.entries import CODED, TABLES, entries
from tracker.planfile.fields import PLANNED_JOB, PLANNED_SHIPMENT, PUBLIC_HOLIDAYS, table_of_fact
from tracker.planfile.tables import Field, Table

_MOST_SHOWN = 12

ChangeKind = Literal["added", "changed", "removed"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One line of a difference: ``what`` names the thing, ``detail`` what it holds or how it changed."""

    kind: ChangeKind
    what: str
    detail: str = ""

    def __str__(self) -> str:
        """Read as one line."""
        return f"{self.kind} {self.what}" + (f": {self.detail}" if self.detail else "")


def difference(before: Plan | None, after: Plan) -> tuple[Change, ...]:
    """List how ``after`` differs from ``before``; empty only when the two are equal.

    One line for each entry added or removed, for each key changed, for each fact, and for a changed order.
    """
    return tuple(_changes(before, after))


def not_in_file(stored: Plan | None, read: Plan) -> tuple[str, ...]:
    """Name the stored suppliers, parts, jobs, shipments and options that the file does not mention."""
    if stored is None:
        return ()
    return tuple(
        f"{kind} {code}"
        for kind in CODED
        for code in entries(stored, kind)
        if code not in entries(read, kind)
    )


def _changes(before: Plan | None, after: Plan) -> Iterator[Change]:
    for kind, table in TABLES.items():
        yield from _lists(kind, table, entries(before, kind), entries(after, kind))
    yield from _facts(before.facts if before else (), after.facts)
    yield from _first_plan(before.first_plan if before else None, after.first_plan)
    yield from _lists("public holidays", PUBLIC_HOLIDAYS, _by_place(before), _by_place(after))


def _by_place(plan: Plan | None) -> Mapping[str, Any]:
    rows = plan.holidays if plan else ()
    return {f"{row.country} {row.subdivision}".rstrip(): row for row in rows}


def _lists(what: str, table: Table, before: Mapping[str, Any], after: Mapping[str, Any]) -> Iterator[Change]:
    for code, item in before.items():
        if code not in after:
            yield Change(kind="removed", what=f"{what} {code}", detail=_summary(table, item))
        elif item != after[code]:
            for detail in _keys(table, item, after[code]):
                yield Change(kind="changed", what=f"{what} {code}", detail=detail)
    for code, item in after.items():
        if code not in before:
            yield Change(kind="added", what=f"{what} {code}", detail=_summary(table, item))
    old = [code for code in before if code in after]
    new = [code for code in after if code in before]
    if old != new:
        yield Change(kind="changed", what=f"order of {what}s", detail=f"{', '.join(old)} -> {', '.join(new)}")


def _summary(table: Table, item: Any) -> str:
    return ", ".join(
        f"{key.name} {_shown(key, value)}" for key, value in table.parts(item) if not key.is_fixed
    )


def _keys(table: Table, before: Any, after: Any) -> Iterator[str]:
    """One text a changed attribute: key, value before, value after."""
    done: set[str] = set()
    for key in table.fields:
        old, new = table.value(before, key.fills), table.value(after, key.fills)
        if old != new and key.fills not in done:
            done.add(key.fills)
            was, now = _key_of(table, key, old), _key_of(table, key, new)
            name = f"{now.name} " if now is not was else ""
            short = _list_change(now, old, new) if now is was and now.form.listed else ""
            yield f"{was.name} " + (short or f"{_shown(was, old)} -> {name}{_shown(now, new)}")


def _list_change(key: Field, old: tuple[Any, ...] | None, new: tuple[Any, ...] | None) -> str:
    """What was added to a list and taken out of it; empty where that does not tell the whole change."""
    kept = [item for item in old or () if item in (new or ())]
    added = tuple(item for item in new or () if item not in (old or ()))
    dropped = tuple(item for item in old or () if item not in (new or ()))
    other_number = {_about(item) for item in added} & {_about(item) for item in dropped}
    if not kept or (*kept, *added) != new or other_number:
        return ""
    adds = f"adds {key.form.show(added)}" if added else ""
    drops = f"drops {key.form.show(dropped)}" if dropped else ""
    return " and ".join(part for part in (adds, drops) if part)


def _about(item: Any) -> Any:
    """The part an item counts, else the item."""
    return getattr(item, "part", item)


def _key_of(table: Table, key: Field, value: Any) -> Field:
    """The key that writes ``value``, of those that share an attribute."""
    return next(
        (other for other in table.fields if other.fills == key.fills and isinstance(value, other.holds)), key
    )


def _shown(key: Field, value: Any) -> str:
    if isinstance(value, tuple) and len(value) > _MOST_SHOWN:
        return f"({len(value)} values)"
    return "not set" if value is None else key.form.show(value)


def _facts(before: tuple[Fact, ...], after: tuple[Fact, ...]) -> Iterator[Change]:
    gone, come = Counter(before), Counter(after)
    for fact in (gone - come).elements():
        yield _fact_change("removed", fact)
    for fact in (come - gone).elements():
        yield _fact_change("added", fact)
    if before != after and gone == come:
        yield Change(kind="changed", what="order of facts")


def _fact_change(kind: ChangeKind, fact: Fact) -> Change:
    parts = [
        key.name if value is True else f"{key.name} {_shown(key, value)}"
        for key, value in table_of_fact(fact).parts(fact)
        if not key.is_fixed
    ]
    return Change(kind=kind, what=f"fact {fact_name(fact)}", detail=" ".join(parts))


def _first_plan(before: FirstPlan | None, after: FirstPlan | None) -> Iterator[Change]:
    if before is None and after is not None:
        yield Change(kind="added", what="first plan", detail=_size(after))
    elif before is not None and after is None:
        yield Change(kind="removed", what="first plan", detail=_size(before))
    elif before is not None and after is not None:
        what = "first plan of job"
        yield from _lists(what, PLANNED_JOB, {r.job: r for r in before.jobs}, {r.job: r for r in after.jobs})
        what = "first plan of shipment"
        yield from _lists(
            what,
            PLANNED_SHIPMENT,
            {r.shipment: r for r in before.shipments},
            {r.shipment: r for r in after.shipments},
        )


def _size(first_plan: FirstPlan) -> str:
    return f"{len(first_plan.jobs)} jobs, {len(first_plan.shipments)} shipments"
