"""What a try-out says."""

from dataclasses import dataclass

from tracker.plan.model import Fact, Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class TryOut:
    """A plan as it would be, nothing of it stored.

    ``facts`` are those tried, in order; they may lie ahead, and the plan then says up to which day facts are
    ``foreseen``. ``edits`` read back in full what else it changes, ``remarks`` how words were read, ``touched``
    are the jobs it adds or changes.
    """

    plan: Plan
    facts: tuple[Fact, ...] = ()
    edits: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()
    touched: tuple[str, ...] = ()
