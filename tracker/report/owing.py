"""All we owe our suppliers, one condition at a time: since when they wait, by when to give it, what waiting costs."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from tracker.explain.open_lots import counted_lot
from tracker.explain.state import lot_standing
from tracker.plan.model import Job
from tracker.report.next_day import LaterCost
from tracker.report.owed import Owed, our_calendar, owed_one_by_one
from tracker.report.picture import Picture
from tracker.schedule.bounds import credited, later
from tracker.schedule.forecast import Forecast
from tracker.schedule.passes import link_bound
from tracker.schedule.tails import Tail, followers_of

DAYS_COUNTED = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class OwingRow:
    """One condition we have not given to one job; amounts of money are never part of it.

    ``to_leave`` tells conditions to leave their door from those of the clock. ``since`` is the day the job's inputs
    were all there, for one to leave the day the lot was made; None while that is to come, at the earliest on
    ``turn_from``. ``by`` is our last working day to give it with no shipment moving (bank days counted), ``frees`` the
    shipment it frees; ``costs`` are those of our next working days after ``by``. ``due`` tells those to speak of now,
    ``again`` how many pieces the order of a re-run is for.
    """

    job: str
    name: str
    supplier: str
    what: str
    to_leave: bool
    due: bool
    since: date | None
    turn_from: date | None
    by: date | None
    frees: str
    costs: tuple[LaterCost, ...]
    again: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Owing:
    """All we owe, soonest last day first; those that can move no shipment come last."""

    today: date
    rows: tuple[OwingRow, ...]


def owing(picture: Picture) -> Owing:
    """Gather what is missing of every open job, orders not placed among it."""
    owed = [found for job in picture.plan.jobs for found in owed_one_by_one(picture, job.code)]
    tails = _tails(picture) if owed else {}
    rows = [_row(picture, tails, lot, one) for lot, one in owed]
    return Owing(today=picture.today, rows=tuple(sorted(rows, key=_urgency)))


def _urgency(row: OwingRow) -> tuple[date, date]:
    return row.by or date.max, row.since or row.turn_from or date.max


def _tails(picture: Picture) -> Mapping[str, Tail]:
    followers = followers_of(picture.forecast.network)
    return {code: Tail(picture.forecast, code, followers) for code in picture.forecast.open_shipments}


def _row(picture: Picture, tails: Mapping[str, Tail], lot: int, owed: Owed) -> OwingRow:
    forecast = picture.forecast
    job = forecast.network.jobs[lot]
    stands = lot_standing(forecast, lot)
    turn = _made_on(forecast, lot) if owed.to_leave else _turn_of(forecast, lot)
    come = turn <= forecast.today and (stands.state == "MADE" if owed.to_leave else stands.its_turn)
    return OwingRow(
        job=job.code,
        name=job.name,
        supplier=job.supplier,
        what=owed.what[0],
        to_leave=owed.to_leave,
        due=owed.presses,
        since=date.fromordinal(turn) if come else None,
        turn_from=None if come else date.fromordinal(turn),
        by=owed.by,
        frees=owed.frees,
        costs=tuple(_costs(picture, tails, lot, owed)),
        again=owed.again,
    )


def _made_on(forecast: Forecast, lot: int) -> int:
    made = forecast.progress(lot).made
    return forecast.times.finish[lot] if made is None else made


def _turn_of(forecast: Forecast, lot: int) -> int:
    """The day from which only what we owe is missing: its inputs are in, its not-before and the run's start are reached."""
    network, times, job = forecast.network, forecast.times, forecast.network.jobs[lot]
    special = [link for link in network.special[lot] or () if link.kind != "finish-finish"]
    failed = [network.gates.failed_on.get(link.job, 0) for link in job.after if link.on == "fail"]
    again = counted_lot(forecast, lot)
    return max(
        _short_since(forecast, job) if again is not None and again.kind == "rerun" else 0,
        network.plan.run.start.toordinal(),
        job.not_before.toordinal() if job.not_before else 0,
        *(times.arrive[other] for other in network.plain[lot]),
        *(link_bound(link, times) - 1 for link in special),
        *failed,
    )


def _short_since(forecast: Forecast, job: Job) -> int:
    """The day pieces of what the job makes were counted last: the earliest day a re-run could be known of."""
    makes = {make.part for make in forecast.plan.makes_of(job)}
    counted = (
        fact.on.toordinal()
        for fact in forecast.plan.facts
        if (fact.job == job.code and fact.pieces) or (fact.kind == "scrapped" and fact.part in makes)
    )
    return max((day for day in counted if day <= forecast.today), default=0)


def _costs(picture: Picture, tails: Mapping[str, Tail], lot: int, owed: Owed) -> Iterator[LaterCost]:
    """Exact dates were it given on each of our next working days after the last harmless one."""
    if owed.by is None:
        return
    ours, day = our_calendar(picture), owed.by.toordinal()
    for _ in range(DAYS_COUNTED):
        day = later(day, 1, ours) if ours else day + 1
        ready = _ready_if_given(picture, lot, owed, day)
        for code, tail in tails.items():
            moved = tail.date_after(lot, ready) - tail.date
            if moved:
                yield LaterCost(day=date.fromordinal(day), shipment=code, days=moved)


def _ready_if_given(picture: Picture, lot: int, owed: Owed, day: int) -> int:
    """The evening the lot is ready, or may leave their door, if the condition is given on ``day`` and none later."""
    network = picture.forecast.network
    supplier = picture.plan.supplier_by_code[network.jobs[lot].supplier]
    counts_from = credited(owed.what[0], day, supplier, network.own_calendar[lot])
    if owed.to_leave:
        return max(counts_from, picture.forecast.times.finish[lot])
    calendar, lead = network.calendar[lot], network.lead[lot]
    return calendar.finish(counts_from + 1, lead) if calendar else counts_from + lead
