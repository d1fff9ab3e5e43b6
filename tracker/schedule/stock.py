"""The stock of one part: what comes when, who draws from it, and which arrival covers each draw."""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace


@dataclass(frozen=True, slots=True)
class Entry:
    """Good pieces that one lot brings (None: in stock at the start), on the part's grid, with their evening.

    ``goes_round`` marks pieces that came once and are reworked by the job itself.
    """

    arrive: int
    maker: int
    number: int
    lot: int | None
    amount: int
    goes_round: bool = False


@dataclass(slots=True)
class Draw:
    """What one taker draws with one priority; ``lot`` is None for shipments, postings, spares and scrap.

    ``name`` is the part made of it, the shipment's code, or what else takes it. ``first`` and ``last`` are
    places among the sorted entries, ``last`` the one that covers the draw; ``covered`` is what of it is met.
    ``sure`` are its places among the entries without those that go round again, where these cover it as early.
    """

    priority: int
    taker: int
    lot: int | None
    name: str
    amount: int
    first: int = 0
    last: int = -1
    covered: int = 0
    sure: tuple[int, int] | None = None


@dataclass(slots=True)
class Stock:
    """One part's entries and draws on its own grid (``scale`` steps to the unit).

    ``sure`` are the entries without pieces that go round again, filled where there are such pieces.
    """

    part: str
    scale: int
    entries: list[Entry] = field(default_factory=list)
    draws: list[Draw] = field(default_factory=list)
    left_over: int = 0
    is_shared_out: bool = False
    sure: list[Entry] = field(default_factory=list)

    def add(self, entry: Entry) -> None:
        """Add what a lot brings; once all is shared out it is left over."""
        self.entries.append(entry)
        if self.is_shared_out:
            self.left_over += entry.amount

    def share_out(self) -> None:
        """Cover every draw, by priority, then taker, then lot, from the entries in the order they arrive.

        An entry may cover several draws and a draw need several entries; drawn and left over add up to all
        that comes.
        """
        if self.is_shared_out:
            return
        self.is_shared_out = True
        entries = self.entries
        entries.sort(key=lambda entry: (entry.arrive, entry.maker, entry.number))
        self.draws.sort(key=lambda draw: (draw.priority, draw.taker, -1 if draw.lot is None else draw.lot))
        place, room = -1, 0
        for draw in self.draws:
            wanted = draw.amount
            while room == 0 and place + 1 < len(entries):
                place += 1
                room = entries[place].amount
            draw.first = place
            while wanted and room:
                taken = min(wanted, room)
                wanted -= taken
                room -= taken
                draw.last = place
                if wanted and place + 1 < len(entries):
                    place += 1
                    room = entries[place].amount
            draw.covered = draw.amount - wanted
        self.left_over = sum(entry.amount for entry in entries) - sum(draw.covered for draw in self.draws)
        if any(entry.goes_round for entry in entries):
            self._try_without_rework()

    def _try_without_rework(self) -> None:
        """Find the draws that nothing reworked makes any earlier: rework that helps no one holds no one up."""
        self.sure = [entry for entry in self.entries if not entry.goes_round]
        again = [replace(draw, first=0, last=-1, covered=0) for draw in self.draws]
        without = Stock(self.part, self.scale, self.sure, again)
        without.share_out()
        for draw, other in zip(self.draws, without.draws, strict=True):
            arrival = self.arrival(draw)
            if arrival is not None and without.arrival(other) == arrival:
                draw.sure = other.first, other.last

    def sources(self, draw: Draw) -> Iterator[Entry]:
        """The entries a draw waits for, the covering one last; others instead of rework that comes no earlier."""
        entries, (first, last) = self.entries, (draw.first, draw.last)
        if draw.sure is not None:
            entries, (first, last) = self.sure, draw.sure
        return iter(entries[first : last + 1] if draw.covered else ())

    def arrival(self, draw: Draw) -> int | None:
        """The evening of the entry that covers a draw; None where it is not covered."""
        return self.entries[draw.last].arrive if draw.covered == draw.amount and draw.amount else None
