"""How many complete units can be built from what is here, which part is short, and how the number grows."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction

from tracker.report.picture import Picture, day_or_none
from tracker.report.set_supply import Product, Share, Supply, product_of, share_out, supply_of


@dataclass(frozen=True, slots=True, kw_only=True)
class SetPart:
    """One part a set takes.

    ``here`` is good stock that no lot holds (negative: what lots that have begun still lack), on a day ahead with
    what arrives by its evening; ``unjudged`` of it was counted and not looked at yet. ``sets`` are the sets it allows,
    ``missing`` what it lacks for one set more than all parts together allow, ``left`` what would be over.
    """

    part: str
    name: str
    public_name: str
    measure: str
    per: Fraction
    here: Fraction
    unjudged: int
    sets: int
    missing: Fraction
    left: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class ProductSets:
    """One product, or variant, as if all parts were for it alone.

    ``built`` pieces came good, ``in_work`` ones have begun or go round again, ``sets`` more are possible and
    ``total`` is all three. ``short`` names the parts that allow no more; were there enough of them, ``without`` sets
    would be possible and ``then_short`` would be short (None: nothing else is taken). ``parts`` stand by the sets
    they allow, the fewest first.
    """

    unit: str
    name: str
    public_name: str
    built: int
    in_work: int
    sets: int
    total: int
    short: tuple[str, ...]
    without: int | None
    then_short: tuple[str, ...]
    parts: tuple[SetPart, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Together:
    """All products out of one stock, as shipments want them: ``sets`` more, ``total`` with those built or in work.

    ``short`` are parts that every product is short of; were there enough of them, ``without`` sets would be
    possible (by product in ``without_by``), None where no part is short for all. ``shared`` are parts that more than
    one product takes.
    """

    built: int
    in_work: int
    sets: int
    total: int
    short: tuple[str, ...]
    without: int | None
    without_by: dict[str, int]
    shared: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SetsDay:
    """Sets built or possible by the evening of a day, in all and by product as shipments want them.

    ``came`` names the parts that arrive on that day, ``at_best`` the jobs without news the number rests on.
    """

    day: date
    total: int
    by_unit: dict[str, int]
    came: tuple[str, ...]
    at_best: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ShipmentSets:
    """When the pieces of a shipment, and of all before it, can be built.

    ``quantity`` are those it still wants, ``upto`` all wanted so far, used ones among them. ``possible_on`` is the
    first day from whose evening on the parts for all of them are here; None where nothing forecast brings them.
    """

    shipment: str
    public_name: str
    quantity: int
    upto: int
    possible_on: date | None


@dataclass(frozen=True, slots=True, kw_only=True)
class FullSets:
    """Full sets now, or by the evening of ``on``; ``curve`` runs from today to the last arrival that adds any.

    ``unknown`` are products that no job builds from parts; ``counts_parts`` is False for a plan without parts.
    """

    today: date
    on: date | None
    counts_parts: bool
    products: tuple[ProductSets, ...]
    together: Together | None
    curve: tuple[SetsDay, ...]
    shipments: tuple[ShipmentSets, ...]
    unknown: tuple[str, ...]


def set_units(picture: Picture) -> tuple[str, ...]:
    """What full sets are counted of: the run's unit, or its variants; else the parts that shipments contain."""
    plan = picture.plan
    if plan.run.units:
        return plan.run.units
    return tuple(dict.fromkeys(held.part for one in plan.shipments for held in one.contents))


def full_sets(picture: Picture, units: Sequence[str] = (), on: date | None = None) -> FullSets:
    """Count the sets of ``units`` (of the run's own where empty), now or by the evening of ``on``."""
    asked = tuple(units) or set_units(picture)
    counts_parts = picture.forecast.network.demand is not None
    found = {one: product_of(picture, one) for one in asked} if counts_parts else {}
    empty = FullSets(
        today=picture.today,
        on=on,
        counts_parts=counts_parts,
        products=(),
        together=None,
        curve=(),
        shipments=(),
        unknown=tuple(unit for unit, product in found.items() if product is None),
    )
    products = [product for product in found.values() if product is not None]
    return _counted(picture, empty, products) if products else empty


def _counted(picture: Picture, empty: FullSets, products: Sequence[Product]) -> FullSets:
    supply = supply_of(picture, products)
    free = supply.by(empty.on.toordinal() if empty.on else None)
    days = _days(picture, supply)
    shares = [share_out(products, supply.by(day)) for day in days]
    return replace(
        empty,
        products=tuple(_product(picture, one, free) for one in products),
        together=_together(products, free),
        curve=tuple(_curve(picture, products, supply, days, shares)),
        shipments=tuple(_shipments(picture, products, days, shares)),
    )


def _days(picture: Picture, supply: Supply) -> list[int]:
    today = picture.forecast.today
    return sorted({today, *(max(today, one.day) for one in supply.coming)})


def _product(picture: Picture, product: Product, free: dict[str, int]) -> ProductSets:
    alone = share_out([product], free).put_in[product.unit]
    sets = product.room(free)
    short = _short(product, free)
    others = product.without(frozenset(short))
    part = picture.plan.part_by_code[product.unit]
    rows = [_part(picture, product, code, free, sets) for code in product.per]
    return ProductSets(
        unit=product.unit,
        name=part.name,
        public_name=part.public_name,
        built=product.built,
        in_work=product.in_work + product.reworked,
        sets=sets,
        total=product.built + product.reworked + alone,
        short=short,
        without=others.room(free) if others.per else None,
        then_short=_short(others, free) if others.per else (),
        parts=tuple(sorted(rows, key=lambda row: row.sets)),
    )


def _short(product: Product, free: dict[str, int]) -> tuple[str, ...]:
    """The parts that allow no more sets than all parts together do."""
    sets = product.room(free)
    return tuple(part for part, per in product.per.items() if max(0, free[part]) // per == sets)


def _part(picture: Picture, product: Product, code: str, free: dict[str, int], sets: int) -> SetPart:
    demand = picture.forecast.network.exploded
    part, scale, per, here = (
        picture.plan.part_by_code[code],
        demand.parts[code].scale,
        product.per[code],
        free[code],
    )
    came = (one for need in demand.jobs.values() for one in need.counted.deliveries if one.part == code)
    return SetPart(
        part=code,
        name=part.name,
        public_name=part.public_name,
        measure=part.unit,
        per=Fraction(per, scale),
        here=Fraction(here, scale),
        unjudged=sum(one.unjudged for one in came),
        sets=max(0, here) // per,
        missing=Fraction(max(0, per * (sets + 1) - here), scale),
        left=Fraction(max(0, here - per * sets), scale),
    )


def _together(products: Sequence[Product], free: dict[str, int]) -> Together:
    put_in = share_out(products, free).put_in
    short = tuple(
        part for part in _short(products[0], free) if all(part in _short(one, free) for one in products[1:])
    )
    others = [product.without(frozenset(short)) for product in products]
    without = _more(others, share_out(others, free)) if short and all(one.per for one in others) else None
    takers = [part for product in products for part in product.per]
    return Together(
        built=sum(product.built for product in products),
        in_work=sum(product.in_work + product.reworked for product in products),
        sets=sum(_more(products, share_out(products, free)).values()),
        total=sum(product.built + product.reworked + put_in[product.unit] for product in products),
        short=short,
        without=None if without is None else sum(without.values()),
        without_by=without or {},
        shared=tuple(part for part in dict.fromkeys(takers) if takers.count(part) > 1),
    )


def _more(products: Iterable[Product], share: Share) -> dict[str, int]:
    """Sets beyond those in work, by product."""
    return {one.unit: max(0, share.put_in[one.unit] - one.in_work) for one in products}


def _curve(
    picture: Picture,
    products: Sequence[Product],
    supply: Supply,
    days: Sequence[int],
    shares: Sequence[Share],
) -> Iterable[SetsDay]:
    """Today, and each evening on which the number is another one than before."""
    before: dict[str, int] | None = None
    for day, share in zip(days, shares, strict=True):
        by_unit = {one.unit: one.built + one.reworked + share.put_in[one.unit] for one in products}
        if by_unit == before:
            continue
        since, before = before, by_unit
        yield SetsDay(
            day=date.fromordinal(day),
            total=sum(by_unit.values()),
            by_unit=by_unit,
            came=() if since is None else _came_on(supply, day),
            at_best=_at_best(picture, supply, day),
        )


def _came_on(supply: Supply, day: int) -> tuple[str, ...]:
    return tuple(dict.fromkeys(one.part for one in supply.coming if one.day == day))


def _at_best(picture: Picture, supply: Supply, day: int) -> tuple[str, ...]:
    if not picture.forecast.times.overdue:
        return ()
    jobs = picture.forecast.network.jobs
    lots = tuple(dict.fromkeys(one.lot for one in supply.coming if one.day <= day))
    return tuple(dict.fromkeys(jobs[lot].code for lot in picture.forecast.overdue_behind(lots)))


def _shipments(
    picture: Picture, products: Sequence[Product], days: Sequence[int], shares: Sequence[Share]
) -> Iterable[ShipmentSets]:
    """Shipments that still want pieces of the products."""
    for place, shipment in enumerate(picture.plan.shipments):
        upto = sum(product.wanted[place] for product in products)
        quantity = sum(product.wants(place) for product in products)
        if not quantity:
            continue
        possible = None
        for day, share in zip(reversed(days), reversed(shares), strict=True):
            if place not in share.filled:
                break
            possible = day
        yield ShipmentSets(
            shipment=shipment.code,
            public_name=shipment.public_name,
            quantity=quantity,
            upto=upto,
            possible_on=day_or_none(possible),
        )
