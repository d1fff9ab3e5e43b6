"""The answer to a write as a few lines of text."""

from datetime import date

from tracker.render.fact_text import fact_text
from tracker.render.paper import Paper
from tracker.render.words import at_best_text, chain_text, days_text, full_day, plural, short_day
from tracker.report.answer import Answer, CountRow, FactRow, HarmlessRow, MoveRow

MOST_LINES = 6


def write_answer(view: Answer, paper: Paper, *, verbose: bool = False) -> None:
    """Write at most six lines, unless ``verbose``: facts as read, moves or the lack of them, harmless until."""
    lines = [_with_counts(view, row) for row in view.facts]
    lines += view.remarks
    lines += [_move(row, view.today) for row in view.moves]
    lines += _harmless(view)
    if view.fixed_today:
        lines.append(f"today is {full_day(view.today)}, kept with this run")
    if view.entry is not None and lines:
        lines[0] += f" [entry {view.entry}]"
    shown = lines if verbose or len(lines) <= MOST_LINES else [*lines[: MOST_LINES - 1], _more(lines)]
    for text in shown:
        paper.line(text)


def _more(lines: list[str]) -> str:
    return f"({plural(len(lines) - MOST_LINES + 1, 'more line')} with -v)"


def _with_counts(view: Answer, logged: FactRow) -> str:
    """The fact in words; a delivery also says how many pieces of all are in."""
    text = fact_text(logged)
    row = next((one for one in view.counts if one.job == logged.fact.job), None)
    counts = logged.fact.kind in ("in", "sorted") and row is not None and row.quantity is not None
    return f"{text}; {count_text(row)}" if counts and row else text


def count_text(row: CountRow) -> str:
    """Pieces in against the quantity, and whether the job is closed."""
    received = row.good + row.rework + row.scrap + row.unjudged
    text = f"{received} of {row.quantity} in"
    if row.closed:
        return f"{text}, done"
    return f"{text}, {row.to_come} to come"


def _move(row: MoveRow, today: date) -> str:
    if row.after is None:
        return f"{row.shipment} has no date any more (was {short_day(row.before, today)})"
    if row.before is None:
        text = f"{row.shipment} is forecast for {short_day(row.after, today)}"
    else:
        days = days_text(row.days or 0)
        text = f"{row.shipment} moves {short_day(row.before, today)} -> {short_day(row.after, today)} ({days})"
    held = chain_text(row.held_by, row.path, today)
    text += f", held by {held}" if held else ""
    best = at_best_text(row.at_best)
    return f"{text}; {best}" if best else text


def _harmless(view: Answer) -> list[str]:
    texts = [harmless_text(row, view.today) for row in view.harmless]
    if view.moves or not view.facts:
        return texts
    if len(texts) == 1:
        return [f"no shipment moves; {texts[0]}"]
    return ["no shipment moves", *texts]


def harmless_text(row: HarmlessRow, today: date) -> str:
    """When the job arrives and how long that stays harmless."""
    if row.harmless_until is None:
        return f"{row.job} arrives {short_day(row.arrives, today)}; no shipment waits for it"
    spare = plural(row.spare_days or 0, "spare day")
    return (
        f"{row.job} arrives {short_day(row.arrives, today)}, harmless until {short_day(row.harmless_until, today)} ({spare})"
    )
