"""A logged fact read back in words, with weekday and full date."""

from tracker.render.words import full_day, plural
from tracker.report.answer import FactRow

_PAST = {
    "started": "started", "left": "left", "finished": "finished", "passed": "passed", "failed": "FAILED",
    "resumed": "resumed", "called_off": "called off", "called": "called", "mailed": "mailed", "decided": "decided", "note": "note",
    "made": "made", "ordered": "ordered", "in": "in", "sorted": "sorted", "posted": "posted", "paused": "paused",
}  # fmt: skip


def fact_text(row: FactRow) -> str:
    """One line: what it is about, what happened, when, and every number and word kept."""
    fact = row.fact
    about = fact.job or fact.shipment or fact.supplier or fact.option or "run"
    if fact.kind == "scrapped":
        about = f"{fact.scrap} of {fact.part}"
    body = _BODIES.get(fact.kind, _plain)(row)
    tail = [f"ref {fact.ref}"] if fact.ref else []
    tail += [f'said "{fact.words}"'] if fact.words else []
    tail += [f'note "{fact.note}"'] if fact.note else []
    return f"{about} {body}" + (f"; {'; '.join(tail)}" if tail else "")


def _plain(row: FactRow) -> str:
    fact = row.fact
    text = f"{_PAST[fact.kind]} {full_day(fact.on)}" + (f", {fact.part}" if fact.part else "")
    one = {"posted": "unit", "left": "piece"}.get(fact.kind)
    counts = [
        f"{number} {word}"
        for number, word in (
            (fact.good, _one_or_more(fact.good, one) if one else "good"),
            (fact.rework, "rework"),
            (fact.scrap, "scrap"),
            (fact.count, "counted, not judged"),
            (fact.quantity, _one_or_more(fact.quantity, "piece")),
        )
        if number is not None
    ]
    text += f": {', '.join(counts)}" if counts else ""
    if fact.kind == "paused":
        text += f", until {full_day(fact.day)} (the first day it may go on)" if fact.day else ", no end known"
    if fact.kind == "called" and fact.day:
        text += f", again on {full_day(fact.day)}"
    return text + (", the last of it" if fact.closes and counts else "")


def _one_or_more(count: int | None, one: str) -> str:
    return one if count == 1 else f"{one}s"


def _promised(row: FactRow) -> str:
    fact = row.fact
    day = full_day(fact.day) if fact.day else "no date"
    text = f"promised for {day}, {row.means}"
    text += ", exactly that day" if fact.exactly else ""
    text += f", worst {full_day(fact.worst)}" if fact.worst else ""
    text += f", {plural(fact.good, 'piece')}" if fact.good else ""
    return f"{text} (given {full_day(fact.on)})"


def _given(row: FactRow) -> str:
    fact = row.fact
    if fact.what == "day1" and fact.day:
        return f"day 1 in their own words {full_day(fact.day)} (given {full_day(fact.on)})"
    verb = "sent" if fact.what in ("payment", "balance") else "given"
    return f"{fact.what} {verb} {full_day(fact.on)}"


def _told(row: FactRow) -> str:
    fact = row.fact
    days = " to ".join(full_day(day) for day in (fact.first, fact.day) if day)
    return f"told {days or 'in words, no date'} (on {full_day(fact.on)})"


def _found_bad(row: FactRow) -> str:
    fact = row.fact
    return f"scrapped {full_day(fact.on)}" + (f", found at {fact.job}" if fact.job else "")


_BODIES = {"promised": _promised, "given": _given, "told": _told, "scrapped": _found_bad}
