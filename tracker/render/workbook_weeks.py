"""The sheet *Weeks*: a letter in each week a job is made, travels or waits on us; shipments as boxed dates."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from tracker.render.tints import hue_of
from tracker.render.workbook_sheet import (
    LINE_HEIGHT,
    ROW_HEIGHT,
    put,
    put_row,
    set_height,
    set_page,
    set_widths,
)
from tracker.render.workbook_styles import (
    BOX,
    DAY,
    HEAD,
    INDENTED,
    MARK,
    NOTE,
    STRONG,
    STRONG_DAY,
    TEXT,
    TITLE,
    TODAY,
    WEEK,
    mark,
    rule_row,
    tinted,
)
from tracker.report.backers import BackersReport, public_shipment_name
from tracker.report.weeks import LotBar, Mark, WeekRow, Weeks, WeekShipment

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

_LEGEND = (
    "m = being made, t = travels, w = waits on us, ^ = the week in which the first plan ends.",
    "Each column is a week, Monday to Sunday, under its Monday. A boxed date is a shipment.",
)
_LABELS = ("Job", "State", "Now: here")
_LABEL_WIDTHS = (36, 16, 17)
_FIRST_WEEK = len(_LABELS) + 1
_TODAY_ROW, _HEAD_ROW = 4, 5
_UPRIGHT_HEIGHT = 88
_TICK = "^"
_NO_BREAK = "\u00a0"


def fill_weeks(sheet: "Worksheet", report: BackersReport) -> None:
    """Write the chart; names, states and week headings stay in sight."""
    view = report.weeks
    put(sheet, 1, 1, "Week by week", TITLE)
    for row, text in enumerate(_LEGEND, start=2):
        put(sheet, row, 1, text, NOTE)
    _put_headings(sheet, view)
    row = _HEAD_ROW + 1
    for job in view.rows:
        _put_job(sheet, row, job)
        row += 1
        for lot in job.lots:
            _put_lot(sheet, row, job, lot)
            row += 1
    for one in view.shipments:
        _put_shipment(sheet, row, one)
        row += 1
    sheet.freeze_panes = "D6"
    sheet.sheet_view.showGridLines = False
    set_widths(sheet, (*_LABEL_WIDTHS, *(6.5 for _ in view.mondays)))
    set_page(sheet, report.today, rows=f"{_TODAY_ROW}:{_HEAD_ROW}", columns="A:C")


def _put_headings(sheet: "Worksheet", view: Weeks) -> None:
    put_row(sheet, _HEAD_ROW, _LABELS, (HEAD,) * len(_LABELS))
    for week, monday in enumerate(view.mondays):
        put(sheet, _HEAD_ROW, _FIRST_WEEK + week, monday, TODAY if week == view.today_week else WEEK)
    if view.today_week is not None:
        put(sheet, _TODAY_ROW, _FIRST_WEEK + view.today_week, "today", mark(""))
    sheet.row_dimensions[_HEAD_ROW].height = _UPRIGHT_HEIGHT


def _put_job(sheet: "Worksheet", row: int, job: WeekRow) -> None:
    labels = (job.public_name, job.state, job.arrives)
    put_row(sheet, row, labels, (TEXT, tinted(hue_of(job.state)), DAY))
    set_height(sheet, row, labels, _LABEL_WIDTHS)
    rule_row(sheet, row)
    _put_marks(sheet, row, job, job.marks, job.first_plan_week)


def _put_lot(sheet: "Worksheet", row: int, job: WeekRow, lot: LotBar) -> None:
    """A lot that has weeks of its own, below its job."""
    put_row(sheet, row, (f"lot {lot.number} of {lot.of}", None, lot.arrives), (INDENTED, TEXT, DAY))
    rule_row(sheet, row)
    _put_marks(sheet, row, job, lot.marks, None)


def _put_marks(
    sheet: "Worksheet", row: int, job: WeekRow, marks: Sequence[Mark], first_plan_week: int | None
) -> None:
    for week, letter in enumerate(marks):
        tick = _TICK if week == first_plan_week else ""
        if letter or tick:
            style = mark(_hue_of_mark(job, letter)) if letter else MARK
            put(sheet, row, _FIRST_WEEK + week, f"{letter} {tick}", style)


def _hue_of_mark(job: WeekRow, letter: Mark) -> str:
    if not job.is_open:
        return hue_of("DONE")
    return {"t": hue_of("ON THE WAY"), "w": hue_of("WAITS ON US")}.get(letter, "")


def _put_shipment(sheet: "Worksheet", row: int, one: WeekShipment) -> None:
    state = "POSTED" if one.row.posted else ""
    labels = (public_shipment_name(one.row), state, one.row.forecast)
    put_row(sheet, row, labels, (STRONG, tinted(hue_of(state)), STRONG_DAY))
    rule_row(sheet, row)
    sheet.row_dimensions[row].height = ROW_HEIGHT + LINE_HEIGHT
    day, tick = one.row.forecast, one.first_plan_week
    if tick is not None:
        put(sheet, row, _FIRST_WEEK + tick, _TICK, MARK)
    if day is not None and one.week is not None:
        text = f"{day:%a} {day.day}{_NO_BREAK}{day:%b}"
        put(sheet, row, _FIRST_WEEK + one.week, f"{_TICK} {text}" if one.week == tick else text, BOX)
