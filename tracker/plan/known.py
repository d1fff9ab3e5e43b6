"""Codes a plan knows, and what to say about one it does not know."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from functools import cached_property

from tracker.errors import Problem
from tracker.plan.model import Plan
from tracker.plan.nearest import nearest

FIRST_YEAR, LAST_YEAR = 1990, 2100
MOST_PIECES = 1_000_000_000


@dataclass(frozen=True, kw_only=True)
class Known:
    """The plan under check, its status date, and codes whose own entry could not be read in full.

    An unreadable code counts as known, and nothing is said about what its entry may have held; ``""`` among
    them stands for references that could not be read.
    """

    plan: Plan
    today: date
    unreadable: frozenset[str] = frozenset()

    @cached_property
    def codes(self) -> dict[str, tuple[str, ...]]:
        """Codes by kind of thing."""
        return {
            "supplier": tuple(self.plan.supplier_by_code),
            "job": tuple(self.plan.job_by_code),
            "shipment": tuple(self.plan.shipment_by_code),
            "part": tuple(self.plan.part_by_code),
            "option": tuple(self.plan.option_by_code),
        }

    @cached_property
    def gates(self) -> frozenset[str]:
        """Gates, second attempts among them, and the jobs that may be one."""
        gates = (job.code for job in self.plan.jobs if job.gate or job.retry_of)
        return self.unreadable.union(gates)

    @cached_property
    def makers_are_known(self) -> bool:
        """Whether every job that makes a part could be read and names known parts only."""
        return not self.unreadable and self.plan.makers_of.keys() <= self.plan.part_by_code.keys()

    @cached_property
    def attempts(self) -> dict[str, list[str]]:
        """For a gate that has retries, and for each of these, all of them: any may come to open the gate."""
        found: dict[str, list[str]] = {}
        for job in self.plan.jobs:
            if job.retry_of:
                family = found.get(job.retry_of, [job.retry_of])
                family += [code for code in found.get(job.code, [job.code]) if code not in family]
                found.update(dict.fromkeys(family, family))
        return found

    def is_known(self, kind: str, code: str) -> bool:
        """Whether ``code`` names a thing of that kind, or one that could not be read."""
        return code in self._members[kind] or code in self.unreadable

    def is_unread(self, code: str) -> bool:
        """Whether what an entry leaves out may have stood in the part of it that could not be read."""
        return code in self.unreadable

    @cached_property
    def _members(self) -> dict[str, frozenset[str]]:
        return {kind: frozenset(codes) for kind, codes in self.codes.items()}

    def unknown(self, place: str, kind: str, code: str) -> Problem:
        """Say that no thing of ``kind`` has that code, with the nearest one that has."""
        for other, codes in self.codes.items():
            if other != kind and code in codes:
                return Problem(
                    place=place,
                    found=f"'{code}' is {_a(other)}; expected {_a(kind)}",
                    remedy=f"name {_a(kind)} here",
                )
        close = nearest(code, self.codes[kind])
        remedy = f"did you mean {close}?" if close else f"add {kind} {code}, or correct the name"
        return Problem(place=place, found=f"there is no {kind} '{code}'", remedy=remedy)


def _a(kind: str) -> str:
    """The kind of thing with its article."""
    return f"an {kind}" if kind == "option" else f"a {kind}"


def date_problem(place: str, day: date | None) -> tuple[Problem, ...]:
    """A problem when ``day`` lies outside the years that can be reckoned with."""
    if day is None or FIRST_YEAR <= day.year <= LAST_YEAR:
        return ()
    found = f"{day} is not within the years {FIRST_YEAR} to {LAST_YEAR}"
    return (Problem(place=place, found=found, remedy="correct the year"),)


def order_problem(place: str, first: date | None, last: date | None) -> tuple[Problem, ...]:
    """A problem when a span of days ends before it begins; both days are inclusive."""
    if first is None or last is None or first <= last:
        return ()
    found = f"the first day {first} comes after the last day {last}"
    return (Problem(place=place, found=found, remedy="exchange the two, or correct one of them"),)


def pieces_problem(place: str, pieces: int | None, *, least: int) -> tuple[Problem, ...]:
    """A problem when a count of pieces is below ``least`` or absurdly large."""
    if pieces is None or least <= pieces <= MOST_PIECES:
        return ()
    bound = f"{least} or more" if pieces < least else f"{MOST_PIECES} at most"
    found = f"is {pieces}; expected {bound}"
    return (Problem(place=place, found=found, remedy="correct the number"),)


def twice_problems(place: str, names: Sequence[str]) -> tuple[Problem, ...]:
    """A problem for every name that stands more than once in a list."""
    doubled = dict.fromkeys(name for name in names if names.count(name) > 1)
    return tuple(
        Problem(place=place, found=f"names {name} twice", remedy="keep one of the two") for name in doubled
    )


def number_text(number: Fraction) -> str:
    """A number as people write it: whole, or with a point and six digits at most."""
    return str(number.numerator) if number.denominator == 1 else f"{float(number):g}"
