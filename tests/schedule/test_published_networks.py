"""Networks from textbooks and course notes, through the public functions; sources stand beside the data."""

import pytest

from tests.build import MONDAY, plan
from tests.schedule.published import NETWORKS, Network
from tests.schedule.published_drags import DRAGS, Drags
from tracker.plan.model import Plan
from tracker.schedule.forecast import Forecast
from tracker.schedule.holders import holding
from tracker.schedule.what_if import drags

DAY_0 = MONDAY.toordinal()


def _plan(rows) -> Plan:
    """Rows as a plan: in-house, every day worked, calendar days, one shipment after all last jobs."""
    jobs = " ".join(f"{row[0]}:{row[1]}" for row in rows)
    links = []
    for code, _, before, *_ in rows:
        for word in before.split():
            sign = ">>" if word.startswith(">>") else ">"
            name, _, lag = word.removeprefix(">>").partition("+")
            links.append(f"{name}{sign}{code}" + (f"+{lag}" if lag else ""))
    return plan(f"{jobs} | {' '.join(links)}")


def _names(cases):
    return [pytest.param(case, id=case.name) for case in cases]


@pytest.fixture(params=_names(NETWORKS))
def network(request) -> Network:
    return request.param


@pytest.fixture
def forecast(network) -> Forecast:
    return Forecast(_plan(network.rows), MONDAY)


def test_the_length_of_the_whole_is_as_published(network, forecast):
    assert forecast.ship_date == DAY_0 + network.duration - 1


def test_early_dates_late_dates_and_floats_are_as_published(network, forecast):
    found = []
    for code, length, before, *_ in network.rows:
        lot = forecast.lot_of(code)
        start, ready = forecast.times.start[lot] - DAY_0, forecast.times.finish[lot] - DAY_0 + 1
        late_start, late_ready = forecast.limits.start[lot] - DAY_0, forecast.limits.finish[lot] - DAY_0 + 1
        total, free = forecast.slack(lot).total_float, forecast.free_float(lot)
        found.append((code, length, before, start, ready, late_start, late_ready, total, free))
    assert tuple(found) == network.rows


def test_jobs_without_float_are_the_published_critical_ones(network, forecast):
    codes = [row[0] for row in network.rows]
    without = {code for code in codes if forecast.slack(forecast.lot_of(code)).total_float == 0}
    assert without == set(network.critical.split())


def test_holding_chains_are_the_published_ones(network, forecast):
    found = holding(forecast, "wave-1")
    assert set(found.jobs) == set(network.critical.split())
    if network.chains:
        assert {" ".join(chain) for chain in found.chains()} == set(network.chains)


@pytest.mark.parametrize("case", _names(DRAGS))
def test_drag_is_as_published(case: Drags):
    forecast = Forecast(_plan(case.jobs), MONDAY)
    found = {code: drags(forecast, forecast.lot_of(code))["wave-1"] for code, _, _ in case.jobs}
    assert found == {code: case.drag.get(code, 0) for code, _, _ in case.jobs}


@pytest.mark.parametrize("case", _names([case for case in DRAGS if case.total_float]))
def test_floats_of_jobs_beside_the_chain_are_as_published(case: Drags):
    forecast = Forecast(_plan(case.jobs), MONDAY)
    found = {code: forecast.slack(forecast.lot_of(code)).total_float for code in case.total_float}
    assert found == case.total_float
