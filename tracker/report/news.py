"""What there is to tell: what was logged, and how shipments moved, since backers were last told."""

from dataclasses import dataclass
from datetime import date

from tracker.plan.model import Fact, Plan
from tracker.report.logged import Entries
from tracker.report.moved import Moved


@dataclass(frozen=True, slots=True, kw_only=True)
class News:
    """Facts and moves from ``since`` up to today.

    ``told`` tells that ``since`` is the day backers were last told something; else it is a week ago and all of that
    day counts. ``facts`` were logged or corrected after that, whatever their day, in the order logged.
    """

    since: date
    told: bool
    facts: tuple[Fact, ...]
    moved: Moved

    def of(self, job: str, kind: str) -> tuple[Fact, ...]:
        """The news of one kind about one job."""
        return tuple(fact for fact in self.facts if fact.job == job and fact.kind == kind)

    def has(self, fact: Fact) -> bool:
        """Whether this very fact is news."""
        return any(fact is one for one in self.facts)


def facts_after(plan: Plan, entries: Entries, number: int, today: date) -> tuple[Fact, ...]:
    """Facts up to today that entries after this number logged, or corrected."""
    return tuple(
        fact
        for place, (fact, entry) in enumerate(zip(plan.facts, entries.numbers, strict=True))
        if fact.on <= today
        and (entry > number or any(later > number for later, _ in entries.before.get(place, ())))
    )
