"""What must hold for any plan: floats, limits, drags, chains, and that bad news never makes anything earlier."""

import random
from dataclasses import replace
from datetime import timedelta
from itertools import pairwise

import pytest

from tests.schedule.random_plans import START, random_plan
from tracker.plan.model import Closure, Fact, Link
from tracker.plan.span import Lead
from tracker.schedule.forecast import Forecast
from tracker.schedule.holders import holding, what_sets
from tracker.schedule.network import Fixed
from tracker.schedule.reason import Reason
from tracker.schedule.what_if import dates_if_finished, dates_if_here, drags, gains_if_arrived

SEEDS = range(150)
STARTING = ("run start", "not before", "today", "clock", "day 1", "paused", "after failure", "second attempt")
every_seed = pytest.mark.parametrize("seed", SEEDS)


def _own(forecast, lot, after, count):
    """The ``count``-th own day of the lot after a day."""
    calendar = forecast.network.calendar[lot]
    return calendar.add(after, count) if calendar else after + count


def _slipped(forecast, lot, finish):
    """A full second forecast with the lot's finish forced."""
    network = forecast.network
    leaves = network.extra[lot].leaves if network.extra[lot] else None
    if network.fixed[lot] is None:
        forced = replace(
            network, floor=list(network.floor), lead=list(network.lead), calendar=list(network.calendar)
        )
        forced.floor[lot], forced.lead[lot], forced.calendar[lot] = finish + 1, 0, None
        return Forecast.of_network(forced)
    fixed = list(network.fixed)
    door = max(finish, leaves.day) if leaves and network.progress[lot].promise is None else finish
    calendar = network.extra[lot].travel if network.extra[lot] else None
    travel = network.travel[lot]
    arrive = calendar.add(door, travel) if calendar else door + travel
    arrive = max(arrive, fixed[lot].arrive)
    fixed[lot] = Fixed(fixed[lot].start, finish, arrive, Reason(kind="promise", day=arrive))
    return Forecast.of_network(replace(network, fixed=fixed))


def _moved(before, after):
    return {
        code for code in before.open_shipments if before.shipment_dates[code] != after.shipment_dates[code]
    }


def _open_with_slack(forecast):
    for lot in range(len(forecast.network.jobs)):
        slack = forecast.slack(lot)
        if slack is not None:
            yield lot, slack


@every_seed
def test_a_slip_by_the_float_moves_no_shipment_and_by_one_more_moves_one(seed):
    forecast = Forecast(*random_plan(seed))
    for lot, slack in _open_with_slack(forecast):
        finish = forecast.times.finish[lot]
        harmless = _own(forecast, lot, finish, slack.total_float)
        assert harmless == max(finish, slack.harmless_until)
        assert _moved(forecast, _slipped(forecast, lot, slack.late_finish)) == set()
        assert _moved(forecast, _slipped(forecast, lot, harmless)) == set()
        assert _moved(forecast, _slipped(forecast, lot, _own(forecast, lot, finish, slack.total_float + 1)))
        assert slack.spare_days == slack.late_finish - finish >= 0


@every_seed
def test_float_against_one_shipment_is_exact_for_that_shipment(seed):
    forecast = Forecast(*random_plan(seed))
    for lot in range(len(forecast.network.jobs)):
        for code in forecast.open_shipments:
            slack = forecast.slack(lot, code)
            if slack is not None:
                assert code not in _moved(forecast, _slipped(forecast, lot, slack.late_finish))
                assert code in _moved(forecast, _slipped(forecast, lot, slack.late_finish + 1))


@every_seed
def test_free_float_is_the_slip_that_moves_no_followers_start(seed):
    forecast = Forecast(*random_plan(seed, special=seed % 2 == 1, facts=seed % 2 == 0))
    network, times = forecast.network, forecast.times
    for lot in range(len(network.jobs)):
        free = forecast.free_float(lot)
        if free is None or any(network.special[other] for other in _followers(forecast, lot)):
            continue
        followers = [other for other in _followers(forecast, lot) if network.fixed[other] is None]
        ends = {code for code in forecast.open_shipments if lot in network.shipments[code]}
        for slip, moves in ((free, False), (free + 1, True)):
            after = _slipped(forecast, lot, _own(forecast, lot, times.finish[lot], slip))
            started_later = any(after.times.start[other] != times.start[other] for other in followers)
            assert moves == (started_later or bool(ends & _moved(forecast, after)))


def _followers(forecast, lot):
    return [other for other in range(len(forecast.network.jobs)) if lot in forecast.waits_for(other)]


@every_seed
def test_starting_on_the_latest_day_moves_no_shipment_and_a_day_later_moves_one(seed):
    """The order or payment behind it is due the day before that."""
    forecast = Forecast(*random_plan(seed, facts=False))
    for lot in range(len(forecast.network.jobs)):
        latest = forecast.latest_day1(lot)
        if latest is None:
            continue
        for day, moves in ((latest, False), (latest + 1, True)):
            floor = list(forecast.network.floor)
            floor[lot] = max(day, floor[lot])
            after = Forecast.of_network(replace(forecast.network, floor=floor))
            assert bool(_moved(forecast, after)) == moves


@every_seed
def test_dates_if_finished_agree_with_a_whole_new_forecast(seed):
    forecast = Forecast(*random_plan(seed))
    rng = random.Random(seed)
    asked = {lot: forecast.times.finish[lot] + rng.randint(0, 25) for lot, _ in _open_with_slack(forecast)}
    found = dates_if_finished(forecast, asked)
    for lot, ready in asked.items():
        expected = _slipped(forecast, lot, ready).shipment_dates
        assert found[lot] == {code: expected[code] for code in forecast.open_shipments}


@every_seed
def test_dates_if_here_agree_with_a_whole_new_forecast(seed):
    forecast = Forecast(*random_plan(seed, special=seed % 3 == 0))
    rng = random.Random(seed)
    asked = {lot: forecast.times.arrive[lot] + rng.randint(0, 25) for lot, _ in _open_with_slack(forecast)}
    found = dates_if_here(forecast, asked)
    for lot, evening in asked.items():
        gained = gains_if_arrived(forecast, {lot: evening})
        assert found[lot] == {code: forecast.shipment_dates[code] - gain for code, gain in gained.items()}


@every_seed
def test_slipping_whole_agrees_with_a_later_start_under_special_links(seed):
    plan, today = random_plan(seed, facts=False, special=True)
    forecast = Forecast(plan, today)
    for lot, slack in _open_with_slack(forecast):
        links = forecast.network.special[lot] or ()
        if any(link.kind == "finish-finish" for link in links) or not forecast.network.lead[lot]:
            continue
        for slip in (slack.total_float, slack.total_float + 1, slack.total_float + 7):
            floor = list(forecast.network.floor)
            floor[lot] = max(floor[lot], _own(forecast, lot, forecast.times.start[lot], slip))
            after = Forecast.of_network(replace(forecast.network, floor=floor))
            if after.times.finish[lot] != _own(forecast, lot, forecast.times.finish[lot], slip):
                continue  # already past its day, so its start and its finish do not slip as one
            assert bool(_moved(forecast, after)) == (slip > slack.total_float)
            found = dates_if_finished(forecast, {lot: after.times.finish[lot]})[lot]
            assert found == {code: after.shipment_dates[code] for code in forecast.open_shipments}


def _dates(plan, today):
    return Forecast(plan, today).shipment_dates


def _none_earlier(before, after):
    assert all(after[code] >= before[code] for code in before)


@every_seed
def test_another_link_makes_nothing_earlier(seed):
    plan, today = random_plan(seed)
    before, after = sorted(random.Random(seed).sample(range(len(plan.jobs)), 2))
    job = plan.jobs[after]
    linked = replace(job, after=(*job.after, Link(job=plan.jobs[before].code)))
    more = replace(plan, jobs=tuple(linked if one is job else one for one in plan.jobs))
    _none_earlier(_dates(plan, today), _dates(more, today))


@every_seed
def test_a_longer_lead_makes_nothing_earlier(seed):
    plan, today = random_plan(seed)
    job = random.Random(seed).choice(plan.jobs)
    lead = job.lead.planned
    longer = replace(job, lead=Lead(lead + 2, lead + 2, lead + 2, job.lead.unit))
    more = replace(plan, jobs=tuple(longer if one is job else one for one in plan.jobs))
    _none_earlier(_dates(plan, today), _dates(more, today))


@every_seed
def test_more_closures_make_nothing_earlier(seed):
    plan, today = random_plan(seed)
    first = START + timedelta(days=seed % 80)
    shut = Closure(first=first, last=first + timedelta(days=seed % 5))
    suppliers = tuple(
        replace(
            one,
            closures=(*one.closures, shut),
            opens=tuple(d for d in one.opens if not first <= d <= shut.last),
        )
        for one in plan.suppliers
    )
    _none_earlier(_dates(plan, today), _dates(replace(plan, suppliers=suppliers), today))


@every_seed
def test_a_day_without_news_makes_no_shipment_earlier(seed):
    plan, today = random_plan(seed)
    dates = _dates(plan, today)
    for days in range(1, 15):
        later = _dates(plan, today + timedelta(days=days))
        _none_earlier(dates, later)
        dates = later


@every_seed
def test_the_order_of_jobs_in_the_plan_changes_nothing(seed):
    plan, today = random_plan(seed, special=True)
    jobs, suppliers = list(plan.jobs), list(plan.suppliers)
    random.Random(seed).shuffle(jobs)
    random.Random(seed).shuffle(suppliers)
    shuffled = replace(plan, jobs=tuple(jobs), suppliers=tuple(suppliers))
    one, other = Forecast(plan, today), Forecast(shuffled, today)
    assert one.shipment_dates == other.shipment_dates
    for job in plan.jobs:
        a, b = one.lot_of(job.code), other.lot_of(job.code)
        assert one.times.finish[a] == other.times.finish[b]
        assert one.slack(a) == other.slack(b)
        assert one.free_float(a) == other.free_float(b)
    for code in one.open_shipments:
        assert holding(one, code).path == holding(other, code).path
        assert set(holding(one, code).chains()) == set(holding(other, code).chains())


@every_seed
def test_same_input_same_output(seed):
    one, other = (Forecast(*random_plan(seed, special=True)) for _ in range(2))
    assert (one.times, one.limits, one.shipment_dates) == (other.times, other.limits, other.shipment_dates)


@every_seed
def test_drag_is_never_negative(seed):
    forecast = Forecast(*random_plan(seed))
    for lot in range(len(forecast.network.jobs)):
        assert all(days >= 0 for days in drags(forecast, lot).values())


@every_seed
def test_without_calendars_drag_is_the_gain_of_lead_0_and_none_with_float(seed):
    plan, _ = random_plan(seed, plain=True, facts=False, jobs=15)
    forecast = Forecast(plan, START)
    for lot, job in enumerate(plan.jobs):
        short = replace(job, lead=Lead(0, 0, 0, "cd"))
        again = _dates(replace(plan, jobs=tuple(short if one is job else one for one in plan.jobs)), START)
        found = drags(forecast, lot)
        assert found == {code: day - again[code] for code, day in forecast.shipment_dates.items()}
        for code in forecast.open_shipments:
            slack = forecast.slack(lot, code)
            if slack is None or slack.total_float:
                assert found[code] == 0


@every_seed
def test_arriving_when_it_does_gains_nothing_and_earlier_never_costs(seed):
    forecast = Forecast(*random_plan(seed))
    for lot in range(len(forecast.network.jobs)):
        if forecast.is_open(lot):
            arrive = forecast.times.arrive[lot]
            assert set(gains_if_arrived(forecast, {lot: arrive}).values()) <= {0}
            assert all(gain >= 0 for gain in gains_if_arrived(forecast, {lot: arrive - 9}).values())


@every_seed
def test_every_chain_links_by_dates_that_hold_and_begins_with_a_reason(seed):
    forecast = Forecast(*random_plan(seed, special=seed % 3 == 0))
    network, times = forecast.network, forecast.times
    for code in forecast.open_shipments:
        found = holding(forecast, code)
        begins = {begin.job: begin.reasons for begin in found.begins}
        assert found.path in set(found.chains())
        for chain in found.chains():
            lots = [network.index[job] for job in chain]
            assert times.arrive[lots[-1]] == forecast.shipment_dates[code]
            assert begins[chain[0]]
            for before, after in pairwise(lots):
                assert before in forecast.waits_for(after)
                assert network.fixed[after] is None
                if before in network.plain[after]:
                    calendar = network.calendar[after]
                    first = times.arrive[before] + 1
                    assert (calendar.snap(first) if calendar else first) == times.start[after]


@every_seed
def test_every_lot_has_lots_or_reasons_that_set_its_dates(seed):
    forecast = Forecast(*random_plan(seed, special=True, facts=seed % 2 == 0))
    for lot in range(len(forecast.network.jobs)):
        assert any(what_sets(forecast, lot))


@every_seed
def test_a_shipment_is_tied_where_more_than_one_chain_sets_its_date(seed):
    forecast = Forecast(*random_plan(seed, special=seed % 3 == 0))
    for code in forecast.open_shipments:
        found = holding(forecast, code)
        assert found.tied is (len(set(found.chains())) > 1)
        owed = {begin.job for begin in found.begins if any(reason.owed_by for reason in begin.reasons)}
        assert not owed or found.path[0] in owed


@every_seed
def test_a_starting_reason_gives_the_start_it_begins(seed):
    forecast = Forecast(*random_plan(seed))
    for code in forecast.open_shipments:
        for begin in holding(forecast, code).begins:
            lot = forecast.lot_of(begin.job)
            calendar, start = forecast.network.calendar[lot], forecast.times.start[lot]
            for reason in begin.reasons:
                if reason.kind in STARTING and forecast.network.lead[lot]:
                    assert (calendar.snap(reason.day) if calendar else reason.day) == start


@every_seed
def test_facts_of_tomorrow_change_nothing_today(seed):
    plan, today = random_plan(seed)
    future = Fact(
        on=today + timedelta(days=1), logged=today + timedelta(days=1), kind="in", job=plan.jobs[0].code
    )
    assert _dates(replace(plan, facts=(*plan.facts, future)), today) == _dates(plan, today)


@every_seed
def test_the_first_plan_is_what_comes_when_nothing_is_logged_and_everybody_may_begin(seed):
    plan, _ = random_plan(seed, facts=False, special=seed % 2 == 0)
    bench = tuple(replace(supplier, inhouse=True) for supplier in plan.suppliers)
    free = tuple(replace(job, clock=(), leave_when=()) for job in plan.jobs)
    first = Forecast(plan, START, as_planned=True)
    assert first.shipment_dates == _dates(replace(plan, suppliers=bench, jobs=free), START)
