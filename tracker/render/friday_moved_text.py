"""What moved the shipments in one table that adds up: a line a cause, a column a shipment."""

from collections.abc import Sequence
from datetime import date

from tracker.render.closure_share_text import closure_texts
from tracker.render.moved_text import what_happened, write_line
from tracker.render.paper import Paper
from tracker.render.words import plural, short_day
from tracker.report.moved import EffectRow, Moved, MovedLine, standing


def write_moves(view: Moved, paper: Paper, *, most: int | None) -> list[str]:
    """Write the lines, of more than ``most`` the largest in their order and the others summed up; or say there are none."""
    lines = [line for line in standing(view.lines) if line.effects]
    if not lines:
        return ["no shipment moved"]
    kept = _largest(lines, most)
    paper.line()
    paper.line("moved, and why (days later)")
    codes = [one.shipment for one in view.shipments if _is_told(one.shipment, lines)]
    if sum(len(code) + 2 for code in codes) > paper.width // 2:
        _write_apart(kept, len(lines) - len(kept), view, paper)
    else:
        rest = [line for line in lines if line not in kept]
        _write_table(kept, rest, codes, view, paper)
    if view.recalculated:
        count = plural(len(view.recalculated), "printed date")
        paper.line(f"calculation changed for {count}: {_whole(view)}", indent=2)
    return []


def _whole(view: Moved) -> str:
    """The command that shows every line."""
    return "tracker moved" if view.since_told else f"tracker moved since {view.since}"


def _write_apart(kept: Sequence[MovedLine], more: int, view: Moved, paper: Paper) -> None:
    """One block a line, where there are more shipments than columns fit."""
    for line in kept:
        write_line(line, view.today, paper, indent=2)
    if more:
        paper.line(f"and {plural(more, 'smaller move')}: {_whole(view)}", indent=2)


def _write_table(
    kept: Sequence[MovedLine], rest: Sequence[MovedLine], codes: Sequence[str], view: Moved, paper: Paper
) -> None:
    """A row a line, the others summed up in one, and the whole move; then what closures make of it."""
    rows = [_row(line, codes, view.today) for line in kept]
    if rest:
        rows.append(["", f"{plural(len(rest), 'smaller move')}: {_whole(view)}", *_sums(rest, codes)])
    rows.append(["", "in all", *_totals(view, codes)])
    paper.table(("", "", *codes), rows, flexible=1)
    for line in kept:
        for text in closure_texts(line.effects, view.today):
            paper.line(text, indent=2)


def _is_told(code: str, lines: Sequence[MovedLine]) -> bool:
    return any(one.shipment == code for line in lines for one in line.effects)


def _largest(lines: Sequence[MovedLine], most: int | None) -> list[MovedLine]:
    """Those that move a shipment most, in the order they happened; a shipment new or gone counts above all."""
    if most is None or len(lines) <= most:
        return list(lines)
    chosen = sorted(range(len(lines)), key=lambda place: -_size(lines[place]))[:most]
    return [lines[place] for place in sorted(chosen)]


def _size(line: MovedLine) -> float:
    return max(float("inf") if one.days is None else abs(one.days) for one in line.effects)


def _row(line: MovedLine, codes: Sequence[str], today: date) -> list[str]:
    effects = {one.shipment: one for one in line.effects}
    day = short_day(line.last, today)
    when = day if line.entry is not None else f"to {day}"
    what = line.command if line.edits and _brings_all(line) else what_happened(line, today)
    return [when, what, *(_days(effects.get(code)) for code in codes)]


def _brings_all(line: MovedLine) -> bool:
    """Whether it only brings shipments that were not there before, as a plan read in does."""
    return all(one.days is None and one.after is not None for one in line.effects)


def _days(effect: EffectRow | None) -> str:
    if effect is None:
        return "0"
    if effect.days is None:
        return "new" if effect.after else "gone"
    return f"{effect.days:+d}"


def _sums(lines: Sequence[MovedLine], codes: Sequence[str]) -> list[str]:
    effects = [one for line in lines for one in line.effects]
    return [_signed(sum(one.days or 0 for one in effects if one.shipment == code)) for code in codes]


def _totals(view: Moved, codes: Sequence[str]) -> list[str]:
    totals = {one.shipment: one for one in view.shipments}
    return [
        totals[code].how if totals[code].days is None else _signed(totals[code].days or 0) for code in codes
    ]


def _signed(days: int) -> str:
    return f"{days:+d}" if days else "0"
