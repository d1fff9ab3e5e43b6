"""Loading what backers hear of: the plan as known on the status date, and the news since they were last told."""

from dataclasses import dataclass
from datetime import timedelta

from tracker.cli.as_known import entries_then
from tracker.cli.loading import entries_of
from tracker.cli.looking_back import moved_between, since_told
from tracker.cli.session import loaded_plan, session, status_date
from tracker.report.news import News, facts_after
from tracker.report.picture import Picture
from tracker.schedule.forecast import Forecast
from tracker.store.database import reading
from tracker.store.load import has_plan, load_plan
from tracker.store.replay import read_replay

A_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Telling:
    """The picture on the status date, and the news."""

    picture: Picture
    news: News


def load_telling(today: str) -> Telling:
    """Load the plan as its diary had it on the status date, and look back to when backers were last told.

    What is told on the status date itself is part of the news, not the end of it.
    """
    with reading(session.open()) as connection:
        stored = loaded_plan(load_plan(connection) if has_plan(connection) else None)
        replay = read_replay(connection)
        day = status_date(stored, today)
        begin = since_told(replay, stored, by=day - A_DAY, today=day)
        count = entries_then(replay, stored, day)
        moved = moved_between(replay, begin, count, today=day, until=day)
        known = replay.plan_after(max(begin.count, count))
        plan = loaded_plan(known or replay.plan_after(len(replay.entries)))
        entries = entries_of(connection, replay)
    last = replay.entries[begin.count - 1].number if begin.count else 0
    facts = facts_after(plan, entries, last, day)
    news = News(since=begin.since, told=begin.told, facts=facts, moved=moved)
    return Telling(Picture(Forecast(plan, day)), news)
