"""The answer to a write as a few lines of text."""

import textwrap
from datetime import date

from tracker.render.fact_text import fact_text
from tracker.render.paper import Paper
from tracker.render.words import at_best_text, chain_text, days_text, full_day, plural, short_day
from tracker.report.answer import Answer, CountRow, FactRow, HarmlessRow, MoveRow

MOST_LINES = 6
BRIEF_FACT = (2, 1)
_PRESSING = ("CANNOT HOLD", "out of sequence")


def write_answer(view: Answer, paper: Paper, *, verbose: bool = False) -> None:
    """Write at most six lines of the paper's width, unless ``verbose``.

    Facts as read, remarks, moves or the lack of them, harmless until; where that is too long, moves name only the
    first job that holds them, remarks come last, and what is still too long is left off and counted. Facts of
    several entries are all read back, each with its entry, and so is all that moves or was read in a certain way.
    """
    if any(row.entry is not None for row in view.facts):
        _write_several(view, paper, verbose=verbose)
        return
    for text in _lines(view) if verbose else _fitting(view, paper.width):
        paper.line(text)


def _write_several(view: Answer, paper: Paper, *, verbose: bool) -> None:
    for row in view.facts:
        paper.line(_with_counts(view, row) + (f" [entry {row.entry}]" if row.entry is not None else ""))
    harmless = _harmless(view)
    shown = harmless if verbose else _as_fits(harmless, paper.width)
    for text in (*_moves(view), *_readings(view), *shown, *_status_date(view)):
        paper.line(text)


def _moves(view: Answer, *, brief: bool = False) -> list[str]:
    return [_move(row, view.today, brief=brief) for row in view.moves or ()]


def _readings(view: Answer) -> list[str]:
    """What facts said before, remarks, and which silent jobs the dates rest on."""
    was = [f"entry {row.entry} said: {fact_text(row)}" for row in view.was]
    return [*was, *view.remarks, *_at_best(view)]


def _as_fits(lines: list[str], width: int) -> list[str]:
    """As many lines as have room; where some are left off, the last says how many."""
    if _height(lines, width) <= MOST_LINES:
        return lines
    left = list(lines)
    shown: list[str] = []
    while _height([*shown, left[0]], width) < MOST_LINES:
        shown.append(left.pop(0))
    return [*shown, f"({plural(len(left), 'more line')} with -v)"]


def _fitting(view: Answer, width: int) -> list[str]:
    lines = _lines(view)
    for most in BRIEF_FACT:
        if _height(lines, width) > MOST_LINES:
            lines = _brief(view, width, most)
    return _as_fits(lines, width)


def _height(lines: list[str], width: int) -> int:
    sheet = Paper(width=width)
    for text in lines:
        sheet.line(text)
    return len(sheet.lines)


def _lines(view: Answer) -> list[str]:
    facts = [_with_counts(view, row) for row in view.facts]
    lines = [*facts, *_readings(view), *_moves(view), *_harmless(view), *_status_date(view)]
    return _marked(lines, _entry(view))


def _brief(view: Answer, width: int, most: int) -> list[str]:
    """Facts of at most so many lines each, then what moves and what cannot hold; other remarks last."""
    room = most * width - len(_entry(view)[0]) - 3 if view.entry is not None else most * width
    facts = [textwrap.shorten(_with_counts(view, row), room, placeholder=" ...") for row in view.facts]
    remarks = _readings(view)
    head, rest = (facts, remarks) if facts else (remarks[:1], remarks[1:])
    pressing = [text for text in rest if text.startswith(_PRESSING)]
    others = [text for text in rest if text not in pressing]
    lines = [*head, *_moves(view, brief=True), *pressing, *_harmless(view), *others]
    return _marked(lines, [*_entry(view), *(_status_date(view) if most > 1 else ())])


def _entry(view: Answer) -> list[str]:
    return [f"entry {view.entry}"] if view.entry is not None else []


def _marked(lines: list[str], marks: list[str]) -> list[str]:
    """The lines with what concerns the whole entry in brackets after the first."""
    if not lines or not marks:
        return lines
    return [f"{lines[0]} [{'; '.join(marks)}]", *lines[1:]]


def _at_best(view: Answer) -> list[str]:
    """Which silent jobs the dates that moved rest on, said once."""
    text = at_best_text(tuple(dict.fromkeys(name for row in view.moves or () for name in row.at_best)))
    return [text] if text else []


def _status_date(view: Answer) -> list[str]:
    if view.fixed_today:
        return [f"today is {full_day(view.today)}, kept with this run"]
    return [f"status date {full_day(view.today)}, as typed"] if view.typed_today else []


def _with_counts(view: Answer, logged: FactRow) -> str:
    """The fact in words; a delivery also says how many pieces of all are in, a count of pieces made how many are."""
    text = fact_text(logged)
    row = next((one for one in view.counts if one.job == logged.fact.job), None)
    if row is None or logged.fact.kind not in ("in", "sorted", "made"):
        return text
    said = made_text(row) if logged.fact.kind == "made" else count_text(row)
    return f"{text}; {said}" if said else text


def made_text(row: CountRow) -> str:
    """Pieces made against the quantity; nothing where neither was counted."""
    if row.quantity is None or not row.made:
        return ""
    left = row.quantity - row.made
    return f"{row.made} of {row.quantity} made" + (f", {left} to go" if left > 0 else "")


def count_text(row: CountRow) -> str:
    """Pieces in against the quantity, and whether the job is closed."""
    received = row.good + row.rework + row.scrap + row.unjudged
    if row.quantity is None:
        return "no quantity is set, so this counts as all of it" if row.closed else "more to come"
    text = f"{received} of {row.quantity} in"
    if row.closed:
        return f"{text}, done" if received else "not counted, done"
    return f"{text}, {row.to_come} to come"


def _move(row: MoveRow, today: date, *, brief: bool) -> str:
    if row.after is None:
        return f"{row.shipment} has no date any more (was {short_day(row.before, today)})"
    if row.before is None:
        text = f"{row.shipment} is forecast for {short_day(row.after, today)}"
    else:
        days = days_text(row.days or 0)
        text = (
            f"{row.shipment} moves {short_day(row.before, today)} -> {short_day(row.after, today)} ({days})"
        )
    held = row.held_by.job if brief and row.held_by else chain_text(row.held_by, row.path, today)
    text += f", held by {held}" if held else ""
    return f"{text}, AT BEST" if row.at_best else text


def _harmless(view: Answer) -> list[str]:
    texts = [harmless_text(row, view.today) for row in view.harmless]
    if view.moves or view.moves is None or (not view.facts and view.entry is None):
        return texts
    if len(texts) == 1:
        return [f"no shipment moves; {texts[0]}"]
    return ["no shipment moves", *texts]


def harmless_text(row: HarmlessRow, today: date) -> str:
    """When the job is ready, how long that stays harmless, and when it is here if travel follows.

    Of what is on its way, or left before today by what was promised, only the day it is due here says something.
    """
    spare = plural(row.spare_days or 0, "spare day")
    if row.ready < today and not row.on_its_way:
        return f"{row.job} due here {short_day(row.arrives, today)} ({spare})"
    ready = f"{row.job} {'due here' if row.on_its_way else 'ready'} {short_day(row.ready, today)}"
    here = f"; here {short_day(row.arrives, today)}" if row.arrives != row.ready else ""
    if row.harmless_until is None:
        return f"{ready}{here}; no shipment waits for it"
    return f"{ready}, harmless until {short_day(row.harmless_until, today)} ({spare}){here}"
