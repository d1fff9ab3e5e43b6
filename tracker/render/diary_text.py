"""The diary as text, newest on top."""

from collections.abc import Sequence

from tracker.render.paper import Paper
from tracker.render.words import plural, short_day
from tracker.report.diary import DiaryRow


def write_diary(rows: Sequence[DiaryRow], paper: Paper, *, left_off: int, filtered: bool = False) -> None:
    """One line an entry: number, day, command; then the shipment dates it printed."""
    if not rows:
        paper.line("no entry speaks of that" if filtered else "the diary is empty")
    for row in rows:
        mark = f" (undone by entry {row.undone_by})" if row.undone_by else ""
        mark += f" (undoes entry {row.undoes})" if row.undoes else ""
        paper.line(f"{row.number:>4}  {short_day(row.day, row.today)}  {row.command}{mark}")
        if row.shipments:
            dates = ", ".join(f"{code} {short_day(day, row.today)}" for code, day in row.shipments)
            paper.line(dates, indent=6)
    if left_off:
        paper.line(f"{plural(left_off, 'older entry', 'older entries')}: tracker diary --all")
