"""What moved the shipments in words for people outside, added up by step and cause."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from tracker.explain.closure_share import ClosureShare
from tracker.plan.day_text import full_day
from tracker.report.alike import alike
from tracker.report.moved import EffectRow, Moved, ShipmentMoved
from tracker.report.owed import listed
from tracker.report.picture import Picture

_LATER = {
    "supplier late": "a supplier's date slipped",
    "rejects": "parts had to be made again",
    "our own delay": "our own delay",
    "plan edited": "the plan changed",
    "time passing": "waiting",
}
_EARLIER = {
    "supplier late": "a supplier's date came forward",
    "rejects": "what was put right came sooner",
    "our own delay": "we were earlier",
    "plan edited": "the plan changed",
    "time passing": "less waiting",
}
_CHECK = {True: "a check failed and had to be tried again", False: "a check that had failed was passed"}


@dataclass(frozen=True, slots=True, kw_only=True)
class BackerMove:
    """What one cause at one step makes of each shipment's move, in calendar days later (negative: earlier).

    ``days`` stand in the order of the shipments. ``closures`` are remarks: their days are part of ``days``.
    """

    name: str
    why: str
    days: tuple[int, ...]
    closures: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BackerMoved:
    """One shipment's forecast when backers were last told and now, and the calendar days between."""

    name: str
    before: date
    after: date
    days: int


@dataclass(frozen=True, slots=True, kw_only=True)
class BackersMoved:
    """The shipments with a date at both ends, and the lines that add up to their days, the largest first."""

    shipments: tuple[BackerMoved, ...]
    lines: tuple[BackerMove, ...]


def backers_moved(
    picture: Picture, moved: Moved, job_name: Callable[[str], str], names: Mapping[str, str]
) -> BackersMoved:
    """Add the lines of a movement up by step and cause; lines that cancel out are left out."""
    told = [one for one in moved.shipments if one.days is not None and one.shipment in names]
    effects = [effect for line in moved.lines for effect in line.effects if effect.days is not None]
    groups: dict[tuple[str, str], list[EffectRow]] = {}
    for effect in effects:
        cause = "supplier late" if effect.cause == "supplier earlier" else effect.cause
        groups.setdefault((job_name(effect.job) if effect.job else "", cause), []).append(effect)
    lines = (
        BackerMove(
            name=name or _WHOLE[cause == "plan edited"],
            why=_why(picture, cause, found),
            days=tuple(sum(_days(found, one.shipment)) for one in told),
            closures=tuple(_closures(picture, found, names)),
        )
        for (name, cause), found in groups.items()
    )
    return BackersMoved(
        shipments=tuple(_shipment(one, names) for one in told),
        lines=tuple(sorted((line for line in lines if any(line.days)), key=_size)),
    )


_WHOLE = {True: "The plan", False: "The run"}


def _size(line: BackerMove) -> int:
    return -max(abs(days) for days in line.days)


def _shipment(one: ShipmentMoved, names: Mapping[str, str]) -> BackerMoved:
    assert one.before is not None  # noqa: S101 - those without a date at both ends are left out before
    assert one.after is not None  # noqa: S101
    return BackerMoved(name=names[one.shipment], before=one.before, after=one.after, days=one.days or 0)


def _days(effects: Iterable[EffectRow], shipment: str) -> Iterator[int]:
    return (one.days or 0 for one in effects if one.shipment == shipment)


def _why(picture: Picture, cause: str, effects: Sequence[EffectRow]) -> str:
    """The cause in plain words, after which way it moved the shipments in all."""
    is_later = sum(one.days or 0 for one in effects) >= 0
    jobs = (picture.plan.job_by_code.get(one.job) for one in effects)
    if cause == "rejects" and any(job is not None and job.gate for job in jobs):
        return _CHECK[is_later]
    return (_LATER if is_later else _EARLIER)[cause]


def _closures(picture: Picture, effects: Sequence[EffectRow], names: Mapping[str, str]) -> Iterator[str]:
    """What a closure makes of a shipment's days, where one line makes all of these; shipments alike together."""
    shares = []
    for one in effects:
        alone = sum(other.shipment == one.shipment for other in effects) == 1
        if alone and one.closure is not None and one.days and one.shipment in names:
            count = "all" if one.closure.days >= one.days else str(one.closure.days)
            said = (f"{count} of these {one.days} days of", _shut(picture, one.closure))
            shares.append((names[one.shipment], said))
    for shipments, (days, shut) in alike(shares):
        yield f"{days} {listed(shipments)}: {shut}"


def _shut(picture: Picture, share: ClosureShare) -> str:
    """Who is shut from when to when; why stays with us."""
    supplier = picture.plan.supplier_by_code.get(share.supplier)
    who = "a supplier" if supplier is None else supplier.public_name or "a supplier"
    who = "our own bench" if supplier is not None and supplier.inhouse else who
    return f"{who} is shut {full_day(share.first)} to {full_day(share.last)}"
