"""The Friday page as text: one page, each block cut to a few lines unless all are asked for."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date

from tracker.render.board_text import told_text
from tracker.render.cliffs_text import write_last_days
from tracker.render.deciding_text import option_texts
from tracker.render.friday_moved_text import write_moves
from tracker.render.friday_news_text import came_text, wrong_texts
from tracker.render.near_text import moved_text
from tracker.render.paper import Paper
from tracker.render.words import at_best_text, chain_text, days_text, full_day, plural, short_day
from tracker.report.alike import alike, begun_alike
from tracker.report.calls import CallRow
from tracker.report.friday import Friday, FridayShipment
from tracker.report.next_word import NextWord
from tracker.report.owed import listed
from tracker.report.owing import OwingRow

MOST = 5
_MOST_CALLS = 4
_MOST_OPTIONS = 3
_FEW = 3
_LONGEST_CODE = 16
"""Characters of a shipment's code that leave room for how it stands at the end of its row."""
_HEADS = ("shipment", "told", "then", "now", "moved")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Block:
    """Rows of cells under a title, and a ``note`` below them; ``empty`` says in a few words that there is nothing.

    ``rest`` is the command that shows all rows.
    """

    title: str
    rows: Sequence[Sequence[str]]
    empty: str
    rest: str
    most: int = MOST
    note: str = ""


def write_friday(view: Friday, paper: Paper, *, everything: bool) -> None:
    """Shipments first; then the news, what could go wrong, what to do, and when the next word is due."""
    title = f"{view.product} ({view.run})" if view.product else view.run
    paper.line(f"{title}   the Friday page, {full_day(view.today)}")
    ago = f"{full_day(view.since)}, {plural((view.today - view.since).days, 'day')} ago"
    told = (
        f"since backers were last told, {ago}"
        if view.since_told
        else f"since {ago}: backers were told nothing yet"
    )
    paper.line(told)
    _shipments(view, paper)
    empty = _write(_news(view), paper, everything=everything)
    empty += write_moves(view.moved, paper, most=None if everything else MOST)
    empty += _write(_decided(view), paper, everything=everything)
    empty += _risks(view, paper, everything=everything)
    empty += _write(_to_do(view), paper, everything=everything)
    empty += _options(view, paper, everything=everything)
    if empty:
        paper.line()
        paper.line("; ".join(empty))
    _word(view, paper)


def _write(blocks: Iterator[_Block], paper: Paper, *, everything: bool) -> list[str]:
    """Write the blocks that have rows; return in words which have none."""
    empty = []
    for block in blocks:
        if block.rows or block.note:
            _write_block(block, paper, None if everything else block.most)
        else:
            empty.append(block.empty)
    return empty


def _write_block(block: _Block, paper: Paper, most: int | None) -> None:
    shown = block.rows[:most]
    paper.line()
    paper.line(block.title)
    if shown and len(shown[0]) > 1:
        paper.table([""] * len(shown[0]), shown)
    else:
        for (text,) in shown:
            paper.line(text, indent=2)
    more = len(block.rows) - len(shown)
    if more:
        paper.line(f"and {more} more: {block.rest}", indent=2)
    if block.note:
        paper.line(block.note, indent=2)


def _shipments(view: Friday, paper: Paper) -> None:
    paper.line()
    if not view.shipments:
        paper.line("no shipment yet: tracker add shipment wave-1 quantity=80 after=JOB")
        return
    rows = [(*_shipment(one, view), _stands(one)) for one in view.shipments]
    if max(len(one.row.code) for one in view.shipments) > _LONGEST_CODE:
        under = [stands for *_, stands in rows]
        paper.table(_HEADS, [row[:-1] for row in rows], flexible=1, under=under)
    else:
        paper.table((*_HEADS, ""), rows, flexible=1)
    for text in (*_told_today(view), *_held(view), *_at_best(view)):
        paper.line(text, indent=2)


def _told_today(view: Friday) -> Iterator[str]:
    for one in view.shipments:
        if one.row.told is not None and one.row.told != one.told_then:
            yield f"{one.row.code} told today: {told_text(one.row, view.today)}"


def _held(view: Friday) -> Iterator[str]:
    """What holds each; of more than three shipments held alike the steps they have in common."""
    rows = [one.row for one in view.shipments]
    few = len(rows) <= _FEW
    said = [(row.code, (row.held_by, row.path if few else ())) for row in rows if row.held_by is not None]
    for codes, (held, _) in alike(said):
        paths = [row.path for row in rows if row.code in codes]
        path = begun_alike(paths)
        more = " > ..." if any(one != path for one in paths) else ""
        yield f"{_these(codes, view)} held by {chain_text(held, path, view.today)}{more}"


def _at_best(view: Friday) -> Iterator[str]:
    """The silences that dates rest on."""
    said = [(one.row.code, one.row.at_best) for one in view.shipments if one.row.at_best]
    for codes, jobs in alike(said):
        yield f"{_these(codes, view)} {at_best_text(jobs)}"


def _these(codes: tuple[str, ...], view: Friday) -> str:
    """Shipments by code, or that it is all of them."""
    return f"all {len(codes)}" if _FEW < len(codes) == len(view.shipments) else listed(codes)


def _shipment(one: FridayShipment, view: Friday) -> tuple[str, ...]:
    row, moved, told = one.row, one.moved, one.told_then
    known = told_text(replace(row, told=told), view.today)
    if told is not None and told.on != view.since:
        known += f" (on {short_day(told.on, view.today)})"
    then = short_day(moved.before if moved else None, view.today)
    if moved is None or moved.days is None:
        days = "new" if moved and moved.how == "new" else "-"
    else:
        days = days_text(moved.days) if moved.days else "stays"
    return row.code, known, then, short_day(row.forecast, view.today), days


def _stands(one: FridayShipment) -> str:
    row = one.row
    if row.posted:
        return "posted"
    if row.days_late and row.days_late > 0:
        return f"LATE {plural(row.days_late, 'day')}"
    return "AT BEST" if row.at_best else ""


def _news(view: Friday) -> Iterator[_Block]:
    newest = view.came[::-1]
    counted = [
        [short_day(row.last, view.today), row.job or row.shipment, came_text(row)]
        for row in newest
        if row.pieces
    ]
    others = ", ".join(
        f"{row.job or row.shipment} {came_text(row)} {short_day(row.last, view.today)}"
        for row in newest
        if not row.pieces
    )
    yield _Block(
        title="came in", rows=counted, empty="nothing came in", rest="tracker friday -v", note=others
    )
    wrong = [[text] for text in wrong_texts(view.went_wrong, view.today)]
    yield _Block(title="went wrong", rows=wrong, empty="nothing went wrong", rest="tracker friday -v")


def _decided(view: Friday) -> Iterator[_Block]:
    decided = [
        [
            short_day(row.fact.on, view.today),
            row.fact.job or row.fact.option or "run",
            row.fact.note or "decided",
        ]
        for row in view.decided
    ]
    yield _Block(title="decided", rows=decided, empty="nothing decided", rest="tracker diary decided")


def _risks(view: Friday, paper: Paper, *, everything: bool) -> list[str]:
    """The last harmless day of each, what the own day after it costs, and the cliff further on."""
    if not view.risks:
        return ["no job whose turn it is is near moving a shipment"]
    shown = view.risks if everything else view.risks[:MOST]
    paper.line()
    paper.line("what could still move it: the last harmless day, and what the next own day costs")
    write_last_days(shown, view.today, paper)
    more = len(view.risks) - len(shown) + view.behind
    if more:
        paper.line(f"{plural(more, 'more job')} as near: tracker near", indent=2)
    return []


def _to_do(view: Friday) -> Iterator[_Block]:
    yield _Block(
        title="calls to make",
        rows=[_call(row, view.today) for row in view.calls.rows],
        empty="nobody to call",
        rest="tracker calls",
        most=_MOST_CALLS,
    )
    yield _Block(
        title="clocks that wait for us",
        rows=[_owed(row, view.today) for row in view.owed],
        empty="no clock waits for us",
        rest="tracker owed",
    )


def _call(row: CallRow, today: date) -> list[str]:
    about = [f"{job.row.code} {', '.join(job.why)}" for job in row.jobs]
    if row.call_again:
        about.insert(0, f"to be called again {short_day(row.call_again, today)}")
    return [row.supplier, row.contact or "no contact noted", "; ".join(about)]


def _owed(row: OwingRow, today: date) -> list[str]:
    what = f"{row.what} {row.again} more" if row.again else row.what
    what += " to leave" if row.to_leave else ""
    by = f"by {short_day(row.by, today)}, frees {row.frees}" if row.by else "frees no shipment"
    first = tuple(cost for cost in row.costs if cost.day == row.costs[0].day)
    later = f"; {short_day(first[0].day, today)}: {moved_text(first)}" if first else ""
    return [row.job, row.supplier, f"{what} {by}{later}"]


def _options(view: Friday, paper: Paper, *, everything: bool) -> list[str]:
    """Each option that is open, what it gains and until when."""
    if not view.options:
        return ["no option is open"]
    shown = view.options if everything else view.options[:_MOST_OPTIONS]
    paper.line()
    paper.line("options to decide")
    for row in shown:
        head, *texts = option_texts(row, view.today)
        paper.line(head, indent=2)
        for text in texts:
            paper.line(text, indent=4)
    if len(shown) < len(view.options):
        paper.line(f"and {len(view.options) - len(shown)} more: tracker option", indent=2)
    return []


def _word(view: Friday, paper: Paper) -> None:
    word = view.word
    paper.line()
    paper.line(f"{_due(word, view.today)}; next word: {short_day(word.following, view.today)}")
    if view.shipments and word.last != view.today:
        codes = tuple(one.row.code for one in view.shipments if not one.row.posted)
        if codes:
            paper.line(f"once sent, log it: {_told_commands(codes)}", indent=2)


def _told_commands(codes: tuple[str, ...]) -> str:
    if len(codes) <= _FEW:
        return ", ".join(f"tracker told {code} DATE" for code in codes)
    return f"tracker told CODE DATE, for each of {listed(codes)}"


def _due(word: NextWord, today: date) -> str:
    """Since when a word is due, or by when."""
    if word.last is None or word.due is None:
        return "a word to backers is due: none is logged yet"
    if word.last == today:
        return "backers were told today"
    if word.overdue:
        return f"a word was due by {short_day(word.due, today)}: overdue by {plural(word.overdue, 'day')}"
    return f"a word is due by {short_day(word.due, today)}"
