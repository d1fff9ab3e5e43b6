"""What must hold for any plan that counts pieces: sums of pieces, inputs before work, bad news, order of entries."""

import random
from collections import defaultdict
from dataclasses import replace

import pytest

from tests.schedule.random_material import random_material
from tests.schedule.random_plans import START
from tracker.schedule.forecast import Forecast
from tracker.schedule.passes import forward

SEEDS = range(200)
every_seed = pytest.mark.parametrize("seed", SEEDS)


def _dates(plan, today):
    return Forecast(plan, today).shipment_dates


@every_seed
def test_what_is_drawn_and_what_is_left_over_come_to_all_that_comes(seed):
    network = Forecast(*random_material(seed)).network
    for stock in network.stocks.values():
        came = sum(entry.amount for entry in stock.entries)
        assert sum(draw.covered for draw in stock.draws) + stock.left_over == came
        assert all(0 <= draw.covered <= draw.amount for draw in stock.draws)
        assert stock.left_over >= 0
        met = [draw.covered == draw.amount for draw in stock.draws if draw.amount]
        assert met == sorted(met, reverse=True), "a later draw is met before an earlier one"


@every_seed
def test_every_shipment_is_covered_where_somebody_makes_what_is_short(seed):
    network = Forecast(*random_material(seed)).network
    for stock in network.stocks.values():
        for draw in stock.draws:
            assert draw.covered == draw.amount or draw.priority >= network.demand.spare


@every_seed
def test_no_lot_begins_before_its_inputs_are_there(seed):
    forecast = Forecast(*random_material(seed))
    network, times = forecast.network, forecast.times
    for stock in network.stocks.values():
        arrive, room = iter(sorted((e.arrive, e.amount) for e in stock.entries)), 0
        evening = None
        for draw in stock.draws:
            wanted = draw.covered
            while wanted > room:
                wanted -= room
                evening, room = next(arrive)
            room -= wanted
            lot = draw.lot
            if lot is None or network.fixed[lot] is not None or draw.covered < draw.amount:
                continue
            if (draw.priority, draw.name) in {segment[:2] for segment in network.lots[lot].segments}:
                assert times.start[lot] > evening


@every_seed
def test_lots_and_what_is_not_made_come_to_all_that_is_put_in(seed):
    plan, today = random_material(seed)
    network = Forecast(plan, today).network
    for code, need in network.demand.jobs.items():
        open_pieces = sum(number for _, _, number in (*need.remaining, *need.rerun))
        lots = [network.lots[place] for place in network.lots_of.get(code, ())]
        made = sum(lot.pieces for lot in lots if lot.kind not in ("received", "rework"))
        not_made = sum(number for job, _, _, number in network.unmade if job == code)
        assert made + not_made == open_pieces
        came = [fact for fact in plan.facts if fact.job == code and fact.kind == "in"]
        at_home = plan.supplier_by_code[need.job.supplier].inhouse
        if not (at_home and any(fact.kind == "made" for fact in plan.facts if fact.job == code)):
            assert sum(lot.pieces for lot in lots if lot.kind == "received") == sum(f.pieces for f in came)


@every_seed
def test_the_dates_found_are_those_of_a_pass_over_the_finished_network(seed):
    forecast = Forecast(*random_material(seed))
    again = forward(forecast.network)
    assert again == forecast.times
    assert sorted(forecast.network.order) == list(range(len(forecast.network.jobs)))


@every_seed
def test_the_first_plan_is_what_comes_when_nothing_is_logged_and_everybody_may_begin(seed):
    plan, _ = random_material(seed, facts=False)
    bench = tuple(replace(supplier, inhouse=True) for supplier in plan.suppliers)
    untouched = replace(plan, suppliers=bench)
    first = Forecast(plan, START, as_planned=True)
    assert first.shipment_dates == Forecast(untouched, START).shipment_dates
    logged, _ = random_material(seed)
    mended = {job.code for job in logged.jobs if job.rework_of}
    again = Forecast(logged, START, as_planned=True)
    assert again.shipment_dates == first.shipment_dates
    assert mended.isdisjoint(again.network.index)


# bad news


def _one_more_scrapped(plan, rng):
    """The plan with one good piece of a delivery scrapped instead; None where nothing good was delivered."""
    places = [n for n, fact in enumerate(plan.facts) if fact.kind == "in" and fact.good]
    if not places:
        return None
    place = rng.choice(places)
    facts = list(plan.facts)
    worse = facts[place]
    facts[place] = replace(worse, good=worse.good - 1, scrap=(worse.scrap or 0) + 1)
    return replace(plan, facts=tuple(facts))


@pytest.mark.parametrize("seed", range(300))
def test_one_more_reject_makes_no_shipment_earlier(seed):
    """Where quantities are rounded up, or equal lots grow with the need, a larger need may fall into earlier lots.

    And a job that only a link waits for is needed whole, but as far as a shipment draws from it no further.
    """
    plan, today = random_material(seed, rounding=False, counted_lots=False, links=False)
    worse = _one_more_scrapped(plan, random.Random(seed))
    if worse is not None:
        before, after = _dates(plan, today), _dates(worse, today)
        assert all(after[code] >= day for code, day in before.items())


def _engine_view(plan, today):
    """What people see: dates of shipments, and for each job what came and each open lot, joined by day of arrival."""
    forecast = Forecast(plan, today)
    network, times = forecast.network, forecast.times
    joined = defaultdict(lambda: defaultdict(int))
    for place, lot in enumerate(network.lots):
        key = lot.job.code, lot.kind == "received", times.arrive[place]
        joined[key]["pieces"] += lot.pieces
        for part, good in lot.good.items():
            joined[key][part] += good
    return forecast.shipment_dates, {key: dict(found) for key, found in joined.items() if any(found.values())}


def _split(fact):
    """The same delivery in two, each with about half of every count."""
    half = {name: (getattr(fact, name) or 0) // 2 for name in ("good", "rework", "scrap", "count")}
    rest = {name: (getattr(fact, name) or 0) - half[name] for name in half}
    return [replace(fact, closes=False, **half), replace(fact, **rest)] if any(half.values()) else [fact]


@every_seed
def test_a_delivery_split_in_two_on_its_day_changes_no_date_and_no_count(seed):
    plan, today = random_material(seed)
    split = [one for fact in plan.facts for one in (_split(fact) if fact.kind == "in" else [fact])]
    assert _engine_view(replace(plan, facts=tuple(split)), today) == _engine_view(plan, today)


@every_seed
def test_facts_of_tomorrow_and_the_order_of_suppliers_and_parts_change_nothing(seed):
    plan, today = random_material(seed)
    parts, suppliers = list(plan.parts), list(plan.suppliers)
    random.Random(seed).shuffle(parts)
    random.Random(seed).shuffle(suppliers)
    shuffled = replace(plan, parts=tuple(parts), suppliers=tuple(suppliers))
    one, other = Forecast(plan, today), Forecast(shuffled, today)
    assert (one.times, one.shipment_dates) == (other.times, other.shipment_dates)


def _shuffled(plan, rng):
    """Jobs in another order, but for the makers of one part, whose order says who is asked first."""
    jobs = list(plan.jobs)
    rng.shuffle(jobs)
    for makers in plan.makers_of.values():
        places = sorted(jobs.index(job) for job in makers)
        for place, job in zip(places, makers, strict=True):
            jobs[place] = job
    return replace(plan, jobs=tuple(jobs))


@every_seed
def test_the_order_of_jobs_changes_nothing_but_who_is_asked_first_for_a_part(seed):
    plan, today = random_material(seed)
    shuffled = _shuffled(plan, random.Random(seed))
    assert _engine_view(shuffled, today) == _engine_view(plan, today)
    one, other = Forecast(plan, today), Forecast(shuffled, today)
    for job in plan.jobs:
        ours, theirs = one.tightest_lot(job.code), other.tightest_lot(job.code)
        assert (ours is None) == (theirs is None)
        if ours is not None:
            assert one.slack(ours) == other.slack(theirs)


def test_the_random_plans_hold_what_they_are_to_test():
    """Lots of every kind, several makers and takers of a part, pieces set apart or never made, and in sequence."""
    found = defaultdict(int)
    for seed in SEEDS:
        network = Forecast(*random_material(seed)).network
        for kind in {lot.kind for lot in network.lots}:
            found[kind] += 1
        takers = (
            {draw.taker for draw in stock.draws if draw.lot is not None} for stock in network.stocks.values()
        )
        found["several takers"] += any(len(one) > 1 for one in takers)
        found["several makers"] += any(len(makers) > 1 for makers in network.plan.makers_of.values())
        places = network.lots_of.values()
        found["apart"] += any(lots != list(range(lots[0], lots[-1] + 1)) for lots in places)
        found["never made"] += bool(network.unmade)
        found["in sequence"] += bool(network.flow)
        found["rejects"] += any(fact.rework or fact.scrap for fact in network.plan.facts)
        found["mended"] += any(job.rework_of for job in network.jobs)
    kinds = ("received", "on the way", "made", "promised", "to come", "rework", "rerun")
    wanted = ("several takers", "several makers", "apart", "never made", "in sequence", "rejects", "mended")
    assert all(found[name] >= 15 for name in (*kinds, *wanted)), dict(found)
