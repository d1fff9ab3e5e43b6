"""Which late job moves the ship date, and by how much, one at a time."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from itertools import combinations

from tracker.schedule.forecast import Forecast
from tracker.schedule.what_if import gains_if_arrived


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


@dataclass(frozen=True, slots=True, kw_only=True)
class HiddenPair:
    """Two late jobs that hide each other: together they gain more than the two alone."""

    jobs: tuple[str, str]
    ship_date_gain: int


def late_jobs(forecast: Forecast) -> tuple[LateJob, ...]:
    """Late jobs, those that gain the ship date most first; jobs with no first plan are never late."""
    planned = _planned_arrivals(forecast)
    found = []
    for lot, day in planned.items():
        gained = gains_if_arrived(forecast, {lot: day})
        found.append(
            LateJob(
                job=forecast.network.jobs[lot].code,
                planned=date.fromordinal(day),
                arrives=date.fromordinal(forecast.times.arrive[lot]),
                days_late=forecast.times.arrive[lot] - day,
                gains=gained,
                ship_date_gain=_ship_date_gain(forecast, gained),
            )
        )
    return tuple(
        sorted(found, key=lambda late: (-late.ship_date_gain, -max(late.gains.values(), default=0), late.job))
    )


def hidden_pairs(forecast: Forecast, late: tuple[LateJob, ...], most: int = 12) -> tuple[HiddenPair, ...]:
    """Pairs among the ``most`` latest jobs that gain more together than both alone added up."""
    planned = _planned_arrivals(forecast)
    latest = sorted(late, key=lambda one: (-one.days_late, one.job))[:most]
    found = []
    for one, other in combinations(latest, 2):
        lots = [forecast.network.index[code.job] for code in (one, other)]
        together = _ship_date_gain(forecast, gains_if_arrived(forecast, {lot: planned[lot] for lot in lots}))
        if together > one.ship_date_gain + other.ship_date_gain:
            found.append(HiddenPair(jobs=(one.job, other.job), ship_date_gain=together))
    return tuple(sorted(found, key=lambda pair: (-pair.ship_date_gain, pair.jobs)))


def _planned_arrivals(forecast: Forecast) -> dict[int, int]:
    """First-plan arrivals of open jobs that are late against them."""
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


def _ship_date_gain(forecast: Forecast, gained: Mapping[str, int]) -> int:
    """How much earlier the last parcel goes, whichever shipment is last then."""
    dates = [day - gained.get(code, 0) for code, day in forecast.shipment_dates.items() if day is not None]
    return (forecast.ship_date or 0) - max(dates) if dates else 0
