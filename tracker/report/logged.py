"""Logged facts with the entries they came by, and what they said before they were corrected."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from tracker.plan.model import Fact, Plan
from tracker.report.answer import FactRow, fact_rows
from tracker.report.picture import Picture


@dataclass(frozen=True, slots=True, kw_only=True)
class Entries:
    """Which entry logged each fact, by its place among the plan's facts, and what each said before later entries corrected it."""

    numbers: Sequence[int] = ()
    before: Mapping[int, tuple[tuple[int, Fact], ...]] = field(default_factory=dict)


NO_ENTRIES = Entries()


@dataclass(frozen=True, slots=True, kw_only=True)
class LoggedFact:
    """A fact with the number of the entry that logged it (None where unknown).

    ``before`` is what it said until later entries corrected it, oldest first, with the numbers of those entries.
    """

    row: FactRow
    entry: int | None
    before: tuple[tuple[int, FactRow], ...] = ()


def logged_facts(
    picture: Picture, entries: Entries, wanted: Callable[[Fact], bool]
) -> tuple[LoggedFact, ...]:
    """Facts up to today, oldest first."""
    found = [
        (place, fact)
        for place, fact in enumerate(picture.plan.facts)
        if wanted(fact) and fact.on <= picture.today
    ]
    return tuple(
        _with_entry(picture.plan, entries, place, fact)
        for place, fact in sorted(found, key=lambda one: one[1].on)
    )


def _with_entry(plan: Plan, entries: Entries, place: int, fact: Fact) -> LoggedFact:
    before = entries.before.get(place, ())
    rows = fact_rows(plan, (fact, *(was for _, was in before)))
    return LoggedFact(
        row=rows[0],
        entry=entries.numbers[place] if place < len(entries.numbers) else None,
        before=tuple(zip((number for number, _ in before), rows[1:], strict=True)),
    )
