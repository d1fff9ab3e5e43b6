"""A try-out as text: how it was read, what would move and what stays, or a table of a span of days with its cliffs."""

from datetime import date

from tracker.render.answer_text import harmless_text, move_lines, status_date_lines, told_lines
from tracker.render.closure_share_text import closure_texts
from tracker.render.fact_text import fact_text
from tracker.render.paper import Paper
from tracker.render.words import full_day, plural, short_day
from tracker.report.span import Cliff, SpanRow, SpanView
from tracker.report.trying import TryView

_DAYS_AND_MARK, _DATE_AND_DAYS = 37, 17


def write_try(view: TryView, paper: Paper) -> None:
    """Each step as read, shipments that move and those that stay, how long jobs stay harmless, and that nothing was stored."""
    answer, today = view.answer, view.answer.today
    lines = [*told_lines(answer), *move_lines(answer), *closure_texts(view.shares, today), *_stays(view)]
    lines += [harmless_text(row, today) for row in answer.harmless]
    lines += [f"as things stand: {harmless_text(row, today)}" for row in view.as_it_stands]
    for line in (*lines, _end(status_date_lines(answer))):
        paper.line(line)


def write_span(view: SpanView, paper: Paper) -> None:
    """What is tried and what is fixed, a row for days that give the same dates, then the cliffs."""
    today = view.today
    for text in (*_tried(view), *view.edits):
        paper.line(text)
    if view.now:
        stands = ", ".join(f"{code} {short_day(day, today)}" for code, day in view.now.items())
        paper.line(f"as things stand: {stands}")
    else:
        paper.line("there is no open shipment")
    marks = {cliff.last: f"cliff {number}" for number, cliff in enumerate(view.cliffs, start=1)}
    roomy = paper.width >= _DAYS_AND_MARK + _DATE_AND_DAYS * len(view.now)
    rows = [
        [_days(row, today), *_cells(row, today, roomy=roomy), marks.get(row.last, "")] for row in view.rows
    ]
    paper.table(("day", *view.now, ""), rows, flexible=0)
    for cliff in view.cliffs:
        paper.line(f"{marks[cliff.last]}: {_cliff(cliff, today)}")
        for text in closure_texts(cliff.costs, today):
            paper.line(text, indent=2)
    paper.line(_end([f"today is {full_day(today)}, kept with this run"] if view.fixed_today else []))


def _stays(view: TryView) -> list[str]:
    """One line for all shipments that do not move."""
    rest = ", ".join(f"{one.shipment} {short_day(one.date, view.answer.today)}" for one in view.stays)
    if not rest:
        return []
    if not view.answer.moves:
        return [f"no shipment moves: {rest}"]
    return [f"{'stays' if len(view.stays) == 1 else 'stay'}: {rest}"]


def _end(status_date: list[str]) -> str:
    return "; ".join(("nothing was stored", *status_date))


def _tried(view: SpanView) -> list[str]:
    """The facts as read; all days of the span in the one that has it."""
    first = full_day(view.first)
    days = f"each day from {first} to {full_day(view.last)}"
    texts = [fact_text(row) for row in view.facts]
    place = next((place for place, text in enumerate(texts) if first in text), None)
    return [text.replace(first, days, 1) if here == place else text for here, text in enumerate(texts)]


def _days(row: SpanRow, today: date) -> str:
    first = short_day(row.first, today)
    return first if row.first == row.last else f"{first} to {short_day(row.last, today)}"


def _cells(row: SpanRow, today: date, *, roomy: bool) -> list[str]:
    """Each date; where there is room with the calendar days by which it differs from how things stand."""
    return [
        short_day(day, today) + (f" {row.days[code]:+d}" if roomy and row.days[code] else "")
        for code, day in row.dates.items()
    ]


def _cliff(cliff: Cliff, today: date) -> str:
    costs = ", ".join(f"{one.shipment} {plural(one.days, 'day')}" for one in cliff.costs)
    return f"a day later than {short_day(cliff.last, today)} costs {costs}"
