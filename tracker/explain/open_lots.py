"""Which lots of a job are still to be done: what a job with several lots is judged by."""

from tracker.plan.lots import Lot
from tracker.schedule.forecast import Forecast


def open_lots(forecast: Forecast, job: str) -> tuple[int, ...]:
    """The job's lots still to come, in the order they are worked; none once it is done or out of the run.

    Left out are lots whose pieces are not made after all, and rework that no shipment waits for.
    """
    speaker = forecast.lot_of(job)
    if speaker is None or not forecast.is_open(speaker):
        return ()
    return tuple(lot for lot in forecast.lots_of(job) if lot == speaker or _counts(forecast, lot))


def _counts(forecast: Forecast, lot: int) -> bool:
    if not forecast.is_open(lot) or not has_pieces(forecast, lot):
        return False
    return not is_rework(forecast, lot) or forecast.slack(lot) is not None


def is_rework(forecast: Forecast, lot: int) -> bool:
    """Whether the lot is pieces that go round again in their own job."""
    known = counted_lot(forecast, lot)
    return known is not None and known.kind == "rework"


def has_pieces(forecast: Forecast, lot: int) -> bool:
    """Whether there is anything to do: not where a lot counts pieces and none of them are made after all."""
    known = counted_lot(forecast, lot)
    return known is None or known.pieces > 0


def counted_lot(forecast: Forecast, lot: int) -> Lot | None:
    """What a lot is where its job counts pieces; None for the one lot of any other job."""
    lots = forecast.network.lots
    return lots[lot] if lots else None


def silent_lot(forecast: Forecast, job: str) -> int | None:
    """The job's open lot whose date passed longest ago without news; None where none did."""
    overdue = forecast.times.overdue
    lots = [lot for lot in open_lots(forecast, job) if lot in overdue]
    return max(lots, key=lambda lot: overdue[lot], default=None)


def last_logged_lot(forecast: Forecast, job: str) -> int | None:
    """The lot that what was logged of the job last speaks of: the last that came, else the first to come."""
    lots = forecast.lots_of(job)
    came = [lot for lot in lots if not forecast.is_open(lot)]
    return next(iter((*came[::-1], *lots)), None)
