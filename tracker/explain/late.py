"""Which late job moves the ship date, and by how much, one at a time."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from tracker.explain.open_lots import open_lots
from tracker.schedule.forecast import Forecast
from tracker.schedule.holders import chains_to
from tracker.schedule.placing import promised_arrival
from tracker.schedule.what_if import gains_if_arrived, gains_if_promises_kept


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptPromise:
    """What an open job arriving as promised last, all else unchanged, would do.

    ``arrives`` is the evening it would then be here: the day itself where the promise is in hand, with its travel
    where it is to leave. ``days`` are the calendar days that is before the forecast, 0 where the forecast keeps the
    promise. ``gains`` tells how much earlier each open shipment would go, as for one that came yesterday evening where
    the day has passed.
    """

    arrives: date
    days: int
    gains: Mapping[str, int]
    ship_date_gain: int


@dataclass(frozen=True, slots=True, kw_only=True)
class LateJob:
    """An open job whose forecast arrival is after its first plan.

    ``days_late`` and ``gains`` are calendar days; ``gains`` tells, for each open shipment, how much earlier
    it would go were this job alone to count as arrived on its first-plan day (yesterday at the earliest).
    """

    job: str
    planned: date
    arrives: date
    days_late: int
    gains: Mapping[str, int]
    ship_date_gain: int


def late_jobs(forecast: Forecast) -> tuple[LateJob, ...]:
    """Late jobs, those that gain the ship date most first; jobs with no first plan are never late.

    A job on no chain that sets a date gains nothing by itself, so that only those on one cost a pass each.
    """
    holders = _holders(forecast)
    nothing = dict.fromkeys(forecast.open_shipments, 0)
    found = []
    for lot, day in planned_arrivals(forecast).items():
        code = forecast.network.jobs[lot].code
        gained = gains_if_arrived(forecast, {lot: day}) if code in holders else nothing
        found.append(
            LateJob(
                job=code,
                planned=date.fromordinal(day),
                arrives=date.fromordinal(forecast.times.arrive[lot]),
                days_late=forecast.times.arrive[lot] - day,
                gains=gained,
                ship_date_gain=ship_date_gain(forecast, gained),
            )
        )
    return tuple(
        sorted(found, key=lambda late: (-late.ship_date_gain, -max(late.gains.values(), default=0), late.job))
    )


def kept_promise(forecast: Forecast, job: str) -> KeptPromise | None:
    """What the job gains if its present promises are kept; None where it has none, or left as it was promised to."""
    arrive = forecast.times.arrive
    evenings = {
        lot: day for lot in open_lots(forecast, job) if (day := _as_promised(forecast, lot)) is not None
    }
    if not evenings:
        return None
    sooner = {lot: day for lot, day in evenings.items() if day < arrive[lot]}
    gained = gains_if_promises_kept(forecast, sooner) if sooner else dict.fromkeys(forecast.open_shipments, 0)
    last = max(sooner or evenings, key=lambda lot: (evenings[lot], lot))
    return KeptPromise(
        arrives=date.fromordinal(evenings[last]),
        days=max(0, arrive[last] - evenings[last]),
        gains=gained,
        ship_date_gain=ship_date_gain(forecast, gained),
    )


def planned_arrivals(forecast: Forecast) -> dict[int, int]:
    """First-plan arrivals, by the lot that speaks for it, of open jobs that are late against them."""
    first = forecast.plan.first_plan
    found = {}
    for row in first.jobs if first else ():
        lot = forecast.lot_of(row.job)
        if lot is None or not forecast.is_open(lot):
            continue
        day = row.arrives.toordinal()
        if forecast.times.arrive[lot] > day:
            found[lot] = day
    return found


def ship_date_gain(forecast: Forecast, gained: Mapping[str, int]) -> int:
    """How much earlier the last parcel goes, whichever shipment is last then."""
    dates = [day - gained.get(code, 0) for code, day in forecast.shipment_dates.items() if day is not None]
    return (forecast.ship_date or 0) - max(dates) if dates else 0


def _holders(forecast: Forecast) -> set[str]:
    """Jobs on a chain that sets the date of an open shipment."""
    chains = (chains_to(forecast, code) for code in forecast.open_shipments)
    return {forecast.network.jobs[lot].code for found in chains if found for lot in found.driven}


def _as_promised(forecast: Forecast, lot: int) -> int | None:
    """The evening a lot arrives if its live promise is kept; None without one, or once it left as promised."""
    progress = forecast.progress(lot)
    if progress.promise is None or (progress.left is not None and progress.promise.means == "leaves"):
        return None
    return promised_arrival(forecast.network, lot, progress.promise, 0)[0]
