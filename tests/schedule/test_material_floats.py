"""Floats, what-ifs and chains of lots, against second passes with the shares in stock kept as they were found."""

import random
from dataclasses import replace

import pytest

from tests.schedule.random_material import random_material
from tracker.schedule.forecast import Forecast
from tracker.schedule.holders import holding, what_sets
from tracker.schedule.network import FREE, Fixed, arrival
from tracker.schedule.reason import Reason
from tracker.schedule.what_if import dates_if_finished, drags, gains_if_arrived

every_seed = pytest.mark.parametrize("seed", range(200))


def _slipped(forecast, lot, finish):
    """A second pass with the finish of one lot forced and the shares in stock kept as they were found."""
    network = forecast.network
    known, extra = network.fixed[lot], network.extra[lot]
    arrive = arrival(network, lot, finish)
    if known is not None:
        arrive = max(arrive, known.arrive)
    elif extra is not None:
        arrive = max(arrive, extra.promised or 0)
    fixed = list(network.fixed)
    fixed[lot] = Fixed(forecast.times.start[lot], finish, arrive, Reason(kind="promise", day=arrive))
    return Forecast.of_network(replace(network, fixed=fixed))


def _moved(before, after):
    return {c for c in before.open_shipments if before.shipment_dates[c] != after.shipment_dates[c]}


def _own(forecast, lot, after, count):
    calendar = forecast.network.calendar[lot]
    return calendar.add(after, count) if calendar else after + count


@every_seed
def test_a_lot_may_slip_by_its_float_and_no_further(seed):
    forecast = Forecast(*random_material(seed))
    for lot in range(len(forecast.network.jobs)):
        slack = forecast.slack(lot)
        if slack is None:
            continue
        finish = forecast.times.finish[lot]
        harmless = _own(forecast, lot, finish, slack.total_float)
        assert harmless == slack.harmless_until
        if harmless > finish:
            assert _moved(forecast, _slipped(forecast, lot, harmless)) == set()
        if slack.late_finish > finish:
            assert _moved(forecast, _slipped(forecast, lot, slack.late_finish)) == set()
        assert _moved(forecast, _slipped(forecast, lot, _own(forecast, lot, finish, slack.total_float + 1)))


@every_seed
def test_a_lot_may_slip_by_its_free_float_without_moving_what_comes_after_it(seed):
    """What comes after are lots that draw on it or wait for it, the next of its job, and shipments it is in."""
    forecast = Forecast(*random_material(seed))
    network, times = forecast.network, forecast.times
    for lot in range(len(network.jobs)):
        free = forecast.free_float(lot)
        if free is None:
            continue
        after = [other for other in range(len(network.jobs)) if lot in forecast.waits_for(other)]
        after = [other for other in after if network.fixed[other] is None]
        ends = {code for code in forecast.open_shipments if lot in network.shipments[code]}
        for slip in (free, free + 1):
            later = (
                _slipped(forecast, lot, _own(forecast, lot, times.finish[lot], slip)) if slip else forecast
            )
            moved = any(
                later.times.start[one] != times.start[one] or later.times.ends.get(one) != times.ends.get(one)
                for one in after
            )
            assert (slip > free) == (moved or bool(ends & _moved(forecast, later)))


@every_seed
def test_a_lot_that_can_move_no_shipment_has_no_float_to_tell(seed):
    forecast = Forecast(*random_material(seed))
    for lot in range(len(forecast.network.jobs)):
        if forecast.is_open(lot) and forecast.limits.finish[lot] == FREE:
            assert _moved(forecast, _slipped(forecast, lot, forecast.times.finish[lot] + 300)) == set()


@every_seed
def test_dates_if_a_lot_finished_later_agree_with_a_second_pass(seed):
    forecast = Forecast(*random_material(seed))
    rng = random.Random(seed)
    open_lots = [lot for lot in range(len(forecast.network.jobs)) if forecast.slack(lot) is not None]
    asked = {lot: forecast.times.finish[lot] + rng.randint(1, 25) for lot in open_lots}
    found = dates_if_finished(forecast, asked)
    for lot, ready in asked.items():
        expected = _slipped(forecast, lot, ready).shipment_dates
        assert found[lot] == {code: expected[code] for code in forecast.open_shipments}


@every_seed
def test_drags_are_never_negative_and_arriving_when_it_does_gains_nothing(seed):
    forecast = Forecast(*random_material(seed))
    for code in forecast.network.index:
        lot = forecast.lot_of(code)
        if forecast.is_open(lot):
            assert all(days >= 0 for days in drags(forecast, lot).values())
            assert set(gains_if_arrived(forecast, {lot: forecast.times.arrive[lot]}).values()) <= {0}


@every_seed
def test_beginning_on_the_latest_day_moves_no_shipment_and_a_day_later_moves_one(seed):
    forecast = Forecast(*random_material(seed, facts=False))
    for lot in range(len(forecast.network.jobs)):
        latest = forecast.latest_day1(lot)
        if latest is None:
            continue
        for day, moves in ((latest, False), (latest + 1, True)):
            floor = list(forecast.network.floor)
            floor[lot] = max(day, floor[lot])
            after = Forecast.of_network(replace(forecast.network, floor=floor))
            assert bool(_moved(forecast, after)) == moves


# holders


@every_seed
def test_what_sets_a_lot_is_waited_for_and_comes_just_in_time_for_it(seed):
    forecast = Forecast(*random_material(seed))
    network, times = forecast.network, forecast.times
    for lot in range(len(network.jobs)):
        calendar, (drivers, _) = network.calendar[lot], what_sets(forecast, lot)
        assert set(drivers) <= set(forecast.waits_for(lot))
        for other in drivers if lot not in network.flow else ():
            first = times.arrive[other] + 1
            assert (calendar.snap(first) if calendar else first) == times.start[lot]
        flow = network.flow.get(lot)
        if flow is not None and flow.before in drivers:  # nothing else keeps it from going on at once
            plain = [other for other in network.plain[lot] if times.arrive[other] >= times.start[lot]]
            assert plain == []


@every_seed
def test_every_shipment_has_a_chain_that_begins_with_a_reason(seed):
    forecast = Forecast(*random_material(seed))
    for lot in range(len(forecast.network.jobs)):
        assert any(what_sets(forecast, lot))
    for code in forecast.open_shipments:
        found = holding(forecast, code)
        if found is None:  # all of it is in stock
            assert not forecast.network.shipments[code] or code in forecast.network.part_posted
            continue
        assert found.held_by.reasons
        assert set(found.path) <= set(found.jobs)


@every_seed
def test_the_lot_that_speaks_for_a_job_is_open_wherever_a_shipment_waits_for_one(seed):
    forecast = Forecast(*random_material(seed))
    for code, lot in forecast.network.index.items():
        waits = [one for one in forecast.lots_of(code) if forecast.slack(one) is not None]
        if waits:
            assert forecast.is_open(lot)
