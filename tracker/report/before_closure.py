"""What must happen by when for one job to be ready by a day, and what missing it does."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

from tracker.report.owed import last_day_to_give, our_calendar
from tracker.report.picture import Picture
from tracker.schedule.bounds import credited, later
from tracker.schedule.forecast import Forecast
from tracker.schedule.network import SpecialLink
from tracker.schedule.passes import before_lag


@dataclass(frozen=True, slots=True, kw_only=True)
class Act:
    """What must happen on ``by`` at the latest.

    ``give``: we give the conditions in ``what``, money sent its bank days before; ``inputs``: the jobs in ``what``
    are here; ``start``: our bench begins; ``ready``: they have it ready.
    """

    kind: Literal["give", "inputs", "start", "ready"]
    what: tuple[str, ...]
    by: date


def acts_before(picture: Picture, lot: int, last: int) -> tuple[Act, ...]:
    """All that must happen for an open job that counts working days to be ready on ``last``, soonest first."""
    forecast = picture.forecast
    calendar, job = forecast.network.own_calendar[lot], forecast.network.jobs[lot]
    ready = Act(kind="ready", what=(), by=date.fromordinal(last))
    if forecast.network.fixed[lot] is not None:
        return (ready,)
    latest = calendar.latest_start(last, forecast.network.lead[lot])
    found = _inputs_by(forecast, lot, latest - 1)
    missing = picture.standings[job.code].missing
    if missing:
        found.append(Act(kind="give", what=missing, by=last_day_to_give(picture, lot, missing, latest - 1)))
    if not found and picture.plan.supplier_by_code[job.supplier].inhouse:
        return (Act(kind="start", what=(), by=date.fromordinal(latest)),)
    return tuple(sorted(found, key=lambda act: act.by)) or (ready,)


def ready_a_day_later(picture: Picture, lot: int, last: int, acts: Sequence[Act]) -> int:
    """When a job is ready whose first act comes a day too late: given on our next working day, else their next day."""
    network = picture.forecast.network
    calendar = network.own_calendar[lot]
    if acts[0].kind != "give":
        return calendar.snap(last + 1)
    given = later(acts[0].by.toordinal(), 1, our_calendar(picture))
    supplier = picture.plan.supplier_by_code[network.jobs[lot].supplier]
    counts_from = max(credited(what, given, supplier, calendar) for what in acts[0].what)
    return calendar.finish(counts_from + 1, network.lead[lot])


def _inputs_by(forecast: Forecast, lot: int, evening: int) -> list[Act]:
    """By when each input still open must be here, those of one day together; a start-start link sets no such day."""
    network = forecast.network
    links = [SpecialLink(other, "finish-start", 0, None) for other in network.plain[lot]]
    links += [link for link in network.special[lot] or () if link.kind == "finish-start"]
    found: dict[int, list[str]] = {}
    for link in links:
        if forecast.is_open(link.lot):
            found.setdefault(before_lag(evening, link), []).append(network.jobs[link.lot].code)
    return [Act(kind="inputs", what=tuple(codes), by=date.fromordinal(day)) for day, codes in found.items()]
