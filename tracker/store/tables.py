"""The tables of the plan, with the rules that hold whoever writes to them.

Suppliers, jobs and shipments are keyed by their code; ``place`` keeps the order of things. Spans and leads are
texts in their plan-file form, shares exact fractions as texts. A column younger than the first schema has a default,
so that rows the diary kept before it can come back. Rows of these classes never leave the store.
"""

from datetime import date
from typing import Any, ClassVar

from sqlalchemy import Column, ForeignKey, String, text
from sqlmodel import Field, SQLModel

from tracker.plan.model import CLOCK_CONDITIONS, LEAVE_CONDITIONS
from tracker.store.rules import AT_MOST_ALL, MORE_THAN_NOTHING, fractions, one_of, rules

_LOTS = (
    "lots IS NULL OR CASE WHEN NOT json_valid(lots) THEN 0 WHEN json_type(lots) = 'integer'"
    " THEN CAST(lots AS INTEGER) > 0 WHEN json_type(lots) = 'array' THEN json_array_length(lots) > 0"
    " ELSE lots = '\"shipments\"' END"
)


class Rows(SQLModel):
    """Rows are read and written by column, so the checking of Python values is never built."""

    model_config: ClassVar[Any] = {"defer_build": True}


class Run(Rows, table=True):
    """The one run of this database; ``first_plan`` tells an empty first plan from none."""

    __table_args__ = rules(
        "run",
        days=("start", "today"),
        flags=("first_plan",),
        filled=("code",),
        more={
            "there is one run in a database": "id = 1",
            "quantity is 1 or more": "typeof(quantity) = 'integer' AND quantity > 0",
            "dates are read day first or month first": one_of("dates", ("day first", "month first")),
        },
    )
    id: int = Field(primary_key=True)
    code: str
    product: str
    quantity: int
    currency: str
    start: date
    today: date | None
    dates: str | None
    first_plan: bool


class PublicHolidays(Rows, table=True):
    """Resolved holidays of one country and subdivision; ``days`` are ISO dates with spaces between."""

    __tablename__ = "public_holidays"
    __table_args__ = rules(
        "public_holidays",
        counts=("place",),
        more={"the first year is not after the last": "first_year <= last_year"},
    )
    place: int = Field(primary_key=True)
    country: str
    subdivision: str
    first_year: int
    last_year: int
    days: str


class Supplier(Rows, table=True):
    """Who does jobs."""

    __table_args__ = rules(
        "supplier",
        counts=("place",),
        flags=("inhouse",),
        spans=("bank",),
        filled=("code", "workdays"),
        more={"dates mean in hand or leaves": "dates_mean IN ('in hand', 'leaves')"},
    )
    code: str = Field(primary_key=True)
    place: int
    name: str
    country: str
    subdivision: str
    workdays: str
    dates_mean: str
    bank: str
    contact: str
    public_name: str
    inhouse: bool


class Closure(Rows, table=True):
    """Days a supplier is shut, first and last included."""

    __table_args__ = rules(
        "closure",
        counts=("place",),
        days=("first", "last"),
        more={"the first day is not after the last": '"first" <= "last"'},
    )
    supplier: str = Field(primary_key=True, foreign_key="supplier.code")
    place: int = Field(primary_key=True)
    first: date
    last: date
    why: str


class OpenDay(Rows, table=True):
    """An extra working day of a supplier."""

    __tablename__ = "open_day"
    __table_args__ = rules("open_day", counts=("place",), days=("day",))
    supplier: str = Field(primary_key=True, foreign_key="supplier.code")
    place: int = Field(primary_key=True)
    day: date


def _another_job() -> Any:
    """A column that names a job, which may be written after the row."""
    job = ForeignKey("job.code", deferrable=True, initially="DEFERRED")
    return Field(sa_column=Column(String, job, nullable=True))


class Job(Rows, table=True):
    """One step of work; ``own_clock`` is 0 for the default clock.

    ``lead`` is a lead time or a rate in JSON, ``lots`` their number, their sizes or ``"shipments"`` in JSON.
    """

    __table_args__ = rules(
        "job",
        counts=("place",),
        days=("not_before",),
        flags=("own_clock", "gate", "one_by_one", "rerun"),
        spans=("travel",),
        filled=("code",),
        more=fractions("yields", "unders", "overs")
        | {
            "the lead is days or a rate": "lead GLOB '[0-9]*[cw]d' OR (lead GLOB '{*}' AND json_valid(lead))",
            "quantity is 1 or more": "quantity IS NULL OR (typeof(quantity) = 'integer' AND quantity > 0)",
            "a job is not a retry of itself": "retry_of IS NULL OR retry_of <> code",
            "a job is not rework of itself": "rework_of IS NULL OR rework_of <> code",
            "more than nothing comes out good, and at most all": (
                f"{MORE_THAN_NOTHING.format('yields')} AND {AT_MOST_ALL.format('yields')}"
            ),
            "fewer may come by less than all": f"{AT_MOST_ALL.format('unders')} AND unders <> '1'",
            "lots are a number, sizes or those of the shipments": _LOTS,
        },
    )
    code: str = Field(primary_key=True)
    place: int
    supplier: str = Field(foreign_key="supplier.code")
    lead: str
    name: str
    public_name: str
    process: str
    said: str
    quantity: int | None
    travel: str
    not_before: date | None
    own_clock: bool
    gate: bool
    retry_of: str | None = _another_job()
    yields: str = Field(sa_column_kwargs={"server_default": text("'1'")})
    lots: str | None
    one_by_one: bool = Field(sa_column_kwargs={"server_default": text("0")})
    rerun: bool = Field(sa_column_kwargs={"server_default": text("0")})
    rework_of: str | None = _another_job()
    unders: str = Field(sa_column_kwargs={"server_default": text("'0'")})
    overs: str = Field(sa_column_kwargs={"server_default": text("'0'")})


class Link(Rows, table=True):
    """``job`` waits for ``after_job``."""

    __table_args__ = rules(
        "link",
        counts=("place",),
        spans=("lag",),
        more={
            "a job does not wait for itself": "after_job <> job",
            "kind is finish-start, start-start or finish-finish": (
                "kind IN ('finish-start', 'start-start', 'finish-finish')"
            ),
            "the outcome is pass or fail": "outcome IN ('pass', 'fail')",
        },
    )
    job: str = Field(primary_key=True, foreign_key="job.code")
    place: int = Field(primary_key=True)
    after_job: str = Field(foreign_key="job.code")
    kind: str
    lag: str
    outcome: str


class Condition(Rows, table=True):
    """What must be there before a job's clock starts (``clock``) or a made lot may leave (``leave``)."""

    __table_args__ = rules(
        "condition",
        counts=("place",),
        more={
            "the stage is clock or leave": "stage IN ('clock', 'leave')",
            "a clock waits for known things": f"stage <> 'clock' OR {one_of('what', CLOCK_CONDITIONS)}",
            "leaving waits for known things": f"stage <> 'leave' OR {one_of('what', LEAVE_CONDITIONS)}",
        },
    )
    job: str = Field(primary_key=True, foreign_key="job.code")
    stage: str = Field(primary_key=True)
    place: int = Field(primary_key=True)
    what: str


class Shipment(Rows, table=True):
    """A numbered wave of units to backers."""

    __table_args__ = rules(
        "shipment",
        counts=("place",),
        filled=("code",),
        more={"quantity is 1 or more": "typeof(quantity) = 'integer' AND quantity > 0"},
    )
    code: str = Field(primary_key=True)
    place: int
    name: str
    public_name: str
    quantity: int


class ShipmentAfter(Rows, table=True):
    """A job whose arrival a shipment waits for."""

    __tablename__ = "shipment_after"
    __table_args__ = rules("shipment_after", counts=("place",))
    shipment: str = Field(primary_key=True, foreign_key="shipment.code")
    place: int = Field(primary_key=True)
    job: str = Field(foreign_key="job.code")


class Told(Rows, table=True):
    """A date told to backers, ``last`` included."""

    __table_args__ = rules(
        "told",
        counts=("place",),
        days=("on", "first", "last"),
        more={"the first day is not after the last": '"first" IS NULL OR "first" <= "last"'},
    )
    shipment: str = Field(primary_key=True, foreign_key="shipment.code")
    place: int = Field(primary_key=True)
    on: date
    first: date | None
    last: date
    words: str


class Option(Rows, table=True):
    """Something that could be decided; ``words`` are what would be tried."""

    __table_args__ = rules("option", counts=("place",), days=("on",), filled=("code", "words"))
    code: str = Field(primary_key=True)
    place: int
    words: str
    on: date
    cost: str


class FirstPlanJob(Rows, table=True):
    """A job's days in the first plan."""

    __tablename__ = "first_plan_job"
    __table_args__ = rules("first_plan_job", counts=("place",), days=("start", "finish", "arrives"))
    job: str = Field(primary_key=True, foreign_key="job.code")
    place: int
    start: date
    finish: date
    arrives: date


class FirstPlanShipment(Rows, table=True):
    """A shipment's day in the first plan."""

    __tablename__ = "first_plan_shipment"
    __table_args__ = rules("first_plan_shipment", counts=("place",), days=("day",))
    shipment: str = Field(primary_key=True, foreign_key="shipment.code")
    place: int
    day: date
