"""Where in a workbook a problem of meaning stands, which the checks name by what it is about."""

from collections.abc import Iterable, Mapping
from dataclasses import replace

from tracker.errors import Problem
from tracker.planfile.gathering import Row


def placed(
    problems: Iterable[Problem], rows: Mapping[str, tuple[Row, ...]], source: str
) -> tuple[Problem, ...]:
    """The same problems, those about something in the workbook with its sheet, row and cell.

    ``job boxes, after`` becomes ``plan.xlsx, sheet job, row 9, I9 (after)``; problems about what the workbook
    does not hold keep their place.
    """
    return tuple(replace(problem, place=_place(problem.place, rows, source)) for problem in problems)


def _place(place: str, rows: Mapping[str, tuple[Row, ...]], source: str) -> str:
    name, _, key = place.partition(", ")
    if name == "first plan":
        name, key = place, ""
    found = rows.get(name, ())
    if not found:
        return place
    if len(found) > 1:
        others = "".join(f" or {row.number}" for row in found[1:])
        return f"{source}, {found[0].place}{others}" + (f" ({key})" if key else "")
    inner = [found[0].cells.get(part, part) for part in key.split(", ") if part]
    return ", ".join((source, found[0].place, *inner))
