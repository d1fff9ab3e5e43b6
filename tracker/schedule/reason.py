"""Why a job starts or arrives when it does, where no other job is the cause."""

from dataclasses import dataclass
from typing import Literal

ReasonKind = Literal[
    "run start", "not before", "today", "clock", "day 1", "paused", "after failure", "second attempt",
    "promise", "started", "overdue", "made", "left", "leave", "done",
]  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Reason:
    """One bound of a job's own.

    ``day`` is what it bounds: the earliest day 1 for reasons of starting, the day itself for the others, for
    ``overdue`` the day that passed. ``what`` names the clock or leave condition, or the gate; ``owed_by`` is
    ``us`` while it is missing.
    """

    kind: ReasonKind
    day: int
    what: str = ""
    owed_by: str = ""
