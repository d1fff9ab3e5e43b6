"""The tables of what was logged: facts, diary entries and the rows each entry changed."""

from datetime import date

from sqlalchemy import Index, text
from sqlmodel import Field

from tracker.plan.fact_fields import FACT_FIELDS
from tracker.plan.model import CLOCK_CONDITIONS, FACT_KINDS, LEAVE_CONDITIONS
from tracker.store.rules import one_of, rules
from tracker.store.tables import Rows

_ABOUT_SHIPMENTS = ("posted", "told")
_ABOUT_ANYTHING = ("decided", "note")
_ABOUT_SUPPLIERS = ("called", "mailed")
_ABOUT_PARTS = ("scrapped",)
_ABOUT_JOBS = tuple(
    k for k in FACT_KINDS if k not in (*_ABOUT_SHIPMENTS, *_ABOUT_ANYTHING, *_ABOUT_SUPPLIERS, *_ABOUT_PARTS)
)
_NAME_A_PART = tuple(kind for kind, shape in FACT_FIELDS.items() if "part" in shape.all)
_NEEDS = (
    f"CASE WHEN {one_of('kind', _ABOUT_JOBS)} THEN job IS NOT NULL AND shipment IS NULL AND supplier IS NULL"
    f" WHEN {one_of('kind', _ABOUT_SHIPMENTS)} THEN shipment IS NOT NULL AND job IS NULL AND supplier IS NULL"
    " WHEN kind = 'called' THEN supplier IS NOT NULL AND shipment IS NULL"
    " WHEN kind = 'mailed' THEN supplier IS NOT NULL AND job IS NULL AND shipment IS NULL"
    " WHEN kind = 'scrapped' THEN part IS NOT NULL AND scrap IS NOT NULL AND shipment IS NULL AND supplier IS NULL"
    " ELSE 1 END"
)


class Entry(Rows, table=True):
    """A numbered diary entry; at most one is open, and only while its command runs.

    ``printed_for`` is the status date of the shipment dates kept; absent where none are, or in older entries.
    """

    __table_args__ = (
        *rules(
            "entry",
            days=("day", "printed_for"),
            flags=("is_open",),
            filled=("at", "command"),
            more={
                "an entry undoes an earlier one": "undoes IS NULL OR undoes < number",
                "shipments are dates by code": "json_valid(shipments)",
            },
        ),
        Index("one_open_entry", "is_open", unique=True, sqlite_where=text("is_open = 1")),
        {"sqlite_autoincrement": True},
    )
    number: int = Field(primary_key=True)
    at: str
    day: date
    command: str
    undoes: int | None = Field(foreign_key="entry.number")
    shipments: str
    is_open: bool
    printed_for: date | None


class Change(Rows, table=True):
    """A row before and after an entry, written by triggers only."""

    __table_args__ = (
        *rules(
            "change",
            more={
                "a row was there before or after": '"before" IS NOT NULL OR "after" IS NOT NULL',
                "rows are kept as objects": (
                    '("before" IS NULL OR json_valid("before")) AND ("after" IS NULL OR json_valid("after"))'
                ),
            },
        ),
        Index("change_by_entry", "entry"),
    )
    id: int = Field(primary_key=True)
    entry: int = Field(foreign_key="entry.number")
    table_name: str
    key: str
    before: str | None
    after: str | None


class SheetReading(Rows, table=True):
    """What each column of a maker's own sheet holds, by its headings; kept for the next read, outside the diary."""

    __tablename__ = "sheet_reading"
    __table_args__ = rules(
        "sheet_reading", filled=("headings",), more={"roles are words by heading": "json_valid(roles)"}
    )
    headings: str = Field(primary_key=True)
    roles: str


class Fact(Rows, table=True):
    """One thing that happened; numbers are never used twice, so the order of logging survives an undo."""

    __table_args__ = (
        *rules(
            "fact",
            days=("on", "logged", "day", "first", "worst"),
            counts=("good", "rework", "scrap", "count"),
            flags=("exactly", "closes"),
            more={
                "kind is a known one": one_of("kind", FACT_KINDS),
                "a fact names the job, shipment, supplier or part its kind needs": _NEEDS,
                "only counts and scrap name a part": f"part IS NULL OR {one_of('kind', _NAME_A_PART)}",
                "only a decision names an option": "option IS NULL OR kind = 'decided'",
                "something known is given": "kind <> 'given' OR "
                + one_of("what", (*CLOCK_CONDITIONS, *LEAVE_CONDITIONS, "day1")),
                "a promise and a day 1 have a day": "NOT (kind = 'promised' OR what = 'day1') OR day IS NOT NULL",
                "what was told has a day or words": "kind <> 'told' OR day IS NOT NULL OR words <> ''",
                "the first day is not after the last": '"first" IS NULL OR "first" <= day',
                "it is logged on the day it happened or later": '"on" <= logged',
                "dates mean in hand or leaves": one_of("means", ("in hand", "leaves")),
                "quantity is 1 or more": "quantity IS NULL OR (typeof(quantity) = 'integer' AND quantity > 0)",
            },
        ),
        {"sqlite_autoincrement": True},
    )
    id: int = Field(primary_key=True)
    entry: int = Field(foreign_key="entry.number")
    on: date
    kind: str
    logged: date
    job: str | None = Field(foreign_key="job.code")
    shipment: str | None = Field(foreign_key="shipment.code")
    supplier: str | None = Field(foreign_key="supplier.code")
    what: str
    day: date | None
    first: date | None
    worst: date | None
    means: str | None
    exactly: bool
    words: str
    good: int | None
    rework: int | None
    scrap: int | None
    count: int | None
    quantity: int | None
    ref: str
    closes: bool
    note: str
    part: str | None = Field(foreign_key="part.code")
    option: str | None = Field(foreign_key="option.code")
