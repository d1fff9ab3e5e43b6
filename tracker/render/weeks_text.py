"""Bars in the terminal, one column a week."""

from collections.abc import Sequence

from tracker.render.paper import Paper
from tracker.render.words import full_day, plural
from tracker.report.weeks import LotBar, Mark, Weeks, WeekShipment

_CELL = 3
_TICK = "^"
_INDENT = 2


def write_weeks(view: Weeks, paper: Paper) -> None:
    """Letters m t w per week, a tick at the first plan's end, a box with its date for each shipment.

    Where the terminal is too narrow for all weeks, the earliest are left out and said.
    """
    labels = [*(row.code for row in view.rows), *(one.row.code for one in view.shipments), "shipment"]
    labels += [_lot(lot) for row in view.rows for lot in row.lots]
    label = max(len(text) for text in labels) + 2
    first = max(0, len(view.mondays) - max(4, (paper.width - label) // _CELL))
    paper.lines.append((" " * label + _months(view, first)).rstrip())
    paper.lines.append((" " * label + _days(view, first)).rstrip())
    for row in view.rows:
        bars = [
            (row.code, row.marks, row.first_plan_week),
            *((_lot(lot), lot.marks, None) for lot in row.lots),
        ]
        for name, marks, tick in bars:
            paper.lines.append(f"{name:<{label}}{_bar(marks, tick, view)[first * _CELL :]}".rstrip())
    for one in view.shipments:
        paper.lines.append(f"{one.row.code:<{label}}{_box(one, view)[first * _CELL :]}".rstrip())
    paper.line()
    paper.line("m made, t travel, w waits on us, ^ first plan; a column is a week, named by its Monday")
    if view.today_week is not None:
        paper.line(f": is the week of {full_day(view.today)}")
    if first:
        fit = "does not fit" if first == 1 else "do not fit"
        paper.line(f"{plural(first, 'earlier week')} {fit} this width")


def _months(view: Weeks, first: int) -> str:
    """Each month's name over its first week; a month that shows only one week first makes room for the next."""
    text = ""
    for week, monday in enumerate(view.mondays[first:]):
        if not week or monday.month != view.mondays[first + week - 1].month:
            kept = text if len(text) < week * _CELL else text[: -len(f"{monday:%b}")]
            text = f"{kept.ljust(week * _CELL)}{monday:%b}"
    return text


def _days(view: Weeks, first: int) -> str:
    return "".join(f"{monday.day:<{_CELL}}" for monday in view.mondays[first:])


def _ground(view: Weeks, week: int, tick: int | None) -> str:
    """An empty week: a dot, or a colon in today's week, with the first plan's tick."""
    return f"{':' if week == view.today_week else '.'} {_TICK if week == tick else ' '}"


def _lot(lot: LotBar) -> str:
    return f"{' ' * _INDENT}lot {lot.number} of {lot.of}"


def _bar(marks: Sequence[Mark], tick: int | None, view: Weeks) -> str:
    cells = []
    for week, mark in enumerate(marks):
        filled = mark * (_CELL - 1) + (_TICK if week == tick else mark)
        cells.append(filled if mark else _ground(view, week, tick))
    return "".join(cells)


def _box(one: WeekShipment, view: Weeks) -> str:
    text = "".join(_ground(view, week, one.first_plan_week) for week in range(len(view.mondays)))
    day = one.row.forecast
    if day is None or one.week is None:
        return text
    box = f"[{day.day} {day:%b}]"
    place = max(0, (one.week + 1) * _CELL - len(box))
    return text[:place] + box + text[place + len(box) :]
