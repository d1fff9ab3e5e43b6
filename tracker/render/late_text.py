"""The late jobs ranked, as text."""

from collections.abc import Mapping
from datetime import date

from tracker.render.paper import Paper
from tracker.render.words import days_text, full_day, plural, short_day
from tracker.report.lateness import LateReport, LateRow

_MOST_PAIRS = 6
_WIDE = 110


def write_late(view: LateReport, paper: Paper) -> None:
    """Late jobs by what the ship date would gain, each with its promises, then those late only through others."""
    if not view.has_first_plan:
        paper.line("there is no first plan to be late against: tracker keep-plan")
        return
    if view.ship_date is not None:
        paper.line(f"last parcel {full_day(view.ship_date)}, seen on {full_day(view.today)}")
    wide = paper.width >= _WIDE
    own = [row for row in view.rows if not row.caused]
    if not own:
        paper.line("no open job is late against the first plan by itself")
    else:
        paper.line("were this job alone back on its first-plan day, the last parcel would go earlier by:")
        columns = ("job", "supplier", "first plan", "now", "late", "gain")
        paper.table(
            (*columns, "shipments") if wide else columns,
            [_cells(row, view.today, wide=wide) for row in own],
            under=[_under(row, view.today, wide=wide) for row in own],
        )
    _pairs(view, paper)
    caused = [row.job for row in view.rows if row.caused]
    if caused:
        paper.line(f"late only because they wait for others: {', '.join(caused)}")


def _cells(row: LateRow, today: date, *, wide: bool) -> list[str]:
    cells = [
        row.job,
        row.supplier,
        short_day(row.planned, today),
        short_day(row.arrives, today) + (" AT BEST" if row.at_best and wide else ""),
        plural(row.days_late, "day"),
        plural(row.ship_date_gain, "day") if row.ship_date_gain else "none",
    ]
    shipments = ", ".join(f"{code} {-gain:+d}" for code, gain in row.gains.items() if gain)
    return [*cells, shipments or "moves none"] if wide else cells


def _under(row: LateRow, today: date, *, wide: bool) -> str:
    at_best = "AT BEST, no news" if row.at_best and not wide else ""
    gains = [] if wide else [f"{code} {days_text(-gain)}" for code, gain in row.gains.items() if gain]
    gained = ", ".join(gains)
    return "; ".join(filter(None, (gained, at_best, _promises(row, today), _if_kept(row, today))))


def _promises(row: LateRow, today: date) -> str:
    """Every date given so far, each after the first with the calendar days it is later than the one before."""
    days = []
    for promise in row.promises:
        pieces = f" ({promise.good} pieces)" if promise.good else ""
        slip = "" if promise.slip is None else f"{promise.slip:+d} " if promise.slip else "again "
        days.append(f"{slip}{short_day(promise.day, today)}{pieces}")
    return f"promised {', '.join(days)}" if days else ""


def _if_kept(row: LateRow, today: date) -> str:
    """What the present promise, were it kept, would gain; nothing for one that is over."""
    kept = row.if_kept
    if kept is None:
        return ""
    if not kept.days:
        return "the forecast keeps it"
    kept_then = "had it been kept" if kept.arrives < today else "were it kept"
    return f"{kept_then}, here {short_day(kept.arrives, today)}: {_earlier(kept.gains) or 'gains nothing'}"


def _earlier(gains: Mapping[str, int]) -> str:
    """By how many calendar days shipments go earlier: ``wave-1 -1 day, wave-2 -11 days``."""
    return ", ".join(f"{code} {days_text(-gain)}" for code, gain in gains.items() if gain)


def _pairs(view: LateReport, paper: Paper) -> None:
    """What both of a pair gain: the last parcel, or the shipments for which they hide each other."""
    for pair in view.pairs[:_MOST_PAIRS]:
        hidden = {code: pair.gains[code] for code in pair.hidden}
        last = f"last parcel {days_text(-pair.ship_date_gain)}"
        gain = last if pair.ship_date_hidden else _earlier(hidden)
        paper.line(f"{' and '.join(pair.jobs)} hide each other: with both back on plan {gain}", indent=2)
    more = len(view.pairs) - _MOST_PAIRS
    if more > 0:
        paper.line(f"and {plural(more, 'more pair')}: tracker late --json", indent=2)
