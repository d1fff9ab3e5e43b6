"""All jobs as a table."""

from datetime import date

from tracker.render.board_text import write_shipments
from tracker.render.coverage_text import KINDS
from tracker.render.paper import Paper
from tracker.render.words import full_day, later_pass_text, short_day
from tracker.report.job_days import CountedLotRow
from tracker.report.jobs import JobRow
from tracker.report.shipments import ShipmentRow

_WIDE = 110
_DAYS, _DAYS_WIDE = (2, 3, 4), (3, 4, 6, 7)
"""Columns that speak of the lots apart where there are several."""


def write_forecast(
    shipments: tuple[ShipmentRow, ...], rows: tuple[JobRow, ...], today: date, paper: Paper, *, fixed: bool
) -> None:
    """Open jobs in plan order; wide terminals also see closed ones, start, supplier, first plan and what each holds."""
    paper.line(f"forecast on {full_day(today)}" + (", kept with this run" if fixed else ""))
    wide = paper.width >= _WIDE
    headings = ["job", "state", "ready", "harmless to", "spare", ""]
    if wide:
        headings = [
            "job",
            "supplier",
            "state",
            "start",
            "ready",
            "first plan",
            "harmless until",
            "spare",
            "",
        ]
    shown = [row for row in rows if row.is_open or wide]
    paper.table(headings, [line for row in shown for line in _lines(row, today, wide=wide)], indent=0)
    closed = [
        f"{row.code} {row.state}" if row.state != "DONE" else row.code for row in rows if not row.is_open
    ]
    if closed and not wide:
        paper.line(f"done or not needed: {', '.join(closed)}")
    for row in (one for one in rows if one.passed_by):
        paper.line(f"{row.code} {later_pass_text(row, today)}")
    paper.line()
    write_shipments(shipments, today, paper)


def _lines(row: JobRow, today: date, *, wide: bool) -> list[list[str]]:
    """A job's line; of one with several lots to come their own days stand on a line each."""
    cells = _cells(row, today, wide=wide)
    if row.tightest is None:
        return [cells]
    lots = [lot for lot in row.lots if isinstance(lot, CountedLotRow) and _is_to_come(lot)]
    of_lots = _DAYS_WIDE if wide else _DAYS
    job = ["" if place in of_lots else text for place, text in enumerate(cells)]
    return [job, *(_lot_line(lot, today, wide=wide) for lot in lots)]


def _is_to_come(lot: CountedLotRow) -> bool:
    wanted = lot.kind != "rework" or lot.spare_days is not None
    return lot.kind != "received" and bool(lot.quantity) and wanted


def _lot_line(lot: CountedLotRow, today: date, *, wide: bool) -> list[str]:
    """Under the job's line: pieces and kind, start, ready, harmless until, spare days."""
    harmless = short_day(lot.harmless_until, today) if lot.harmless_until else ""
    spare = "" if lot.spare_days is None else str(lot.spare_days)
    here = f"here {short_day(lot.arrives, today)}" if lot.arrives != lot.ready else ""
    ready = short_day(lot.ready, today)
    if wide:
        start = short_day(lot.start, today)
        return ["", "", f"  {lot.quantity} {KINDS[lot.kind]}", start, ready, "", harmless, spare, here]
    return ["", f"  {lot.quantity} {KINDS[lot.kind]}", ready, harmless, spare, here]


def _cells(row: JobRow, today: date, *, wide: bool) -> list[str]:
    ready = short_day(row.ready, today)
    harmless = short_day(row.harmless_until, today) if row.harmless_until else ""
    spare = "" if row.spare_days is None else str(row.spare_days)
    notes = list(row.flags)
    notes += ["AT BEST"] if row.at_best and row.is_open else []
    notes += (
        [f"here {short_day(row.arrives, today)}"] if row.arrives != row.ready and not row.tightest else []
    )
    if wide:
        notes += [f"holds {', '.join(row.holds)}"] if row.holds else []
        start, first = short_day(row.start, today), short_day(row.first_finish, today)
        return [row.code, row.supplier, row.state, start, ready, first, harmless, spare, " ".join(notes)]
    return [row.code, row.state, ready, harmless, spare, " ".join(notes)]
