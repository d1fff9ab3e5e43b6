"""The tables of parts: what is counted, what jobs take and make of it, and what goes with shipments.

Shares and measures are exact fractions kept as texts, such as ``19/20`` or ``3``.
"""

from sqlmodel import Field

from tracker.store.rules import MORE_THAN_NOTHING, fractions, rules
from tracker.store.tables import Rows

_WHOLE_COUNT = "quantity IS NULL OR (typeof(quantity) = 'integer' AND quantity > 0)"


class Part(Rows, table=True):
    """Something counted; ``unit`` is empty for pieces, which are whole."""

    __table_args__ = rules(
        "part",
        counts=("place", "spares"),
        filled=("code",),
        more=fractions("here")
        | {
            "pieces here are whole": "unit <> '' OR here NOT LIKE '%/%'",
            "the least an order asks for is 1 or more": "moq IS NULL OR (typeof(moq) = 'integer' AND moq > 0)",
            "orders come in multiples of 1 or more": (
                "multiple IS NULL OR (typeof(multiple) = 'integer' AND multiple > 0)"
            ),
        },
    )
    code: str = Field(primary_key=True)
    place: int
    name: str
    public_name: str
    unit: str
    here: str
    spares: int
    moq: int | None
    multiple: int | None


class RunUnit(Rows, table=True):
    """A part that is one complete product; the variants of it have a row each."""

    __tablename__ = "run_unit"
    __table_args__ = rules("run_unit", counts=("place",))
    place: int = Field(primary_key=True)
    part: str = Field(foreign_key="part.code")


class Take(Rows, table=True):
    """``job`` uses so much of ``part`` for each piece put in, for pieces of ``into`` alone where that is given."""

    __table_args__ = rules(
        "take",
        counts=("place",),
        more=fractions("per") | {"a job takes more than nothing": MORE_THAN_NOTHING.format("per")},
    )
    job: str = Field(primary_key=True, foreign_key="job.code")
    place: int = Field(primary_key=True)
    part: str = Field(foreign_key="part.code")
    per: str
    into: str | None = Field(foreign_key="part.code")


class Make(Rows, table=True):
    """A part that ``job`` makes, with its share of the pieces put in where there are several."""

    __table_args__ = rules("make", counts=("place",), more={"a share is 1 or more": _WHOLE_COUNT})
    job: str = Field(primary_key=True, foreign_key="job.code")
    place: int = Field(primary_key=True)
    part: str = Field(foreign_key="part.code")
    quantity: int | None


class JobServes(Rows, table=True):
    """A shipment whose need ``job`` covers before other makers of the same part."""

    __tablename__ = "job_serves"
    __table_args__ = rules("job_serves", counts=("place",))
    job: str = Field(primary_key=True, foreign_key="job.code")
    place: int = Field(primary_key=True)
    shipment: str = Field(foreign_key="shipment.code")


class Content(Rows, table=True):
    """So many of ``part`` go with ``shipment``."""

    __table_args__ = rules("content", counts=("place",), more={"quantity is 1 or more": _WHOLE_COUNT})
    shipment: str = Field(primary_key=True, foreign_key="shipment.code")
    place: int = Field(primary_key=True)
    part: str = Field(foreign_key="part.code")
    quantity: int
