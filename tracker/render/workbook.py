"""The weekly workbook for backers: this week, progress, full sets where parts are counted, weeks."""

from pathlib import Path

from tracker.render.whole_file import write_whole
from tracker.render.workbook_file import workbook_bytes
from tracker.render.workbook_full_sets import fill_full_sets
from tracker.render.workbook_progress import fill_progress
from tracker.render.workbook_styles import add_styles
from tracker.render.workbook_this_week import fill_this_week
from tracker.render.workbook_weeks import fill_weeks
from tracker.report.backers import BackersReport

_SHEETS = (
    ("This week", fill_this_week),
    ("Progress", fill_progress),
    ("Full sets", fill_full_sets),
    ("Weeks", fill_weeks),
)


def write_backers(report: BackersReport, path: Path) -> None:
    """Write the workbook to ``path``, in place of a file that stands there.

    Raises
    ------
    Refused
        If the place cannot be written; nothing half written is left.
    """
    write_whole(backers_bytes(report), path)


def backers_bytes(report: BackersReport) -> bytes:
    """The workbook as the content of its file."""
    from openpyxl import Workbook

    book = Workbook()
    book.remove(book.worksheets[0])
    add_styles(book)
    for title, fill in _SHEETS:
        if fill is not fill_full_sets or report.sets is not None:
            fill(book.create_sheet(title), report)
    return workbook_bytes(book, report.product, report.today)
