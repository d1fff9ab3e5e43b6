"""Every promise ever made as text."""

from datetime import date

from tracker.render.calls_text import promise_text
from tracker.render.paper import Paper
from tracker.render.words import full_day, joined, plural, short_day
from tracker.report.promise_record import Fate, KeptRow, PromiseRecord, SupplierRecord


def write_promise_record(view: PromiseRecord, paper: Paper) -> None:
    """A block a supplier: its totals, then each job's promises with what became of each below."""
    paper.line(f"promises up to {full_day(view.today)}")
    if not view.suppliers:
        nobody = f"{view.asked} has not" if view.asked else "nobody has"
        paper.line(f'{nobody} promised anything yet: tracker promised JOB DATE said "their words"')
    for record in view.suppliers:
        paper.line()
        paper.line(joined(record.supplier, record.name))
        paper.line(_totals(record), indent=2)
        for job in record.jobs:
            paper.line(joined(job.job, job.state), indent=2)
            for row in job.promises:
                paper.line(promise_text(row.promise, view.today), indent=4)
                paper.line(_fate(row, view.today), indent=6)


def _totals(record: SupplierRecord) -> str:
    pieces = [plural(record.promises, "promise"), f"{record.kept or 'none'} kept"]
    if record.came_late:
        pieces.append(f"{record.came_late} came late")
    if record.still_open:
        pieces.append(f"{record.still_open} open")
    days = f", {plural(record.slip_days, 'day')} in all" if record.slips else ""
    return f"{', '.join(pieces)}; moved later {_times(record.slips)}{days}"


def _times(count: int) -> str:
    return {0: "never", 1: "once", 2: "twice"}.get(count, f"{count} times")


def _fate(row: KeptRow, today: date) -> str:
    fate = row.fate
    on = short_day(fate.on, today)
    beside = _beside(fate.days) + (" here" if fate.step == "here" else "")
    short = f", {fate.short} short" if fate.short else ""
    match fate.became:
        case "kept" | "came late":
            kept = "kept: " if fate.became == "kept" else ""
            return f"{kept}{fate.step} {on}, {beside}{short}"
        case "part came":
            return f"a part came {on}, {beside}"
        case "not judged":
            return f"not judged: {fate.step} {on} already{short}"
        case "moved" | "brought forward":
            said = _beside((fate.on - row.promise.day).days) if fate.on else ""
            return f"{fate.became} by {plural(abs(fate.days), 'day')}, said {said}"
        case "said again":
            return f"said again {on}"
        case _:
            return _still(fate, on)


def _still(fate: Fate, on: str) -> str:
    """How a promise stands that nothing came of yet."""
    if fate.became == "ended":
        return f"ended: failed {on}" if fate.on else "ended: not wanted any more"
    if fate.became == "no news":
        return f"passed {plural(fate.days, 'day')} ago, no news"
    return f"open, due in {plural(fate.days, 'day')}" if fate.days else "open, due today"


def _beside(days: int) -> str:
    """Calendar days against the day promised."""
    if not days:
        return "on the day it was due"
    return f"{plural(abs(days), 'day')} {'before' if days < 0 else 'after'} it was due"
