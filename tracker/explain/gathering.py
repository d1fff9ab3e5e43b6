"""The lines of a movement as they are told: what moves nothing set apart, days that passed for one reason joined."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from tracker.explain.closure_share import ClosureShare, share_of_move
from tracker.explain.moved import Effect, Line

CLOSURE_FROM = 3
"""Calendar days a shipment must move later for a closure's part in it to be looked for: a weekend makes two."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Gathered:
    """Lines that move something or take back what days had cost, in order, and the numbers of all other entries."""

    lines: tuple[Line, ...]
    quiet: tuple[int, ...]


def gathered(lines: Sequence[Line]) -> Gathered:
    """Set apart entries without effect; join days that passed to either side of them where the same is to blame."""
    moving = {line.step.entry.number for line in lines if line.step is not None and _tells(line)}
    quiet = dict.fromkeys(line.step.entry.number for line in lines if line.step is not None)
    told: list[Line] = []
    for line in lines:
        if not _tells(line):
            continue
        if told and _same_reason(told[-1], line):
            told[-1] = _joined(told[-1], line)
        else:
            told.append(line)
    return Gathered(lines=tuple(told), quiet=tuple(one for one in quiet if one not in moving))


def closures_of(line: Line) -> Mapping[str, ClosureShare]:
    """For shipments that a line moves later by some days, the closure that makes most of that.

    Nothing where a late entry took part of it, so that the forecasts at its ends tell of another move.
    """
    before, after = line.ends
    if before is None or after is None:
        return {}
    wanted = (one for one in line.effects if one.days is not None and one.days >= CLOSURE_FROM)
    found = {
        one.shipment: share_of_move(before, after, one.shipment)
        for one in wanted
        if after.shipment_dates.get(one.shipment) == one.after
        and before.shipment_dates.get(one.shipment) == one.before
    }
    return {code: share for code, share in found.items() if share is not None}


def _tells(line: Line) -> bool:
    return bool(line.effects or (line.step is not None and line.folded))


def _same_reason(one: Line, other: Line) -> bool:
    if one.step is not None or other.step is not None:
        return False
    blames = {effect.shipment: effect.blame for effect in one.effects if effect.days is not None}
    return all(
        effect.days is not None and blames.get(effect.shipment, effect.blame) == effect.blame
        for effect in other.effects
    )


def _joined(one: Line, other: Line) -> Line:
    return replace(
        one,
        last=other.last,
        effects=tuple(_effects_together(one.effects, other.effects)),
        ends=(one.ends[0], other.ends[1]),
    )


def _effects_together(one: Sequence[Effect], other: Sequence[Effect]) -> Iterator[Effect]:
    later = {effect.shipment: effect for effect in other}
    for effect in one:
        more = later.pop(effect.shipment, None)
        if more is None:
            yield effect
        elif effect.days is None or more.days is None:
            yield replace(effect, after=more.after)
        elif effect.days + more.days:
            yield replace(effect, after=more.after, days=effect.days + more.days)
    yield from later.values()
