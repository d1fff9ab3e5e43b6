"""What own days past the harmless ones cost a job's shipments."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from tracker.report.picture import Picture
from tracker.schedule.what_if import dates_if_finished


@dataclass(frozen=True, slots=True, kw_only=True)
class LaterCost:
    """What being ready, or giving what is owed, on ``day``, past the harmless ones, costs a shipment in calendar days."""

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
    return {
        lot: tuple(
            LaterCost(day=date.fromordinal(days[lot]), shipment=code, days=moved - now)
            for code, moved in dates.items()
            if (now := forecast.shipment_dates[code]) is not None and moved != now
        )
        for lot, dates in dates_if_finished(forecast, days).items()
    }
