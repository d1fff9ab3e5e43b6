"""A try-out as text: how it was read, what would move and what stays, or a table of a span of days with its cliffs."""

from collections.abc import Mapping
from datetime import date
from itertools import pairwise

from tracker.render.answer_text import harmless_text, move_lines, status_date_lines, told_lines
from tracker.render.closure_share_text import closure_texts
from tracker.render.fact_text import fact_text
from tracker.render.paper import Paper
from tracker.render.words import full_day, plural, short_day
from tracker.report.owed import listed
from tracker.report.span import Cliff, SpanRow, SpanView
from tracker.report.trying import TryView

_DAYS_AND_MARK, _DATE_AND_DAYS, _GAP = 37, 17, 2


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
    moving = [code for code in view.now if any(row.dates[code] != view.now[code] for row in view.rows)]
    stay = [code for code in view.now if code not in moving]
    if stay:
        paper.line(f"no day tried moves {listed(tuple(stay))}")
    if moving:
        _write_rows(view, moving, marks, paper)
    for cliff in view.cliffs:
        paper.line(f"{marks[cliff.last]}: {_cliff(cliff, today)}")
        for text in closure_texts(cliff.costs, today):
            paper.line(text, indent=2)
    paper.line(_end([f"today is {full_day(today)}, kept with this run"] if view.fixed_today else []))


def _write_rows(view: SpanView, moving: list[str], marks: Mapping[date, str], paper: Paper) -> None:
    """A column for each shipment that moves; where they have no room beside each other, several tables."""
    room = paper.width - _DAYS_AND_MARK
    roomy = _DATE_AND_DAYS * len(moving) <= room
    columns = [[code, *(_cell(row, code, view.today, roomy=roomy) for row in view.rows)] for code in moving]
    for first, end in pairwise(_cuts([max(map(len, cells)) for cells in columns], room)):
        if first:
            paper.line()
        heading, *cells = zip(*columns[first:end], strict=True)
        rows = [
            [_days(row, view.today), *texts, marks.get(row.last, "")]
            for row, texts in zip(view.rows, cells, strict=True)
        ]
        paper.table(("day", *heading, ""), rows, flexible=0)


def _cuts(widths: list[int], room: int) -> list[int]:
    """Where the columns are cut into tables, each as wide as there is room for, the ends included."""
    cuts, used = [0], 0
    for place, width in enumerate(widths):
        if place > cuts[-1] and used + width + _GAP > room:
            cuts.append(place)
            used = 0
        used += width + _GAP
    return [*cuts, len(widths)]


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


def _cell(row: SpanRow, code: str, today: date, *, roomy: bool) -> str:
    """A date; where there is room with the calendar days by which it differs from how things stand."""
    return short_day(row.dates[code], today) + (f" {row.days[code]:+d}" if roomy and row.days[code] else "")


def _cliff(cliff: Cliff, today: date) -> str:
    costs = ", ".join(f"{one.shipment} {plural(one.days, 'day')}" for one in cliff.costs)
    return f"a day later than {short_day(cliff.last, today)} costs {costs}"
