"""What own days past the harmless ones, or a later arrival, cost a job's shipments."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from tracker.report.picture import Picture
from tracker.schedule.what_if import dates_if_finished, dates_if_here


@dataclass(frozen=True, slots=True, kw_only=True)
class LaterCost:
    """What being ready, here, or giving what is owed, on ``day`` costs a shipment in calendar days.

    The day lies past the harmless ones.
    """

    day: date
    shipment: str
    days: int


def next_day_costs(
    picture: Picture, lots: Iterable[int], own_days: int = 1
) -> Mapping[int, tuple[LaterCost, ...]]:
    """For each open lot that can move a shipment, what being ready so many own days too late does to each it moves."""
    forecast = picture.forecast
    days: dict[int, int] = {}
    for lot in lots:
        slack, calendar = forecast.slack(lot), forecast.network.calendar[lot]
        if slack is not None:
            days[lot] = (
                calendar.add(slack.late_finish, own_days) if calendar else slack.late_finish + own_days
            )
    return _costs(picture, days, dates_if_finished(forecast, days))


def costs_if_here(picture: Picture, days: Mapping[int, int]) -> Mapping[int, tuple[LaterCost, ...]]:
    """For each lot, what being here on the evening of its day does to each shipment it moves."""
    return _costs(picture, days, dates_if_here(picture.forecast, days))


def _costs(
    picture: Picture, days: Mapping[int, int], dates: Mapping[int, Mapping[str, int]]
) -> Mapping[int, tuple[LaterCost, ...]]:
    """For each lot on its day, the shipments whose dates are later than forecast."""
    return {
        lot: tuple(
            LaterCost(day=date.fromordinal(days[lot]), shipment=code, days=moved - now)
            for code, moved in moved_to.items()
            if (now := picture.forecast.shipment_dates[code]) is not None and moved != now
        )
        for lot, moved_to in dates.items()
    }
