"""A span of days tried one by one: what each does to the shipments, and after which days a cliff falls."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from itertools import pairwise

from tracker.explain.closure_share import share_of_move
from tracker.plan.model import Fact
from tracker.report.answer import FactRow, fact_rows
from tracker.report.cliffs import CLIFF, CliffCost
from tracker.report.picture import Picture, day_or_none
from tracker.schedule.forecast import Forecast

Dates = Mapping[str, date | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class SpanRow:
    """Days, ``first`` and ``last`` included, that give the same dates; ``days`` are calendar days from those as things stand."""

    first: date
    last: date
    dates: Dates
    days: Mapping[str, int | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cliff:
    """A last day after which the next one costs a shipment seven calendar days or more, with all that it costs."""

    last: date
    costs: tuple[CliffCost, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SpanDay:
    """One day tried, and each shipment's date then."""

    day: date
    dates: Dates


@dataclass(frozen=True, slots=True, kw_only=True)
class SpanView:
    """All days from ``first`` to ``last``; ``rows`` fold those that give the same dates.

    ``facts`` and ``edits`` are as read for the first day, ``now`` the dates as things stand.
    """

    today: date
    fixed_today: bool
    first: date
    last: date
    facts: tuple[FactRow, ...]
    edits: tuple[str, ...]
    now: Dates
    rows: tuple[SpanRow, ...]
    cliffs: tuple[Cliff, ...]
    days: tuple[SpanDay, ...]


def span_report(
    before: Picture,
    tried: Sequence[tuple[date, Forecast]],
    beyond: Forecast | None,
    facts: tuple[Fact, ...],
    edits: tuple[str, ...] = (),
) -> SpanView:
    """Fold days and find the cliffs; ``beyond`` is the day after the last, which shows whether one falls there."""
    forecasts = [forecast for _, forecast in tried]
    codes = tuple(dict.fromkeys(code for one in (before.forecast, *forecasts) for code in one.open_shipments))
    days = [SpanDay(day=day, dates=_dates(forecast, codes)) for day, forecast in tried]
    now = _dates(before.forecast, codes)
    ends = zip(tried, (*forecasts[1:], beyond), strict=True)
    cliffs = [_cliff(day, here, later, codes) for (day, here), later in ends if later is not None]
    return SpanView(
        today=before.today,
        fixed_today=before.plan.run.today == before.today,
        first=days[0].day,
        last=days[-1].day,
        facts=fact_rows(forecasts[0].plan, facts),
        edits=edits,
        now=now,
        rows=tuple(_rows(days, now)),
        cliffs=tuple(one for one in cliffs if one is not None),
        days=tuple(days),
    )


def _dates(forecast: Forecast, codes: Sequence[str]) -> Dates:
    return {code: day_or_none(forecast.shipment_dates.get(code)) for code in codes}


def _rows(days: Sequence[SpanDay], now: Dates) -> list[SpanRow]:
    changes = (
        place for place, (one, other) in enumerate(pairwise(days), start=1) if one.dates != other.dates
    )
    return [
        SpanRow(
            first=days[begin].day,
            last=days[end - 1].day,
            dates=days[begin].dates,
            days={code: _later(now[code], day) for code, day in days[begin].dates.items()},
        )
        for begin, end in pairwise((0, *changes, len(days)))
    ]


def _later(before: date | None, after: date | None) -> int | None:
    return None if before is None or after is None else (after - before).days


def _cliff(day: date, here: Forecast, later: Forecast, codes: Sequence[str]) -> Cliff | None:
    """What the next day costs, where that is much."""
    was, then = _dates(here, codes), _dates(later, codes)
    costs = [
        CliffCost(shipment=code, before=day_was, after=day_then, days=(day_then - day_was).days, closure=None)
        for code in codes
        if (day_was := was[code]) and (day_then := then[code]) and day_then > day_was
    ]
    if max((cost.days for cost in costs), default=0) < CLIFF:
        return None
    found = (replace(cost, closure=share_of_move(here, later, cost.shipment)) for cost in costs)
    return Cliff(last=day, costs=tuple(found))
