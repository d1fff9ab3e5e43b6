"""What a plan workbook lets one type in a column, and the words that appear beside its cells."""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any

from tracker.render.plan_book_shape import Column

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

_FIRST_DAY, _LAST_DAY = "DATE(1990,1,1)", "DATE(2100,12,31)"
_YES_NO = ("yes", "no")
_LONGEST_PROMPT = 255


def add_checks(sheet: "Worksheet", columns: Sequence[Column], first: int, last: int) -> None:
    """Check and prompt the cells of rows ``first`` to ``last``; headings have the prompt alone."""
    from openpyxl.utils import get_column_letter
    from openpyxl.worksheet.datavalidation import DataValidation

    for at, column in enumerate(columns, start=1):
        letter = get_column_letter(at)
        about = dict(_prompt(column))
        heading = DataValidation(**about)
        heading.add(f"{letter}1")
        cells = DataValidation(allow_blank=True, **about, **_check(column, f"{letter}{first}"))
        cells.add(f"{letter}{first}:{letter}{last}")
        for validation in (heading, cells):
            sheet.add_data_validation(validation)


def _prompt(column: Column) -> Iterator[tuple[str, Any]]:
    needed = f"Needed{': ' + ' or '.join(column.needed) if len(column.needed) > 1 else ''}. "
    text = f"{needed if column.needed else ''}{column.meaning} Such as: {column.example}"
    yield "showInputMessage", True
    yield "promptTitle", column.key
    yield "prompt", text if len(text) <= _LONGEST_PROMPT else f"{text[: _LONGEST_PROMPT - 3]}..."


def _check(column: Column, cell: str) -> dict[str, Any]:
    """How the cells of a column are checked, ``cell`` being the first; text is not."""
    match column.holds:
        case "choice":
            return _one_of(column.words)
        case "flag":
            return _one_of(_YES_NO)
        case "whole" | "number":
            number, kind = ("whole number", "whole") if column.holds == "whole" else ("number", "decimal")
            more = f"Type a {number}, {column.least} or more."
            return _stop(more, type=kind, operator="greaterThanOrEqual", formula1=str(column.least))
        case "date":
            return _stop(
                "Type a date from 1990 to 2100, such as 2026-12-04.",
                type="date", operator="between", formula1=_FIRST_DAY, formula2=_LAST_DAY,
            )  # fmt: skip
        case "date or flag":
            day = f"AND(ISNUMBER({cell}),{cell}>={_FIRST_DAY},{cell}<={_LAST_DAY})"
            words = ",".join(f'{cell}="{word}"' for word in _YES_NO)
            return _stop("Type yes, no or a date.", type="custom", formula1=f"OR({words},{day})")
        case _:
            return _code_on(column.names) if column.names else {}


def _one_of(words: Sequence[str]) -> dict[str, Any]:
    return _stop(f"Type one of: {', '.join(words)}.", type="list", formula1=f'"{",".join(words)}"')


def _code_on(name: str) -> dict[str, Any]:
    """Codes stand in column A below the heading; only a warning, since that row may come to be typed later."""
    filled = f"MAX(1,COUNTA({name}!$A:$A)-1)"
    check = _stop(
        f"There is no such code on the sheet {name} yet.",
        type="list",
        formula1=f"OFFSET({name}!$A$2,0,0,{filled},1)",
    )
    return {**check, "errorStyle": "warning"}


def _stop(error: str, **check: str) -> dict[str, Any]:
    return {"showErrorMessage": True, "errorStyle": "stop", "error": error, **check}
