"""What is wrong with a value, before it is known where in a file or command it stands."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime, time
from decimal import Decimal
from typing import Any

_SHOWN = 40


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """One thing wrong: found against expected, a remedy, and the keys that lead to the value.

    Without a finding it has been told of already and only marks what it spoils.
    """

    found: str
    remedy: str
    where: tuple[str, ...] = ()

    def under(self, key: str) -> "Fault":
        """The same fault seen from one key further out."""
        return replace(self, where=(key, *self.where))

    def at(self, cells: Mapping[str, str]) -> "Fault":
        """The same fault with its outermost key named by the cell it stands in, if it has one."""
        outer = tuple(cells.get(key, key) for key in self.where[:1])
        return replace(self, where=(*outer, *self.where[1:]))


class BadValue(ValueError):  # noqa: N818 - reads as what happened
    """A value that its key does not take; carries all its faults."""

    def __init__(self, *faults: Fault) -> None:
        self.faults = faults
        super().__init__("; ".join(fault.found for fault in faults))


def bad(found: str, remedy: str) -> BadValue:
    """A value with a single fault."""
    return BadValue(Fault(found=found, remedy=remedy))


def not_a(expected: str, value: Any, remedy: str) -> BadValue:
    """A value of the wrong type."""
    return bad(f"{describe(value)}; expected {expected}", remedy)


def describe(value: Any) -> str:
    """A value from a plan file and its type in plain words.

    Examples
    --------
    >>> describe("12"), describe(True), describe([1, 2])
    ("'12' is text", 'true is a yes-or-no value', 'a list stands here')
    """
    match value:
        case str():
            said = f"{in_quotes(value)} is text"
        case bool():
            said = f"{str(value).lower()} is a yes-or-no value"
        case int() | Decimal():
            said = f"{_shortened(str(value))} is a number"
        case datetime():
            said = f"{value.isoformat(sep=' ')} is a date with a time"
        case date():
            said = f"{value.isoformat()} is a date"
        case time():
            said = f"{value.isoformat()} is a time"
        case list():
            said = "a list stands here"
        case _:
            said = "a table stands here"
    return said


def in_quotes(text: str) -> str:
    """Text as messages show it: on one line, printable, shortened."""
    plain = "".join(c if c.isprintable() else f"\\u{ord(c):04x}" for c in text[: _SHOWN + 1])
    return f"'{_shortened(plain)}'"


def _shortened(text: str) -> str:
    return text if len(text) <= _SHOWN else f"{text[:_SHOWN]}..."
