"""Loading the plan that an answer is about: as stored, or as the diary had it on a day that looks back."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tracker.cli.session import loaded_plan, session, status_date
from tracker.plan.model import Plan
from tracker.report.logged import NO_ENTRIES, Entries
from tracker.report.picture import Picture
from tracker.schedule.forecast import Forecast
from tracker.store.database import reading
from tracker.store.load import fact_entries, has_plan, load_plan

if TYPE_CHECKING:
    from sqlalchemy import Connection

    from tracker.store.replay import Replay


@dataclass(frozen=True, slots=True)
class Loaded:
    """A plan, its picture on the status date, and which entries logged its facts where asked for."""

    plan: Plan
    picture: Picture
    entries: Entries = NO_ENTRIES


def load(today: str, *, with_entries: bool = False) -> Loaded:
    """Load the plan and forecast it; with ``--as-known``, as the diary had it on that day and seen then."""
    replay = None
    with reading(session.open()) as connection:
        plan = load_plan(connection) if has_plan(connection) else None
        if session.as_known:
            from tracker.cli.as_known import gone_back

            plan, replay, day = gone_back(connection, plan, session.as_known)
            today = today or day.isoformat()
        entries = entries_of(connection, replay) if with_entries else NO_ENTRIES
    plan = loaded_plan(plan)
    return Loaded(plan, Picture(Forecast(plan, status_date(plan, today))), entries)


def entries_of(connection: "Connection", replay: "Replay | None" = None) -> Entries:
    """Which entries logged and corrected the facts; with ``replay`` as of where it stands."""
    from tracker.store.corrections import corrections

    before = {
        place: tuple((one.entry, one.was) for one in rows)
        for place, rows in corrections(connection, replay).items()
    }
    numbers = fact_entries(connection) if replay is None else replay.fact_entries()
    return Entries(numbers=tuple(numbers), before=before)
