"""The rows of a plan workbook's sheets by key, whatever the order of sheets and columns."""

from collections.abc import Iterator, Mapping, Sequence

from tracker.plan.nearest import nearest
from tracker.planfile.book_cells import Absent, Raw, Unworked, raw_value
from tracker.planfile.book_sheets import SHEETS, BookSheet
from tracker.planfile.faults import Fault, in_quotes
from tracker.planfile.gathering import Findings, Row
from tracker.planfile.grid import Grid, cell_name

READ_ME = "Read me"
_MARKS = str.maketrans(" -", "__")


def rows_by_sheet(grids: Sequence[Grid], findings: Findings) -> Mapping[str, tuple[Row, ...]]:
    """The filled rows of each sheet of the plan that is there; unknown sheets and columns are found on the way.

    A sheet whose name begins with *Read me* and one without anything on it are passed over; so are blank rows
    and columns without a heading.
    """
    found: dict[str, tuple[Row, ...]] = {}
    for grid in grids:
        name = _plain(grid.sheet)
        if name.startswith(_plain(READ_ME)) or not any(map(_is_filled, grid.rows)):
            continue
        if name in found:
            fault = Fault(found="is there twice", remedy="keep one of the two sheets")
            findings.add(f"sheet {grid.sheet}", [fault])
        elif name in SHEETS:
            found[name] = tuple(_Reader(grid, SHEETS[name], findings).rows())
        else:
            findings.add(f"sheet {grid.sheet}", [_unknown_sheet(name)])
    return found


def _plain(name: str) -> str:
    return name.strip().lower().translate(_MARKS)


def _is_filled(row: Sequence[object]) -> bool:
    return any(not (cell is None or (isinstance(cell, str) and not cell.strip())) for cell in row)


def _unknown_sheet(name: str) -> Fault:
    close = nearest(name, SHEETS)
    names = ", ".join(SHEETS)
    remedy = f"did you mean {close}?" if close else f"take it out, or name it {READ_ME}; a plan has {names}"
    return Fault(found="is no sheet of a plan", remedy=remedy)


class _Reader:
    """Reads one sheet: its headings first, then the rows below."""

    def __init__(self, grid: Grid, sheet: BookSheet, findings: Findings) -> None:
        self.grid = grid
        self.name = sheet.name
        self.sheet = sheet
        self.findings = findings
        self.columns = self._headings()

    def rows(self) -> Iterator[Row]:
        """The filled rows; none where the kinds of facts are not told."""
        filled = [(at, values) for at in range(1, len(self.grid.rows)) if (values := self._values(at))]
        absent = self._absent() if filled or not self.columns else {}
        if "kind" in absent:
            return
        for at, values in filled:
            yield Row(
                number=at + 1,
                values={**values, **absent},
                place=f"sheet {self.name}, row {at + 1}",
                cells={key: f"{cell_name(at, column)} ({key})" for key, column in self.columns.items()},
            )

    def _headings(self) -> Mapping[str, int]:
        """Columns by key; a column whose heading is close to a key stands in for it."""
        known = [column.key for column in self.sheet.columns]
        columns: dict[str, int] = {}
        others: list[tuple[str, str, int]] = []
        for at, cell in enumerate(self.grid.rows[0]):
            heading = "" if cell is None else str(cell).strip()
            key = _plain(heading)
            if key in columns:
                first = cell_name(0, columns[key])
                self._at_heading(at, Fault(found=f"{key} is there twice, see {first}", remedy="keep one"))
            elif key in known:
                columns[key] = at
            elif key:
                others.append((heading, key, at))
        for heading, key, at in others:
            close = nearest(key, known)
            remedy = f"did you mean {close}?" if close else f"take it out; this sheet has {', '.join(known)}"
            self._at_heading(at, Fault(found=f"there is no column {in_quotes(heading)}", remedy=remedy))
            if close:
                columns.setdefault(close, at)
        return columns

    def _at_heading(self, column: int, fault: Fault) -> None:
        self.findings.add(f"sheet {self.name}, {cell_name(0, column)}", [fault])

    def _absent(self) -> Mapping[str, Absent]:
        """Marks for needed keys that have no column, each told here."""
        absent: dict[str, Absent] = {}
        for column in self.sheet.columns:
            names = column.needed
            if column.key == "".join(names[:1]) and not self.columns.keys() & set(names):
                fault = Fault(
                    found=f"has no column {' or '.join(names)}",
                    remedy=f"write {column.key} in row 1, and below it such as {column.example}",
                )
                self.findings.add(f"sheet {self.name}", [fault])
                absent[column.key] = Absent()
        return absent

    def _values(self, at: int) -> Mapping[str, Raw | Unworked]:
        """The filled cells of a row by key; kinds of facts in small letters."""
        row = self.grid.rows[at]
        values: dict[str, Raw | Unworked] = {}
        for key, column in self.columns.items():
            raw = raw_value(row[column]) if column < len(row) else None
            if raw is not None:
                values[key] = raw.lower() if key == "kind" and isinstance(raw, str) else raw
            elif (at, column) in self.grid.formulas:
                values[key] = Unworked()
        return values
