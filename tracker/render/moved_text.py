"""What moved and why as text: the totals, a block a line, then sums by cause and by supplier."""

from collections.abc import Sequence
from datetime import date

from tracker.render.closure_share_text import closure_texts
from tracker.render.fact_text import fact_text
from tracker.render.paper import Paper
from tracker.render.words import days_text, full_day, plural, reason_text, short_day
from tracker.report.moved import EffectRow, Moved, MovedLine, ShipmentMoved, Sum
from tracker.report.shipments import HeldBy

MOST_EDITS = 3
_WORDS = {"new": "new", "called off": "has no date any more", "no date": "no date", "same": "stays"}


def write_moved(view: Moved, paper: Paper) -> None:
    """Totals first; then each line with what it does to every shipment, which adds up to them; then the sums."""
    paper.line(f"moved since {full_day(view.since)}, {_begins(view)}, to {full_day(view.until)}")
    paper.table(("shipment", "was", "now", ""), [_total(one, view.today) for one in view.shipments])
    if not view.shipments:
        paper.line("there is no shipment", indent=2)
    apart = True
    for line in view.lines:
        if apart or line.effects:
            paper.line()
        write_line(line, view.today, paper)
        apart = bool(line.effects)
    if view.quiet:
        paper.line()
        paper.line(f"{_entries(view.quiet)} moved nothing: all lines with --all")
    for title, sums in (("by cause", view.by_cause), ("by supplier", view.by_supplier)):
        _write_sums(title, sums, view, paper)
    for one in view.recalculated:
        was, now = full_day(one.printed), full_day(one.now) if one.now else "no date"
        paper.line(
            f"calculation changed: entry {one.entry} printed {one.shipment} {was}; the same plan gives {now} today"
            " (another holiday library or rule), which no line above counts"
        )


def write_line(line: MovedLine, today: date, paper: Paper, *, indent: int = 0) -> None:
    """One line: what happened, whose doing, what it does to each shipment, and what a closure makes of that."""
    happened = f"{_when(line, today)}  {what_happened(line, today)}"
    paper.line(happened if line.effects else f"{happened}: moves nothing", indent=indent)
    if line.effects:
        moves = "; ".join(_move(one, today) for one in line.effects)
        paper.line(f"{moves} ({_blame(line.effects)})", indent=indent + 4)
    if line.late_by:
        until = ", ".join(f"{code} {plural(days, 'day')}" for code, days in line.taken_back.items())
        paper.line(
            f"entered {plural(line.late_by, 'day')} late; not knowing it had cost {until}, which it takes back",
            indent=indent + 4,
        )
    for text in closure_texts(line.effects, today):
        paper.line(text, indent=indent + 4)


def what_happened(line: MovedLine, today: date) -> str:
    """The cause in plain words: a promise beside the one before it, a fact, an edit, or why days cost what they did."""
    if line.entry is None:
        return _days_passed(line, today)
    texts = [_fact(line, place, today) for place in range(len(line.facts))]
    before = ", ".join(fact_text(row) for row in line.was)
    texts = [f"corrected: {'; '.join(texts)} (was: {before})"] if before else texts
    texts += [f"taken back: {fact_text(row)}" for row in line.removed]
    if line.undoes is not None:
        texts = [f"undo of entry {line.undoes}", *texts, *_edits(line)]
    elif line.edits:
        texts = [line.command, *_edits(line)]
    return "; ".join(texts or [line.command])


def _edits(line: MovedLine) -> list[str]:
    more = len(line.edits) - MOST_EDITS
    return [*line.edits[:MOST_EDITS], *([f"and {plural(more, 'more change')}"] if more > 0 else [])]


def _begins(view: Moved) -> str:
    return "when backers were last told" if view.since_told else "from the evening before"


def _total(one: ShipmentMoved, today: date) -> list[str]:
    days = _WORDS[one.how] if one.days in (None, 0) else days_text(one.days or 0)
    return [one.shipment, short_day(one.before, today), short_day(one.after, today), days]


def _when(line: MovedLine, today: date) -> str:
    if line.entry is None:
        return f"{short_day(line.first, today)} to {short_day(line.last, today)}"
    return f"{short_day(line.last, today)}, entry {line.entry}"


def _days_passed(line: MovedLine, today: date) -> str:
    """Each reason once, with the job it is about."""
    reasons = dict.fromkeys(
        f"{one.held_by.job} {_held(one.held_by, line.last, today)}" for one in line.effects if one.held_by
    )
    passed = f"{plural((line.last - line.first).days, 'day')} passed"
    return f"{passed}: {'; '.join(reasons)}" if reasons else passed


def _held(held: HeldBy, last: date, today: date) -> str:
    passed = held.reason == "promise" and held.day < last
    return reason_text(held, today) + (", no news" if passed else "")


def _fact(line: MovedLine, place: int, today: date) -> str:
    row = line.facts[place]
    fact = row.fact
    if fact.kind != "promised" or fact.day is None or fact.good:
        return fact_text(row)
    was = f", was {short_day(line.promise_was, today)}" if line.promise_was else ""
    said = f'; said "{fact.words}"' if fact.words else ""
    return f"{fact.job} promised {short_day(fact.day, today)}{was}{said}"


def _move(one: EffectRow, today: date) -> str:
    if one.after is None:
        return f"{one.shipment} has no date any more (was {short_day(one.before, today)})"
    if one.days is None:
        return f"{one.shipment} new, {short_day(one.after, today)}"
    return f"{one.shipment} {days_text(one.days)}: {short_day(one.before, today)} -> {short_day(one.after, today)}"


def _blame(effects: Sequence[EffectRow]) -> str:
    """Each cause once, with the supplier where it is theirs; with the shipment where shipments differ."""
    causes = {one.shipment: ", ".join(filter(None, (one.cause, _whose(one)))) for one in effects}
    texts = tuple(dict.fromkeys(causes.values()))
    if len(texts) < 2:  # noqa: PLR2004 - one cause for all
        return next(iter(texts), "")
    return "; ".join(f"{code}: {text}" for code, text in causes.items())


def _whose(one: EffectRow) -> str:
    return "" if one.cause == "our own delay" else one.supplier


def _entries(numbers: Sequence[int]) -> str:
    if len(numbers) == 1:
        return f"entry {numbers[0]}"
    return f"{len(numbers)} entries ({numbers[0]} to {numbers[-1]})"


def _write_sums(title: str, sums: Sequence[Sum], view: Moved, paper: Paper) -> None:
    """Days by shipment under each other; the last row is the whole move."""
    codes = [one.shipment for one in view.shipments if one.days is not None]
    if not sums or not codes:
        return
    paper.line()
    rows = [[one.name, *(_days(one.days.get(code, 0)) for code in codes)] for one in sums]
    if title == "by cause":
        rows.append(["in all", *(_days(one.days or 0) for one in view.shipments if one.days is not None)])
    paper.table((title, *codes), rows)


def _days(count: int) -> str:
    return f"{count:+d}" if count else "0"
