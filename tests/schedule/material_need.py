"""A slow second opinion on what each job has to put in and for whom: pieces handed out one at a time.

Priorities: -1 for what was used already, then shipments by their place in the plan, spares after all of them and
last what nobody asked for. Written from the rules, sharing only the plan's values with the engine.
"""

from collections import defaultdict
from dataclasses import dataclass, field
from fractions import Fraction
from math import ceil, floor

from tracker.plan.model import Fact, Job, Plan
from tracker.plan.parts import Part, Take

USED = -1


@dataclass
class Came:
    """Pieces of one part that came on one day."""

    day: int
    part: str
    good: int
    rework: int
    scrap: int
    unjudged: int
    at_bench: bool
    likely: int = 0  # good ones expected of those unjudged

    @property
    def pieces(self) -> int:
        return self.good + self.rework + self.scrap + self.unjudged


@dataclass
class Pile:
    """Pieces of one job: what came, what is made or on its way, what goes round again, what is still to be put in."""

    job: Job
    shares: dict[str, int | None]
    came: list[Came] = field(default_factory=list)
    on_way: list[list[int]] = field(default_factory=list)  # [day, pieces]
    at_door: list[list[int]] = field(default_factory=list)
    open: list[tuple[int, str]] = field(default_factory=list)  # (priority, part) of each piece
    again: list[tuple[int, str]] = field(default_factory=list)

    def received(self, part: str) -> int:
        return sum(one.pieces for one in self.came if one.part == part)


def pieces_left(yields: Fraction, tokens: list[int], room: int | None) -> tuple[list[int], list[int]]:
    """Put pieces in one by one, each towards the good one that is next; return their priorities and what is unmet.

    The n-th piece put in brings a good one when the rounded-down share of n grows.
    """
    most = len(tokens) if room is None else min(len(tokens), floor(room * yields))
    put_in: list[int] = []
    good = 0
    while good < most:
        put_in.append(tokens[good])
        good = floor(len(put_in) * yields)
    return put_in, tokens[most:]


class Needs:
    """The piles of all jobs in the run, with what each still has to put in, in the order it is needed."""

    def __init__(self, plan: Plan, today: int, done: dict[str, int], begun: frozenset[str]) -> None:
        self.plan, self.today, self.done, self.begun = plan, today, done, begun
        self.spare, self.surplus = len(plan.shipments), len(plan.shipments) + 1
        self.jobs = [job for job in plan.jobs if job.makes or job.takes or job.rework_of]
        self.piles = {job.code: self.pile_of(job) for job in self.jobs}
        self.gone = self._posted()
        self.wanted: dict[str, list[tuple[int, Fraction]]] = defaultdict(list)
        self.order = self._order()
        self._book_counts()
        for part in plan.parts:
            self.wanted[part.code].append((self.spare, Fraction(part.spares)))
        for code in reversed(self.order):
            self._ask(plan.job_by_code[code])

    def makes(self, job: Job) -> tuple[str, ...]:
        """The parts a job makes; mending makes what the mended job makes."""
        made = job.makes or (self.plan.job_by_code[job.rework_of].makes if job.rework_of else ())
        return tuple(make.part for make in made)

    def makers(self, part: str) -> list[Job]:
        """Who makes a part, those that serve an earlier shipment first."""
        place = {shipment.code: n for n, shipment in enumerate(self.plan.shipments)}
        found = [job for job in self.jobs if part in self.makes(job)]
        return sorted(found, key=lambda job: min((place[code] for code in job.serves), default=len(place)))

    def takes(self, job: Job, part: str) -> list[Take]:
        return [take for take in job.takes if take.into in ("", part)]

    def facts(self, job: Job, *kinds: str) -> list[Fact]:
        found = [f for f in self.plan.facts if f.job == job.code and f.kind in kinds]
        return sorted((f for f in found if f.on.toordinal() <= self.today), key=lambda f: f.on)

    def pile_of(self, job: Job) -> Pile:
        ordered = [f.quantity for f in self.facts(job, "ordered") if f.quantity]
        quantity = job.quantity or (ordered[0] if ordered else None)
        shares: dict[str, int | None] = dict.fromkeys(self.makes(job), quantity)
        if len(shares) > 1:
            shares = {make.part: make.quantity for make in job.makes}
        pile = Pile(job, shares)
        home = self.plan.supplier_by_code[job.supplier].inhouse
        for fact in self.facts(job, "in", "made", "left", "sorted"):
            self._count(pile, fact, home=home)
        for part in shares:  # of all pieces nobody judged the rounded-down share is good, older ones first
            seen = 0
            for one in (c for c in pile.came if c.part == part):
                one.likely = floor((seen + one.unjudged) * job.yields) - floor(seen * job.yields)
                seen += one.unjudged
        return pile

    def _count(self, pile: Pile, fact: Fact, *, home: bool) -> None:
        day, part = fact.on.toordinal(), fact.part or next(iter(pile.shares))
        counts = (fact.good or 0, fact.rework or 0, fact.scrap or 0, fact.count or 0)
        if fact.kind == "in":
            self._came_of_made(pile, sum(counts))
        if fact.kind == "in" or (fact.kind == "made" and home):
            pile.came.append(Came(day, part, *counts, at_bench=fact.kind == "made"))
        elif fact.kind == "sorted":
            left = sum(counts)
            for one in pile.came:
                if one.part == part:
                    looked_at = min(left, one.unjudged)
                    one.unjudged -= looked_at
                    left -= looked_at
            pile.came.append(Came(day, part, *counts, at_bench=False))
            pile.came = [one for one in pile.came if one.pieces]
        elif fact.good:
            (pile.at_door if fact.kind == "made" else pile.on_way).append([day, fact.good])

    def _came_of_made(self, pile: Pile, pieces: int) -> None:
        """What comes was on its way, else made at their door, else made at our bench: it is no new piece."""
        for parcel in (*pile.on_way, *pile.at_door):
            taken = min(pieces, parcel[1])
            parcel[1] -= taken
            pieces -= taken
        for one in pile.came:
            taken = min(pieces, one.good) if one.at_bench else 0
            one.good -= taken
            pieces -= taken
        pile.came = [one for one in pile.came if one.pieces]

    def back(self, pile: Pile, part: str) -> int:
        """Pieces put in that have come back; what came beyond the quantity had been reworked and is no new piece.

        Where nothing says how many, it is what had come when the job was done.
        """
        share, received = pile.shares[part], pile.received(part)
        share = self.done.get(pile.job.code) if share is None else share
        again = sum(one.rework for one in pile.came if one.part == part)
        return received - (min(again, max(0, received - share)) if share else 0)

    def in_rework(self, pile: Pile, part: str) -> int:
        """Pieces that go round again in the job itself, with no job of their own to mend them."""
        again = sum(one.rework for one in pile.came if one.part == part)
        sent = sum(
            other.shares.get(part) or 0
            for other in self.piles.values()
            if other.job.rework_of == pile.job.code
        )
        return max(0, again - sent - (pile.received(part) - self.back(pile, part)))

    def _posted(self) -> dict[tuple[str, str], int]:
        found: dict[tuple[str, str], int] = defaultdict(int)
        for fact in self.plan.facts:
            if fact.kind == "posted":
                found[fact.shipment, fact.part] += fact.good or 0
        return found

    def _order(self) -> list[str]:
        """Makers before takers, and a job after what it waits for."""
        order: list[str] = []

        def visit(job: Job) -> None:
            if job.code in order:
                return
            for link in job.after:
                visit(self.plan.job_by_code[link.job])
            if job.rework_of:
                visit(self.plan.job_by_code[job.rework_of])
            for take in job.takes:
                for maker in self.makers(take.part):
                    visit(maker)
            order.append(job.code)

        for job in self.jobs:
            visit(job)
        return order

    def _book_counts(self) -> None:
        self.here = {part.code: part.here for part in self.plan.parts}
        self.came = dict(self.here)
        self.used: dict[str, Fraction] = defaultdict(Fraction)
        for pile in self.piles.values():
            for part in pile.shares:
                came = sum(one.good + one.likely for one in pile.came if one.part == part)
                self.here[part] += came + floor(self.in_rework(pile, part) * pile.job.yields)
                self.came[part] += came
                for take in self.takes(pile.job, part):
                    self.used[take.part] += take.per * self.back(pile, part)
        for fact in self.plan.facts:
            if fact.kind == "scrapped":
                self.used[fact.part] += fact.scrap or 0
        for priority, shipment in enumerate(self.plan.shipments):
            for content in shipment.contents:
                gone = self.gone[shipment.code, content.part]
                self.used[content.part] += gone
                self.wanted[content.part].append((priority, Fraction(content.quantity - gone)))
        self.beyond = {part: max(Fraction(0), self.used[part] - came) for part, came in self.came.items()}
        for part, number in self.beyond.items():  # used though it never came: a mistake, not a need
            self.used[part] -= number

    def _ask(self, job: Job) -> None:
        """Settle the parts a job makes, then ask for what its pieces take."""
        for part in self.makes(job):
            if job == next(
                one for one in map(self.plan.job_by_code.get, reversed(self.order)) if part in self.makes(one)
            ):
                self._settle(part)
        pile = self.piles[job.code]
        if all(priority == self.surplus for priority, _ in pile.open):
            first = self._first_behind(job)
            pile.open = [(first, part) for _, part in pile.open]
        for pieces, holds in ((pile.open, job.code in self.begun), (pile.again, False)):
            for priority, part in pieces:
                for take in self.takes(job, part):
                    if holds:
                        self.used[take.part] += take.per
                    else:
                        self.wanted[take.part].append((priority, take.per))

    def _tokens(self, part: str) -> list[int]:
        """The priority of each good piece still to come: what is here goes out first."""
        here = self.here[part]
        tokens: list[int] = []
        total = Fraction(0)
        for priority, number in [(USED, self.used[part]), *sorted(self.wanted[part])]:
            met = min(here, number)
            here -= met
            total += number - met
            tokens += [priority] * (ceil(total) - len(tokens))
        return tokens

    def _settle(self, part: str) -> None:
        tokens = self._tokens(part)
        makers = self.makers(part)
        undecided = [
            job for job in makers if job.code not in self.done and self.piles[job.code].shares[part] is None
        ]
        for job in makers:
            pile = self.piles[job.code]
            if job.code in self.done or pile.shares[part] is None:
                continue
            room = max(0, pile.shares[part] - self.back(pile, part))
            put_in, tokens = pieces_left(job.yields, tokens, room)
            put_in += [self.surplus] * (room - len(put_in))
            pile.open = sorted(
                [*pile.open, *((priority, part) for priority in put_in)],
                key=lambda piece: (piece[0], self.makes(job).index(piece[1])),
            )
        if undecided:
            job = undecided[0]
            new = [] if job.code in self.begun else [self.plan.part_by_code[part]]
            self.piles[job.code].open = self._new_order(job, part, tokens, *new)
            return
        tokens = [priority for priority in tokens if priority < self.spare]
        able = [job for job in makers if not job.rework_of]
        if tokens and able:
            job = next((one for one in able if one.rerun), able[-1])
            self.piles[job.code].again += self._new_order(job, part, tokens, self.plan.part_by_code[part])

    def _new_order(self, job: Job, part: str, tokens: list[int], *rounds: Part) -> list[tuple[int, str]]:
        put_in, _ = pieces_left(job.yields, tokens, None)
        size = len(put_in)
        for one in rounds if put_in else ():
            size = max(size, one.moq or 0)
            while one.multiple and size % one.multiple:
                size += 1
        return [(priority, part) for priority in (*put_in, *[self.surplus] * (size - len(put_in)))]

    def _first_behind(self, job: Job) -> int:
        """The first shipment behind what waits for a job by a link; nobody asked for it where there is none."""
        found = [n for n, shipment in enumerate(self.plan.shipments) if job.code in shipment.after]
        found += [self._reach(one) for one in self.plan.jobs if job.code in (link.job for link in one.after)]
        first = min(found, default=self.spare)
        return self.surplus if first == self.spare else first

    def _reach(self, job: Job) -> int:
        made = self.makes(job)
        found = [
            n
            for n, shipment in enumerate(self.plan.shipments)
            if job.code in shipment.after or any(content.part in made for content in shipment.contents)
        ]
        found += [
            self._reach(one)
            for one in self.plan.jobs
            if job.code in (link.job for link in one.after) or any(take.part in made for take in one.takes)
        ]
        return min(found, default=self.spare)
