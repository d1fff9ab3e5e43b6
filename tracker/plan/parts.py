"""What is counted: parts, what jobs take and make of them, what shipments hold."""

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

LotRule = int | Literal["shipments"] | tuple[int, ...]
"""How a quantity is cut into lots: so many equal ones, one for each shipment, or of these sizes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """Something counted.

    ``unit`` is what it is measured in (m, g); pieces, always whole, where it is empty. ``here`` was in stock
    when the run began. ``spares`` are wanted beyond what shipments need and hold no shipment. ``moq`` is the
    least one order may ask for, and orders come in multiples of ``multiple``.
    """

    code: str
    name: str = ""
    public_name: str = ""
    unit: str = ""
    here: Fraction = Fraction(0)
    spares: int = 0
    moq: int | None = None
    multiple: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Take:
    """A job uses ``per`` of ``part`` for each piece put in; only for pieces of ``into`` where that is given."""

    part: str
    per: Fraction = Fraction(1)
    into: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Make:
    """A part a job makes; ``quantity`` is its share of the pieces put in where the job makes several parts."""

    part: str
    quantity: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Content:
    """So many of ``part`` go with a shipment."""

    part: str
    quantity: int
