"""The engine against a run simulated day by day, where every piece is handed on by itself."""

import pytest

from tests.schedule.material_oracle import MaterialOracle
from tests.schedule.random_material import random_material
from tracker.schedule.forecast import Forecast


def engine_lots(forecast):
    """Each lot with pieces or good ones: job, pieces, good of each part, last day (not of those received), arrival."""
    network, times = forecast.network, forecast.times
    found = []
    for place, lot in enumerate(network.lots):
        if lot.pieces or any(lot.good.values()):
            good = tuple(sorted((part, number) for part, number in lot.good.items() if number))
            came = lot.kind == "received"
            found.append(
                (
                    lot.job.code,
                    0 if came else lot.pieces,
                    good,
                    0 if came else times.finish[place],
                    times.arrive[place],
                )
            )
    return sorted(found)


def oracle_lots(oracle):
    found = []
    for lots in oracle.lots.values():
        for lot in lots:
            good = tuple(sorted((part, number) for part, number in lot.good.items() if number))
            came = lot.kind == "received"
            pieces = 0 if came else len(lot.pieces)
            if lot.kind == "rework":
                pieces = sum(
                    oracle.needs.in_rework(oracle.needs.piles[lot.job.code], part) for part in lot.good
                )
            if pieces or good or (came and lot.came.pieces):
                found.append((lot.job.code, pieces, good, 0 if came else lot.finish, lot.arrive))
    return sorted(found)


def compare(seed, **options):
    plan, today = random_material(seed, **options)
    forecast, oracle = Forecast(plan, today), MaterialOracle(plan, today)
    assert engine_lots(forecast) == oracle_lots(oracle), seed
    for shipment in plan.shipments:
        assert forecast.shipment_dates[shipment.code] == oracle.shipment(shipment.code), (seed, shipment.code)


@pytest.mark.parametrize("batch", range(20))
def test_lots_and_shipments_agree_with_moving_pieces_day_by_day(batch):
    for seed in range(batch * 15, batch * 15 + 15):
        compare(seed)
