"""The call list as text."""

from datetime import date

from tracker.render.paper import Paper
from tracker.render.words import (
    cannot_hold_text,
    days_text,
    full_day,
    joined,
    passed_text,
    plural,
    short_day,
    state_text,
    too_late_text,
)
from tracker.report.accepting import LaterDate
from tracker.report.calls import CallJob, CallRow, Calls
from tracker.report.owed import owed_text
from tracker.report.promises import PromiseRow

_COUNTS = {1: "one", 5: "five"}
_FAR = 4


def write_calls(view: Calls, paper: Paper) -> None:
    """Calls promised for today first, then one block a supplier: contact, promises, what it waits for, dates to accept."""
    paper.line(f"calls on {full_day(view.today)}")
    if not view.rows:
        paper.line("nobody to call: nothing is due within a week, late, without news, or waiting for us")
    due = [row for row in view.rows if row.again_due]
    rest = [row for row in view.rows if not row.again_due]
    for heading, rows in (("call again today", due), ("also to call" if due else "", rest)):
        if heading and rows:
            paper.line()
            paper.line(heading)
        for row in rows:
            paper.line()
            _supplier(row, view.today, paper)


def _supplier(row: CallRow, today: date, paper: Paper) -> None:
    paper.line(joined(row.supplier, row.name, row.contact or "no contact noted"))
    texts = [text for text in (_again(row, today), _last(row, today)) if text]
    if texts:
        paper.line("; ".join(texts), indent=2)
    if not row.open_jobs:
        paper.line("no open job of theirs to speak about", indent=2)
    for job in row.jobs:
        _job(job, today, paper)


def _again(row: CallRow, today: date) -> str:
    if row.call_again is None:
        return ""
    if row.call_again == today:
        return "to be called again today"
    if row.again_due:
        return f"was to be called on {short_day(row.call_again, today)}"
    return f"call again on {short_day(row.call_again, today)}"


def _last(row: CallRow, today: date) -> str:
    if row.last_called is None:
        return ""
    note = f': "{row.last_note}"' if row.last_note else ""
    return f"last called {short_day(row.last_called, today)}{note}"


def _job(job: CallJob, today: date, paper: Paper) -> None:
    row = job.row
    flags = "".join(f" {flag}" for flag in sorted(row.flags, key=lambda flag: flag != "NO NEWS"))
    reasons = [reason for reason in job.why if reason.upper() not in row.flags]
    why = f" ({', '.join(reasons)})" if reasons else ""
    paper.line(f"{row.code} {state_text(row.state)}{flags}{why}", indent=2)
    for owed in (one for one in row.owes if one.presses):
        by = f", by {short_day(owed.by, today)} to keep {owed.frees}" if owed.by else ""
        to_leave = " to leave" if owed.to_leave else ""
        paper.line(f"waits for {owed_text(owed)} from us{to_leave}{by}", indent=4)
    too_late = too_late_text(row) if "LATE" in row.flags and row.its_turn else ""
    for text in (passed_text(row, today), cannot_hold_text(row, today), too_late):
        if text:
            paper.line(text, indent=4)
    write_promises(job.promises, today, paper, indent=4)
    if job.accept_by is not None:
        counted = "leaving their door" if job.accept_means == "leaves" else "in hand"
        paper.line(f"latest date we can accept: {short_day(job.accept_by, today)} {counted}", indent=4)
    if job.later:
        paper.line(_later(job, today), indent=4)


def _later(job: CallJob, today: date) -> str:
    """What the dates after the latest we can accept cost, the first in a whole sentence."""
    first, *further = job.later
    day, cost = short_day(first.day, today), _cost(first)
    own = "working day" if first.working else "day"
    if first.calendar_days > _FAR and first.own_days == 1:
        whose = "their" if job.accept_means == "leaves" else "our"
        text = f"{whose} next {own} is {day}, {plural(first.calendar_days, 'day')} on, and costs {cost}"
    else:
        days = own if first.own_days == 1 else f"{own}s"
        text = f"{_COUNTS[first.own_days]} {days} later ({day}) costs {cost}"
    for one in further:
        text += f"; {_COUNTS[one.own_days]} ({short_day(one.day, today)}) cost {_cost(one)}"
    return text


def _cost(later: LaterDate) -> str:
    return ", ".join(f"{code} {plural(days, 'day')}" for code, days in later.costs.items())


def write_promises(rows: tuple[PromiseRow, ...], today: date, paper: Paper, indent: int) -> None:
    """Each promise with the day it was given, its slip and the words as said."""
    for row in rows:
        paper.line(promise_text(row, today), indent=indent)


def promise_text(row: PromiseRow, today: date) -> str:
    """One promise with the day it was given, its slip and the words as said."""
    slip = f" ({days_text(row.slip)})" if row.slip else ""
    words = f' "{row.words}"' if row.words else ""
    exactly = ", exactly that day" if row.exactly else ""
    worst = f", worst {short_day(row.worst, today)}" if row.worst else ""
    pieces = f", {plural(row.good, 'piece')}" if row.good else ""
    day, given = short_day(row.day, today), short_day(row.given, today)
    return f"promised {day} {row.means}{exactly}{worst}{pieces}{slip}, given {given}{words}"
