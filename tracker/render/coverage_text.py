"""Counts of a job that makes parts, what is to come of it, and whether that covers what is needed, in words."""

from collections.abc import Container, Sequence
from datetime import date

from tracker.render.amounts import amount_text, spares_text
from tracker.render.words import full_day, ready_text, short_day
from tracker.report.answer import FactRow
from tracker.report.counts import Coming, PartCountRow
from tracker.report.coverage import Coverage
from tracker.report.jobs import JobRow, at_tightest
from tracker.report.ordering import OrderRow
from tracker.report.owed import listed
from tracker.report.shortages import Shortage

KINDS = {
    "received": "received", "on the way": "on the way", "made": "at their door", "promised": "promised",
    "to come": "to come", "rework": "in rework", "rerun": "to run again",
}  # fmt: skip
"""What a lot is, in plain words."""


def coverage_text(one: Coverage, today: date, *, named: bool = True, known: Container[str] = ()) -> str:
    """Whether a part covers its need, and what follows where it does not; jobs ``known`` are not named again."""
    of = f" of {one.part}" if named else ""
    lost = f" ({amount_text(one.scrapped, one.unit)} scrapped among it)" if one.scrapped else ""
    return f"need {amount_text(one.needed, one.unit)}{of}{lost}: {_verdict(one, today, known)}"


def aside_text(rows: Sequence[Coverage], today: date) -> str:
    """Other parts that are short for what was logged, in one line; nothing where none is."""
    texts = [
        f"{amount_text(one.short, one.unit)} of {one.part} ({one.order.job}: {_act(one.order, today)})"
        for one in rows
        if one.order is not None
    ]
    return f"short for that, too: {'; '.join(texts)}" if texts else ""


def rework_text(one: Shortage, today: date, *, dated: bool) -> str:
    """Pieces in rework that have no date, and how to give them one."""
    (job,) = one.jobs
    pieces = amount_text(one.pieces)
    back = f", back {short_day(one.day, today)} at best" if dated else ""
    return f"{pieces} in rework{back}; as a job: tracker rework {job} {pieces}"


def _verdict(one: Coverage, today: date, known: Container[str]) -> str:
    spare = _left(one)
    short = f"{amount_text(one.short, one.unit)} short" + (f" for {one.shipment}" if one.shipment else "")
    match one.verdict:
        case "covered":
            return f"covered, {spare}"
        case "after rework":
            return f"covered once the redo is back {short_day(one.day, today)} ({listed(one.jobs)}), {spare}"
        case "spares after rework":
            spares = spares_text(one.short, one.unit)
            return f"orders covered, {spares} short until the redo is back {short_day(one.day, today)}"
        case "spares short":
            return f"orders covered, {spares_text(one.short, one.unit)} short, nothing planned brings them"
        case "nobody makes":
            return f"{short}, nobody makes more"
        case "again":
            return f"{short}, {_again(one.order, today, known)}"


def _left(one: Coverage) -> str:
    if one.to_spare < 0:
        return f"{amount_text(-one.to_spare, one.unit)} short"
    return f"{amount_text(one.to_spare, one.unit) if one.to_spare else 'none'} to spare"


def _again(order: OrderRow | None, today: date, known: Container[str]) -> str:
    """The order that covers what is short, and by when it moves no shipment."""
    if order is None:
        return "a re-run in the forecast"
    if order.planned is not None:
        return f"{_act(order, today)} instead of {order.planned}"
    by = "" if order.job in known else f" by {order.job}"
    when = _when(order, today)
    act = f"{_verb(order)} {when}" if when else "no shipment waits for it"
    return f"re-run of {order.pieces}{by} in the forecast, {act}"


def _act(order: OrderRow, today: date) -> str:
    return f"{_verb(order)} {order.pieces} {_when(order, today)}".rstrip()


def _verb(order: OrderRow) -> str:
    return "begin" if order.at_home else "order"


def _when(order: OrderRow, today: date) -> str:
    if order.by is None:
        return ""
    return "today" if order.by == today else f"by {short_day(order.by, today)}"


def lot_ready_text(row: JobRow, today: date) -> str:
    """When the lot with the fewest spare days is ready, beside how long that is harmless, and the last of the job."""
    lot = row.tightest
    if lot is None:
        return ready_text(row, today)
    first = f"{lot.quantity} {KINDS[lot.kind]}: {ready_text(at_tightest(row), today)}"
    return f"{first}; the last here {short_day(row.arrives, today)}" if row.arrives != lot.arrives else first


def counted_text(row: PartCountRow, today: date, *, whole: bool = False, rest: FactRow | None = None) -> str:
    """Pieces in of all put in, or made at our own bench, sorted where they came at several times; then the others.

    ``whole`` sorts them in any case; ``rest`` is a promise for all the others, read back with its whole date.
    """
    found = [_in(row, whole=whole)] if row.back or not row.coming else []
    if rest is not None and rest.fact.day is not None:
        leaves = "leaves " if rest.means == "leaves" else ""
        hand = "" if leaves else ", in hand"
        found.append(f"{row.to_come} to come, {leaves}{full_day(rest.fact.day)}{hand}")
    elif row.coming:
        word = "to go" if row.at_home else "to come"
        found.append(" and ".join(_coming(one, word, today) for one in row.coming))
        stuck = (row.to_come or 0) - sum(one.pieces for one in row.coming)
        found += [f"{stuck} with no inputs to come"] if stuck > 0 else []
    elif row.closed:
        found.append("done")
    return ", ".join(found)


def _in(row: PartCountRow, *, whole: bool) -> str:
    if row.closed and not row.deliveries:
        return "not counted"
    kinds = (
        ("good", row.good),
        ("rework", row.rework),
        ("scrap", row.scrap),
        ("not judged yet", row.unjudged),
    )
    sorts = ", ".join(f"{number} {kind}" for kind, number in kinds if number)
    of = f" of {row.quantity}" if row.quantity is not None else ""
    about = f" {row.part}" if row.part else ""
    text = f"{row.back}{of}{about} {'made' if row.at_home else 'in'}"
    told = whole or row.deliveries > 1
    return f"{text} ({sorts})" if sorts and told and not (row.at_home and row.good == row.back) else text


def _coming(one: Coming, word: str, today: date) -> str:
    """So many pieces still to come, or to make, and when: as promised, else as forecast."""
    day = short_day(one.day, today)
    when = {
        "on the way": f", due here {day}",
        "made": f", at their door, here {day}",
        "promised": f" {day}",
    }.get(one.kind, f", forecast {day}")
    return f"{one.pieces} {word}" + (", no date that still holds" if one.silent else when)
