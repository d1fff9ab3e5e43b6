"""The lines of a mail to one supplier as plain values: jobs by the name to use, texts that may stand."""

from dataclasses import dataclass
from datetime import date
from typing import Literal

Silence = Literal["in hand", "leaves", "expected", "due here", "no date"]
Change = Literal["called off", "paused", "resumed"]
Step = Literal["in work", "ordered", "made"]


@dataclass(frozen=True, slots=True, kw_only=True)
class StopRow:
    """Work behind a check of ours that is shut; ``failed_on`` is None for a check that has no result yet.

    ``step`` is what there is to stop: ``in work``, ``ordered`` (not begun) or ``made`` (at their door).
    """

    job: str
    failed_on: date | None
    step: Step


@dataclass(frozen=True, slots=True, kw_only=True)
class GoAheadRow:
    """Work let out before a check of ours that has passed since."""

    job: str
    passed_on: date


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeRow:
    """Work called off, paused (``until`` is the first day it may go on, where known) or resumed."""

    job: str
    kind: Change
    on: date
    until: date | None


@dataclass(frozen=True, slots=True, kw_only=True)
class PromisedRow:
    """The date that counts now: ``means`` in hand (with us) or leaves (their door), ``given`` the day they named it.

    ``before`` is the date they had named before it, where that was another day.
    """

    job: str
    day: date
    means: str
    given: date
    words: str
    before: date | None
    worst: date | None
    pieces: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class NotedRow:
    """How far they said they are: started, made, left, finished, passed, failed, or their written ``day1``."""

    job: str
    kind: str
    on: date
    day: date | None
    pieces: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class OursRow:
    """What we did: ``order``, or a condition given; ``pieces`` is the number ordered."""

    job: str
    what: str
    on: date
    pieces: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class SilenceRow:
    """A date that passed without news, and which kind of date it was; ``no date``: ``pieces`` to come without one."""

    job: str
    kind: Silence
    day: date | None
    pieces: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadyRow:
    """A promise that what they need from us comes too late for: ``ready`` is the earliest day they can have it."""

    job: str
    promised: date
    ready: date


@dataclass(frozen=True, slots=True, kw_only=True)
class CameRow:
    """One delivery counted here, or (``judged_later``) pieces counted before and judged on ``on``.

    ``remark`` is the delivery's own note, ``ref`` their delivery note; ``unjudged`` pieces are counted and not judged to
    this day.
    ``to_come`` stands on the last one of an open job; ``closes`` tells that no more is expected, ``corrects`` that
    our last mail may have told it otherwise.
    """

    job: str
    on: date
    judged_later: bool
    received: int
    good: int
    rework: int
    scrap: int
    unjudged: int
    ref: str
    remark: str
    to_come: int | None
    closes: bool
    corrects: bool

    @property
    def rejects(self) -> bool:
        """Whether some of it is not good."""
        return bool(self.rework or self.scrap)


@dataclass(frozen=True, slots=True, kw_only=True)
class OwingRow:
    """What we have not given yet; ``to_leave``: it may not leave their door without it."""

    job: str
    what: tuple[str, ...]
    to_leave: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftOutRow:
    """A text kept out of the mail: what it belongs to, and whether it ``names others`` or ``speaks of money``."""

    job: str
    text_of: str
    why: str
