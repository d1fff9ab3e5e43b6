"""What a sheet's rows tell that happened: ordered on a day, promised for one, a note; and what is only read back."""

from collections.abc import Iterator
from datetime import date
from itertools import starmap

from tracker.plan.day_text import full_day
from tracker.plan.model import Fact, Plan
from tracker.planfile.faults import bad, in_quotes
from tracker.sheet.rows import Coded
from tracker.sheet.values import text_of

_HAPPENED = frozenset(("ordered", "started", "made", "left", "in", "finished", "passed", "failed", "paused"))
_MOST_NAMED = 5


def ordered(job: str, day: date, plan: Plan, today: date) -> Iterator[Fact]:
    """The order of a job, unless it is logged already.

    Raises
    ------
    BadValue
        If it lies after today, or another day is logged: the first order counts.
    """
    if day > today:
        raise bad(
            f"{full_day(day)} is after today, {full_day(today)}",
            "an order is logged once it is placed: clear the cell until then",
        )
    logged = [fact.on for fact in plan.facts_by_job.get(job, ()) if fact.kind == "ordered"]
    if logged and day not in logged:
        raise bad(
            f"{full_day(day)} is not the day logged, {full_day(logged[0])}",
            "correct the cell, or take the logged order back with 'tracker undo' (tracker diary shows its number)",
        )
    if not logged:
        yield Fact(on=day, kind="ordered", logged=today, job=job)


def promised(job: str, day: date, plan: Plan, today: date) -> Iterator[Fact]:
    """A promise given today, unless that day was promised before: an old sheet brings no old promise back."""
    if not any(fact.kind == "promised" and fact.day == day for fact in plan.facts_by_job.get(job, ())):
        yield Fact(on=today, kind="promised", logged=today, job=job, day=day)


def noted(job: str, note: str, plan: Plan, today: date) -> Iterator[Fact]:
    """A note on a job, unless it is logged already."""
    if note and not any(fact.kind == "note" and fact.note == note for fact in plan.facts_by_job.get(job, ())):
        yield Fact(on=today, kind="note", logged=today, job=job, note=note)


def status_told(coded: Coded, plan: Plan, today: date) -> Iterator[str]:
    """What status columns say of jobs that nothing was logged about: told, since state comes from what is logged."""
    said: dict[str, dict[str, list[str]]] = {}
    for code, (row, _) in coded.items():
        if any(fact.kind in _HAPPENED for fact in plan.facts_by_job.get(code, ())):
            continue
        for at in row.columns.get("status", ()):
            words = " ".join(text_of(row.cells[at]).split())
            if words:
                said.setdefault(row.place.column(at), {}).setdefault(words, []).append(code)
    for column, by_words in said.items():
        yield f"{column} is read back, not stored: {'; '.join(starmap(_some, by_words.items()))}"
    if said:
        first = next(code for by_words in said.values() for codes in by_words.values() for code in codes)
        day = f"{today.day}{today:%b}".lower()
        yield f"log what has happened so far, such as: tracker started {first} on {day} (or ordered, made, in, finished)"


def _some(words: str, codes: list[str]) -> str:
    """The words and the first jobs they stand for."""
    more = f" and {len(codes) - _MOST_NAMED} more" if len(codes) > _MOST_NAMED else ""
    return f"{in_quotes(words)} {', '.join(codes[:_MOST_NAMED])}{more}"
