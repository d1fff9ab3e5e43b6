"""The plan as it was known on a day: its diary gone through up to that evening."""

from datetime import date
from typing import TYPE_CHECKING

from tracker.cli.session import loaded_plan, own_today, say, status_date
from tracker.errors import Refused, UsageError
from tracker.plan.day_text import full_day
from tracker.plan.model import Plan
from tracker.store.replay import Replay, read_replay
from tracker.words.dates import DateReader

if TYPE_CHECKING:
    from sqlalchemy import Connection


def gone_back(connection: "Connection", newest: Plan | None, known: str) -> tuple[Plan, Replay, date]:
    """The plan as all entries made up to and on the day typed left it, the diary gone so far, and that day.

    Raises
    ------
    Refused
        If there was none yet.
    UsageError
        If the day lies ahead.
    """
    replay = read_replay(connection)
    day = day_back(known, newest)
    count = entries_then(replay, newest, day)
    plan = replay.plan_after(count)
    if plan is None:
        loaded_plan(newest)
        began = f"the first entry was made on {full_day(replay.entries[0].day)}"
        raise Refused(
            f"nothing was known on {full_day(day)}: {began}",
            hint="name a later day; 'tracker diary --all' has every entry's",
        )
    say(f"as known on {full_day(day)}: {count} of {len(replay.entries)} entries")
    return plan, replay, day


def entries_then(replay: Replay, newest: Plan | None, day: date) -> int:
    """How many entries count up to a day: those made by then; all of them on the run's own today.

    An entry may have been made ahead of today, and then all that came after it counts from that day.
    """
    return len(replay.entries) if day == own_today(newest) else replay.entries_by(day)


def day_back(text: str, plan: Plan | None) -> date:
    """A day typed that has come by the status date."""
    today = status_date(plan, "")
    day = DateReader(today=today, order=plan.run.dates if plan else None).whole(text, "back")
    if day > today:
        raise UsageError(
            f"{full_day(day)} is after today, {full_day(today)}",
            hint="--as-known looks back: name an earlier day",
        )
    return day
