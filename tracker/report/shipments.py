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

    ``whats`` lists all that is missing at once, ``day`` the day the reason speaks of.
    """

    job: str
    reason: str
    what: str
    owed_by: str
    day: date
    whats: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ShipmentRow:
    """One shipment. ``days_late`` counts calendar days after the last day told last (negative: early)."""

    code: str
    name: str
    public_name: str
    quantity: int
    told: Told | None
    told_first: date | None
    first_plan: date | None
    forecast: date | None
    posted: date | None
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
    return None if held is None else _of_reasons(held.held_by.job, held.held_by.reasons)


def reason_of(picture: Picture, job: str) -> HeldBy:
    """Why an open job's own dates are what they are, whether or not it holds a shipment."""
    lots, reasons = what_sets(picture.forecast, picture.forecast.network.index[job])
    if reasons or not lots:
        return _of_reasons(job, reasons or (Reason(kind="today", day=picture.forecast.today),))
    return _of_reasons(job, (Reason(kind="started", day=picture.forecast.times.start[lots[0]]),))


def _of_reasons(job: str, reasons: tuple[Reason, ...]) -> HeldBy:
    first = reasons[0]
    return HeldBy(
        job=job,
        reason=first.kind,
        what=first.what,
        owed_by=first.owed_by,
        day=date.fromordinal(first.day),
        whats=tuple(reason.what for reason in reasons if reason.what),
    )


def _row(picture: Picture, code: str) -> ShipmentRow:
    shipment = picture.plan.shipment_by_code[code]
    told = picture.plan.told_of(shipment, picture.today)
    day = picture.forecast.shipment_dates[code]
    held = picture.holdings.get(code)
    return ShipmentRow(
        code=code,
        name=shipment.name,
        public_name=shipment.public_name,
        quantity=shipment.quantity,
        told=told[-1] if told else None,
        told_first=told[0].last if told else None,
        first_plan=picture.first_shipments.get(code),
        forecast=day_or_none(day),
        posted=day_or_none(picture.forecast.network.posted.get(code)),
        days_late=day - told[-1].last.toordinal() if told and day else None,
        days_after_first=day - told[0].last.toordinal() if told and day else None,
        path=held.path if held else (),
        critical_jobs=held.jobs if held else (),
        tied=held is not None and len(held.jobs) > len(held.path),
        held_by=held_by(picture, code),
        at_best=picture.at_best.get(code, ()),
        told_all=told,
    )
