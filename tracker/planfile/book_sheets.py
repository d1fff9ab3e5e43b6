"""The sheets of the plan workbook and their columns, made from the tables of the plan file."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from tracker.plan.model import FACT_KINDS
from tracker.planfile import book_guide
from tracker.planfile.book_cells import CellValue
from tracker.planfile.book_guide import Guide
from tracker.planfile.fields import (
    FACT_TABLES,
    JOB,
    OPTION,
    PART,
    PLANNED_JOB,
    PLANNED_SHIPMENT,
    PUBLIC_HOLIDAYS,
    RUN,
    SHIPMENT,
    SUPPLIER,
    fact_table,
)
from tracker.planfile.tables import Field, Table

Holds = Literal["text", "date", "whole", "number", "flag", "date or flag", "choice"]
_NAMES = {
    "supplier": "supplier",
    "part": "part",
    "job": "job",
    "retry_of": "job",
    "rework_of": "job",
    "shipment": "shipment",
    "option": "option",
}
_MAY_BE_NONE = ("good", "rework", "scrap", "count", "spares", "here")
_DATED_BY = ("after", "part", "contents")


@dataclass(frozen=True, slots=True, kw_only=True)
class BookColumn:
    """One column: its heading, what its cells hold, and what to tell the person who fills it in.

    A choice is one of ``words``, a number at least ``least``; ``names`` is the sheet whose code a cell
    takes, ``""`` for none. ``needed`` names the columns of which every row needs one, this among them.
    """

    key: str
    holds: Holds
    words: tuple[str, ...]
    least: int
    names: str
    needed: tuple[str, ...]
    meaning: str
    example: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BookSheet:
    """One sheet: what it is for, its columns and its rows below the headings, along the columns.

    ``kinds`` lists which columns a row of each kind needs and which it may have.
    """

    name: str
    about: str
    columns: tuple[BookColumn, ...]
    rows: tuple[tuple[CellValue | None, ...], ...] = ()
    kinds: tuple[tuple[str, tuple[str, ...], tuple[str, ...]], ...] = ()


def _columns(
    guide: Guide, tables: Sequence[Table], always: Mapping[str, tuple[str, ...]]
) -> Iterator[BookColumn]:
    """A column for each key of the tables, in the order of the guide."""
    keys: dict[str, list[Field]] = {}
    for table in tables:
        for field in table.fields:
            keys.setdefault(field.name, []).append(field)
    for key in sorted(keys, key=list(guide).index):
        meaning, example = guide[key]
        yield BookColumn(
            key=key,
            holds=_holds(keys[key]),
            words=keys[key][0].form.words,
            least=0 if key in _MAY_BE_NONE else 1,
            names=_NAMES.get(key, ""),
            needed=always.get(key) or _needed(key, tables),
            meaning=meaning,
            example=example,
        )


def _holds(fields: Sequence[Field]) -> Holds:
    kinds = {field.form.kind for field in fields}
    if kinds == {"date", "flag"}:
        return "date or flag"
    if fields[0].form.words:
        return "choice"
    match kinds.pop():
        case "date" | "whole" | "number" | "flag" as kind:
            return kind
        case _:
            return "text"


def _needed(key: str, tables: Sequence[Table]) -> tuple[str, ...]:
    """The keys of which each row needs one; none where several tables share a sheet, as each row is of one."""
    if len(tables) > 1:
        return ()
    (table,) = tables
    fills = table.by_name[key].fills
    if fills in table.defaults or fills in table.follows:
        return ()
    instead = (table.instead[fills],) if fills in table.instead else ()
    return (*(field.name for field in table.fields if field.fills == fills), *instead)


def _sheet(
    name: str, guide: Guide, *tables: Table, always: Mapping[str, tuple[str, ...]] = MappingProxyType({})
) -> BookSheet:
    """A sheet of these tables; ``always`` gives columns of which every row needs one although they have defaults."""
    columns = tuple(_columns(guide, tables, always))
    return BookSheet(name=name, about=book_guide.SHEETS[name], columns=columns, kinds=_kinds(name))


def _kinds(name: str) -> tuple[tuple[str, tuple[str, ...], tuple[str, ...]], ...]:
    if name != "fact":
        return ()
    return tuple((kind, *_needs_and_takes(fact_table(kind))) for kind in FACT_KINDS)


def _needs_and_takes(table: Table) -> tuple[tuple[str, ...], tuple[str, ...]]:
    own = [field for field in table.fields if field.name not in ("on", "kind", "note", "logged")]
    needs = tuple(field.name for field in own if field.fills not in table.defaults)
    return needs, tuple(field.name for field in own if field.name not in needs)


_ALL = (
    _sheet("run", book_guide.RUN, RUN),
    _sheet("supplier", book_guide.SUPPLIER, SUPPLIER),
    _sheet("part", book_guide.PART, PART),
    _sheet("job", book_guide.JOB, JOB),
    _sheet("shipment", book_guide.SHIPMENT, SHIPMENT, always=dict.fromkeys(_DATED_BY, _DATED_BY)),
    _sheet("option", book_guide.OPTION, OPTION),
    _sheet("fact", book_guide.FACT, *FACT_TABLES, always={"on": ("on",), "kind": ("kind",)}),
    _sheet("first_plan", book_guide.FIRST_PLAN, PLANNED_JOB, PLANNED_SHIPMENT),
    _sheet("public_holidays", book_guide.PUBLIC_HOLIDAYS, PUBLIC_HOLIDAYS),
)
SHEETS: Mapping[str, BookSheet] = {sheet.name: sheet for sheet in _ALL}
"""The sheets without rows, by name, in the order they stand and are best filled in."""
