"""Open jobs by harmless days as text."""

from collections.abc import Sequence
from datetime import date

from tracker.render.paper import Paper
from tracker.render.words import days_text, full_day, plural, short_day
from tracker.report.cliffs import CliffCost
from tracker.report.near import Near, NearRow
from tracker.report.next_day import LaterCost

_NAMED = 6
_WIDE = 110


def write_near(view: Near, paper: Paper) -> None:
    """A table of the jobs with few spare days, then how many have more, and which can move no shipment."""
    paper.line(f"open jobs by spare days, on {full_day(view.today)}")
    shown = [row for row in view.rows if row.spare_days <= view.within]
    rest = view.rows[len(shown) :]
    if not view.rows:
        paper.line("no open job can move a shipment")
    elif not shown:
        paper.line(f"none has {view.within} spare days or fewer")
    wide = paper.width >= _WIDE
    cells = [line for row in shown for line in _cells(row, view.today, wide=wide)]
    until = "harmless until" if wide else "harmless to"
    paper.table(("job", "spare", "own", until, "how it stands; one own day more"), cells)
    if rest:
        few, most = rest[0].spare_days, rest[-1].spare_days
        span = str(few) if few == most else f"{few} to {most}"
        names = _some([row.job for row in rest])
        paper.line(f"{plural(len(rest), 'more job' if shown else 'job')} with {span} spare days: {names}")
    if view.free:
        paper.line(f"can move no shipment: {_some(view.free)}")
    if shown:
        paper.line("spare: calendar days; own: the supplier's working days among them")


def _some(names: Sequence[str]) -> str:
    more = len(names) - _NAMED
    shown = ", ".join(names[:_NAMED])
    return f"{shown} and {more} more (tracker near --json)" if more > 0 else shown


def _cells(row: NearRow, today: date, *, wide: bool) -> list[list[str]]:
    """One table row, or two where what the next own day costs does not stand beside the state."""
    cells = [row.job, str(row.spare_days), str(row.own_days), short_day(row.harmless_until, today)]
    notes = [_stands(row, today), *_cost(row, today)]
    if wide:
        return [[*cells, "; ".join(notes)]]
    return [[*cells, notes[0]], *(["", "", "", "", note] for note in notes[1:])]


def _stands(row: NearRow, today: date) -> str:
    """Its state, and the date it rests on where that is not the last harmless day itself."""
    flags = [flag for flag in row.flags if flag != "TIGHT"] + ["AT BEST"] * bool(row.at_best)
    state = " ".join((row.state, *flags))
    if row.promise and not row.on_its_way:
        return f"{state}, promised {short_day(row.promise, today)}"
    if row.ready == row.harmless_until:
        return state
    return f"{state}, {'due here' if row.on_its_way else 'ready'} {short_day(row.ready, today)}"


def _cost(row: NearRow, today: date) -> list[str]:
    if not row.costs:
        return []
    return [f"{short_day(row.costs[0].day, today)}: {moved_text(row.costs)}"]


def moved_text(costs: Sequence[LaterCost | CliffCost]) -> str:
    """By how many calendar days each shipment moves: ``wave-1 +1, wave-2 +3 days``."""
    *others, last = (f"{cost.shipment} {days_text(cost.days)}" for cost in costs)
    return ", ".join((*(text.rpartition(" ")[0] for text in others), last))
