"""What was found in a maker's own spreadsheet, what its columns seem to hold, and what they would make of a plan."""

from collections.abc import Mapping
from dataclasses import dataclass

from tracker.errors import Problem
from tracker.plan.model import Plan
from tracker.planfile.gathering import Row
from tracker.planfile.grid import Value
from tracker.sheet.leads import Heard

ROLES = (
    "item", "code", "supplier", "country", "lead", "unit", "after", "quantity", "travel", "not-before", "ordered",
    "promised", "contact", "process", "said", "status", "note",
)  # fmt: skip
"""What a column can hold: ``item`` names the job, ``after`` the items it waits for, ``unit`` is what the lead counts;
``ordered`` and ``promised`` are dates; ``status`` is read back but never stored, since state comes from what is logged."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetRow:
    """One row below the headings; ``number`` is as the sheet shows it (from 1), ``cells`` run along the headings."""

    number: int
    cells: tuple[Value, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetTable:
    """A table found on a sheet.

    ``headings`` are trimmed, a merged or two-row heading joined by a blank; ``columns`` gives each heading's
    column in the sheet (from 0); a column without a heading has ``""``. ``heading_row`` is as the sheet shows it
    (from 1), the first of two. Texts are without blanks around them, line breaks inside kept. Blank rows and rows that repeat the headings
    are left out of ``rows``; ``left_out`` are the lines of one cell taken for titles or notes between and below them.
    ``unworked`` are cells, by row as shown and place among the headings, with a formula that was never worked out.
    """

    sheet: str
    heading_row: int
    headings: tuple[str, ...]
    columns: tuple[int, ...]
    rows: tuple[SheetRow, ...]
    left_out: tuple[SheetRow, ...] = ()
    unworked: frozenset[tuple[int, int]] = frozenset()


@dataclass(frozen=True, slots=True, kw_only=True)
class Guess:
    """What each column of a table seems to hold, by its place among the headings (from 0).

    ``sure`` tells that item, supplier and lead were found by their headings or values alone and nothing competed for
    them. ``doubts``, one plain sentence each, say why it is not, and also what is unclear of other columns: so there
    are doubts of a sure guess where only a column that can be done without competes, clashes or is left unread.
    """

    roles: Mapping[int, str]
    sure: bool
    doubts: tuple[str, ...] = ()


AS_BEFORE = "as before"
"""Why a reading is the one stored at an earlier read."""
OUTRIGHT = ", or say it here: "
"""What parts the general remedy of a length from the words for one job."""


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
            remedy = self.heard.remedy if self.is_travel else f"{self.heard.remedy}{OUTRIGHT}{outright}"
            return Problem(place=self.place, found=self.heard.trouble, remedy=remedy)
        if not self.heard.said:
            return Problem(place=self.place, found="has no lead", remedy=f"fill it in{OUTRIGHT}{outright}")
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
    jobs with problems, ``""`` for references that could not be read; ``open_leads`` those without a lead so far. ``rows`` are the rows of the jobs by code,
    ``entries`` find the rows and cells of what problems of the plan name, such as ``job boxes``.
    """

    plan: Plan
    rows: Mapping[str, int]
    entries: Mapping[str, tuple[Row, ...]]
    problems: tuple[Problem, ...] = ()
    unreadable: frozenset[str] = frozenset()
    questions: tuple[Question, ...] = ()
    chosen: tuple[Chosen, ...] = ()
    open_leads: frozenset[str] = frozenset()
    skipped: tuple[Skipped, ...] = ()
    remarks: tuple[str, ...] = ()
    without_country: tuple[str, ...] = ()
