"""Everything about one part: its balance, who makes and takes it, what came and comes, and for whom it is enough."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from tracker.plan.balance import Demand
from tracker.plan.parts import Part
from tracker.report.cautions import caution_for
from tracker.report.logged import NO_ENTRIES, Entries, LoggedFact, logged_facts
from tracker.report.need import NeededJob, NeededPart, needed_jobs, needed_part
from tracker.report.ordering import order_rows
from tracker.report.picture import Picture
from tracker.report.shortages import Shortage, shortages


@dataclass(frozen=True, slots=True, kw_only=True)
class TakerRow:
    """A job that uses so many of the part for each piece put in; only for pieces of ``into`` where that is given."""

    job: str
    supplier: str
    per: Fraction
    into: str
    makes: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ArrivalRow:
    """Good pieces that a job brings, or that were in stock at the start (no ``job``), on the evening of ``day``."""

    day: date
    job: str
    pieces: Fraction
    here: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class EnoughRow:
    """The evening from which a shipment has all it takes of the part; None where some of it never comes.

    ``again`` tells that part of it must come from a re-run for a shortage.
    """

    shipment: str
    pieces: Fraction
    day: date | None
    again: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class PartPage:
    """One part; ``holds`` names the shipments it goes into as it is."""

    today: date
    part: Part
    balance: NeededPart
    makers: tuple[NeededJob, ...]
    takers: tuple[TakerRow, ...]
    holds: tuple[str, ...]
    arrivals: tuple[ArrivalRow, ...]
    enough: tuple[EnoughRow, ...]
    goes_short: str
    shortages: tuple[Shortage, ...]
    facts: tuple[LoggedFact, ...]
    cautions: tuple[tuple[str, str], ...]


def part_page(picture: Picture, code: str, entries: Entries = NO_ENTRIES) -> PartPage:
    """The page of one part; ``entries`` tells which entries logged and corrected each fact that names it."""
    plan, orders = picture.plan, order_rows(picture)
    demand = picture.forecast.network.exploded
    enough = tuple(_enough(picture, demand, code))
    short = (row.shipment for row in enough if row.day is None or row.again)
    makers = [job for job in plan.makers_of[code] if job.code in demand.jobs]
    return PartPage(
        today=picture.today,
        part=plan.part_by_code[code],
        balance=needed_part(picture, code, orders),
        makers=tuple(row for job in makers for row in needed_jobs(picture, job, orders) if row.part == code),
        takers=tuple(_takers(picture, code)),
        holds=tuple(one.code for one in plan.shipments if code in (held.part for held in one.contents)),
        arrivals=tuple(_arrivals(picture, code)),
        enough=enough,
        goes_short=next(short, ""),
        shortages=tuple(one for one in shortages(picture) if one.part == code),
        facts=logged_facts(picture, entries, lambda fact: fact.part == code),
        cautions=tuple((job.code, text) for job in makers if (text := caution_for(job.process))),
    )


def _takers(picture: Picture, code: str) -> Iterator[TakerRow]:
    for job in picture.plan.jobs:
        for take in job.takes:
            if take.part == code:
                makes = tuple(make.part for make in picture.plan.makes_of(job))
                yield TakerRow(job=job.code, supplier=job.supplier, per=take.per, into=take.into, makes=makes)


def _arrivals(picture: Picture, code: str) -> Iterator[ArrivalRow]:
    """What came and comes, in the order it arrives."""
    forecast = picture.forecast
    stock = forecast.network.stocks[code]
    for entry in stock.entries:
        yield ArrivalRow(
            day=date.fromordinal(entry.arrive),
            job="" if entry.lot is None else forecast.network.jobs[entry.lot].code,
            pieces=Fraction(entry.amount, stock.scale),
            here=entry.lot is None or not forecast.is_open(entry.lot),
        )


def _enough(picture: Picture, demand: Demand, code: str) -> Iterator[EnoughRow]:
    """For each shipment that still draws the part, directly or through what it goes into."""
    network = picture.forecast.network
    stock, runs_again = network.stocks[code], _shipments_of_reruns(demand, code)
    for priority, shipment in enumerate(picture.plan.shipments):
        draws = [draw for draw in stock.draws if draw.priority == priority]
        if not draws:
            continue
        days = [stock.arrival(draw) for draw in draws]
        covered = [day for day in days if day is not None]
        yield EnoughRow(
            shipment=shipment.code,
            pieces=Fraction(sum(draw.amount for draw in draws), stock.scale),
            day=date.fromordinal(max(covered)) if len(covered) == len(days) else None,
            again=priority in runs_again,
        )


def _shipments_of_reruns(demand: Demand, code: str) -> set[int]:
    """Places of the shipments for which the part must be made again."""
    return {priority for need in demand.jobs.values() for priority, part, _ in need.rerun if part == code}
