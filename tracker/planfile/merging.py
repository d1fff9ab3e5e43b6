"""What a plan file adds to what is stored: its entries replace those of the same code, nothing is doubled."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from typing import Protocol, TypeVar

from tracker.errors import Refused
from tracker.plan.model import Fact, Plan, PublicHolidays, Run


class _Coded(Protocol):
    """Anything with a code."""

    @property
    def code(self) -> str:
        """The code."""


_C = TypeVar("_C", bound=_Coded)


def merge(stored: Plan | None, read: Plan) -> Plan:
    """Bring what was read into what is stored.

    Entries of the file replace stored ones of the same code whole, or stand at the end; stored entries the
    file does not mention stay. A fact equal to a stored one in all but ``logged`` is that fact, as often as
    it is stored, so a second read adds nothing; others follow in file order. The file's first plan wins;
    stored public holidays win. A status date or order of dates that the file does not name stays. A run without a code (one that could not be read) changes no stored run.

    Raises
    ------
    Refused
        If the file is about another run than the one stored.
    """
    if stored is None:
        return read
    if read.run.code not in ("", stored.run.code):
        raise Refused(
            f"the database holds run {stored.run.code}, but the file is about run {read.run.code}",
            hint="read it into another database with --db FILE, or correct code in [run]",
        )
    return replace(
        stored,
        run=_merged_run(stored.run, read.run),
        suppliers=_merged(stored.suppliers, read.suppliers),
        parts=_merged(stored.parts, read.parts),
        jobs=_merged(stored.jobs, read.jobs),
        shipments=_merged(stored.shipments, read.shipments),
        options=_merged(stored.options, read.options),
        facts=(*stored.facts, *_new_facts(stored.facts, read.facts)),
        first_plan=stored.first_plan if read.first_plan is None else read.first_plan,
        holidays=(*stored.holidays, *_new_holidays(stored, read)),
    )


def _merged_run(stored: Run, read: Run) -> Run:
    """The file's run; what only the stored one says about dates stays."""
    if not read.code:
        return stored
    return replace(read, today=read.today or stored.today, dates=read.dates or stored.dates)


def _merged(stored: tuple[_C, ...], read: tuple[_C, ...]) -> tuple[_C, ...]:
    fresh = {item.code: item for item in read}
    kept = tuple(fresh.pop(item.code, item) for item in stored)
    return (*kept, *fresh.values())


def _new_facts(stored: tuple[Fact, ...], read: tuple[Fact, ...]) -> Iterator[Fact]:
    known = Counter(_as_happened(fact) for fact in stored)
    for fact in read:
        same = _as_happened(fact)
        if known[same]:
            known[same] -= 1
        else:
            yield fact


def _as_happened(fact: Fact) -> Fact:
    """The fact whatever the day it was entered."""
    return replace(fact, logged=fact.on)


def _new_holidays(stored: Plan, read: Plan) -> Iterator[PublicHolidays]:
    kept = {(row.country, row.subdivision) for row in stored.holidays}
    return (row for row in read.holidays if (row.country, row.subdivision) not in kept)
