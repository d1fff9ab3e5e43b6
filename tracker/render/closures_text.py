"""Closures ahead as text: the last day to act, and what the next one costs."""

from datetime import date

from tracker.render.cliffs_text import write_last_days
from tracker.render.paper import Paper
from tracker.render.words import days_text, full_day, plural, short_day
from tracker.report.before_closure import Act
from tracker.report.cliffs import AHEAD, CLIFF
from tracker.report.closures import ClosureJob, ClosureRow, Closures, DayLater
from tracker.report.owed import listed

_MOST_LAST_DAYS = 20
_GIVE = {
    "order": "order", "payment": "pay", "drawing": "give the drawing", "proof": "approve the proof",
    "material": "send the material",
}  # fmt: skip


def write_closures(view: Closures, paper: Paper) -> None:
    """One block a closure, by the day to act: each job with what must happen by when and what a day later does."""
    today = view.today
    paper.line(f"closures from {full_day(today)} to {full_day(view.until)}")
    if not view.rows:
        paper.line("none meets an open job")
    for row in view.rows:
        paper.line()
        paper.line(_heading(row, today))
        for job in row.jobs:
            _job(job, row, today, paper)
        if row.begin_after:
            paper.line(f"begin after it anyway: {', '.join(row.begin_after)}", indent=2)
    if view.untouched or view.days_off:
        paper.line()
    if view.untouched:
        paper.line(f"cannot matter, no open job meets them: {_untouched(view.untouched, today)}")
    if view.days_off:
        days = "; ".join(
            f"{one.supplier} {', '.join(short_day(day, today) for day in one.days)}" for one in view.days_off
        )
        paper.line(f"single days off, no cliffs: {days}")
    _last_days(view, paper)


def _last_days(view: Closures, paper: Paper) -> None:
    """Holders and near-holders, whichever supplier's closure stands behind their next cliff."""
    if not view.last_days:
        return
    paper.line()
    paper.line("last harmless days of what holds a shipment or nearly does, and what the next own day costs")
    write_last_days(view.last_days[:_MOST_LAST_DAYS], view.today, paper)
    more = len(view.last_days) - _MOST_LAST_DAYS
    if more > 0:
        paper.line(f"and {more} more: tracker closures --json", indent=2)
    if all(row.cliff is None for row in view.last_days):
        paper.line(f"no cliff of {CLIFF} days or more within {AHEAD} own days", indent=2)


def _heading(row: ClosureRow, today: date) -> str:
    who = f"{row.supplier}, our own bench," if row.inhouse else row.supplier
    why = f": {', '.join(row.why)}" if row.why else ""
    return f"{who} shut {_span(row, today)}, {plural(row.days, 'day')}{why}"


def _span(row: ClosureRow, today: date) -> str:
    return f"{short_day(row.first, today)} to {short_day(row.last, today)}"


def _untouched(rows: tuple[ClosureRow, ...], today: date) -> str:
    shut: dict[str, list[str]] = {}
    for row in rows:
        shut.setdefault(_span(row, today), []).append(row.supplier)
    return "; ".join(f"{listed(tuple(who))} {span}" for span, who in shut.items())


def _job(job: ClosureJob, row: ClosureRow, today: date, paper: Paper) -> None:
    they = "we" if row.inhouse else "they"
    if job.how == "in time":
        acts = " and ".join(_if(act, today) for act in job.acts)
        paper.line(f"{job.job}  {_ready(job, today)}; before {they} shut if {acts}", indent=2)
        if job.day_later:
            paper.line(_later(job.day_later, today), indent=4)
        return
    paper.line(f"{job.job}  {_ready(job, today)}, {_how(job, they)}", indent=2)
    acts = " and ".join(_had_to(act, today) for act in job.acts)
    late = f"{plural(job.too_late, 'working day')} too late " if job.too_late else ""
    paper.line(f"{late}to be ready before it: {acts}", indent=4)


def _ready(job: ClosureJob, today: date) -> str:
    day = short_day(job.ready, today)
    return f"{'promised' if job.promise == job.ready else 'ready'} {day}" + (
        " AT BEST" if job.at_best else ""
    )


def _how(job: ClosureJob, they: str) -> str:
    if not job.still:
        return f"while {they} are shut"
    still = plural(job.still, "day")
    if job.how == "waits":
        return f"waits {still} until {they} open again"
    return f"runs across it and stands still {still}"


def _if(act: Act, today: date) -> str:
    by = f"by {short_day(act.by, today)}"
    match act.kind:
        case "give":
            return f"we {_give(act)} {by}"
        case "inputs":
            return f"{listed(act.what)} {'is' if len(act.what) == 1 else 'are'} here {by}"
        case "start":
            return f"begun {by}"
        case "ready":
            return f"ready {by}"


def _had_to(act: Act, today: date) -> str:
    """What would have to happen still, or had to on a day that has passed."""
    must = "had to" if act.by < today else "would have to"
    by = f"by {short_day(act.by, today)}"
    match act.kind:
        case "give":
            return f"we {must} {_give(act)} {by}"
        case "inputs":
            return f"{listed(act.what)} {must} be here {by}"
        case "start":
            return f"it {must} begin {by}"
        case "ready":
            return f"it {must} be ready {by}"


def _give(act: Act) -> str:
    return listed(tuple(_GIVE[what] for what in act.what))


def _later(later: DayLater, today: date) -> str:
    moves = ", ".join(
        f"{move.shipment} {short_day(move.before, today)} becomes {short_day(move.after, today)} ({days_text(move.days)})"
        for move in later.moves
    )
    ready = f"a day later: ready {short_day(later.ready, today)}, {plural(later.days, 'day')} on"
    return f"{ready}; {moves or 'no shipment moves'}"
