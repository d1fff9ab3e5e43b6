"""Options: things that could be decided, and which of them still can."""

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tracker.plan.model import Fact, Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class Option:
    """Something that could be decided: ``words`` are what would be tried, without the leading ``try``.

    ``on`` is the day these words were kept, ``cost`` what it would cost, as said.
    """

    code: str
    words: str
    on: date
    cost: str = ""


def decision_on(plan: "Plan", option: str, today: date) -> "Fact | None":
    """The latest decision about an option up to ``today``; None while it is open."""
    decided = (f for f in plan.facts if f.kind == "decided" and f.option == option and f.on <= today)
    return max(reversed(tuple(decided)), key=lambda f: f.on, default=None)


def open_options(plan: "Plan", today: date) -> tuple[Option, ...]:
    """The options kept up to ``today`` about which nothing was decided by then, in plan order."""
    kept = (option for option in plan.options if option.on <= today)
    return tuple(option for option in kept if decision_on(plan, option.code, today) is None)
