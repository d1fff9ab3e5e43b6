"""Counts as backers see them: pieces of a job's part, and full sets over time; public names, no rejects."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction

from tracker.report.full_sets import FullSets, SetsDay, full_sets
from tracker.report.picture import Picture
from tracker.report.pieces import PartRow, part_row
from tracker.report.shipments import shipment_rows

_LEAST_AHEAD = 7
_NOT_NAMED = "another part"


@dataclass(frozen=True, slots=True, kw_only=True)
class BackerCount:
    """Good pieces of the parts a job makes: needed in all, come so far, still to come; in pieces where no measure."""

    needed: Fraction
    here: Fraction
    to_come: Fraction
    measure: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BackerSetsDay:
    """Sets built or possible by an evening, in all and by product, and the parts whose arrival then changes them.

    ``at_best`` marks a day on which they change (or the first) where the change rests on dates without news.
    """

    day: date
    total: int
    by_product: tuple[int, ...]
    came: tuple[str, ...]
    at_best: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class BackerSetsShipment:
    """A shipment's units still wanted, with all before it ``upto``, and the day the parts for these are here."""

    name: str
    quantity: int
    upto: int
    possible_on: date | None


@dataclass(frozen=True, slots=True, kw_only=True)
class BackerSets:
    """Full sets today and over time.

    ``days`` has the evening before each change and that of the change, so that a line through them is level between,
    and ends with the last shipment. ``products`` are the names of the variants, empty where there is one product or
    not all have a public name.
    """

    today: date
    built: int
    in_work: int
    sets: int
    short: tuple[str, ...]
    products: tuple[str, ...]
    days: tuple[BackerSetsDay, ...]
    shipments: tuple[BackerSetsShipment, ...]


def backer_count(picture: Picture, job: str) -> BackerCount | None:
    """The balance of what a job makes; None where it makes no part, or parts measured in several ways.

    Pieces that were used count as come, those scrapped later neither as come nor as needed.
    """
    plan = picture.plan
    if picture.forecast.network.demand is None:
        return None
    rows = [part_row(picture, make.part) for make in plan.makes_of(plan.job_by_code[job])]
    if len({row.unit for row in rows}) != 1:
        return None
    return BackerCount(
        needed=_sum(row.needed - row.scrapped for row in rows),
        here=_sum(_came(row) for row in rows),
        to_come=_sum(row.to_come for row in rows),
        measure=rows[0].unit,
    )


def _came(row: PartRow) -> Fraction:
    return max(Fraction(0), row.here + row.used - row.scrapped - row.unaccounted)


def _sum(numbers: Iterable[Fraction]) -> Fraction:
    return sum(numbers, start=Fraction(0))


def backer_sets(picture: Picture, shipment_names: Mapping[str, str]) -> BackerSets | None:
    """Full sets of the run's unit; None where no job builds it from parts."""
    view = full_sets(picture)
    if view.together is None:
        return None
    names = tuple(product.public_name for product in view.products)
    products = names if len(names) > 1 and all(names) else ()
    return BackerSets(
        today=view.today,
        built=view.together.built,
        in_work=view.together.in_work,
        sets=view.together.sets,
        short=_public_parts(picture, _short(view)),
        products=products,
        days=tuple(_days(picture, view, named=bool(products))),
        shipments=tuple(
            BackerSetsShipment(
                name=shipment_names[one.shipment],
                quantity=one.quantity,
                upto=one.upto,
                possible_on=one.possible_on,
            )
            for one in view.shipments
        ),
    )


def _short(view: FullSets) -> tuple[str, ...]:
    """The parts all products are short of, else those any is."""
    if view.together is not None and view.together.short:
        return view.together.short
    return tuple(dict.fromkeys(part for product in view.products for part in product.short))


def _public_parts(picture: Picture, parts: Iterable[str]) -> tuple[str, ...]:
    by_code = picture.plan.part_by_code
    return tuple(dict.fromkeys(by_code[part].public_name or _NOT_NAMED for part in parts))


def _days(picture: Picture, view: FullSets, *, named: bool) -> Iterable[BackerSetsDay]:
    def told(one: SetsDay, day: date, came: tuple[str, ...] = ()) -> BackerSetsDay:
        numbers = tuple(one.by_unit.values()) if named else ()
        return BackerSetsDay(
            day=day,
            total=one.total,
            by_product=numbers,
            came=_public_parts(picture, came),
            at_best=bool(one.at_best) and day == one.day,
        )

    before = view.curve[0]
    last = before.day
    yield told(before, last)
    for one in view.curve[1:]:
        if one.day - last > timedelta(days=1):
            yield told(before, one.day - timedelta(days=1))
        yield told(one, one.day, one.came)
        before, last = one, one.day
    goes = [row.forecast for row in shipment_rows(picture) if row.forecast]
    end = max((view.today + timedelta(days=_LEAST_AHEAD), *goes))
    if end > last:
        yield told(before, end)
