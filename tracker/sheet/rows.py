"""The rows of a maker's table by what their columns hold: those that give jobs, and those left out."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from tracker.errors import Problem
from tracker.plan.model import Job, Plan
from tracker.plan.reserved import code_trouble
from tracker.planfile.faults import BadValue
from tracker.planfile.grid import Value
from tracker.sheet.codes import GROUPS, WIDEST, job_codes, words_of
from tracker.sheet.items import Item, plain
from tracker.sheet.model import Chosen, SheetRow, SheetTable, Skipped
from tracker.sheet.values import NOTHING, Place, cell_problem, error_in, is_ditto, is_nothing, text_of

_TOTAL = re.compile(
    r"(?:grand |sub-?|sous-?)?tot(?:als?|ale|aal|aux)\b.*|sum(?:me)?\b.*|somm[ea]\b.*|gesamt\w*\b.*|total .*",
    re.IGNORECASE,
)
_CARRIED = ("supplier", "country")
_WORDS = ("code", "contact", "process", "said", "note")
Coded = Mapping[str, tuple["Row", Job | None]]
"""Rows by the code of their job, each with the stored job it is, in the order of the sheet."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A row of the table with its columns by role; a role may have several columns."""

    place: Place
    columns: Mapping[str, Sequence[int]]
    cells: tuple[Value, ...]

    @property
    def number(self) -> int:
        """As the sheet shows it, from 1."""
        return self.place.row.number

    def value(self, role: str) -> Value:
        """The first filled cell of the role's columns."""
        if role not in self.columns:
            return None
        values = (self.cells[at] for at in self.columns[role] if at < len(self.cells))
        return next((value for value in values if text_of(value)), None)

    def text(self, role: str) -> str:
        """The words of all the role's columns on one line, ``""`` for nothing."""
        if role not in self.columns:
            return ""
        values = (self.cells[at] for at in self.columns[role] if at < len(self.cells))
        texts = (text_of(value) for value in values if value is not None)
        return "; ".join(" ".join(text.split()) for text in texts if text.lower() not in NOTHING)

    @property
    def short(self) -> str:
        """Sheet and row in words."""
        return self.place.short

    def cell(self, role: str) -> str:
        """The column of the role's first filled cell in words; ``""`` where there is no such column."""
        ways = self.columns.get(role, ())
        filled = (at for at in ways if at < len(self.cells) and text_of(self.cells[at]))
        at = next(filled, next(iter(ways), None))
        return "" if at is None else self.place.column(at)

    def where(self, role: str) -> str:
        """The place of that cell; of the row where there is no such column."""
        return ", ".join(filter(None, (str(self.place), self.cell(role))))

    def has(self, role: str) -> bool:
        """Whether there is a column for the role."""
        return role in self.columns

    def heading(self, role: str) -> str:
        """The heading of the role's first column."""
        ways = self.columns.get(role, ())
        return self.place.table.headings[ways[0]] if ways else ""

    @property
    def name(self) -> str:
        """What the item is called: its name, else its code."""
        return self.text("item") or self.text("code")


@dataclass(frozen=True, slots=True, kw_only=True)
class Sorted:
    """Rows that give jobs, each with the stored job it is, rows left out, and problems of both."""

    rows: tuple[tuple[Row, Job | None], ...]
    skipped: tuple[Skipped, ...]
    problems: tuple[Problem, ...]


def sort_rows(table: SheetTable, roles: Mapping[int, str], plan: Plan, source: str) -> Sorted:
    """Tell rows that give jobs from totals, notes and blanks, and find the stored jobs they are."""
    stored = _Stored(plan)
    rows: list[tuple[Row, Job | None]] = []
    skipped: list[Skipped] = []
    problems: list[Problem] = []
    seen: dict[str, int] = {}
    for written in _rows(table, roles, source):
        row, faults = _without_errors(written)
        problems += faults
        job = stored.job_of(row)
        why = _left_out(row, job)
        if why:
            skipped.append(Skipped(row=row.number, words=row.name or _first_words(row), why=why))
            continue
        trouble = _trouble(row, job, seen)
        if trouble:
            problems.append(trouble)
        else:
            rows.append((row, job))
    if not rows or any(job is None for _, job in rows):
        problems = [*_missing_columns(table, roles, source), *problems]
    return Sorted(rows=tuple(rows), skipped=tuple(skipped), problems=tuple(problems))


class _Stored:
    """Stored jobs by code and by name."""

    def __init__(self, plan: Plan) -> None:
        self._by_code = {job.code.lower(): job for job in plan.jobs}
        self._by_name: dict[str, list[Job]] = {}
        for job in plan.jobs:
            self._by_name.setdefault(plain(job.name), []).append(job)

    def job_of(self, row: Row) -> Job | None:
        """The stored job with the row's code, else its name, else a code that is its name."""
        code = row.text("code").lower()
        if code in self._by_code:
            return self._by_code[code]
        name = plain(row.name)
        named = self._by_name.get(name, []) if name else []
        return named[0] if len(named) == 1 else self._by_code.get(name)


def _rows(table: SheetTable, roles: Mapping[int, str], source: str) -> Iterator[Row]:
    """All rows; a supplier or country said to be the same as above is filled in."""
    columns: dict[str, list[int]] = {}
    for at, role in sorted(roles.items()):
        columns.setdefault(role, []).append(at)
    carried = [at for role in _CARRIED for at in columns.get(role, ())]
    above: dict[int, Value] = {}
    for row in table.rows:
        cells = list(row.cells)
        for at in carried:
            if at < len(cells) and is_ditto(cells[at]):
                cells[at] = above.get(at)
            elif at < len(cells) and text_of(cells[at]):
                above[at] = cells[at]
        yield _row(source, table, row, tuple(cells), columns)


def _row(
    source: str,
    table: SheetTable,
    row: SheetRow,
    cells: tuple[Value, ...],
    columns: Mapping[str, Sequence[int]],
) -> Row:
    return Row(place=Place(source=source, table=table, row=row), columns=columns, cells=cells)


def _without_errors(row: Row) -> tuple[Row, list[Problem]]:
    """The row with cells of words emptied where a formula failed in the spreadsheet, and a problem for each."""
    wrong: dict[int, BadValue] = {}
    for role in _WORDS:
        for at in row.columns.get(role, ()):
            error = error_in(row.cells[at]) if at < len(row.cells) else None
            if error:
                wrong[at] = error
    if not wrong:
        return row, []
    cells = tuple(None if at in wrong else cell for at, cell in enumerate(row.cells))
    faults = [
        one
        for at, error in wrong.items()
        for one in cell_problem(f"{row.place}, {row.place.column(at)}", error)
    ]
    return replace(row, cells=cells), faults


def _left_out(row: Row, job: Job | None) -> str:
    """Why a row gives no job; ``""`` for one that does, or that should."""
    bare = is_nothing(row.value("supplier")) and is_nothing(row.value("lead"))
    if not row.name:
        return "no item" if bare else ""
    if _TOTAL.fullmatch(row.name) and is_nothing(row.value("supplier")):
        return "a total"
    return "neither supplier nor lead" if bare and job is None else ""


def _trouble(row: Row, job: Job | None, seen: dict[str, int]) -> Problem | None:
    """No name, or one that an earlier row has and no code tells apart."""
    if not row.name:
        return Problem(
            place=row.where("item"), found="has no item, but a supplier or a lead", remedy="name the item"
        )
    error = error_in(row.name)
    if error:
        return cell_problem(row.where("item"), error)[0]
    code = row.text("code")
    coded = bool(code) and not code.isdigit()
    key = f"job {job.code}" if job else f"code {plain(code)}" if coded else f"item {plain(row.name)}"
    if key in seen:
        words = code if coded else row.name
        return Problem(
            place=row.where("code" if coded else "item"),
            found=f"'{words}' stands in row {seen[key]} as well",
            remedy="give the two different names" if not coded else "give the two different codes",
        )
    seen[key] = row.number
    return None


def _missing_columns(table: SheetTable, roles: Mapping[int, str], source: str) -> Iterator[Problem]:
    """Columns without which new jobs cannot be made; one problem each, not one a row."""
    headings = ", ".join(" ".join(heading.split()) for heading in table.headings if heading)
    held = set(roles.values())
    for role, what in _NEEDED.items():
        if role not in held and not (role == "item" and "code" in held):
            yield Problem(
                place=f"{source}, sheet {table.sheet}, row {table.heading_row}",
                found=f"no column {what}",
                remedy=f"say which one does: columns HEADING={role} (headings: {headings}), or add one to the sheet",
            )


_NEEDED = {
    "item": "names the items",
    "supplier": "names the suppliers",
    "lead": "holds the leads",
}


def _first_words(row: Row) -> str:
    return next((text_of(cell) for cell in row.cells if text_of(cell)), "")


def code_rows(rows: Sequence[tuple[Row, Job | None]], plan: Plan) -> tuple[Coded, tuple[Chosen, ...]]:
    """Give each row a code of its own; what a code column holds and cannot be a code is told as chosen."""
    others = (plan.run.code, *plan.supplier_by_code, *plan.job_by_code, *plan.shipment_by_code)
    given: list[str] = []
    chosen: list[Chosen] = []
    taken = {code.lower() for code in others}
    for row, job in rows:
        code = job.code if job else _own_code(row, taken)
        given.append(code)
        taken.add(code.lower())
        written = row.text("code")
        if job is None and code not in ("", written):
            chosen.append(Chosen(row=row.number, job=code, said=written, read_as=code, why="as a code"))
    unnamed = [row.name for (row, _), code in zip(rows, given, strict=True) if not code]
    made = iter(job_codes(unnamed, taken))
    return {code or next(made): pair for code, pair in zip(given, rows, strict=True)}, tuple(chosen)


def _own_code(row: Row, taken: set[str]) -> str:
    """What the code column holds, tidied where that cannot be a code; ``""`` for numbers, which only number rows."""
    written = row.text("code")
    ways = (written, "-".join(words_of(written)))
    return next(
        (
            code
            for code in ways
            if len(code) <= WIDEST and not code_trouble(code) and code.lower() not in {*GROUPS, *taken}
        ),
        "",
    )


def items_of(coded: Coded, plan: Plan) -> Iterator[Item]:
    """What the sheet's jobs are called, then the stored jobs it does not mention."""
    for code, (row, _) in coded.items():
        yield Item(name=row.name, code=code, ident=row.text("code"), row=row.number)
    for job in plan.jobs:
        if job.code not in coded:
            yield Item(name=job.name or job.code, code=job.code)
