"""The call list as text."""

from datetime import date

from tracker.render.paper import Paper
from tracker.render.words import condition_text, days_text, full_day, plural, short_day
from tracker.report.calls import CallJob, CallRow, Calls
from tracker.report.promises import PromiseRow


def write_calls(view: Calls, paper: Paper) -> None:
    """One block a supplier: contact, each job's promises, what it waits for, the latest date to accept."""
    paper.line(f"calls on {full_day(view.today)}")
    if not view.rows:
        paper.line("nobody to call: nothing is due within a week, late, without news, or waiting for us")
    for row in view.rows:
        paper.line()
        _supplier(row, view.today, paper)


def _supplier(row: CallRow, today: date, paper: Paper) -> None:
    name = f"{row.supplier}  {row.name}" if row.name else row.supplier
    paper.line(f"{name}  {row.contact or 'no contact noted'}")
    if row.call_again:
        paper.line(f"call again on {short_day(row.call_again, today)}", indent=2)
    for job in row.jobs:
        _job(row, job, today, paper)


def _job(supplier: CallRow, job: CallJob, today: date, paper: Paper) -> None:
    row = job.row
    flags = f" {' '.join(row.flags)}" if row.flags else ""
    reasons = [reason for reason in job.why if reason.upper() not in row.flags]
    why = f" ({', '.join(reasons)})" if reasons else ""
    paper.line(f"{row.code} {row.state}{flags}{why}", indent=2)
    if row.missing:
        by = f", by {short_day(row.give_by, today)} to keep {row.frees}" if row.give_by else ""
        paper.line(f"waits for {condition_text(row.missing)} from us{by}", indent=4)
    if row.overdue_days:
        paper.line(f"date passed {plural(row.overdue_days, 'day')} ago, no news", indent=4)
    write_promises(job.promises, today, paper, indent=4)
    if job.accept_by is not None:
        counted = "leaving their door" if supplier.dates_mean == "leaves" else "in hand"
        paper.line(f"latest date we can accept: {short_day(job.accept_by, today)} {counted}", indent=4)


def write_promises(rows: tuple[PromiseRow, ...], today: date, paper: Paper, indent: int) -> None:
    """Each promise with the day it was given, its slip and the words as said."""
    for row in rows:
        slip = f" ({days_text(row.slip)})" if row.slip else ""
        words = f' "{row.words}"' if row.words else ""
        worst = f", worst {short_day(row.worst, today)}" if row.worst else ""
        given = short_day(row.given, today)
        paper.line(
            f"promised {short_day(row.day, today)} {row.means}{worst}{slip}, given {given}{words}",
            indent=indent,
        )
