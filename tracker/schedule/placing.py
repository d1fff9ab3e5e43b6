"""Dates that logged facts fix: done, made, on the way, started, or promised after the work could begin."""

from collections.abc import Sequence
from dataclasses import replace

from tracker.plan.model import Plan
from tracker.plan.progress import NOTHING, Progress, Promise
from tracker.schedule.bounds import credited, later, missing_conditions, own_finish
from tracker.schedule.network import FREE, Extra, Fixed, Network, arrival, ready_by
from tracker.schedule.reason import Reason


def place_facts(network: Network) -> None:
    """Fill ``fixed``, ``extra`` and ``overdue`` of every lot, and what was posted, from what was logged."""
    place_lots(network, range(len(network.jobs)))
    place_posted(network)


def place_lots(network: Network, lots: Sequence[int]) -> None:
    """Fill ``fixed``, ``extra`` and ``overdue`` of some lots, those they wait for having been placed."""
    for lot in lots:
        job = network.jobs[lot]
        if job.leave_when or job.travel.unit == "wd":
            _note_extras(network, lot)
    known = [(lot, network.progress[lot]) for lot in lots if network.progress[lot] is not NOTHING]
    for lot, progress in known:
        if progress.done is not None:
            _place_done(network, lot, progress, progress.done)
    for lot, progress in known:
        if progress.done is None:
            _place_open(network, lot, progress)


def note_travel(network: Network, lots: Sequence[int]) -> None:
    """Note who counts travel in working days, all that is known of lots looked at without facts."""
    for lot in lots:
        travel = network.jobs[lot].travel
        if travel.unit == "wd" and travel.days:
            network.extra[lot] = Extra(travel=network.own_calendar[lot])


def _place_done(network: Network, lot: int, progress: Progress, day: int) -> None:
    """What is done arrived on its day; where it was only finished, travel still runs from there or from leaving."""
    finish = min(day, progress.made or progress.finished or progress.left or day)
    start = min(progress.started or finish, finish + 1)
    arrive = day if progress.ending == "in" else arrival(network, lot, max(day, progress.left or day))
    network.fixed[lot] = Fixed(start, finish, arrive, Reason(kind="done", day=day))


def _note_extras(network: Network, lot: int) -> None:
    job, progress = network.jobs[lot], network.progress[lot]
    travel = network.own_calendar[lot] if job.travel.unit == "wd" and job.travel.days else None
    leaves = _leave_reason(network.plan, network, lot) if job.leave_when and progress.left is None else None
    if travel or leaves:
        network.extra[lot] = Extra(leaves=leaves, travel=travel)


def _leave_reason(plan: Plan, network: Network, lot: int) -> Reason:
    """The condition to leave that holds longest: given on its day, or missing and so not before tonight."""
    job, progress = network.jobs[lot], network.progress[lot]
    supplier, calendar = plan.supplier_by_code[job.supplier], network.own_calendar[lot]
    found = []
    for what in job.leave_when:
        given = progress.given.get(what)
        day = credited(what, network.today if given is None else given, supplier, calendar)
        found.append(Reason(kind="leave", day=day, what=what, owed_by="us" if given is None else ""))
    return max(found, key=lambda reason: (reason.day, reason.owed_by))


def _place_open(network: Network, lot: int, progress: Progress) -> None:
    if progress.left is not None:
        _place_left(network, lot, progress, progress.left)
    elif progress.made is not None:
        _place_made(network, lot, progress, progress.made)
    elif progress.started is not None or _goes_on(network, lot, progress):
        _place_started(network, lot, progress)
    elif progress.promise is not None:
        _place_promised(network, lot, progress, progress.promise)


def _goes_on(network: Network, lot: int, progress: Progress) -> bool:
    """Whether something shows that the lot is in work as a whole.

    Pieces counted as made while inputs are still to come show only that some could be made: the rest waits. So do
    any that came from our own bench, which takes its parts as it goes.
    """
    if progress.seen is None:
        return False
    job = network.jobs[lot]
    at_home = job.counts_pieces and network.plan.supplier_by_code[job.supplier].inhouse
    only_counted = at_home or (progress.made_pieces > 0 and not progress.received)
    return not only_counted or _input_arrivals(network, lot)[1]


def _place_left(network: Network, lot: int, progress: Progress, left: int) -> None:
    """Fix a lot on its way, which is ready when it arrives: from now on it slips by calendar days of arrival."""
    start = min(progress.started or left, left)
    promise = progress.promise
    expected = arrival(network, lot, left)
    reason = Reason(kind="left", day=left)
    if promise is not None and promise.means == "in hand" and promise.given >= left:
        expected, reason = promise.day, Reason(kind="promise", day=promise.day)
    if expected < network.today:
        network.overdue[lot] = network.today - expected
    arrive = max(expected, network.today)
    network.travel[lot], network.calendar[lot], network.extra[lot] = 0, None, None
    network.fixed[lot] = Fixed(start, arrive, arrive, reason)


def _place_made(network: Network, lot: int, progress: Progress, made: int) -> None:
    start = min(progress.started or made, made)
    extra = network.extra[lot]
    leaves = extra.leaves if extra else None
    departs = max(made, network.today, leaves.day if leaves else made)
    arrive, reason = arrival(network, lot, departs), Reason(kind="made", day=made)
    if leaves is not None and (leaves.owed_by or leaves.day > made):
        reason = leaves
    promise = progress.promise
    if promise is not None:
        promised, _ = _promised_arrival(network, lot, promise)
        informed = promise.given >= max(made, _door_known(leaves, made))
        if informed or promised >= arrive:
            arrive, reason = promised, Reason(kind="promise", day=promise.day)
        if informed:
            _note_passed(network, lot, promise)
    network.fixed[lot] = Fixed(start, ready_by(network, lot, arrive), arrive, reason)


def _door_known(leaves: Reason | None, otherwise: int) -> int:
    """The day from which a supplier who names a date knows when the lot may leave."""
    if leaves is None:
        return otherwise
    return FREE if leaves.owed_by else leaves.day


def _place_started(network: Network, lot: int, progress: Progress) -> None:
    begun = progress.counted_from if progress.started is None else progress.started
    start = _unlogged_start(network, lot, progress) if begun is None else begun
    calendar = network.calendar[lot]
    finish = own_finish(progress, start, network.lead[lot], calendar, network.today)
    promise = progress.promise
    if promise is not None and max(start, progress.paused_on or start) <= promise.given:
        _fix_by_promise(network, lot, start, promise)
        return
    reason = Reason(kind="started", day=start)
    if finish < network.today:
        late_by = network.today - finish
        finish = calendar.snap(network.today) if calendar else network.today
        reason = Reason(kind="overdue", day=network.today - late_by)
        if promise is None:
            network.overdue[lot] = late_by
    extra = network.extra[lot]
    leaves = extra.leaves if extra else None
    if leaves is not None and leaves.day > finish:
        reason = leaves
    arrive = arrival(network, lot, max(finish, leaves.day) if leaves else finish)
    if promise is not None:
        _note_passed(network, lot, promise)
        promised, _ = _promised_arrival(network, lot, promise)
        if promised >= arrive:
            arrive, reason = promised, Reason(kind="promise", day=promise.day)
            finish = ready_by(network, lot, promised)
    network.fixed[lot] = Fixed(start, finish, arrive, reason)


def assumed_start(network: Network, lot: int) -> int | None:
    """The start of a lot done, made or on its way that nobody logged; None where nothing logged bounds it.

    As soon as its inputs, order and clock allowed, at the latest the first day something showed of it.
    """
    progress = network.progress[lot]
    telling = {"not before", "clock", "day 1", "after failure"}
    bounds = [bound.day for bound in network.bounds.get(lot, ()) if bound.kind in telling]
    came = [evening + 1 for evening in _input_arrivals(network, lot)[0]]
    shown = [day for day in (progress.seen, progress.done, progress.made, progress.left) if day is not None]
    if not (bounds or came) or not shown:
        return None
    day, calendar = max(*bounds, *came, network.plan.run.start.toordinal()), network.calendar[lot]
    return min(*shown, calendar.snap(day) if calendar else day)


def _unlogged_start(network: Network, lot: int, progress: Progress) -> int:
    """A start nobody logged: as soon as bounds and inputs known to be there allow, at the latest when first seen."""
    seen = progress.seen if progress.seen is not None else network.today
    day = max(network.floor[lot], *(known + 1 for known in _input_arrivals(network, lot)[0]), 0)
    calendar = network.calendar[lot]
    return min(seen, calendar.snap(day) if calendar else day)


def _input_arrivals(network: Network, lot: int) -> tuple[list[int], bool]:
    """Evenings on which done inputs came (lags included), and whether all inputs are done."""
    came, complete = [], True
    special = network.special[lot] or ()
    for before in network.plain[lot]:
        fixed = network.fixed[before]
        if fixed is not None and fixed.reason.kind == "done":
            came.append(fixed.arrive)
        else:
            complete = False
    for link in special:
        fixed = network.fixed[link.lot]
        if fixed is None or fixed.reason.kind != "done":
            complete = False
        else:
            base = fixed.start if link.kind == "start-start" else fixed.arrive
            came.append(later(base, link.lag, link.calendar))
    return came, complete


def _place_promised(network: Network, lot: int, progress: Progress, promise: Promise) -> None:
    """A promise given once everything was there replaces the lead; an earlier one is only a lower bound."""
    came, complete = _input_arrivals(network, lot)
    missing = missing_conditions(network.plan, network.jobs[lot], progress)
    bounds = network.bounds.get(lot, [])
    clocks = [bound.day - 1 for bound in bounds if bound.kind in ("clock", "day 1")]
    paused = progress.paused_on is not None and progress.paused_on > promise.given
    if complete and not (missing or paused) and max((*came, *clocks), default=promise.given) <= promise.given:
        inputs = max((evening + 1 for evening in came), default=0)
        starting = [bound.day for bound in bounds if bound.kind != "today"]
        day = max((inputs, *starting))
        calendar = network.calendar[lot]
        _fix_by_promise(network, lot, calendar.snap(day) if calendar else day, promise)
        return
    promised, _ = _promised_arrival(network, lot, promise)
    network.extra[lot] = replace(network.extra[lot] or Extra(), promised=promised)
    _note_passed(network, lot, promise)


def _fix_by_promise(network: Network, lot: int, start: int, promise: Promise) -> None:
    arrive, finish = _promised_arrival(network, lot, promise)
    extra = network.extra[lot]
    reason = Reason(kind="promise", day=promise.day)
    if extra and extra.leaves:
        held = arrival(network, lot, extra.leaves.day)
        if held > arrive and promise.given < _door_known(extra.leaves, promise.given):
            arrive, reason = held, extra.leaves
    _note_passed(network, lot, promise)
    network.fixed[lot] = Fixed(min(start, finish), finish, arrive, reason)


def _promised_arrival(network: Network, lot: int, promise: Promise) -> tuple[int, int]:
    """The evening of arrival and the last day worked that a promise speaks of, today at the earliest."""
    return promised_arrival(network, lot, promise, network.today)


def promised_arrival(network: Network, lot: int, promise: Promise, earliest: int) -> tuple[int, int]:
    """The evening of arrival and the last day worked with the promise kept, or kept on ``earliest`` if that is later."""
    day = max(promise.day, earliest)
    if promise.means == "in hand":
        return day, ready_by(network, lot, day)
    calendar = network.calendar[lot]
    if calendar is not None and not promise.exactly:
        day = calendar.snap(day)
    return arrival(network, lot, day), day


def _note_passed(network: Network, lot: int, promise: Promise) -> None:
    if promise.day < network.today:
        network.overdue[lot] = network.today - promise.day


def place_posted(network: Network) -> None:
    """A shipment is gone on the day its posted pieces reach its quantity; until then the pieces posted are noted."""
    posted = [
        fact
        for fact in sorted(network.plan.facts, key=lambda one: one.on)
        if fact.kind == "posted" and fact.on.toordinal() <= network.today
    ]
    for code, shipment in network.plan.shipment_by_code.items():
        pieces = 0
        for fact in posted:
            if fact.shipment != code:
                continue
            pieces += fact.good or 0
            if pieces >= shipment.quantity:
                network.posted[code] = fact.on.toordinal()
                break
        if pieces and code not in network.posted:
            network.part_posted[code] = pieces
