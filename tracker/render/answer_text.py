"""The answer to a write as a few lines of text."""

import textwrap
from datetime import date

from tracker.render.coverage_text import KINDS, aside_text, counted_text, coverage_text, rework_text
from tracker.render.fact_text import fact_text
from tracker.render.paper import Paper
from tracker.render.shortage_text import shortage_texts
from tracker.render.words import at_best_text, chain_text, days_text, full_day, plural, short_day
from tracker.report.answer import Answer, FactRow, HarmlessRow, MoveRow
from tracker.report.counts import CountRow, PartCountRow
from tracker.report.coverage import Coverage
from tracker.report.shortages import ALARMS

MOST_LINES = 6
_APART = ("rework", "rerun")
_COUNTING = ("in", "sorted", "made", "left")
_NAMES_PART = (*_COUNTING, "promised", "ordered", "scrapped")
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
    for row in _told_apart(view):
        paper.line(_with_counts(view, row) + (f" [entry {row.entry}]" if row.entry is not None else ""))
    harmless = _harmless(view)
    shown = harmless if verbose else _as_fits(harmless, paper.width)
    for text in (
        *_coverage(view),
        *move_lines(view),
        *_readings(view),
        *_waiting(view),
        *shown,
        *status_date_lines(view),
    ):
        paper.line(text)


def move_lines(view: Answer, *, brief: bool = False) -> list[str]:
    """A line a shipment that moves, with what holds it then; ``brief`` names the first job of the chain only."""
    return [_move(row, view.today, brief=brief) for row in view.moves or ()]


def _coverage(view: Answer) -> list[str]:
    """How the parts stand that were counted, one alone without its name, and what does not add up any more."""
    jobs = {row.fact.job for row in view.facts}
    told = [one for one in _told_parts(view) if not one.aside]
    named = len(told) > 1 or any(row.fact.kind not in _NAMES_PART for row in view.facts) or not view.facts
    alarms = [shortage_texts(one, view.today)[0] for one in view.shortages if one.kind in ALARMS]
    return [*(coverage_text(one, view.today, named=named, known=jobs) for one in told), *alarms]


def _asides(view: Answer) -> list[str]:
    """Other parts that lack more or fewer pieces now."""
    others = [one for one in _told_parts(view) if one.aside]
    short = aside_text([one for one in others if one.verdict == "again"], view.today)
    plain = [coverage_text(one, view.today) for one in others if one.verdict != "again"]
    return [*plain, *([short] if short else [])]


def _told_parts(view: Answer) -> list[Coverage]:
    """Parts whose balance says something: not those of which more was used than ever came, or nobody makes."""
    alarming = {one.part for one in view.shortages if one.kind in ALARMS}
    return [one for one in view.coverage if one.part not in alarming]


def _waiting(view: Answer) -> list[str]:
    """Rework that has no date, with the command that gives it one; the day where no verdict names it."""
    known = {one.day for one in view.coverage}
    return [
        rework_text(one, view.today, dated=one.day not in known)
        for one in view.shortages
        if one.kind not in ALARMS
    ]


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
    """The first way of saying it that fits; where none does, the last as far as there is room."""
    ways = [_lines(view), *(_brief(view, width, most, dated=dated) for most, dated in _briefer(view))]
    fits = (lines for lines in ways if _height(lines, width) <= MOST_LINES)
    return next(fits, None) or _as_fits(ways[-1], width)


def _briefer(view: Answer) -> list[tuple[int, bool]]:
    """How many lines a fact may take, and whether the status date is said, one try after the other.

    The count of a delivery is not cut short, where pieces are followed.
    """
    if not view.coverage:
        return [(2, True), (1, False)]
    return [(2, True), (2, False)] if len(view.facts) == 1 else [(2, True), (2, False), (1, False)]


def _height(lines: list[str], width: int) -> int:
    sheet = Paper(width=width)
    for text in lines:
        sheet.line(text)
    return len(sheet.lines)


def _lines(view: Answer) -> list[str]:
    lines = [*told_lines(view), *move_lines(view), *_harmless(view), *status_date_lines(view)]
    return _marked(lines, _entry(view))


def told_lines(view: Answer) -> list[str]:
    """Facts as read, how the parts stand that they count, what else is to be known; edits come first where nothing else was said."""
    facts = [_with_counts(view, row) for row in _told_apart(view)]
    stands = [*_coverage(view), *_asides(view), *_waiting(view)]
    return [*facts, *stands, *_readings(view)] if facts else [*_readings(view), *stands]


def _brief(view: Answer, width: int, most: int, *, dated: bool) -> list[str]:
    """Facts of at most so many lines each, then what moves and what cannot hold; other remarks last."""
    room = most * width - len(_entry(view)[0]) - 3 if view.entry is not None else most * width
    told = _told_apart(view)
    facts = [textwrap.shorten(_with_counts(view, row), room, placeholder=" ...") for row in told]
    remarks = _readings(view)
    head, rest = (facts, remarks) if facts else (remarks[:1], remarks[1:])
    pressing = [text for text in rest if text.startswith(_PRESSING)]
    others = [text for text in rest if text not in pressing]
    lines = [*head, *_coverage(view), *move_lines(view, brief=True), *_asides(view), *pressing]
    lines += [*_harmless(view), *_waiting(view), *others]
    return _marked(lines, [*_entry(view), *(status_date_lines(view) if dated else ())])


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


def status_date_lines(view: Answer) -> list[str]:
    """The status date where it is kept with the run or was typed."""
    if view.fixed_today:
        return [f"today is {full_day(view.today)}, kept with this run"]
    return [f"status date {full_day(view.today)}, as typed"] if view.typed_today else []


def _with_counts(view: Answer, logged: FactRow) -> str:
    """The fact in words; a delivery also says how many pieces of all are in, a count of pieces made how many are."""
    text, row = fact_text(logged), _count_of(view, logged)
    if row is None or not _speaks_of_counts(view, logged):
        return text
    if logged.fact.kind == "made":
        said = made_text(row)
    elif isinstance(row, PartCountRow):
        said = counted_text(row, view.today, rest=_rest(view, logged))
    else:
        said = count_text(row)
    return f"{text}; {said}" if said else text


def _count_of(view: Answer, logged: FactRow) -> CountRow | None:
    mine = [one for one in view.counts if one.job == logged.fact.job]
    same = (one for one in mine if not isinstance(one, PartCountRow) or one.part == logged.fact.part)
    return next(same, next(iter(mine), None))


def _speaks_of_counts(view: Answer, logged: FactRow) -> bool:
    """Deliveries and counts do; a promise of so many where nothing else logged with it does."""
    fact = logged.fact
    if fact.kind != "promised":
        return fact.kind in _COUNTING
    others = (row.fact for row in view.facts if row.fact.job == fact.job)
    return bool(fact.good) and not any(one.kind in _COUNTING for one in others)


def _rest(view: Answer, counted: FactRow) -> FactRow | None:
    """The promise for all that is still to come, given in the same words as a delivery."""
    row = _count_of(view, counted)
    if not isinstance(row, PartCountRow) or counted.fact.kind not in _COUNTING:
        return None
    promises = (one for one in view.facts if _is_rest(one, counted))
    return next((one for one in promises if one.fact.good == row.to_come), None)


def _is_rest(row: FactRow, counted: FactRow) -> bool:
    promise, fact = row.fact, counted.fact
    plain = not (promise.words or promise.note or promise.worst or promise.exactly or promise.ref)
    same = (promise.job, promise.on, row.entry) == (fact.job, fact.on, counted.entry)
    return promise.kind == "promised" and plain and same


def _told_apart(view: Answer) -> list[FactRow]:
    """The facts, without promises that a delivery beside them tells."""
    told = [_rest(view, row) for row in view.facts]
    return [row for row in view.facts if not any(row is one for one in told)]


def made_text(row: CountRow) -> str:
    """Pieces made against the quantity; nothing where neither was counted."""
    if row.quantity is None or not row.made:
        return ""
    left = row.quantity - row.made
    about = f" {row.part}" if isinstance(row, PartCountRow) and row.part else ""
    return f"{row.made} of {row.quantity}{about} made" + (f", {left} to go" if left > 0 else "")


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
    """How long each job may take; of a re-run the coverage says by when to order it."""
    told = any(one.verdict == "again" for one in view.coverage)
    rows = [row for row in view.harmless if not (told and row.kind == "rerun")]
    alone = len(view.harmless) == 1 and bool(view.facts)
    texts = [harmless_text(row, view.today, alone=alone) for row in rows]
    if view.moves or view.moves is None or (not view.facts and view.entry is None):
        return texts
    if len(texts) == 1:
        return [f"no shipment moves; {texts[0]}"]
    return ["no shipment moves", *texts]


def harmless_text(row: HarmlessRow, today: date, *, alone: bool = False) -> str:
    """When the job is ready, how long that stays harmless, and when it is here if travel follows.

    Of what is on its way, or left before today by what was promised, only the day it is due here says something;
    of pieces in rework or to be made again, how long they are harmless. ``alone`` leaves out the job they are of.
    """
    spare = plural(row.spare_days or 0, "spare day")
    about = f"{row.job}, {row.pieces} {KINDS[row.kind]}," if row.kind else row.job
    if row.kind and alone:
        about = f"the {row.pieces} {KINDS[row.kind]}"
    if row.ready < today and not row.on_its_way:
        return f"{about} due here {short_day(row.arrives, today)} ({spare})"
    ready = f"{about} {'due here' if row.on_its_way else 'ready'} {short_day(row.ready, today)}"
    here = f"; here {short_day(row.arrives, today)}" if row.arrives != row.ready else ""
    if row.harmless_until is None:
        return f"{ready}{here}; no shipment waits for it"
    until = f"harmless until {short_day(row.harmless_until, today)} ({spare})"
    return f"{about} {until}" if row.kind in _APART else f"{ready}, {until}{here}"
