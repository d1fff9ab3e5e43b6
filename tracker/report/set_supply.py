"""What full sets are counted from: a product's takes, the parts here and coming, the pieces shipments want.

Amounts are integers on each part's own grid; days are integers (``date.toordinal()``), each the evening of its day.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import accumulate

from tracker.plan.balance import USED, amount, pieces_for, takes_for
from tracker.plan.model import Job
from tracker.report.picture import Picture
from tracker.schedule.network import Network
from tracker.schedule.supply import HELD

NEVER = 1 << 60  # a day no arrival reaches


@dataclass(frozen=True, slots=True, kw_only=True)
class Product:
    """One product, or one variant of it, as a part with what a set takes (``per``).

    ``built`` pieces came good and were not scrapped since, ``reworked`` good ones are expected of those in rework.
    ``in_work`` pieces belong to lots that have begun, which hold ``held`` of the parts. ``wanted`` counts, for each
    shipment in turn, the pieces needed for it and all before it, ``used`` ones among them. ``maker`` is the one with
    the lowest yield.
    """

    unit: str
    maker: Job
    per: Mapping[str, int]
    built: int
    reworked: int
    in_work: int
    held: Mapping[str, int]
    used: int
    wanted: Sequence[int]

    def put_in_for(self, place: int) -> int:
        """Sets to put in so that the shipments up to this place in the plan have their pieces."""
        return pieces_for(max(0, self.wanted[place] - self.built - self.reworked), self.maker)

    def wants(self, place: int) -> int:
        """Pieces that the shipment at this place still wants."""
        return self.wanted[place] - (self.wanted[place - 1] if place else self.used)

    def room(self, stock: Mapping[str, int]) -> int:
        """How many sets a stock allows, all of it for this product."""
        return max(0, min(stock[part] // per for part, per in self.per.items()))

    def without(self, parts: frozenset[str]) -> "Product":
        """The same, as if there were enough of some parts."""
        return replace(self, per={part: per for part, per in self.per.items() if part not in parts})


@dataclass(frozen=True, slots=True)
class Coming:
    """Good pieces forecast to arrive on an evening, and the lot that brings them."""

    day: int
    part: str
    lot: int
    amount: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Supply:
    """Parts here that no lot holds (``free``; negative where lots that began lack some), and what comes.

    ``coming`` is sorted by day; what should come today is in it until it is logged.
    """

    free: Mapping[str, int]
    coming: Sequence[Coming] = field(default=())

    def by(self, day: int | None) -> dict[str, int]:
        """What is free by the evening of a day; None: now."""
        stock = dict(self.free)
        for one in self.coming:
            if day is not None and one.day <= day:
                stock[one.part] += one.amount
        return stock


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """Sets put in by product out of one stock, and the places of shipments that have all their pieces by it."""

    put_in: Mapping[str, int]
    filled: frozenset[int]


def product_of(picture: Picture, unit: str) -> Product | None:
    """A part of a plan that counts pieces as a product; None where no job still in the run builds it.

    Where several jobs make it, a set takes what any of them takes, the most of each part.
    """
    network, demand = picture.forecast.network, picture.forecast.network.exploded
    makers = [job for job in picture.plan.makers_of.get(unit, ()) if job.code in demand.jobs]
    per: dict[str, int] = {}
    for job in makers:
        for take in takes_for(job, unit):
            used = amount(take.per, 1, demand.parts[take.part].scale)
            per[take.part] = max(used, per.get(take.part, 0))
    if not per:
        return None
    need = demand.parts[unit]
    in_work, held = _in_work(network, unit, makers, tuple(per))
    used, *wanted = _wanted(picture, unit)
    return Product(
        unit=unit,
        maker=min(makers, key=lambda job: job.yields),
        per=per,
        built=(need.came - min(need.came, need.scrapped)) // need.scale,
        reworked=_reworked(picture, unit),
        in_work=in_work,
        held=held,
        used=used,
        wanted=wanted,
    )


def _in_work(
    network: Network, unit: str, makers: Sequence[Job], parts: Sequence[str]
) -> tuple[int, Mapping[str, int]]:
    """Pieces of lots that have begun, and the parts they hold."""
    ours = {lot for job in makers for lot in network.lots_of.get(job.code, ())}
    held = dict.fromkeys(parts, 0)
    begun: set[int] = set()
    for part in parts:
        for draw in network.stocks[part].draws:
            if draw.priority == HELD and draw.name == unit and draw.lot is not None and draw.lot in ours:
                held[part] += draw.amount
                begun.add(draw.lot)
    lots = [lot for place in begun if (lot := network.lots[place]) is not None]
    return sum(lot.put_in(unit) for lot in lots), held


def _reworked(picture: Picture, unit: str) -> int:
    """Good pieces expected of those that go round again, in the job itself or at one for rework."""
    network, found = picture.forecast.network, 0
    for job in picture.plan.makers_of.get(unit, ()):
        for place in network.lots_of.get(job.code, ()):
            lot = network.lots[place]
            if lot is not None and lot.goes_round:
                found += lot.good.get(unit, 0)
    return found


def _wanted(picture: Picture, unit: str) -> list[int]:
    """Pieces used already, scrapped ones left out; then those and what is wanted up to each shipment."""
    stock, need = picture.forecast.network.stocks[unit], picture.forecast.network.exploded.parts[unit]
    drawn = {USED: -min(need.came, need.scrapped)}
    for draw in stock.draws:
        priority = max(USED, draw.priority)
        drawn[priority] = drawn.get(priority, 0) + draw.amount
    places = range(USED, len(picture.plan.shipments))
    return [pieces // stock.scale for pieces in accumulate(drawn.get(place, 0) for place in places)]


def supply_of(picture: Picture, products: Sequence[Product]) -> Supply:
    """What is free now, and what comes, of every part the products take."""
    network, demand = picture.forecast.network, picture.forecast.network.exploded
    free: dict[str, int] = {}
    coming: list[Coming] = []
    for part in dict.fromkeys(part for product in products for part in product.per):
        stock, need = network.stocks[part], demand.parts[part]
        drawn = sum(draw.amount for draw in stock.draws if draw.priority < 0)
        free[part] = need.came - drawn
        for entry in stock.entries:
            lot = None if entry.lot is None else network.lots[entry.lot]
            if entry.lot is not None and lot is not None and lot.kind != "received":
                coming.append(Coming(entry.arrive, part, entry.lot, entry.amount))
    return Supply(free=free, coming=sorted(coming, key=lambda one: one.day))


def share_out(products: Sequence[Product], free: Mapping[str, int]) -> Share:
    """Share a stock among products that have parts in common.

    Lots that have begun keep theirs; then come the shipments in the plan's order, each with its pieces of every
    product in turn; then the products in turn, as far as the parts go. Where products share some parts only in
    equal numbers, no other order gives more sets.
    """
    stock = dict(free)
    for product in products:
        for part, held in product.held.items():
            if part in product.per:
                stock[part] += held
    put_in = dict.fromkeys((product.unit for product in products), 0)

    def give(product: Product, upto: int) -> bool:
        lacks = max(0, upto - put_in[product.unit])
        given = min(lacks, product.room(stock))
        put_in[product.unit] += given
        for part, per in product.per.items():
            stock[part] -= given * per
        return given == lacks

    for product in products:
        give(product, product.in_work)
    filled = []
    for place in range(len(products[0].wanted)):
        complete = [give(product, product.put_in_for(place)) for product in products if product.wants(place)]
        if all(complete):
            filled.append(place)
    for product in products:
        give(product, NEVER)
    return Share(put_in=put_in, filled=frozenset(filled))
