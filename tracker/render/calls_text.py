"""The call list as text."""

from datetime import date

from tracker.render.paper import Paper
from tracker.render.words import cannot_hold_text, days_text, full_day, joined, passed_text, short_day
from tracker.report.calls import CallJob, CallRow, Calls
from tracker.report.owed import listed
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
    paper.line(joined(row.supplier, row.name, row.contact or "no contact noted"))
    if row.call_again:
        paper.line(f"call again on {short_day(row.call_again, today)}", indent=2)
    for job in row.jobs:
        _job(job, today, paper)


def _job(job: CallJob, today: date, paper: Paper) -> None:
    row = job.row
    flags = "".join(f" {flag}" for flag in sorted(row.flags, key=lambda flag: flag != "NO NEWS"))
    reasons = [reason for reason in job.why if reason.upper() not in row.flags]
    why = f" ({', '.join(reasons)})" if reasons else ""
    paper.line(f"{row.code} {row.state}{flags}{why}", indent=2)
    for owed in (one for one in row.owes if one.presses):
        by = f", by {short_day(owed.by, today)} to keep {owed.frees}" if owed.by else ""
        to_leave = " to leave" if owed.to_leave else ""
        paper.line(f"waits for {listed(owed.what)} from us{to_leave}{by}", indent=4)
    for text in (passed_text(row, today), cannot_hold_text(row, today)):
        if text:
            paper.line(text, indent=4)
    write_promises(job.promises, today, paper, indent=4)
    if job.accept_by is not None:
        counted = "leaving their door" if job.accept_means == "leaves" else "in hand"
        paper.line(f"latest date we can accept: {short_day(job.accept_by, today)} {counted}", indent=4)


def write_promises(rows: tuple[PromiseRow, ...], today: date, paper: Paper, indent: int) -> None:
    """Each promise with the day it was given, its slip and the words as said."""
    for row in rows:
        slip = f" ({days_text(row.slip)})" if row.slip else ""
        words = f' "{row.words}"' if row.words else ""
        exactly = ", exactly that day" if row.exactly else ""
        worst = f", worst {short_day(row.worst, today)}" if row.worst else ""
        given = short_day(row.given, today)
        paper.line(
            f"promised {short_day(row.day, today)} {row.means}{exactly}{worst}{slip}, given {given}{words}",
            indent=indent,
        )
