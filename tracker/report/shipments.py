"""Shipments as rows: told, forecast, how late, what holds them."""

from dataclasses import dataclass
from datetime import date

from tracker.plan.model import Told
from tracker.report.picture import Picture, day_or_none
from tracker.schedule.holders import what_sets
from tracker.schedule.reason import Reason


@dataclass(frozen=True, slots=True, kw_only=True)
class HeldBy:
    """The job a chain begins with and the reason; ``owed_by`` is ``us`` where we owe what is missing.

    ``whats`` lists all that is missing at once, ``day`` the day the reason speaks of. The reason ``after`` means
    that the jobs in ``what`` set its start by arriving on ``day`` (``here`` once they have), ``after start`` that
    they do by starting then. ``made`` tells that the job itself is made.
    """

    job: str
    reason: str
    what: str
    owed_by: str
    day: date
    whats: tuple[str, ...] = ()
    here: bool = False
    made: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class ShipmentRow:
    """One shipment.

    ``told`` is what was told last, words alone included; ``told_day`` and ``told_first`` are the last days of what
    was told last and first with a date. ``posted`` is the day it was gone, ``part_posted`` the units posted of one
    not gone yet. ``days_late`` counts calendar days after ``told_day`` (negative: early).
    """

    code: str
    name: str
    public_name: str
    quantity: int
    told: Told | None
    told_day: date | None
    told_first: date | None
    first_plan: date | None
    forecast: date | None
    posted: date | None
    part_posted: int
    days_late: int | None
    days_after_first: int | None
    path: tuple[str, ...]
    critical_jobs: tuple[str, ...]
    tied: bool
    held_by: HeldBy | None
    at_best: tuple[str, ...]
    told_all: tuple[Told, ...]


def shipment_rows(picture: Picture) -> tuple[ShipmentRow, ...]:
    """One row a shipment, in plan order."""
    return tuple(_row(picture, shipment.code) for shipment in picture.plan.shipments)


def held_by(picture: Picture, code: str) -> HeldBy | None:
    """What the chain of an open shipment begins with."""
    held = picture.holdings.get(code)
    return None if held is None else _of_reasons(picture, held.held_by.job, held.held_by.reasons)


def chains_of(picture: Picture, code: str) -> tuple[tuple[HeldBy, tuple[str, ...]], ...]:
    """Every chain as long as the one that holds the shipment, with what each begins with."""
    held = picture.holdings.get(code)
    if held is None:
        return ()
    reasons = {begin.job: begin.reasons for begin in held.begins}
    return tuple((_of_reasons(picture, path[0], reasons[path[0]]), path) for path in held.chains())


def reason_of(picture: Picture, job: str) -> HeldBy:
    """Why an open job's own dates are what they are, whether or not it holds a shipment."""
    lot = picture.forecast.network.index[job]
    lots, reasons = what_sets(picture.forecast, lot)
    return _of_reasons(picture, job, reasons) if reasons else _of_inputs(picture, lot, lots)


def _of_reasons(picture: Picture, job: str, reasons: tuple[Reason, ...]) -> HeldBy:
    """What we owe comes first; conditions to leave are all named while any is missing."""
    first = min(reasons, key=lambda reason: not reason.owed_by)
    whats = tuple(reason.what for reason in reasons if reason.what and reason.kind == first.kind)
    return HeldBy(
        job=job,
        reason=first.kind,
        what=first.what,
        owed_by=first.owed_by,
        day=date.fromordinal(first.day),
        whats=picture.standings[job].to_leave if first.kind == "leave" and first.owed_by else whats,
        made=picture.standings[job].state == "MADE",
    )


def _of_inputs(picture: Picture, lot: int, lots: tuple[int, ...]) -> HeldBy:
    """The inputs that set a start: by arriving, or all of them by starting."""
    forecast, network = picture.forecast, picture.forecast.network
    beside = {link.lot for link in network.special[lot] or () if link.kind == "start-start"}
    arriving = tuple(other for other in lots if other not in beside)
    days = forecast.times.arrive if arriving else forecast.times.start
    setting = arriving or lots
    day = max(days[other] for other in setting)
    names = tuple(network.jobs[other].code for other in setting)
    return HeldBy(
        job=network.jobs[lot].code,
        reason="after" if arriving else "after start",
        what=", ".join(names),
        owed_by="",
        day=date.fromordinal(day),
        whats=names,
        here=day <= forecast.today and not any(forecast.is_open(other) for other in arriving),
    )


def _row(picture: Picture, code: str) -> ShipmentRow:
    shipment = picture.plan.shipment_by_code[code]
    told = picture.plan.told_of(shipment, picture.today)
    days = picture.plan.days_told(shipment, picture.today)
    day = picture.forecast.shipment_dates[code]
    held = picture.holdings.get(code)
    return ShipmentRow(
        code=code,
        name=shipment.name,
        public_name=shipment.public_name,
        quantity=shipment.quantity,
        told=told[-1] if told else None,
        told_day=days[-1] if days else None,
        told_first=days[0] if days else None,
        first_plan=picture.first_shipments.get(code),
        forecast=day_or_none(day),
        posted=day_or_none(picture.forecast.network.posted.get(code)),
        part_posted=picture.forecast.network.part_posted.get(code, 0),
        days_late=day - days[-1].toordinal() if days and day else None,
        days_after_first=day - days[0].toordinal() if days and day else None,
        path=held.path if held else (),
        critical_jobs=held.jobs if held else (),
        tied=held is not None and held.tied,
        held_by=held_by(picture, code),
        at_best=picture.at_best.get(code, ()),
        told_all=told,
    )
