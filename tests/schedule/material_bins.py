"""Bins of parts for the slow second opinion: who wants how much, and what arrives goes to who is next.

A wish's rank is (priority, taker, lot); pieces that came back, went out or were scrapped come first of all.
"""

from collections import defaultdict
from dataclasses import dataclass, field
from fractions import Fraction

from tests.schedule.material_lots import Group, Parcel
from tests.schedule.material_need import Needs
from tracker.plan.model import Plan

COUNTED, HELD = -2, -1
Place = tuple[int, int, int]  # (evening, maker, lot), by which what arrives is handed out


@dataclass
class Wish:
    """So much of a part, wanted by one group of a lot's pieces, or by a shipment, spares or scrap."""

    part: str
    rank: tuple[int, int, int]
    amount: Fraction
    got: Fraction = Fraction(0)
    sources: list[tuple[int, Parcel | None]] = field(default_factory=list)  # (evening, lot)

    @property
    def is_met(self) -> bool:
        return self.got == self.amount

    def is_met_by(self, morning: int) -> bool:
        return self.is_met and all(evening < morning for evening, _ in self.sources)


class Bins:
    """What is wanted of each part, and what has arrived and was not handed out yet."""

    def __init__(self, plan: Plan, needs: Needs) -> None:
        self.plan, self.needs = plan, needs
        self.place = {code: n for n, code in enumerate(sorted(job.code for job in plan.jobs))}
        self.queues: dict[str, list[Wish]] = defaultdict(list)
        self.came: dict[str, list[tuple[Place, Fraction, Parcel | None]]] = defaultdict(list)
        self.inputs: dict[tuple[str, int], dict[Group, list[Wish]]] = defaultdict(lambda: defaultdict(list))
        self.contents: dict[str, list[Wish]] = defaultdict(list)
        start = plan.run.start.toordinal() - 1
        for part in plan.parts:
            self.came[part.code].append(((start, -1, 0), part.here, None))

    def bring(self, lot: Parcel) -> None:
        """Put what a lot brings on its evening into the bins."""
        for part, good in lot.good.items():
            place = lot.arrive, self.place[lot.job.code], lot.number
            self.came[part].append((place, Fraction(good), lot))

    def hand_out(self, part: str, evening: int) -> None:
        """Give what has arrived by an evening to who is next in the queue."""
        arrived = sorted((one for one in self.came[part] if one[0][0] <= evening), key=lambda one: one[0])
        self.came[part] = [one for one in self.came[part] if one[0][0] > evening]
        for (day, _, _), number, lot in arrived:
            left = number
            for wish in self.queues[part]:
                taken = min(left, wish.amount - wish.got)
                if taken:
                    wish.got += taken
                    wish.sources.append((day, lot))
                    left -= taken

    def ask(self, code: str, lots: list[Parcel]) -> None:
        """Want what the lots of a job take."""
        pile = self.needs.piles[code]
        back = {part: self.needs.back(pile, part) for part in pile.shares}
        for lot in lots:
            if lot.kind == "received":
                part = lot.came.part
                pieces = min(back[part], lot.came.pieces)
                back[part] -= pieces
                self._ask_for(lot, COUNTED, (COUNTED, part), pieces)
            elif lot.kind != "rework":
                for group in lot.groups:
                    self._ask_for(lot, HELD if lot.holds else group[0], group, lot.pieces.count(group))

    def _ask_for(self, lot: Parcel, priority: int, group: Group, pieces: int) -> None:
        for take in self.needs.takes(lot.job, group[1]) if pieces else ():
            rank = priority, self.place[lot.job.code], lot.number
            self.inputs[lot.job.code, lot.number][group].append(
                self._want(take.part, rank, take.per * pieces)
            )

    def _want(self, part: str, rank: tuple[int, int, int], amount: Fraction) -> Wish:
        wish = Wish(part, rank, Fraction(amount))
        self.queues[part].append(wish)
        return wish

    def ask_beyond_jobs(self) -> None:
        """Want what shipments hold, what was posted or scrapped, and spares; put everybody in turn."""
        count = len(self.plan.jobs)
        for priority, shipment in enumerate(self.plan.shipments):
            for content in shipment.contents:
                gone = self.needs.gone[shipment.code, content.part]
                for rank, number in ((COUNTED, gone), (priority, content.quantity - gone)):
                    wish = self._want(content.part, (rank, count + priority, -1), number)
                    self.contents[shipment.code].append(wish)
        for part in self.plan.parts:
            bad = sum(f.scrap for f in self.plan.facts if f.kind == "scrapped" and f.part == part.code)
            self._want(part.code, (COUNTED, -1, -1), bad)
            self._want(part.code, (self.needs.spare, count, -1), part.spares)
        for part, queue in self.queues.items():
            queue.sort(key=lambda wish: wish.rank)
            beyond = self.needs.beyond[part]
            for wish in reversed([wish for wish in queue if wish.rank[0] == COUNTED]):
                mistaken = min(beyond, wish.amount)
                wish.amount, beyond = wish.amount - mistaken, beyond - mistaken
