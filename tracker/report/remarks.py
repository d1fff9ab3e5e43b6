"""Remarks on a fact just logged: how it was read, and what it runs against."""

from collections.abc import Sequence
from datetime import date

from tracker.explain.open_lots import last_logged_lot
from tracker.explain.state import cannot_hold
from tracker.plan.calendars import closure_on
from tracker.plan.day_text import full_day
from tracker.plan.model import Fact
from tracker.plan.progress import Progress, Promise
from tracker.report.counts import CountRow, PartCountRow, count_row
from tracker.report.picture import Picture
from tracker.schedule.bounds import credited
from tracker.schedule.holders import earliest_arrival, what_sets

_BEGUN = ("started", "made", "left", "in", "finished", "passed", "failed")


def remarks_on(picture: Picture, fact: Fact) -> tuple[str, ...]:
    """What a person should know of a fact beyond its echo; ``picture`` is the one after it was logged."""
    if fact.kind == "called_off":
        return _links_dropped(picture, fact)
    if fact.kind == "posted":
        return _on_posting(picture, fact)
    lot = _lot_spoken_of(picture, fact)
    return () if lot is None else _on_job(picture, fact, lot)


def _on_job(picture: Picture, fact: Fact, lot: int) -> tuple[str, ...]:
    if fact.kind in _BEGUN:
        return (
            *_out_of_sequence(picture, lot),
            *_no_second_attempt(picture, fact),
            *_to_hold(picture, fact),
            *_on_counts(picture, fact),
            *_still_promised(picture, fact, lot),
        )
    if fact.kind == "ordered":
        return _other_quantity(picture, fact)
    if fact.kind == "given":
        return _on_payment(picture, fact, lot)
    promise = picture.forecast.progress(lot).promise
    return _on_promise(picture, fact, lot, promise) if fact.kind == "promised" and promise else ()


def _lot_spoken_of(picture: Picture, fact: Fact) -> int | None:
    """The job's lot; where pieces are counted the one that came last, or the first promised on that day."""
    forecast = picture.forecast
    if not fact.job or fact.kind == "scrapped" or forecast.lot_of(fact.job) is None:
        return None
    lots = forecast.lots_of(fact.job)
    if fact.kind == "promised" and fact.day:
        promised = (lot for lot in lots if _promises(forecast.progress(lot), fact.day))
        return next(promised, forecast.lot_of(fact.job))
    return last_logged_lot(forecast, fact.job) if fact.kind in _BEGUN else forecast.lot_of(fact.job)


def _promises(progress: Progress, day: date) -> bool:
    return progress.promise is not None and progress.promise.day == day.toordinal()


def _links_dropped(picture: Picture, fact: Fact) -> tuple[str, ...]:
    waiting = [job.code for job in picture.plan.jobs if any(link.job == fact.job for link in job.after)]
    waiting += [one.code for one in picture.plan.shipments if fact.job in one.after]
    if not waiting:
        return ()
    wait = "waits" if len(waiting) == 1 else "wait"
    free = [code for code in waiting if _waits_for_no_job(picture, code)]
    now = "waits" if len(free) == 1 else "wait"
    nothing = "no job but for parts" if any(_takes_parts(picture, code) for code in free) else "nothing"
    loose = f"; {', '.join(free)} now {now} for {nothing}: tracker set {free[0]} after=JOB" if free else ""
    return (f"links dropped: {', '.join(waiting)} no longer {wait} for {fact.job}{loose}",)


def _waits_for_no_job(picture: Picture, code: str) -> bool:
    """Whether an open job has no link left; what brings its parts is none."""
    network = picture.forecast.network
    lot = network.index.get(code)
    if lot is None or not picture.forecast.is_open(lot):
        return False
    linked = network.linked.get(lot, ()) if network.demand is not None else network.plain[lot]
    return not linked and not network.special[lot]


def _takes_parts(picture: Picture, code: str) -> bool:
    job = picture.plan.job_by_code.get(code)
    return job is not None and bool(job.takes)


def _on_posting(picture: Picture, fact: Fact) -> tuple[str, ...]:
    shipment = picture.plan.shipment_by_code[fact.shipment]
    posted = sum(
        one.good or 0 for one in picture.plan.facts if one.kind == "posted" and one.shipment == fact.shipment
    )
    found = [f"{posted} of {shipment.quantity} units of {fact.shipment} are posted now"]
    held = [content.part for content in shipment.contents]
    found = [", ".join((*found, *_which_part(fact, held, is_whole=posted >= shipment.quantity)))]
    if posted > shipment.quantity:
        found[0] += ", more than it holds"
    forecast = picture.forecast
    lots = forecast.network.shipments[fact.shipment]
    early = dict.fromkeys(forecast.network.jobs[lot].code for lot in lots if forecast.is_open(lot))
    if early:
        found.append(f"out of sequence: {', '.join(early)} not done yet; what was logged counts all the same")
    return tuple(found)


def _which_part(fact: Fact, parts: Sequence[str], *, is_whole: bool) -> tuple[str, ...]:
    """How a count was read that does not say of which of several parts it is."""
    if is_whole or fact.part or not fact.pieces or len(parts) < 2:  # noqa: PLR2004 - one part needs no name
        return ()
    return (f"taken as {parts[0]} first, then {' and '.join(parts[1:])}: say 'of PART' where not",)


def _on_counts(picture: Picture, fact: Fact) -> tuple[str, ...]:
    """Of which part the pieces are, whether short or over, and whether they are the judging of earlier ones."""
    job = picture.plan.job_by_code[fact.job]
    made = [make.part for make in picture.plan.makes_of(job)]
    counts = count_row(picture, fact.job, fact.part)
    is_whole = counts.quantity is not None and fact.pieces >= counts.quantity
    return (*_which_part(fact, made, is_whole=is_whole), *_short_or_over(fact, counts))


def _short_or_over(fact: Fact, counts: CountRow) -> tuple[str, ...]:
    """Pieces short or over, and a delivery that may be the judging of one counted before."""
    judged = fact.kind == "in" and fact.count is None and fact.pieces
    if judged and counts.unjudged >= fact.pieces:
        return (
            f"{counts.unjudged} counted before are still not judged: were these among them, undo this and log 'sorted'",
        )
    if counts.quantity is None:
        return ()
    received = counts.good + counts.rework + counts.scrap + counts.unjudged
    counted, of = (counts.made if fact.kind == "made" else received), ""
    if isinstance(counts, PartCountRow):
        received = counts.back
        counted = max(received, counts.made) if fact.kind == "made" and not counts.at_home else received
        of = f" {counts.part}" if counts.part else ""
    if fact.kind in ("in", "made") and fact.pieces and counted > counts.quantity:
        return (f"{counted - counts.quantity}{of} more than the {counts.quantity} of {fact.job}",)
    closes = fact.kind == "in" and fact.closes
    return _closed_short(fact, received, counts.quantity) if closes and received < counts.quantity else ()


def _closed_short(fact: Fact, received: int, quantity: int) -> tuple[str, ...]:
    if fact.pieces:
        return (f"closed {quantity - received} short of {quantity}",)
    never = f"{quantity - received} of {quantity} pieces were never counted in"
    return (f"closed without a count: {never}",) if received else ()


def _out_of_sequence(picture: Picture, lot: int) -> tuple[str, ...]:
    """What was logged counts, also where inputs are not here yet; then say so."""
    forecast = picture.forecast
    late = dict.fromkeys(
        forecast.network.jobs[other].code for other in forecast.network.plain[lot] if forecast.is_open(other)
    )
    if not late:
        return ()
    return (f"out of sequence: {', '.join(late)} not done yet; what was logged counts all the same",)


def _no_second_attempt(picture: Picture, fact: Fact) -> tuple[str, ...]:
    gates = picture.forecast.network.gates
    if fact.kind != "failed" or gates.opener.get(fact.job) != fact.job:
        return ()
    if fact.job not in gates.failed_on:
        return (f"an older result: {fact.job} has passed since, and that stands",)
    return (f"no second attempt is planned: {fact.job} is forecast as tried again at best",)


def _to_hold(picture: Picture, fact: Fact) -> tuple[str, ...]:
    """Where a failed gate's followers have begun, dates stay as logged, but somebody must be told."""
    gates = picture.forecast.network.gates
    begun = (
        fact.kind == "failed"
        and gates.opener.get(fact.job) == fact.job
        and any(
            picture.forecast.lot_of(job.code) is not None
            and picture.standings[job.code].state not in ("NOT DUE", "CLOCK NOT STARTED", "CAN START")
            for job in picture.plan.jobs
            if any(gates.opener.get(link.job) == fact.job and link.on == "pass" for link in job.after)
        )
    )
    return ("what follows it has begun: 'tracker gates' says whom to tell to hold",) if begun else ()


def _still_promised(picture: Picture, fact: Fact, lot: int) -> tuple[str, ...]:
    """A promise for a later day goes on counting once a lot is made, until it leaves or is promised anew."""
    fixed = picture.forecast.network.fixed[lot]
    progress = picture.forecast.progress(lot)
    promise = progress.promise if progress.made is not None else None
    held = fixed is not None and fixed.reason.kind == "promise"
    if fact.kind != "made" or promise is None or not held or promise.day <= fact.on.toordinal():
        return ()
    day = full_day(date.fromordinal(promise.day))
    return (f"the promise for {day} still counts, until it is logged as left or in, or promised anew",)


def _other_quantity(picture: Picture, fact: Fact) -> tuple[str, ...]:
    """Where parts are counted, the plan's quantity counts; an order of another is not followed."""
    planned = picture.plan.job_by_code[fact.job].quantity
    if not picture.plan.parts or not fact.quantity or planned in (None, fact.quantity):
        return ()
    set_it = f"tracker set {fact.job} quantity={fact.quantity}"
    return (f"the plan says {planned}, and that is counted on; for what was ordered: {set_it}",)


def _on_payment(picture: Picture, fact: Fact, lot: int) -> tuple[str, ...]:
    supplier = picture.plan.supplier_by_code[picture.plan.job_by_code[fact.job].supplier]
    if fact.what not in ("payment", "balance") or not supplier.bank.days:
        return ()
    day = credited(fact.what, fact.on.toordinal(), supplier, picture.forecast.network.own_calendar[lot])
    return (f"credited {full_day(date.fromordinal(day))}, after {supplier.bank} at the bank",)


def _on_promise(picture: Picture, fact: Fact, lot: int, promise: Promise) -> tuple[str, ...]:
    if promise.given > fact.on.toordinal():
        live = full_day(date.fromordinal(promise.given))
        return (f"an older promise: the live one, given {live}, is unchanged",)
    gone = picture.forecast.progress(lot).left
    if promise.means == "leaves" and gone is not None:
        on = full_day(date.fromordinal(gone))
        return (f"it left on {on}, so a day to leave moves nothing: say 'hand' for the day it is here",)
    found = _more_than_open(picture, fact)
    if fact.day and fact.day < picture.today:
        found.append(
            f"{full_day(fact.day)} has passed already: counted as today at best, until there is news"
        )
    found += _on_their_calendar(picture, fact, lot, promise)
    if cannot_hold(picture.forecast, lot):
        found.append(f"CANNOT HOLD: {_earliest(picture, lot, promise)}, {_because(picture, lot)}")
    elif promise.means == "in hand" and picture.forecast.times.finish[lot] < picture.forecast.today:
        left = full_day(date.fromordinal(picture.forecast.times.finish[lot]))
        found.append(f"in hand then means it left their door on {left}: if they meant leaving, say 'leaves'")
    return tuple(found)


def _more_than_open(picture: Picture, fact: Fact) -> list[str]:
    """A promise of more pieces than are still to come."""
    counts = count_row(picture, fact.job)
    is_more = isinstance(counts, PartCountRow) and counts.to_come is not None
    if not is_more or (fact.good or 0) <= (counts.to_come or 0):
        return []
    return [f"{fact.good} is more than the {counts.to_come} of {fact.job} still to come"]


def _on_their_calendar(picture: Picture, fact: Fact, lot: int, promise: Promise) -> list[str]:
    """A promise that lies in a closure, or on a day they do not work and so counts from their next one."""
    supplier = picture.plan.supplier_by_code[picture.plan.job_by_code[fact.job].supplier]
    closure = closure_on(supplier, promise.day)
    finish = picture.forecast.times.finish[lot]
    at_door = promise.means == "leaves" and picture.forecast.progress(lot).left is None
    snapped = at_door and finish > max(promise.day, picture.forecast.today)
    counts = full_day(date.fromordinal(finish)) if snapped and not cannot_hold(picture.forecast, lot) else ""
    if closure is not None:
        shut = f"{supplier.code} is shut to {full_day(closure.last)}"
        why = f" ({closure.why})" if closure.why else ""
        return [f"{shut}: counts from {counts}" if counts else f"the promise lies in a closure: {shut}{why}"]
    if counts:
        return [f"{fact.job} counts from their next working day, {counts} ('exactly' keeps the day)"]
    return []


def _earliest(picture: Picture, lot: int, promise: Promise) -> str:
    """The earliest day they could name instead, in their own way of counting, and when it is here."""
    here = full_day(date.fromordinal(earliest_arrival(picture.forecast, lot)))
    if promise.means == "in hand" or not picture.forecast.network.travel[lot]:
        return f"earliest is {here}"
    leaving = full_day(date.fromordinal(picture.forecast.times.finish[lot]))
    return f"earliest is leaving {leaving}, here {here}"


def _because(picture: Picture, lot: int) -> str:
    lots, reasons = what_sets(picture.forecast, lot)
    names = dict.fromkeys(picture.forecast.network.jobs[other].code for other in lots)
    if names:
        return f"because it waits for {', '.join(names)}"
    missing = [reason.what for reason in reasons if reason.owed_by]
    given = [reason.what for reason in reasons if reason.what and not reason.owed_by]
    if missing or given:
        return f"because {', '.join(missing or given)} {'is not given' if missing else 'came late'}"
    return "by its own lead time"
