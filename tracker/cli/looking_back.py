"""Carrying out ``moved``: what the diary did to the shipments between two days."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from tracker.cli.as_known import entries_then
from tracker.cli.session import loaded_plan, put_view, session, status_date
from tracker.errors import UsageError
from tracker.explain.moved import movement
from tracker.explain.steps import Changed
from tracker.plan.day_text import full_day
from tracker.plan.model import Plan
from tracker.planfile.difference import difference
from tracker.render.moved_text import write_moved
from tracker.report.moved import Moved, moved_report
from tracker.store.database import reading
from tracker.store.load import has_plan, load_plan
from tracker.store.replay import Replay, read_replay
from tracker.words.dates import DateReader

A_WEEK = timedelta(days=7)


def show_moved(span: Sequence[str], today: str, *, everything: bool, as_json: bool) -> None:
    """The movement of every shipment."""
    with reading(session.open()) as connection:
        plan = loaded_plan(load_plan(connection) if has_plan(connection) else None)
        replay = read_replay(connection)
    day = status_date(plan, today)
    since, until = _span(span, plan, day)
    told = since_told(replay, plan, by=until, today=until)
    begin = told if since is None else since_day(replay, since)
    count = entries_then(replay, plan, until)
    view = moved_between(replay, begin, count, today=day, until=until, everything=everything)
    put_view(view, lambda paper: write_moved(view, paper), as_json=as_json)


@dataclass(frozen=True, slots=True)
class Beginning:
    """Where a look back begins: after so many entries, as seen on the evening of a day; ``told`` where backers were told then.

    ``since`` is the first day whose entries count, or the day of the telling.
    """

    count: int
    evening: date
    since: date
    told: bool = False


def since_day(replay: Replay, day: date) -> Beginning:
    """From the evening before a day, so that what is printed that evening is where it begins."""
    evening = day - timedelta(days=1)
    return Beginning(replay.entries_by(evening), evening, day)


def since_told(replay: Replay, plan: Plan, *, by: date, today: date) -> Beginning:
    """From when backers were last told something, on ``by`` or before; where nothing was told yet, from a week ago."""
    told = last_told(plan, by)
    return (
        since_day(replay, today - A_WEEK)
        if told is None
        else Beginning(replay.entries_told(told), told, told, told=True)
    )


def moved_between(
    replay: Replay, begin: Beginning, count: int, *, today: date, until: date, everything: bool = False
) -> Moved:
    """Go through the diary up to its first ``count`` entries and the day ``until``."""
    first = replay.plan_after(begin.count)
    entries = entries_between(replay, begin.count, max(begin.count, count))
    return moved_report(
        movement(first, begin.evening.toordinal(), entries, until.toordinal()),
        _changes,
        today=today,
        since=begin.since,
        until=until,
        since_told=begin.told,
        everything=everything,
    )


def last_told(plan: Plan, today: date) -> date | None:
    """The day on which backers were last told anything of a shipment; None where nothing was told yet."""
    days = (told.on for shipment in plan.shipments for told in plan.told_of(shipment, today))
    return max(days, default=None)


def entries_between(replay: Replay, start: int, end: int) -> Iterator[Changed]:
    """The entries after the first ``start`` of them up to the first ``end``, with the plan before and after each."""
    before = replay.plan_after(start)
    for place in range(start, end):
        after = replay.plan_after(place + 1)
        yield Changed(replay.entries[place], before, after)
        before = after


def _changes(before: Plan | None, after: Plan | None) -> tuple[str, ...]:
    return () if after is None else tuple(str(one) for one in difference(before, after))


def _span(words: Sequence[str], plan: Plan, today: date) -> tuple[date | None, date]:
    """The days after ``since`` and ``until``; both look back."""
    reader = DateReader(today=today, order=plan.run.dates, earliest=plan.run.start)
    found: dict[str, date] = {}
    place = 0
    while place < len(words):
        word = words[place].lower().lstrip("-")
        if word not in ("since", "until") or word in found:
            raise UsageError(
                f"'{words[place]}' has no place in 'moved'",
                hint="for example: tracker moved since 16oct until fri",
            )
        read = reader.read(words, place + 1, "back") if place + 1 < len(words) else None
        if read is None:
            typed = f", found '{words[place + 1]}'" if place + 1 < len(words) else ""
            raise UsageError(
                f"{word} needs a date after it{typed}", hint=f"for example: tracker moved {word} 16oct"
            )
        found[word] = read[0]
        place += 1 + read[1]
    until = found.get("until", today)
    if until > today:
        raise UsageError(
            f"{full_day(until)} is after today, {full_day(today)}", hint="moved looks back: leave 'until' out"
        )
    since = found.get("since")
    if since is not None and since > until:
        raise UsageError(
            f"since {full_day(since)} is after {full_day(until)}", hint="name the earlier day after 'since'"
        )
    return since, until
