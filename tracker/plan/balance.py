"""What is needed, here and open, by part and by job, on whole-number grids; the sums behind the explosion.

Amounts of a part are integers on the part's own grid: whole pieces, or for a part measured in a unit the finest
step its uses need. Priorities are places of shipments in the plan; spares come after all of them, pieces
nobody asked for after spares, and pieces used already before everything.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from tracker.plan.counts import Counted
from tracker.plan.model import Job
from tracker.plan.parts import Part, Take

USED = -1
Segment = tuple[int, str, int]
"""Pieces put in for one priority: (priority, part made or ``""``, pieces)."""
Pieces = list[tuple[int, int]]
"""Good pieces wanted by priority."""


def put_in_for(segments: Iterable[Segment], part: str) -> int:
    """Pieces put in for one made part."""
    return sum(pieces for _, one, pieces in segments if one == part)


@dataclass(slots=True, kw_only=True)
class PartNeed:
    """One part's balance on its own grid (``scale`` steps to the unit).

    ``wanted`` is what is still drawn by priority, ``used`` what has been drawn already, ``counted`` of it into
    pieces that came back, went out or were ``scrapped`` later. ``came`` is what was ever here, good: the stock at the
    start and all deliveries. ``expected`` is what open lots, rework and a re-run should still bring. ``lacking`` is
    what shipments lack without a re-run, ``short`` what of it nobody can make, ``spares_short`` the spares no lot
    covers (all in pieces).
    """

    part: str
    scale: int = 1
    wanted: dict[int, int] = field(default_factory=dict)
    used: int = 0
    counted: int = 0
    scrapped: int = 0
    came: int = 0
    expected: int = 0
    lacking: int = 0
    short: int = 0
    spares_short: int = 0

    def want(self, priority: int, number: int) -> None:
        """Add to what is drawn with a priority."""
        if number:
            self.wanted[priority] = self.wanted.get(priority, 0) + number

    @property
    def unaccounted(self) -> int:
        """What was used downstream beyond all that ever came."""
        return max(0, self.counted - self.came)

    def still_wanted(self) -> Pieces:
        """Good pieces to come by priority, once what is here and expected back from rework is shared out."""
        here = self.came + self.unaccounted + self.expected - self.used
        wanted = sorted(self.wanted.items())
        if here < 0:
            wanted.insert(0, (USED, -here))
        total = before = 0
        found = []
        for priority, number in wanted:
            covered = min(max(0, here), number)
            here -= covered
            total += number - covered
            pieces = -(-total // self.scale)
            if pieces > before:
                found.append((priority, pieces - before))
            before = pieces
        return found


@dataclass(slots=True, kw_only=True)
class JobNeed:
    """What one job has to put in, in the order it is needed.

    ``shares`` are the parts it makes with the pieces put in for each (None where the need decides). ``remaining``
    segments belong to the order as it stands, or to the need where that decides, ``rerun`` to a re-run for a
    shortage. ``back`` counts pieces put in that have come back, ``good`` those that came good, ``in_rework``
    pieces that go round again in this job, ``rework_good`` what is expected of them, by part. ``decided`` tells
    that the need set the quantity.
    """

    job: Job
    counted: Counted
    shares: Mapping[str, int | None]
    back: dict[str, int] = field(default_factory=dict)
    good: dict[str, int] = field(default_factory=dict)
    in_rework: dict[str, int] = field(default_factory=dict)
    rework_good: dict[str, int] = field(default_factory=dict)
    remaining: list[Segment] = field(default_factory=list)
    rerun: list[Segment] = field(default_factory=list)
    decided: bool = False


@dataclass(slots=True, kw_only=True)
class Demand:
    """The whole explosion: balances by part, needs by job, and how priorities are numbered.

    ``posted`` gives the pieces of each shipment that are gone, by part; ``gone`` the pieces of jobs called off.
    """

    parts: dict[str, PartNeed]
    jobs: dict[str, JobNeed]
    spare: int
    surplus: int
    posted: Mapping[str, Mapping[str, int]]
    gone: Mapping[str, Counted]


def good_of(pieces: int, job: Job) -> int:
    """Good pieces expected of so many put in, rounded down."""
    return pieces * job.yields.numerator // job.yields.denominator


def pieces_for(good: int, job: Job) -> int:
    """Pieces to put in for so many good ones, rounded up."""
    return -(-good * job.yields.denominator // job.yields.numerator)


def takes_for(job: Job, part: str) -> Sequence[Take]:
    """What one piece of a made part takes, beside the piece that a rework job mends."""
    mended = part if job.rework_of else ""
    return [take for take in job.takes if take.into in ("", part) and take.part != mended]


def amount(per: Fraction, pieces: int, scale: int) -> int:
    """What so many pieces take, on the part's grid."""
    return pieces * per.numerator * (scale // per.denominator)


def rounded_up(part: Part, pieces: int) -> int:
    """Pieces to order: at least the MOQ, and a multiple where the supplier asks for one."""
    if not pieces:
        return 0
    pieces = max(pieces, part.moq or 0)
    return -(-pieces // part.multiple) * part.multiple if part.multiple else pieces


def segments_for(job: Job, part: str, wanted: Pieces, room: int | None) -> tuple[list[Segment], Pieces]:
    """Pieces to put in for each priority out of ``room`` (no limit: None), and the demand that did not fit.

    Counted over all priorities together, so that rounding up happens once.
    """
    given: list[Segment] = []
    left: Pieces = []
    good = started = 0
    most = None if room is None else good_of(room, job)
    for priority, number in wanted:
        fits = number if most is None else min(number, most - good)
        good += fits
        upto = pieces_for(good, job)
        if upto > started:
            given.append((priority, part, upto - started))
        started = upto
        if number > fits:
            left.append((priority, number - fits))
    return given, left
