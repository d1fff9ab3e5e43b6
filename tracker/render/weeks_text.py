"""Bars in the terminal, one column a week."""

from tracker.render.paper import Paper
from tracker.render.words import full_day
from tracker.report.weeks import Weeks, WeekRow, WeekShipment

_CELL = 2


def write_weeks(view: Weeks, paper: Paper) -> None:
    """Letters m t w per week, a tick at the first plan's end, a box with its date for each shipment.

    Where the terminal is too narrow for all weeks, the last ones are left out and said.
    """
    label = max((len(row.code) for row in view.rows), default=8)
    label = max(label, *(len(one.row.code) for one in view.shipments), 8) if view.shipments else label
    fits = max(4, (paper.width - label - 2) // _CELL)
    shown = min(fits, len(view.mondays))
    paper.lines.append(" " * (label + 2) + _months(view, shown))
    paper.lines.append(" " * (label + 2) + _days(view, shown))
    for row in view.rows:
        paper.lines.append(f"{row.code:<{label}}  {_bar(row, view, shown)}".rstrip())
    for one in view.shipments:
        paper.lines.append(f"{one.row.code:<{label}}  {_box(one, view, shown)}".rstrip())
    paper.line()
    paper.line(
        f"m made, t travel, w waits on us, ' first plan; a column is a week named by its Monday; "
        f": is the week of {full_day(view.today)}"
    )
    if shown < len(view.mondays):
        paper.line(f"{len(view.mondays) - shown} later weeks do not fit this width")


def _months(view: Weeks, shown: int) -> str:
    text = ""
    for week, monday in enumerate(view.mondays[:shown]):
        new = week == 0 or monday.month != view.mondays[week - 1].month
        if new and len(text) <= week * _CELL:
            text = text.ljust(week * _CELL) + f"{monday:%b}"
    return text


def _days(view: Weeks, shown: int) -> str:
    return "".join(f"{monday.day:<{_CELL}}" for monday in view.mondays[:shown])


def _bar(row: WeekRow, view: Weeks, shown: int) -> str:
    return "".join(
        (mark or _ground(view, week)) + ("'" if week == row.first_plan_week else " ")
        for week, mark in enumerate(row.marks[:shown])
    )


def _ground(view: Weeks, week: int) -> str:
    return ":" if week == view.today_week else "."


def _box(one: WeekShipment, view: Weeks, shown: int) -> str:
    cells = [
        _ground(view, week) + ("'" if week == one.first_plan_week else " ") for week in range(shown)
    ]
    text = "".join(cells)
    day = one.row.forecast
    if day is None or one.week is None or one.week >= shown:
        return text
    box = f"[{day.day} {day:%b}]"
    end = (one.week + 1) * _CELL
    place = max(0, end - len(box))
    return text[:place] + box + text[place + len(box) :]
