"""The engine against a slow oracle written from the rules, and against longest paths of a graph library."""

import networkx as nx
import pytest

from tests.schedule.oracle import Oracle
from tests.schedule.random_plans import START, random_plan
from tracker.schedule.forecast import Forecast


def _compare(seed, plan, today):
    forecast, oracle = Forecast(plan, today), Oracle(plan, today)
    for job in plan.jobs:
        lot = forecast.lot_of(job.code)
        times, expected = forecast.times, oracle.dates(job.code)
        facts = [f for f in plan.facts if f.job == job.code]
        shown = (times.finish[lot], times.arrive[lot])
        assert shown == (expected.finish, expected.arrive), (seed, job, facts)
        if not any(f.kind in ("promised", "in", "finished", "made", "left") for f in facts):
            assert times.start[lot] == expected.start, (seed, job, facts)
    for shipment in plan.shipments:
        assert forecast.shipment_dates[shipment.code] == oracle.shipment(shipment.code)


@pytest.mark.parametrize("batch", range(20))
def test_dates_agree_with_stepping_day_by_day(batch):
    for seed in range(batch * 40, batch * 40 + 40):
        _compare(seed, *random_plan(seed))


@pytest.mark.parametrize("batch", range(10))
def test_dates_agree_with_start_to_start_and_finish_to_finish_links(batch):
    for seed in range(batch * 40, batch * 40 + 40):
        _compare(seed, *random_plan(seed, facts=False, special=True))


@pytest.mark.parametrize("seed", range(100))
def test_the_ship_date_is_the_longest_path(seed):
    plan, _ = random_plan(seed, jobs=30, plain=True, facts=False)
    graph = nx.DiGraph()
    for job in plan.jobs:
        graph.add_edge(job.code, "end", weight=job.lead.planned)
        graph.add_edges_from(
            (link.job, job.code, {"weight": plan.job_by_code[link.job].lead.planned}) for link in job.after
        )
    forecast = Forecast(plan, START)
    assert max(forecast.times.arrive) == START.toordinal() + nx.dag_longest_path_length(graph) - 1
