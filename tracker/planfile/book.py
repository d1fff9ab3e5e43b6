"""The plan as a workbook: the tables of the plan file as sheets, out and in.

Sheets and headings are the tables and keys of the text form, one row an entry; :mod:`tracker.planfile.book_cells`
says how a value stands in its cell.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date
from typing import Any

from tracker.plan.model import FirstPlan, Plan
from tracker.planfile.book_cells import CellValue, cell_of, read_cell
from tracker.planfile.book_rows import rows_by_sheet
from tracker.planfile.book_sheets import SHEETS, BookSheet
from tracker.planfile.faults import Fault
from tracker.planfile.fields import (
    JOB,
    OPTION,
    PART,
    PLANNED_JOB,
    PLANNED_SHIPMENT,
    PUBLIC_HOLIDAYS,
    RUN,
    SHIPMENT,
    SUPPLIER,
    table_of_fact,
)
from tracker.planfile.gathering import LISTS, Findings, Row, gather
from tracker.planfile.grid import Grid
from tracker.planfile.reading import Parsed
from tracker.planfile.tables import Field, Table, Way

_Cells = Mapping[str, CellValue]
_NO_ROWS: _Cells = {"job": "none"}


def blank_book() -> tuple[BookSheet, ...]:
    """All sheets with their columns and no rows."""
    return tuple(SHEETS.values())


def book_of(plan: Plan) -> tuple[BookSheet, ...]:
    """The plan as sheets that :func:`parse_book` reads back to an equal plan.

    Entries and facts keep their order; cells that would say the default stay empty. A first plan without rows
    is a row that says ``none``.

    Raises
    ------
    Refused
        If a text is longer than a cell can be.
    """
    rows = {"run": [_cells(RUN, plan.run)], **_lists(plan)}
    return tuple(
        replace(
            sheet,
            rows=tuple(tuple(row.get(column.key) for column in sheet.columns) for row in rows[sheet.name]),
        )
        for sheet in SHEETS.values()
    )


def _lists(plan: Plan) -> Mapping[str, list[_Cells]]:
    return {
        "supplier": [_cells(SUPPLIER, one) for one in plan.suppliers],
        "part": [_cells(PART, one) for one in plan.parts],
        "job": [_cells(JOB, one) for one in plan.jobs],
        "shipment": [_cells(SHIPMENT, one) for one in plan.shipments],
        "option": [_cells(OPTION, one) for one in plan.options],
        "fact": [_cells(table_of_fact(fact), fact) for fact in plan.facts],
        "first_plan": [] if plan.first_plan is None else list(_first_plan(plan.first_plan)) or [_NO_ROWS],
        "public_holidays": [_cells(PUBLIC_HOLIDAYS, one) for one in plan.holidays],
    }


def _first_plan(first: FirstPlan) -> Iterator[_Cells]:
    yield from (_cells(PLANNED_JOB, row) for row in first.jobs)
    yield from (_cells(PLANNED_SHIPMENT, row) for row in first.shipments)


def _cells(table: Table, item: Any) -> _Cells:
    return {key.name: cell_of(key.form, value) for key, value in table.parts(item)}


def parse_book(grids: Sequence[Grid], *, source: str, today: date) -> Parsed:
    """Read a plan from the sheets of a workbook.

    Parameters
    ----------
    grids : sequence of Grid
        The sheets, in any order; sheets that the plan does not use may be missing.
    source : str
        The file's name, which begins the place of every problem.
    today : date
        Stands in for the start of a run whose own start cannot be read.

    Returns
    -------
    Parsed
        The plan and all problems of form, each with its sheet, row and cell. What the entries mean together is
        for ``check_plan``; :func:`tracker.planfile.book_places.placed` finds the cells of its problems.

    Examples
    --------
    >>> run = Grid(sheet="run", rows=(("code", "quantity", "start"), ("dial-1", "many", date(2026, 6, 15))))
    >>> print(*parse_book((run,), source="plan.xlsx", today=date(2026, 6, 1)).problems)
    plan.xlsx, sheet run, row 2, B2 (quantity): 'many' is not a whole number; write digits only, such as 240
    """
    findings = Findings(source)
    rows = dict(rows_by_sheet(grids, findings))
    run = _one_run(rows.pop("run", ()), findings)
    lists = {name: rows[name] for name in LISTS if rows.get(name)}
    if [row.values for row in lists.get("first_plan", ())] == [_NO_ROWS]:
        lists["first_plan"] = ()
    plan = gather(run, lists, _AS_CELLS, today, findings)
    return Parsed(
        plan=plan,
        problems=tuple(findings.problems),
        unreadable=frozenset(findings.unreadable),
        rows=findings.rows,
    )


def _one_run(rows: Sequence[Row], findings: Findings) -> Row | None:
    if not rows:
        needed = " and ".join((", ".join(_needed[:-1]), _needed[-1]))
        fault = Fault(found="is empty", remedy=f"write {needed} of the run below their headings")
        findings.add("sheet run, row 2", [fault])
        return None
    for row in rows[1:]:
        findings.add(
            row.place, [Fault(found="is a second run", remedy="keep one row: a plan is about one run")]
        )
    return rows[0]


def _unknown(name: str, _close: str, table: Table) -> Fault:
    """A cell filled in a row whose table has no such key."""
    remedy = f"empty this cell; it has {', '.join(table.by_name)}"
    return Fault(found=f"a {table.name} has no {name}", remedy=remedy, where=(name,))


def _missing(key: Field, names: Sequence[str]) -> Fault:
    example = key.example.replace('"', "")
    remedy = f"write it, such as {example}" if example else "write it"
    return Fault(found=f"has no {' or '.join(names)}", remedy=remedy, where=(key.name,))


_AS_CELLS = Way(read=lambda key, raw: read_cell(key.form, raw), unknown=_unknown, missing=_missing)
_needed = [column.key for column in SHEETS["run"].columns if column.needed]
