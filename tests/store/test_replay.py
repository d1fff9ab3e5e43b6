"""The plan rebuilt from the diary is the plan that was stored, after every entry."""

from dataclasses import replace
from datetime import date, timedelta
from tempfile import TemporaryDirectory

import pytest

from tests.random_diaries import random_diary
from tests.store.conftest import MONDAY
from tracker.plan.model import Fact
from tracker.plan.span import Lead
from tracker.store.database import reading
from tracker.store.load import fact_entries, load_plan
from tracker.store.replay import read_replay


def replayed(store):
    with reading(store) as connection:
        return read_replay(connection)


@pytest.mark.parametrize("parts", [False, True])
@pytest.mark.parametrize("seed", range(30))
def test_replay_gives_the_stored_plan_after_every_entry(seed, parts):
    with TemporaryDirectory() as folder:
        diary = random_diary(seed, folder, parts=parts)
        with reading(diary.store) as connection:
            replay, stored, entries = read_replay(connection), load_plan(connection), fact_entries(connection)
        assert [replay.plan_after(place + 1) for place in range(len(diary.plans))] == diary.plans
        assert replay.plan_after(len(replay.entries)) == stored
        assert replay.fact_entries() == entries


@pytest.mark.parametrize("seed", range(10))
def test_stops_may_be_left_out(seed):
    with TemporaryDirectory() as folder:
        diary = random_diary(seed, folder)
        replay = replayed(diary.store)
        for place in range(0, len(diary.plans), 5):
            assert replay.plan_after(place + 1) == diary.plans[place]


def test_before_the_run_was_entered_there_is_no_plan(store, keep, plan):
    keep(plan, day=MONDAY)
    replay = replayed(store)
    assert replay.plan_after(replay.entries_by(MONDAY - timedelta(days=1))) is None
    assert replay.plan_after(replay.entries_by(MONDAY)) == plan


def test_a_fact_entered_late_counts_from_its_entry_day(store, keep, plan):
    later = MONDAY + timedelta(days=3)
    fact = Fact(on=MONDAY, logged=later, kind="finished", job="housing")
    keep(plan, day=MONDAY)
    keep(replace(plan, facts=(fact,)), "finished housing on mon", day=later)
    replay = replayed(store)
    assert replay.plan_after(replay.entries_by(later - timedelta(days=1))) == plan
    assert replay.plan_after(replay.entries_by(later)).facts == (fact,)


def test_pieces_an_entry_leaves_alone_stay_the_same_objects(store, keep, plan):
    longer = replace(plan, run=replace(plan.run, quantity=120))
    keep(plan)
    keep(longer, "set run quantity=120")
    replay = replayed(store)
    before, after = replay.plan_after(1), replay.plan_after(2)
    assert after == longer
    assert after.jobs is before.jobs
    assert after.suppliers is before.suppliers


def test_rows_older_than_a_column_have_its_default(store, keep, plan):
    """The diary keeps rows as they were; a column that came later is filled in as the database would."""
    keep(plan)
    with reading(store) as connection:
        replay = read_replay(connection)
    young = {"yields", "lots", "one_by_one", "rerun", "rework_of", "unders", "overs"}
    aged = [
        replace(
            entry,
            changes=tuple(
                replace(one, after={name: cell for name, cell in one.after.items() if name not in young})
                for one in entry.changes
            ),
        )
        for entry in replay.entries
    ]
    assert type(replay)(aged).plan_after(1) == plan


def test_what_was_told_is_found_by_its_entry(store, keep, plan):
    told = Fact(on=MONDAY, logged=MONDAY, kind="told", shipment="wave-1", day=date(2026, 4, 1))
    keep(plan)
    keep(replace(plan, facts=(told,)), "told wave-1 1apr")
    jobs = tuple(replace(job, lead=Lead(9, 9, 9, "wd")) for job in plan.jobs)
    keep(replace(plan, jobs=jobs, facts=(told,)), "set housing lead=9wd")
    replay = replayed(store)
    assert replay.entries_told(MONDAY) == 2
    assert replay.entries_told(MONDAY + timedelta(days=1)) == 3
