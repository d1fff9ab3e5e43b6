"""The board as one screen of text."""

from datetime import date

from tracker.render.cliffs_text import write_last_days
from tracker.render.coverage_text import lot_ready_text
from tracker.render.paper import Paper
from tracker.render.shortage_text import shortage_texts
from tracker.render.words import (
    at_best_text,
    cannot_hold_text,
    chain_text,
    days_text,
    full_day,
    passed_text,
    plural,
    ready_text,
    short_day,
    too_late_text,
)
from tracker.report.board import Board, OwedRow
from tracker.report.jobs import JobRow
from tracker.report.next_day import LaterCost
from tracker.report.owed import listed, owed_text
from tracker.report.shipments import ShipmentRow

_STOPPED = ("FAILED", "PAUSED")
_MOST_DUE = 10


def write_board(view: Board, paper: Paper) -> None:
    """Shipments, what needs a hand, clocks waiting on us, last harmless days, what is due within a fortnight."""
    kept = ", kept with this run" if view.fixed_today else ""
    title = f"{view.product} ({view.run})" if view.product else view.run
    paper.line(
        f"{title}   {full_day(view.today)}{kept}   {view.open_jobs} of {plural(view.all_jobs, 'job')} open"
    )
    paper.line()
    write_shipments(view.shipments, view.today, paper)
    _attention(view, paper)
    _problems(view, paper)
    _clocks(view, paper)
    _last_days(view, paper)
    _due(view, paper)


def write_shipments(rows: tuple[ShipmentRow, ...], today: date, paper: Paper) -> None:
    """A table of told against forecast, and what holds each shipment under it."""
    if not rows:
        paper.line("no shipment yet: tracker add shipment wave-1 quantity=80 after=JOB")
        return
    cells = [
        (
            row.code,
            _units(row),
            told_text(row, today),
            short_day(row.forecast, today),
            _late_text(row, today),
        )
        for row in rows
    ]
    paper.table(("shipment", "units", "told", "forecast", ""), cells)
    for row in rows:
        if row.held_by is not None:
            more = " (and other chains as long: tracker " + row.code + ")" if row.tied else ""
            paper.line(f"{row.code} held by {chain_text(row.held_by, row.path, today)}{more}", indent=2)
        if row.at_best:
            paper.line(f"{row.code} {at_best_text(row.at_best)}", indent=2)


def _units(row: ShipmentRow) -> str:
    """How many it holds, and of one not gone yet how many are posted."""
    return f"{row.quantity}, {row.part_posted} posted" if row.part_posted else str(row.quantity)


def told_text(row: ShipmentRow, today: date) -> str:
    """The date or span told last, or the words where no date was told."""
    if row.told is None:
        return "-"
    if row.told.last is None:
        return f'"{row.told.words}"'
    if row.told.first is None:
        return short_day(row.told.last, today)
    return f"{row.told.first.day} {row.told.first:%b} to {short_day(row.told.last, today)}"


def _late_text(row: ShipmentRow, today: date) -> str:
    """Days against the date told last; that date itself where words alone were told since."""
    in_words = row.told is not None and row.told.last is None
    against = short_day(row.told_day, today) if in_words else "told"
    if row.posted:
        late = f", {days_text(row.days_late)} against {against}" if row.days_late is not None else ""
        return f"posted{late}"
    if row.days_late is None:
        return "AT BEST" if row.at_best else ""
    text = f"{days_text(row.days_late)} " + (f"against {against}" if row.days_late <= 0 or in_words else "")
    text = f"{text.rstrip()} LATE" if row.days_late > 0 else text
    return f"{text}, AT BEST" if row.at_best else text


def _attention(view: Board, paper: Paper) -> None:
    paper.line()
    if not view.attention:
        paper.line("nothing whose turn it is is late, tight or without news")
        return
    paper.line("needs a hand")
    cells = [
        (
            row.code,
            row.supplier,
            " ".join((*((row.state,) if row.state in _STOPPED or not row.flags else ()), *row.flags)),
            _why(row, view.next_day.get(row.code, ()), view.today),
        )
        for row in view.attention
    ]
    paper.table(("", "", "", ""), cells)


def _why(row: JobRow, next_day: tuple[LaterCost, ...], today: date) -> str:
    pieces = [f"{owed_text(owed)} not given (owed by us)" for owed in row.owes if owed.presses]
    passed = passed_text(row, today)
    if passed or (row.promise and row.undated is None):
        broken = cannot_hold_text(row, today)
        pieces.append(passed or broken or f"promised {short_day(row.promise, today)}")
    pieces.append(lot_ready_text(row, today) if row.tightest else ready_text(row, today))
    too_late = too_late_text(row)
    if too_late:
        pieces.append(too_late)
    if next_day:
        costs = ", ".join(f"{cost.shipment} {plural(cost.days, 'day')}" for cost in next_day)
        pieces.append(f"{short_day(next_day[0].day, today)} costs {costs}")
    return ", ".join(pieces)


def _problems(view: Board, paper: Paper) -> None:
    """What does not add up, a line each; what to do about it is told by another command."""
    if not view.problems:
        return
    paper.line()
    paper.line("does not add up (what to do: tracker need)")
    for one in view.problems:
        paper.line(shortage_texts(one, view.today)[0], indent=2)


def _clocks(view: Board, paper: Paper) -> None:
    if not view.clocks:
        return
    paper.line()
    paper.line("clocks that wait for us")
    cells = [(row.job, row.supplier, _owed(row), _until(row, view.today)) for row in view.clocks]
    paper.table(("", "", "", ""), cells)


def _owed(row: OwedRow) -> str:
    return f"{listed(row.what)}, {row.again} more" if row.again else listed(row.what)


def _until(row: OwedRow, today: date) -> str:
    """By when to give what is owed, and what that lets happen."""
    by = f"by {short_day(row.give_by, today)} to keep {row.frees}" if row.give_by else "holds no shipment"
    return f"to leave, {by}" if row.to_leave else f"to start, {by}"


def _last_days(view: Board, paper: Paper) -> None:
    if not view.last_days:
        return
    paper.line()
    paper.line("last harmless days, and what the next own day costs")
    write_last_days(view.last_days, view.today, paper)
    if view.more_last_days:
        paper.line(f"and {view.more_last_days} more: tracker closures", indent=2)


def _due(view: Board, paper: Paper) -> None:
    if not view.due:
        return
    paper.line()
    paper.line("due in 14 days")
    cells = [
        (short_day(row.day, view.today), row.job or "-", row.supplier, row.what)
        for row in view.due[:_MOST_DUE]
    ]
    paper.table(("", "", "", ""), cells)
    if len(view.due) > _MOST_DUE:
        paper.line(f"and {len(view.due) - _MOST_DUE} more: tracker forecast", indent=2)
