"""All we owe as text: what, to whom, since when they wait, by when, and what a day more costs."""

from datetime import date
from itertools import groupby

from tracker.render.near_text import moved_text
from tracker.render.paper import Paper
from tracker.render.words import full_day, plural, short_day
from tracker.report.owed import listed
from tracker.report.owing import Owing, OwingRow

_DAYS_SHOWN = 3


def write_owing(view: Owing, paper: Paper) -> None:
    """What to give now and how to log it, then what comes later; no amounts of money."""
    if not view.rows:
        paper.line(f"we owe nothing on {full_day(view.today)}: no clock waits for us")
        return
    paper.line(f"what we owe on {full_day(view.today)}")
    now = [row for row in view.rows if row.due]
    paper.line()
    paper.line("now" if now else "now: nothing")
    for rows in _together(now):
        _block(rows, view.today, paper)
    if now:
        commands = ", ".join(
            dict.fromkeys(command_for(row.job, row.what) for row in now if row.again is None)
        )
        if commands:
            paper.line(f"once given, log it: {commands}", indent=2)
        if any(row.again for row in now):
            paper.line("a re-run is a job of its own: tracker need has the words that add it", indent=2)
    later = [row for row in view.rows if not row.due]
    if later:
        paper.line()
        paper.line("to come")
        cells = [_cells(rows, view.today) for rows in _together(later)]
        paper.table(("by", "job", "what", "its turn", "a day later"), cells, flexible=2)


def _together(rows: list[OwingRow]) -> list[list[OwingRow]]:
    """Conditions of one job that stand alike, so that they are said once."""
    alike = groupby(rows, key=lambda row: (row.job, row.to_leave, row.by, row.costs))
    return [list(found) for _, found in alike]


def _block(rows: list[OwingRow], today: date, paper: Paper) -> None:
    row = rows[0]
    by = f" by {short_day(row.by, today)}, frees {row.frees}" if row.by else ", frees no shipment"
    paper.line(f"{row.job} ({row.supplier}): {_what(rows)}{by}", indent=2)
    paper.line(_waits(row, today), indent=4)
    by_day = groupby(row.costs, key=lambda cost: cost.day)
    costs = [(short_day(day, today), moved_text(tuple(found))) for day, found in by_day][:_DAYS_SHOWN]
    labels = ("given", *("" for _ in costs))
    paper.table(("", "", ""), [(label, *cost) for label, cost in zip(labels, costs, strict=False)], indent=4)


def _cells(rows: list[OwingRow], today: date) -> tuple[str, ...]:
    """One line of what is not due: its last day, the day its turn comes, what one working day after ``by`` costs."""
    row = rows[0]
    first = tuple(cost for cost in row.costs if cost.day == row.costs[0].day and cost.shipment == row.frees)
    turn = short_day(row.since or row.turn_from, today)
    return short_day(row.by, today), row.job, _what(rows), turn, moved_text(first) if first else "moves none"


def _what(rows: list[OwingRow]) -> str:
    whats = (f"{row.what} {row.again} more" if row.again else row.what for row in rows)
    return listed(tuple(whats)) + (" to leave" if rows[0].to_leave else "")


def _waits(row: OwingRow, today: date) -> str:
    """Since when they wait for it, or that they do not yet."""
    if row.since is not None:
        days, since = (today - row.since).days, short_day(row.since, today)
        if row.to_leave:
            return f"made {since}" + (f", {plural(days, 'day')} ago" if days else "")
        return f"waits since {since}" + (f", {plural(days, 'day')}" if days else "")
    turn = short_day(row.turn_from, today)
    if row.to_leave:
        return f"not made yet, {turn} at the earliest"
    return f"not its turn yet, from {turn} at the earliest"


def command_for(job: str, what: str) -> str:
    """The words that log a condition of a job as given."""
    commands = {
        "order": f"ordered {job}",
        "payment": f"paid {job}",
        "balance": f"paid {job} balance",
        "proof": f"approved {job} proof",
    }
    return "tracker " + commands.get(what, f"gave {job} {what}")
