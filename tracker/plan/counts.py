"""Pieces of one job as logged: what came and when, what is on its way, made, or goes back.

Days are integers (``date.toordinal()``). Facts dated after the status date are not looked at.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date

from tracker.plan.model import Fact, Job, Plan


@dataclass(slots=True, kw_only=True)
class Delivery:
    """Pieces of one made part that came, or were made at our own bench, on one day.

    ``unjudged`` pieces were counted and nobody has looked at them yet; ``at_bench`` ones were made by us.
    """

    day: int
    part: str
    good: int = 0
    rework: int = 0
    scrap: int = 0
    unjudged: int = 0
    ref: str = ""
    at_bench: bool = False

    @property
    def pieces(self) -> int:
        """All pieces that came."""
        return self.good + self.rework + self.scrap + self.unjudged


@dataclass(slots=True, kw_only=True)
class Parcel:
    """Pieces made, or on their way, since a day."""

    day: int
    pieces: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Counted:
    """All pieces of one job as logged up to the status date.

    ``quantity`` is what was put in: the plan's figure, else what was ordered, None while neither is known.
    ``on_way`` and ``at_door`` have not been received; ``all_left`` and ``all_made`` are the days on which the
    rest left or was made without a count. ``rest_good`` is the day on which the job was finished without a
    count, so that whatever had not been counted came out good.
    """

    quantity: int | None
    deliveries: tuple[Delivery, ...] = ()
    on_way: tuple[Parcel, ...] = ()
    at_door: tuple[Parcel, ...] = ()
    all_left: int | None = None
    all_made: int | None = None
    rest_good: int | None = None

    @property
    def received(self) -> int:
        """Pieces that came, good or not; those that came back from rework are counted again."""
        return sum(one.pieces for one in self.deliveries)

    def came_of(self, part: str) -> list[Delivery]:
        """Deliveries of one part, oldest first."""
        return [one for one in self.deliveries if one.part == part]

    def back_from_rework(self, part: str, share: int | None, whole: int | None) -> int:
        """Pieces that came a second time: those beyond what was put in, at most as many as went back.

        Where no ``share`` says how many were put in, it is the ``whole`` that had come when the job was done (None:
        it is not).
        """
        came = self.came_of(part)
        first = whole if share is None else share
        beyond = sum(one.pieces for one in came) - first if first else 0
        return min(sum(one.rework for one in came), max(0, beyond))


@dataclass(slots=True)
class _Tally:
    """The facts of one job being added up; ``shares`` are the made parts with what is put in for each."""

    home: bool
    shares: Mapping[str, int | None]
    deliveries: list[Delivery] = field(default_factory=list)
    on_way: list[Parcel] = field(default_factory=list)
    at_door: list[Parcel] = field(default_factory=list)
    all_left: int | None = None
    all_made: int | None = None
    rest_good: int | None = None


def shares_of(plan: Plan, job: Job, *, as_planned: bool = False) -> Mapping[str, int | None]:
    """The parts a job makes with the pieces put in for each; None where the need decides.

    A part made alone takes the whole quantity, else what was ordered, at which ``as_planned`` does not look. A job
    that makes nothing has the one share ``""``.
    """
    makes = plan.makes_of(job)
    if len(makes) > 1:
        return {make.part: make.quantity or 0 for make in makes}
    quantity = job.quantity
    if quantity is None and not as_planned:
        quantity = _ordered(plan, job)
    if quantity is None and makes:
        quantity = makes[0].quantity
    return {makes[0].part if makes else "": quantity}


def _ordered(plan: Plan, job: Job) -> int | None:
    facts = plan.facts_by_job.get(job.code, ())
    return next((fact.quantity for fact in facts if fact.kind == "ordered" and fact.quantity), None)


def count_pieces(plan: Plan, job: Job, today: date) -> Counted:
    """Add up the pieces logged for a job up to and including ``today``, and those foreseen.

    Pieces leave and come in the order they were made. A count of a job that makes several parts that does not
    say which fills their shares in the plan's order.
    """
    shares = shares_of(plan, job)
    known = [share for share in shares.values() if share is not None]
    quantity = sum(known) if len(known) == len(shares) else None
    until = plan.known_by(today)
    facts = [fact for fact in plan.facts_by_job.get(job.code, ()) if fact.on <= until]
    if not facts:
        return Counted(quantity=quantity)
    tally = _Tally(home=plan.supplier_by_code[job.supplier].inhouse and not job.leave_when, shares=shares)
    for fact in facts:
        _count(tally, fact)
    return Counted(
        quantity=quantity,
        deliveries=tuple(tally.deliveries),
        on_way=tuple(tally.on_way),
        at_door=tuple(tally.at_door),
        all_left=tally.all_left,
        all_made=tally.all_made,
        rest_good=tally.rest_good,
    )


def _count(tally: _Tally, fact: Fact) -> None:
    day = fact.on.toordinal()
    match fact.kind:
        case "in" if fact.closes and not _has_counts(fact) and not tally.deliveries:
            tally.rest_good = day
        case "in":
            _take_out(tally, fact.pieces)
            _deliver(tally, fact, day)
        case "sorted":
            _judge(tally, fact, day)
        case "made" if tally.home:
            _make_here(tally, fact, day)
        case "made":
            if fact.good is None:
                tally.all_made = day
            else:
                tally.at_door.append(Parcel(day=day, pieces=fact.good))
        case "left":
            _leave(tally, fact, day)
        case "finished" | "passed":
            tally.rest_good = day
        case "failed":
            tally.rest_good = tally.all_made = tally.all_left = None


def _has_counts(fact: Fact) -> bool:
    """Whether the fact gives any number, be it 0."""
    return any(number is not None for number in (fact.good, fact.rework, fact.scrap, fact.count))


def _make_here(tally: _Tally, fact: Fact, day: int) -> None:
    """What our own bench has made is here."""
    if fact.good is None:
        tally.rest_good = day
    else:
        _deliver(tally, fact, day)


def _deliver(tally: _Tally, fact: Fact, day: int) -> None:
    """Book pieces of the part named, or of the parts in turn until each has its share."""
    counts = {
        "good": fact.good or 0,
        "rework": fact.rework or 0,
        "scrap": fact.scrap or 0,
        "unjudged": fact.count or 0,
    }
    at_bench = fact.kind == "made"
    if fact.part or len(tally.shares) == 1:
        part = fact.part or next(iter(tally.shares))
        tally.deliveries.append(Delivery(day=day, part=part, ref=fact.ref, at_bench=at_bench, **counts))
        return
    *first, last = tally.shares
    for part in first:
        came = sum(one.pieces for one in tally.deliveries if one.part == part)
        room = max(0, (tally.shares[part] or 0) - came)
        taken = _first_of(counts, room)
        if any(taken.values()):
            tally.deliveries.append(Delivery(day=day, part=part, ref=fact.ref, at_bench=at_bench, **taken))
    if any(counts.values()):
        tally.deliveries.append(Delivery(day=day, part=last, ref=fact.ref, at_bench=at_bench, **counts))


def _first_of(counts: dict[str, int], room: int) -> dict[str, int]:
    """Take up to ``room`` pieces out of the counts, good ones first."""
    taken = {}
    for kind, number in counts.items():
        taken[kind] = min(number, room)
        counts[kind] -= taken[kind]
        room -= taken[kind]
    return taken


def _judge(tally: _Tally, fact: Fact, day: int) -> None:
    """Pieces looked at: they leave the counts nobody judged, oldest first, and are good from that day."""
    left = fact.pieces
    for one in tally.deliveries:
        if one.unjudged and (not fact.part or fact.part == one.part):
            taken = min(left, one.unjudged)
            one.unjudged -= taken
            left -= taken
    _deliver(tally, fact, day)
    tally.deliveries = [one for one in tally.deliveries if one.pieces]


def _leave(tally: _Tally, fact: Fact, day: int) -> None:
    if fact.good is None and not tally.at_door:
        tally.all_left = day
        return
    pieces = sum(one.pieces for one in tally.at_door) if fact.good is None else fact.good
    tally.on_way.append(Parcel(day=day, pieces=pieces))
    _shrink(tally.at_door, pieces)


def _take_out(tally: _Tally, pieces: int) -> None:
    """Pieces that came were on their way, else at the door, else counted at our bench before."""
    pieces = _shrink(tally.at_door, _shrink(tally.on_way, pieces))
    for one in tally.deliveries:
        if one.at_bench:
            taken = min(pieces, one.good)
            one.good -= taken
            pieces -= taken
    tally.deliveries = [one for one in tally.deliveries if one.pieces]


def _shrink(parcels: list[Parcel], pieces: int) -> int:
    """Take pieces out of the oldest parcels; what could not be taken is returned."""
    while parcels and pieces:
        taken = min(pieces, parcels[0].pieces)
        parcels[0].pieces -= taken
        pieces -= taken
        if not parcels[0].pieces:
            parcels.pop(0)
    return pieces


def pieces_scrapped_later(plan: Plan, today: date) -> Mapping[str, int]:
    """Pieces of each part found bad after they had come in, up to and including ``today``."""
    return _sums(
        (fact.part, fact.scrap or 0) for fact in plan.facts if fact.kind == "scrapped" and fact.on <= today
    )


def _sums(pairs: Iterable[tuple[str, int]]) -> Mapping[str, int]:
    found: dict[str, int] = {}
    for key, number in pairs:
        found[key] = found.get(key, 0) + number
    return found
