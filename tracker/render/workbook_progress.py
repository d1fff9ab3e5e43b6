"""The sheet *Progress*: one row a job, first plan beside what is expected or happened."""

from typing import TYPE_CHECKING

from tracker.render.amounts import amount_text
from tracker.render.tints import hue_of
from tracker.render.workbook_sheet import put_row, set_height, set_page, set_widths
from tracker.render.workbook_styles import DAY, HEAD, TEXT, counted, tinted
from tracker.report.backer_sets import BackerCount
from tracker.report.backers import BackerJob, BackersReport

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

_COLUMNS = (
    ("Job", 40), ("State", 16), ("Flag", 16),
    ("First plan: start", 18), ("First plan: here", 18), ("Now: start", 17), ("Now: here", 17), ("Days late", 13),
)  # fmt: skip


_COUNTS = (("Needed", 11), ("Come so far", 12), ("To come", 11))


def fill_progress(sheet: "Worksheet", report: BackersReport) -> None:
    """Write the jobs in the order they start under a header that stays in sight and can filter.

    Counts of good pieces stand at the end, where any job makes a part.
    """
    counts = any(job.count for job in report.progress)
    columns = (*_COLUMNS, *_COUNTS) if counts else _COLUMNS
    put_row(sheet, 1, [heading for heading, _ in columns], (HEAD,) * len(columns))
    for row, job in enumerate(report.progress, start=2):
        _put_job(sheet, row, job, counts=counts)
        set_height(sheet, row, (job.name,), (_COLUMNS[0][1],))
    sheet.freeze_panes = "B2"
    sheet.auto_filter.ref = f"A1:{chr(ord('A') + len(columns) - 1)}{len(report.progress) + 1}"
    set_widths(sheet, [width for _, width in columns])
    set_page(sheet, report.today, rows="1:1")


def _put_job(sheet: "Worksheet", row: int, job: BackerJob, *, counts: bool) -> None:
    flags = [flag for flag in (job.flag, "AT BEST" if job.at_best else "") if flag]
    values = (
        job.name, job.state, ", ".join(flags),
        job.planned_start, job.planned, job.expected_start, job.expected, job.days_late,
    )  # fmt: skip
    styles = (
        TEXT, tinted(hue_of(job.state)), tinted(hue_of(flags[0]) if flags else ""), DAY, DAY, DAY, DAY,
        counted(job.days_late),
    )  # fmt: skip
    more = _counts(job.count) if counts else ()
    put_row(sheet, row, (*values, *more), (*styles, *(TEXT for _ in more)))


def _counts(count: BackerCount | None) -> tuple[int | str | None, ...]:
    if count is None:
        return (None,) * len(_COUNTS)
    return tuple(
        int(number) if number.denominator == 1 and not count.measure else amount_text(number, count.measure)
        for number in (count.needed, count.here, count.to_come)
    )
