"""A slow second opinion on how one job's pieces are cut into lots, each piece by itself."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import pairwise
from math import ceil, floor

from tests.schedule.material_need import Came, Needs, Pile
from tracker.plan.model import Fact, Job, Plan
from tracker.plan.span import DayRate, HourRate, Lead

Group = tuple[int, str]  # (priority, part made)
NOBODY = 1 << 30


@dataclass
class Parcel:
    """One lot: its pieces by priority and part made, what was logged of it, and its dates once they are known."""

    job: Job
    number: int
    kind: str
    pieces: list[Group]
    facts: list[Fact] = field(default_factory=list)
    came: Came | None = None
    good: dict[str, int] = field(default_factory=dict)
    after: "Parcel | None" = None  # worked after that one, fractions of a day carried
    work: Fraction = Fraction(0)  # own days
    holds: bool = False  # its inputs are its own
    since: int | None = None  # begun on that day, as logged
    goes_on: bool = False  # begun, but nobody logged when
    only_counted: bool = False  # pieces were counted as made and none has come
    counted_from: int | None = None
    seen: int = 0  # the first day something showed of its job
    day1: int = 0  # a later lot of work that has begun: not before that day
    waits_for_day1: bool = False  # dated by a promise before it may begin
    start: int | None = None
    finish: int | None = None
    arrive: int | None = None
    used: Fraction = Fraction(1)  # how much of its last day it takes
    first: int = NOBODY

    def __post_init__(self) -> None:
        self.first = min((priority for priority, _ in self.pieces), default=NOBODY)

    @property
    def groups(self) -> list[Group]:
        return list(dict.fromkeys(self.pieces))


class Cutter:
    """Cuts the piles of a plan into lots."""

    def __init__(self, plan: Plan, today: int) -> None:
        self.plan, self.today = plan, today
        counting = [job for job in plan.jobs if job.makes or job.takes or job.rework_of]
        bare = Needs.__new__(Needs)
        bare.plan, bare.today = plan, today
        quantities = {job.code: _sum(bare.pile_of(job).shares.values()) for job in counting}
        whole = {job.code: self._whole(job, quantities[job.code]) for job in counting}
        self.done = {code: pieces for code, pieces in whole.items() if pieces is not None}
        begun = frozenset(job.code for job in counting if self._at_work(job))
        self.needs = Needs(plan, today, self.done, begun)

    def facts(self, job: Job, *kinds: str) -> list[Fact]:
        found = [f for f in self.plan.facts if f.job == job.code and f.on.toordinal() <= self.today]
        return sorted((f for f in found if not kinds or f.kind in kinds), key=lambda f: f.on)

    def home(self, job: Job) -> bool:
        return self.plan.supplier_by_code[job.supplier].inhouse

    def _whole(self, job: Job, quantity: int | None) -> int | None:
        """Pieces that had come when the job was done; None while it is not.

        Received pieces reach the quantity, a delivery is said to be the last, or it is all that is known of a
        supplier's quantity: until they promise more. The need alone says when our own bench has made enough.
        """
        received = made = 0
        whole: int | None = None
        ended = None
        short = False
        for fact in self.facts(job, "in", "made", "promised"):
            if fact.kind == "promised" and quantity is None and not short:
                whole = whole if self.home(job) else None
            if fact.kind == "in":
                received += fact.pieces
                enough = not self.home(job) if quantity is None else received >= quantity
                if enough or fact.closes:
                    if whole is None or fact.on == ended:
                        whole, ended = received, fact.on
                    short = fact.closes
            if fact.kind == "made" and self.home(job):
                made += fact.good or 0
                if quantity is not None and made >= quantity:
                    whole = whole or 0
        return whole

    def _at_work(self, job: Job) -> bool:
        kinds = {fact.kind for fact in self.facts(job)}
        if kinds & {"started", "left"}:
            return True
        return bool(kinds & {"in", "made"}) and not self.home(job)

    def lots(self, code: str) -> list[Parcel]:
        """The lots of one job in the order they come."""
        job, pile = self.plan.job_by_code[code], self.needs.piles[code]
        lots = [
            Parcel(job, 0, "received", [], came=one, good={one.part: one.good + one.likely})
            for one in pile.came
        ]
        lots += self._round_again(job, pile)
        lots += self._open(job, pile)
        if pile.again:
            again = Parcel(job, 0, "rerun", pile.again, work=self.work(job, len(pile.again), sets_up=True))
            if self.in_sequence(job) and lots and lots[-1].kind in ("promised", "to come"):
                again.after = lots[-1]
            lots.append(again)
        if not lots and self.facts(job):
            kind = (
                "on the way" if self.facts(job, "left") else "made" if self.facts(job, "made") else "to come"
            )
            lots = [self._lot(job, kind, [], self.facts(job))]
        for number, lot in enumerate(lots):
            lot.number = number
        return lots

    def in_sequence(self, job: Job) -> bool:
        return job.one_by_one or not isinstance(job.lead, Lead)

    def work(self, job: Job, pieces: int, *, sets_up: bool) -> Fraction:
        """Own days that pieces take."""
        lead = job.lead
        if isinstance(lead, Lead):
            return Fraction(lead.planned)
        if isinstance(lead, DayRate):
            return Fraction(lead.setup if sets_up else 0) + Fraction(pieces) / lead.per_day
        assert isinstance(lead, HourRate)
        hours = (lead.setup_h if sets_up else 0) + pieces * lead.minutes_each / 60 / lead.machines
        return hours / lead.hours_per_day

    def _round_again(self, job: Job, pile: Pile) -> list[Parcel]:
        count = {part: self.needs.in_rework(pile, part) for part in pile.shares}
        if not any(count.values()):
            return []
        came = max(one.day for one in pile.came if one.rework)
        at_bench = sum(one.pieces for one in pile.came if one.at_bench)
        still = sum(self.needs.back(pile, part) for part in pile.shares) - at_bench
        later = []
        for fact in self.facts(
            job, "in", "promised"
        ):  # those given once all had come are for what goes round
            still -= fact.pieces if fact.kind == "in" else 0
            later += [fact] if fact.kind == "promised" and still <= 0 else []
        good = {part: floor(number * job.yields) for part, number in count.items()}
        work = self.work(job, sum(count.values()), sets_up=True)
        facts = later if job.code in self.done else []
        lot = Parcel(job, 0, "rework", [], facts, good=good, work=work, since=came + 1)
        return [lot]

    def _lot(self, job: Job, kind: str, pieces: list[Group], facts: list[Fact]) -> Parcel:
        """An open lot with what was logged as it bears on it."""
        days = {
            kind: [f.on.toordinal() for f in self.facts(job, kind)]
            for kind in ("started", "in", "made", "left")
        }
        seen = [day for kind in ("in", "made", "left") for day in days[kind]]
        lot = Parcel(job, 0, kind, pieces, facts, work=self.work(job, len(pieces), sets_up=True))
        lot.since = days["started"][0] if days["started"] else None
        lot.goes_on = bool(seen) and lot.since is None
        lot.seen = min(seen, default=0)
        lot.only_counted = self.home(job) or (bool(days["made"]) and not days["in"])
        lot.counted_from = days["made"][0] if self.home(job) and days["made"] else None
        lot.holds = lot.since is not None or (bool(seen) and not self.home(job))
        return lot

    def _open(self, job: Job, pile: Pile) -> list[Parcel]:
        pieces = list(pile.open)
        plain = self.facts(job, "ordered")
        lots: list[Parcel] = []
        for kind, name, parcels in (("on the way", "left", pile.on_way), ("made", "made", pile.at_door)):
            for day, number in parcels:
                fact = next(f for f in self.facts(job, name) if f.on.toordinal() == day)
                taken, pieces = pieces[:number], pieces[number:]
                if taken:
                    lots.append(Parcel(job, 0, kind, taken, [fact], holds=True))
        for kind, name in (("on the way", "left"), ("made", "made")):
            whole = [f for f in self.facts(job, name) if f.good is None]
            if whole and pieces:
                lots.append(Parcel(job, 0, kind, pieces, whole[-1:], holds=True))
                pieces = []
        worked: list[Parcel] = []
        for promise, number in self._promises(job, len(pieces)):
            taken, pieces = pieces[:number], pieces[number:]
            worked.append(self._lot(job, "promised", taken, [*plain, promise]))
        for size in self._sizes(job, pile, pieces):
            taken, pieces = pieces[:size], pieces[size:]
            worked.append(self._lot(job, "to come", taken, plain))
        if self.in_sequence(job):
            self._put_in_sequence(job, pile, worked, gone=sum(len(lot.pieces) for lot in lots))
        return [*lots, *worked]

    def _promises(self, job: Job, open_pieces: int) -> list[tuple[Fact, int]]:
        """Which promise speaks for how many open pieces."""
        promises = self.facts(job, "promised")
        if not promises or not open_pieces:
            return []
        latest = promises[-1]
        if latest.good is None:
            return [(latest, open_pieces)]
        group = [f for f in promises if f.on == latest.on and f.good is not None]
        since = [f for f in self.facts(job, "in") if f.on > latest.on]
        same_day = [
            f
            for f in self.facts(job, "in")
            if f.on == latest.on
            and self.plan.facts.index(f) > min(self.plan.facts.index(one) for one in group)
        ]
        kept = sum(f.pieces for f in (*since, *same_day))
        found: list[tuple[Fact, int]] = []
        for promise in sorted(group, key=lambda f: f.day):
            met = min(promise.good, kept)
            kept -= met
            number = min(promise.good - met, open_pieces)
            open_pieces -= number
            if number:
                found.append((promise, number))
        whole = [f for f in promises if f.good is None]
        if whole and open_pieces:
            found.append((whole[-1], open_pieces))
        return sorted(found, key=lambda one: one[0].day)

    def _sizes(self, job: Job, pile: Pile, pieces: Sequence[Group]) -> list[int]:
        """Lots of the quantity put in; what is further on came off the first of them."""
        rule, spare = job.lots, self.needs.spare
        if not pieces:
            return []
        if rule == "shipments":
            last = max((p for p, _ in pieces if p < spare), default=spare)
            keys = [min(p, last) for p, _ in pieces]
            return [keys.count(key) for key in sorted(set(keys))]
        total = sum(self.needs.back(pile, part) for part in pile.shares) + len(pile.open)
        if isinstance(rule, int):
            ends = [ceil(Fraction(total * k, rule)) for k in range(1, rule + 1)]
        else:
            ends = [sum(rule[: k + 1]) for k in range(len(rule))] if rule else []
        lot_of = [sum(place >= end for end in ends[:-1]) for place in range(total)][total - len(pieces) :]
        return [lot_of.count(n) for n in sorted(set(lot_of))]

    def _put_in_sequence(self, job: Job, pile: Pile, lots: list[Parcel], gone: int) -> None:
        """One after another with one set-up; the first goes on from where counting or the start stands."""
        counts = [f.on.toordinal() for f in self.facts(job, "in", "made")]
        begun = [lot for lot in lots[:1] if lot.since or lot.counted_from or lot.seen]
        back = sum(self.needs.back(pile, part) for part in pile.shares)
        for before, lot in pairwise(lots):
            lot.after, lot.work = before, self.work(job, len(lot.pieces), sets_up=False)
            shown = lot.since or lot.counted_from or lot.seen
            stands = any(f.kind == "promised" and f.on.toordinal() >= shown for f in lot.facts)
            if shown and not stands:
                lot.day1 = shown
                lot.since, lot.goes_on, lot.counted_from, lot.holds = None, False, None, False
                lot.seen = lot.day1
        for lot in lots[:1]:
            if counts and (self.home(job) or isinstance(job.lead, Lead)):
                lot.work = self.work(job, len(lot.pieces), sets_up=False)
                if lot.since is not None:
                    lot.since = counts[-1] + 1
                else:
                    lot.counted_from = counts[-1] + 1
            elif begun:
                lot.work = self.work(job, len(lot.pieces) + back + gone, sets_up=True)

    def lot_apart(self, lot: Parcel, number: int, pieces: list[Group], last: Parcel) -> Parcel:
        """A lot of its own at the end for pieces that would hold their lot up."""
        facts = [fact for fact in lot.facts if fact.kind != "promised"]
        work = self.work(lot.job, len(pieces), sets_up=False)
        after = last if self.in_sequence(lot.job) else None
        return Parcel(
            lot.job, number, "apart", pieces, facts, after=after, work=work, seen=lot.seen, day1=lot.day1
        )


def _sum(shares: "Sequence[int | None]") -> int | None:
    known = [share for share in shares if share is not None]
    return sum(known) if len(known) == len(list(shares)) else None
