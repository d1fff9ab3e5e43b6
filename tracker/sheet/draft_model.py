"""What a maker's sheet would make of a plan, and what is still to be said about it."""

from collections.abc import Mapping
from dataclasses import dataclass

from tracker.errors import Problem
from tracker.plan.model import Plan
from tracker.planfile.gathering import Row
from tracker.sheet.leads import Heard


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """A lead, or a job's travel, that needs a word: two readings, or none yet (then ``heard`` tells the trouble)."""

    place: str
    row: int
    job: str
    item: str
    supplier: str
    is_travel: bool
    heard: Heard

    @property
    def problem(self) -> Problem:
        """The same as a problem of the sheet."""
        outright = f"leads {self.job}=12wd" if not self.is_travel else "leads travel=cd"
        if self.heard.trouble:
            remedy = (
                self.heard.remedy if self.is_travel else f"{self.heard.remedy}; or say it here: {outright}"
            )
            return Problem(place=self.place, found=self.heard.trouble, remedy=remedy)
        if not self.heard.said:
            return Problem(
                place=self.place, found="has no lead", remedy=f"fill it in, or say it here: {outright}"
            )
        both = f"{self.heard.working} (their working days) or {self.heard.calendar} (calendar days)"
        which = f"{outright} or travel=wd" if self.is_travel else f"leads {self.job}=wd or {self.job}=cd"
        return Problem(
            place=self.place, found=f"'{self.heard.said}' can be {both}", remedy=f"say which: {which}"
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Chosen:
    """Words of a lead or of travel and the reading chosen for them; ``why`` names who chose."""

    row: int
    job: str
    said: str
    read_as: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Skipped:
    """A row that gives no job: what stands in it, and why it was left out."""

    row: int
    words: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """The entries a sheet gives, to be merged into the stored plan.

    ``plan`` holds only jobs and suppliers the sheet speaks of, stored ones with what it changes, and its new
    facts; with problems or questions it holds stand-ins and is not to be stored. ``unreadable`` are the codes of
    jobs with problems, ``""`` for references that could not be read. ``rows`` are the rows of the jobs by code,
    ``entries`` find the rows and cells of what problems of the plan name, such as ``job boxes``.
    """

    plan: Plan
    rows: Mapping[str, int]
    entries: Mapping[str, tuple[Row, ...]]
    problems: tuple[Problem, ...] = ()
    unreadable: frozenset[str] = frozenset()
    questions: tuple[Question, ...] = ()
    chosen: tuple[Chosen, ...] = ()
    skipped: tuple[Skipped, ...] = ()
    remarks: tuple[str, ...] = ()
    without_country: tuple[str, ...] = ()
